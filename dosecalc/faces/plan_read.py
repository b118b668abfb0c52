"""What was typed for a plan, read: needs, credits, products, how it is given, how it is split."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from dosecalc.catalog import files
from dosecalc.catalog.asked import Asked, read_asked, read_water
from dosecalc.catalog.credit import Credit, read_credit
from dosecalc.catalog.garden import Garden
from dosecalc.catalog.lookup import material, material_ids
from dosecalc.catalog.material import Material
from dosecalc.catalog.soil import Report, read_report
from dosecalc.catalog.split import Part, read_split
from dosecalc.errors import refuse
from dosecalc.faces.job import Job, read_system
from dosecalc.faces.on_hand import Shop, products, read_shop, share

PREFER = ("cost", "fewest", "least")
HOW: dict[str, str] = {
    "broadcast": "broadcast", "work in": "mixed-in", "band": "band", "side-dress": "band",
    "planting hole": "planting-hole", "mix in": "mixed-in",
}  # fmt: skip
"""How a plan is given, and the placement that its limits go by."""
_USUAL_HOW = {
    "area": "broadcast", "row length": "side-dress", "plant": "side-dress", "pot": "broadcast",
    "medium volume": "mix in",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class PlanText:
    """What was typed for a plan: text throughout."""

    need: tuple[str, ...] = ()
    have: tuple[str, ...] = ()
    credit: tuple[str, ...] = ()
    first_year: tuple[str, ...] = ()
    price: tuple[str, ...] = ()
    whole: tuple[str, ...] = ()
    watered: str | None = None
    water_holds: str | None = None
    soil: str | None = None
    prefer: str | None = None
    near: str | None = None
    how: str | None = None
    counts: str | None = None
    split: str | None = None


@dataclass(frozen=True, slots=True)
class Typed:
    """All of it, read.

    Parameters
    ----------
    needs : tuple of Asked
    credits : tuple of Credit
    basis : str
        What the recipes are counted on.
    how : str
    shop : Shop
    named : mapping of str to (str, Material)
        Each product, and how it was typed.
    parts : tuple of Part
        Dressings; a single one of the whole where nothing is split.
    near : Fraction
    prefer : str or None
        As typed.
    excess : mapping of str to table
        In which order an excess is kept down, and why.
    report : Report or None
    """

    needs: tuple[Asked, ...]
    credits: tuple[Credit, ...]
    basis: str
    how: str
    shop: Shop
    named: Mapping[str, tuple[str, Material]]
    parts: tuple[Part, ...]
    near: Fraction
    prefer: str | None
    excess: Mapping[str, Mapping[str, str]]
    report: Report | None

    @property
    def own(self) -> dict[str, Material]:
        """The products that are not the catalog's own entry."""
        known = material_ids()
        made = {key: found for key, (_, found) in self.named.items()}
        return {k: m for k, m in made.items() if k not in known or material(k) != m}


def read_plan(text: PlanText, job: Job, garden: Garden) -> Typed:
    """Read what was typed for a plan.

    Parameters
    ----------
    text : PlanText
    job : Job
        With what the garden file says of it.
    garden : Garden

    Raises
    ------
    DoseError
        For the first piece that cannot be read or could mean two things.
    """
    report = None if text.soil is None else read_report(Path(text.soil))
    system = read_system(job.measures)
    needs = tuple(read_asked(one, system, "--need") for one in text.need)
    credits = _credits(text)
    basis = _basis(needs, job)
    how = _one_of(text.how, tuple(HOW), "--how") or _USUAL_HOW[basis]
    shop = read_shop(text.have, text.first_year, text.price, text.whole)
    parts = (Part(Fraction(1), None),) if text.split is None else read_split(text.split)
    if len(parts) > 1 and all(need.element != "N" for need in needs):
        raise refuse("feed-split-no-n")
    return Typed(
        needs=needs,
        credits=credits,
        basis=basis,
        how=how,
        shop=shop,
        named=products(shop, text.counts, garden, job.told.region),
        parts=parts,
        near=Fraction(0) if text.near is None else share(text.near, "--near", "5 %"),
        prefer=_one_of(text.prefer, PREFER, "--prefer"),
        excess=_excess({need.element for need in needs}),
        report=report,
    )


def _credits(text: PlanText) -> tuple[Credit, ...]:
    found = [read_credit(one, None) for one in text.credit]
    if (text.watered is None) != (text.water_holds is None):
        raise refuse("feed-water-both")
    if text.watered is not None and text.water_holds is not None:
        asked = read_water(text.water_holds, text.watered)
        found.append(Credit(asked, asked.printed))
    return tuple(found)


def _basis(needs: tuple[Asked, ...], job: Job) -> str:
    """What the recipes are counted on: what the needs are, or for whole amounts the site."""
    if not needs:
        raise refuse("feed-no-need")
    elements = [need.element for need in needs]
    for element in elements:
        if elements.count(element) > 1:
            raise refuse("feed-need-twice", nutrient=element)
    for need in needs:
        if need.basis != "site":
            return need.basis
    site = job.site
    for told, basis in (
        (site.row, "row length"), (site.area or site.bed or site.shape, "area"),
        (site.plants, "plant"), (site.pots, "pot"), (site.medium_volume, "medium volume"),
    ):  # fmt: skip
        if told is not None:
            return basis
    raise refuse("feed-no-site")


def _one_of(text: str | None, known: tuple[str, ...], option: str) -> str | None:
    if text is None or text in known:
        return text
    raise refuse("one-of", text=text[:60], option=option, known=", ".join(known))


def _excess(needed: set[str]) -> dict[str, Mapping[str, str]]:
    """In which order an excess is kept down, and why."""
    table = files.shipped(files.data_root().joinpath("excess.toml"))["excess"]
    return {e["of"]: e for e in table if e["always"] or e["of"] in needed}
