"""`Scene`: everything the judge looks at, gathered once from need, delivery and what was told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.crops import GENERAL, Crop
from dosecalc.catalog.formula import OXIDES, element_of
from dosecalc.catalog.limit import Limit
from dosecalc.catalog.material import Material
from dosecalc.catalog.recipe import Recipe
from dosecalc.catalog.site import Site
from dosecalc.catalog.told import Told
from dosecalc.catalog.tools import Tools
from dosecalc.dose.deliver import Delivered, nutrient_masses
from dosecalc.units.measure import MASS, ML, PLANT, POT, Measure
from dosecalc.units.spread import Est

_OPEN_GROUND = frozenset({"field", "garden"})


@dataclass(frozen=True, slots=True)
class Scene:
    """One mix as the judge sees it.

    Parameters
    ----------
    recipe : Recipe
    site : Site
    tools : Tools
    told : Told
    crops : tuple of Crop
        The crop told, else the recipe's own, else general field vegetables.
    liquid : Measure or None
    delivered : tuple of Delivered
    nutrients : mapping of str to Est
        Element masses in grams.
    stock : bool
        Whether the liquid is a stock tank, far stronger than a tank of spray.
    helpers : frozenset of str
        Materials that are there to help another (a soap that carries an oil).
    written_for : tuple of Crop
        The recipe's own crops.
    basis : str
        What the recipe's rate is counted on; "" where that is not known.
    liquid_is : {"", "strength", "vehicle"}
        Whether the liquid has to keep its strength or only carries.
    feed_held : bool
        Whether the feed that a stock is thinned to is held against its limits by itself.
    """

    recipe: Recipe
    site: Site
    tools: Tools
    told: Told
    crops: tuple[Crop, ...]
    liquid: Measure | None
    delivered: tuple[Delivered, ...]
    nutrients: Mapping[str, Est]
    stock: bool = False
    helpers: frozenset[str] = frozenset()
    written_for: tuple[Crop, ...] = ()
    basis: str = ""
    liquid_is: str = ""
    feed_held: bool = False

    @property
    def crop_words(self) -> frozenset[str]:
        """Ids and classes of every crop it is judged for."""
        return frozenset(word for crop in self.crops for word in crop.words)

    @property
    def settings(self) -> frozenset[str]:
        """Where it is: told, else pots, else what the crop or the recipe implies."""
        if self.told.setting is not None:
            return frozenset({self.told.setting})
        if self.site.pots is not None or self.site.medium_volume is not None:
            return frozenset({"container"})
        implied = frozenset(s for crop in self.crops for s in crop.settings)
        if self.told.crop is not None and implied:
            return implied
        return frozenset(self.recipe.setting) or implied or _OPEN_GROUND

    def holds(self, word: str) -> tuple[Delivered, ...]:
        """The delivered materials that a limit's or rule's word speaks of."""
        if word.startswith("trait:"):
            trait = word.removeprefix("trait:")
            return tuple(d for d in self.delivered if trait in d.material.traits)
        if word.startswith("salt:"):
            words = word.removeprefix("salt:").split("+")
            return tuple(d for d in self.delivered if any(_has(d.material, w) for w in words))
        found = tuple(d for d in self.delivered if d.material.id == word)
        return found or tuple(d for d in self.delivered if _has(d.material, word))

    def amount(self, word: str, as_volume: bool) -> Est | None:
        """How much of `word` is delivered; None when a density that would tell it is unknown."""
        if word.startswith("salt:"):
            return _total([self._nutrient(w) for w in word.removeprefix("salt:").split("+")])
        if not word.startswith("trait:") and not any(d.material.id == word for d in self.delivered):
            return self._nutrient(word)
        parts = [_volume(d) if as_volume else d.mass for d in self.holds(word)]
        if any(part is None for part in parts):
            return None
        return _total(parts)

    def _nutrient(self, word: str) -> Est | None:
        element, share = element_of(word)
        mass = self.nutrients.get(element)
        if mass is None or self.uncounted(element):
            return None
        return mass.by(1 / share)

    def uncounted(self, element: str) -> tuple[Material, ...]:
        """Materials that hold `element` but whose share cannot be told without a density."""
        return tuple(
            d.material
            for d in self.delivered
            if (content := d.material.content(element)) is not None
            and (d.mass if content.basis == "w/w" else d.volume) is None
        )

    def narrow(self, word: str) -> bool:
        """Whether `word` comes from a material whose window is narrow."""
        return any(d.material.by_weight for d in self.holds(word))


def _volume(item: Delivered) -> Est | None:
    """A volume to hold against a published spoonful.

    What was weighed goes through the likely density alone: the spread of the powder is that
    of the author's spoon, which the figure already holds, and weighing must be able to help.
    """
    density = item.material.density
    if item.way != "weighed" or item.mass is None or density is None:
        return item.volume
    return item.mass.over(Measure(density.likely, density.unit)).to(ML)


def _has(material: Material, word: str) -> bool:
    element = OXIDES[word][0] if word in OXIDES else word
    return material.content(element) is not None


def _total(parts: list[Est | None]) -> Est | None:
    total: Est | None = None
    for part in parts:
        if part is not None:
            total = part if total is None else total.plus(part)
    return total


def scene(
    recipe: Recipe,
    recipe_crops: tuple[Crop, ...],
    site: Site,
    tools: Tools,
    told: Told,
    liquid: Measure | None,
    delivered: tuple[Delivered, ...],
    stock: bool = False,
    helpers: frozenset[str] = frozenset(),
    basis: str = "",
    liquid_is: str = "",
    feed_held: bool = False,
) -> Scene:
    """Gather a `Scene`."""
    crops = (told.crop,) if told.crop is not None else recipe_crops or (GENERAL,)
    return Scene(
        recipe,
        site,
        tools,
        told,
        crops,
        liquid,
        delivered,
        nutrient_masses(delivered),
        stock,
        helpers,
        recipe_crops,
        basis,
        liquid_is,
        feed_held,
    )


def in_scope(limit: Limit, view: Scene) -> bool:
    """Whether a limit's scope fits: crop, setting, placement, region, phase (unknown fits)."""
    words = view.crop_words
    return (
        ("any" in limit.crops or not limit.crops.isdisjoint(words))
        and limit.not_crops.isdisjoint(words)
        and ("any" in limit.setting or not limit.setting.isdisjoint(view.settings))
        and ("any" in limit.placement or view.recipe.placement in limit.placement)
        and limit.region in ("any", view.told.region)
        and (limit.phase == "any" or view.told.phase in (None, limit.phase))
    )


def by_volume(per: str, figure: Measure) -> bool:
    """Whether a figure over the basis `per` counts a volume of its material, not a weight."""
    if per in ("depth", "count"):
        return per == "depth"
    return not any(
        power > 0 and Measure(figure.value, ((name, power),)).is_a(MASS)
        for name, power in figure.unit
    )


def basis_measure(per: str, figure: Measure, site: Site) -> Measure | None:
    """The exact basis that a figure per `per` is over; None when the site does not tell it.

    A pot counts as a plant where no plants were told.
    """
    if per == "field area":
        return site.judged_area
    if per == "band area":
        return site.band_area
    if per == "row length":
        return site.row_length
    if per == "depth":
        return site.ground
    if per == "medium volume":
        return site.medium_volume
    count = site.pots if site.plants is None else site.plants
    unit = POT if any(name == "pot" for name, _ in figure.unit) else PLANT
    return None if count is None else Measure(Fraction(count), unit)
