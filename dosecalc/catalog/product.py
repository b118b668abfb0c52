"""`Product`: what stands on the grower's own shelf, with the analysis of its own bag or lab."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from dosecalc.catalog.formula import ANALYSIS, OXIDE_REGIONS, WORDS, element_of
from dosecalc.catalog.lookup import find_material, material_ids
from dosecalc.catalog.material import Content, Material
from dosecalc.errors import refuse
from dosecalc.units import read
from dosecalc.units.engine import Unit, dimension
from dosecalc.units.measure import GRAM_PER_ML, MASS, MASS_PER_VOLUME, VOLUME, Measure
from dosecalc.units.spread import Factor

_PERCENT = re.compile(r"(?P<number>[\d.,]+) ?% ?(?P<word>[A-Z][A-Za-z0-9]*)", re.ASCII)
_MASS_IN_MASS: Unit = (("[mass] in [mass]", 1),)
_NARROW = ("B", "Cu", "Mo", "Zn")
_MUCH = Fraction(1, 100)
"""From this share on an element with a narrow window is weighed (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Product:
    """One product of the garden file.

    Parameters
    ----------
    key : str
        Its name in the file.
    material : Material
        With its own analysis. Its id is that of the material it is like, so that every limit and
        rule of that material speaks of it too.
    pack : Measure or None
        What one pack holds, a mass or a volume.
    price : Fraction or None
        Of one pack, in the money of the garden.
    first_year : Fraction or None
        The share of its nitrogen that feeds the first crop, as typed.
    """

    key: str
    material: Material
    pack: Measure | None = None
    price: Fraction | None = None
    first_year: Fraction | None = None


def read_product(key: str, table: Mapping[str, Any], region: str | None) -> Product:
    """One product of a garden file that was held against ``catalog.schema.GardenProduct``.

    Parameters
    ----------
    key : str
    table : mapping
    region : str or None
        Whose labels the analysis follows where the file does not say what it counts.

    Raises
    ------
    DoseError
        For an analysis that could be read in two ways: oxides or elements, dry or as it lies, by
        weight or by volume; and for figures that cannot be.
    """
    base = find_material(table["like"]) if "like" in table else None
    form = table.get("form") or (base.form if base is not None else None)
    if form is None:
        raise refuse("product-form", product=key)
    id = base.id if base is not None else f"own-{key}"
    part = _dry_share(key, table, form)
    by_volume = _by_volume(key, table, form)
    contents: dict[str, Content] = {}
    kind = "typical" if form == "bulk" else "minimum"
    for word, share, volume in _figures(key, table, region, by_volume=by_volume):
        element, of_word = element_of(word)
        if element in contents:
            raise refuse("product-twice", product=key, element=element)
        held = share * of_word * part
        unit: Unit = GRAM_PER_ML if volume else ()
        factor = Factor(f"content:{id}:{element}", held, held, held, unit, "label")
        contents[element] = Content(element, factor, "w/v" if volume else "w/w", kind, "")
    if sum(c.factor.likely for c in contents.values() if c.basis == "w/w") > 1:
        raise refuse("product-whole", product=key)
    if base is None and not contents:
        raise refuse("product-empty", product=key)
    made = _made(id, key, table, form, base, contents)
    return Product(key, made, *_bought(key, table))


def _made(
    id: str, key: str, table: Mapping[str, Any], form: str, base: Material | None,
    contents: Mapping[str, Content],
) -> Material:  # fmt: skip
    traits = tuple(dict.fromkeys((*(base.traits if base else ()), *table.get("traits", ()))))
    density = None if base is None else base.density
    if "density" in table:
        density = _density(id, table)
    if base is not None:
        kept = tuple(c for c in base.contents if c.element not in contents)
        return replace(
            base, name=table.get("name", key), form=form, traits=traits, density=density,
            contents=(*contents.values(), *kept), formula="" if contents else base.formula,
            uncounted=tuple(word for word in base.uncounted if element_of(word)[0] not in contents),
        )  # fmt: skip
    if {"N", "P", "K"} <= set(contents):
        traits = tuple(dict.fromkeys((*traits, "complete-feed")))
    narrow = any(e in contents and contents[e].factor.likely >= _MUCH for e in _NARROW)
    solid = form not in ("liquid", "suspension")
    return Material(
        id=id, name=table.get("name", key), also=(), form=form, traits=traits,
        contents=tuple(contents.values()), uncounted=(), by_weight=narrow, density=density,
        density_how="", solubility=(),
        insoluble="may dissolve only in part: keep it moving" if solid else "",
        hazards=(), caveat="", formula="", sources=(),
    )  # fmt: skip


def _dry_share(key: str, table: Mapping[str, Any], form: str) -> Fraction:
    """How much of a kilogram as it lies the analysis is of."""
    state, moisture = table.get("state"), table.get("moisture")
    if state is None and (moisture is not None or form == "bulk") and _typed(table):
        raise refuse("product-state", product=key)
    if state != "dry":
        return Fraction(1)
    if moisture is None:
        raise refuse("product-moisture", product=key)
    wet = _percent(key, moisture, "a moisture")
    if wet >= 1:
        raise refuse("product-percent", product=key, text=moisture, want="a moisture below 100 %")
    return 1 - wet


def _typed(table: Mapping[str, Any]) -> bool:
    return "analysis" in table or "holds" in table


def _by_volume(key: str, table: Mapping[str, Any], form: str) -> bool:
    """Whether a percent is grams per 100 mL."""
    basis = table.get("basis")
    liquid = form in ("liquid", "suspension")
    if (
        basis is None
        and liquid
        and ("analysis" in table or any(map(_PERCENT.fullmatch, table.get("holds", ()))))
    ):
        raise refuse("product-basis", product=key)
    if basis == "w/v" and not liquid:
        raise refuse("product-solid", product=key)
    return bool(basis == "w/v")


def _figures(
    key: str, table: Mapping[str, Any], region: str | None, *, by_volume: bool
) -> Iterator[tuple[str, Fraction, bool]]:
    """Each nutrient word, its share as printed, and whether that is grams per mL."""
    if "analysis" in table:
        text = table["analysis"]
        if not ANALYSIS.fullmatch(text):
            raise refuse("product-analysis", product=key, text=text)
        percents = [_percent(key, part, "an analysis") for part in text.split("-")]
        for word, share in zip(_counted(key, table, region, percents), percents, strict=True):
            if share:
                yield word, share, by_volume
    for text in table.get("holds", ()):
        yield _held(key, text, by_volume=by_volume)


def _counted(
    key: str, table: Mapping[str, Any], region: str | None, percents: list[Fraction]
) -> tuple[str, str, str]:
    counts = table.get("counts")
    if counts is None and region is not None:
        counts = "oxide" if region.upper() in OXIDE_REGIONS else "element"
    if counts is None and any(percents[1:]):
        raise refuse("product-counts", product=key, text=table["analysis"])
    return ("N", "P", "K") if counts == "element" else ("N", "P2O5", "K2O")


def _held(key: str, text: str, *, by_volume: bool) -> tuple[str, Fraction, bool]:
    match = _PERCENT.fullmatch(text.strip())
    if match is not None and match["word"] in WORDS:
        share = _percent(key, match["number"], "a content")
        if not share:
            raise refuse("product-holds", product=key, text=text)
        return match["word"], share, by_volume
    head, _, word = text.strip().rpartition(" ")
    if word not in WORDS:
        raise refuse("product-holds", product=key, text=text)
    measure = read.quantity(head, want="a content", example="14 g/kg", oz_is="weight")
    if dimension(measure.unit) == MASS_PER_VOLUME:
        share, volume = measure.amount_in(GRAM_PER_ML), True
    elif dimension(measure.unit) == _MASS_IN_MASS:
        share, volume = measure.amount_in(()), False
    else:
        raise refuse("product-holds", product=key, text=text)
    if not 0 < share <= 1:
        raise refuse("product-holds", product=key, text=text)
    return word, share, volume


def _percent(key: str, text: str, want: str) -> Fraction:
    share = read.number(text.strip().removesuffix("%").strip(), "us", example="46") / 100
    if not 0 <= share <= 1:
        raise refuse("product-percent", product=key, text=text, want=f"{want} from 0 to 100 %")
    return share


def _density(id: str, table: Mapping[str, Any]) -> Factor:
    low, high = read.choice(table["density"], oz_is="weight")
    ends = [low] if high is None else [low, high]
    if any(dimension(end.unit) != MASS_PER_VOLUME or end.value <= 0 for end in ends):
        raise refuse("product-density", product=id, text=table["density"])
    least, most = ends[0].amount_in(GRAM_PER_ML), ends[-1].amount_in(GRAM_PER_ML)
    if least > most:
        raise refuse("product-density", product=id, text=table["density"])
    return Factor(f"density:{id}", least, (least + most) / 2, most, GRAM_PER_ML, "typed")


def _bought(
    key: str, table: Mapping[str, Any]
) -> tuple[Measure | None, Fraction | None, Fraction | None]:
    pack = price = first = None
    if "pack" in table:
        pack = read.quantity(table["pack"], want="a pack", example="25 kg", oz_is="weight")
        if not (pack.is_a(MASS) or pack.is_a(VOLUME)) or pack.value <= 0:
            raise refuse("product-pack", product=key, text=table["pack"])
    if "price" in table:
        price = read.number(table["price"], "us", example="24.50")
        if price < 0:
            raise refuse("product-price", product=key, text=table["price"])
    if "first_year" in table:
        first = _percent(key, table["first_year"], "a first-year share")
    return pack, price, first


class Shelf(Mapping[str, Product]):
    """The products of a garden file by name, each read when it is asked for.

    So a product whose label was typed badly is in nobody's way but its own.
    """

    def __init__(self, tables: Mapping[str, Any], region: str | None) -> None:
        self._tables = tables
        self._region = region

    def __getitem__(self, key: str) -> Product:
        return read_product(key, self._tables[key], self._region)

    def __iter__(self) -> Iterator[str]:
        return iter(self._tables)

    def __len__(self) -> int:
        return len(self._tables)

    def material(self, name: str) -> Material | None:
        """The material of a product, None where there is no product of that name."""
        return self[name].material if name in self else None

    def materials(self, names: Iterable[str]) -> dict[str, Material]:
        """The materials of those names that are products here."""
        return {name: self[name].material for name in names if name in self}


def distinct(products: Mapping[str, Material]) -> None:
    """Refuse two products of one job that stand for the same material: its limits would mix them.

    Raises
    ------
    DoseError
    """
    seen: dict[str, str] = {}
    for key, found in products.items():
        if found.id in seen and found.id in material_ids():
            raise refuse("product-alike", one=seen[found.id], other=key, name=found.id)
        seen[found.id] = key
