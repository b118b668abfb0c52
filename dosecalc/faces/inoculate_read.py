"""What was typed about an inoculant, read; a count never meets a weight but through its label."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.site import Site, read_site
from dosecalc.catalog.tally import TallyRate, read_tally, read_tally_rate
from dosecalc.dose import sowing
from dosecalc.errors import refuse
from dosecalc.faces.job import Job, garden_of, read_system, with_garden
from dosecalc.units import engine, read
from dosecalc.units.engine import Unit
from dosecalc.units.measure import (
    AREA,
    GRAM,
    LENGTH,
    LITER,
    MASS,
    METER,
    ML,
    PLANT,
    SQUARE_METER,
    VOLUME,
    Measure,
)
from dosecalc.units.words import System

EXAMPLE = '"5 g/kg", "1 US fl oz/1000 ft", "100000 CFU/seed" or "50 propagules/plant"'
_CELLS = ("CFU", "propagule")
_COUNTED = re.compile(r"\b(?:CFUs?|cfu|rhizobia|cells?|bacteria|propagules?)\b")
_PER_SEED = re.compile(r"(.+?)(?: per | ?/ ?)(?:1 )?seed")
_SEEDS = re.compile(r".*\d ?(?:thousand|million)? ?seeds?")
_PLANTS = (("[plant]", 1),)
_BASES: dict[Unit, str] = {
    AREA: "area", LENGTH: "row length", _PLANTS: "plant", VOLUME: "medium volume",
    MASS: "seed weight",
}  # fmt: skip
KINDS = {
    "rhizobium": ("rhizobium", "rhizobia", "legume inoculant", "rhizobium inoculant"),
    "mycorrhiza": ("mycorrhiza", "mycorrhizae", "mycorrhizal inoculant"),
}
"""What may be asked for, each with its names."""


@dataclass(frozen=True, slots=True)
class InoculateText:
    """What was typed about one inoculant besides its site: text, None where nothing was said."""

    what: str
    rate: str | None = None
    living: str | None = None
    seed: str | None = None
    thousand: str | None = None
    seed_count: str | None = None
    packet: str | None = None


@dataclass(frozen=True, slots=True)
class Asked:
    """One inoculant as it was asked for.

    Parameters
    ----------
    kind : {"rhizobium", "mycorrhiza"}
    basis : {"seed", "seed weight", "area", "row length", "plant", "medium volume"}
    many : Fraction
        How many seeds, grams of seed, m2, m, plants or litres there are.
    cells : Fraction or None
        All that are wanted, or that the amount holds; None where no label was told.
    things : str
        What the label counts: "CFU", "propagule"; "" where it was not told.
    amount : Measure
        Grams or millilitres for all of it.
    each : Fraction or None
        The weight of one seed in grams.
    packet : Measure or None
    """

    text: InoculateText
    job: Job
    site: Site
    system: System | None
    kind: str
    basis: str
    many: Fraction
    cells: Fraction | None
    things: str
    amount: Measure
    each: Fraction | None
    packet: Measure | None


def read_inoculant(text: InoculateText, job: Job) -> Asked:
    """Read one inoculant.

    Raises
    ------
    DoseError
        For anything that cannot be read, and for what is not told and needed.
    """
    kind = _kind(text.what)
    job = with_garden(job, garden_of(job.garden))
    system = read_system(job.measures)
    site = read_site(job.site, system)
    if text.rate is None:
        raise refuse("inoculate-rate-none", example=EXAMPLE)
    label = None if text.living is None else _label(text.living)
    each = _each(text)
    counted = _COUNTED.search(text.rate) is not None
    per_seed = _PER_SEED.fullmatch(text.rate.strip()) if counted else None
    cells: Fraction | None = None
    if per_seed is not None:
        number = read_tally(per_seed[1], _CELLS, "100000 CFU")
        things, basis = number.things, "seed"
        many = _many(text, site, basis, each, system)
        cells = number.number * many
        amount = _by_label(text, label, cells, things)
    elif counted:
        rate = read_tally_rate(text.rate, _CELLS, "50 propagules/plant", system)
        things, basis = rate.tally.things, _basis(text, rate.per)
        many = _many(text, site, basis, each, system)
        cells = rate.over(_unit(basis) * many)
        amount = _by_label(text, label, cells, things)
    else:
        weight = read.quantity(text.rate, system, want="a rate", example="5 g/kg", oz_is="weight")
        above, below = _parts(weight)
        if weight.value <= 0 or not (above.is_a(MASS) or above.is_a(VOLUME)):
            raise refuse("inoculate-rate", text=text.rate, example=EXAMPLE)
        basis = _basis(text, below)
        many = _many(text, site, basis, each, system)
        whole = weight * (_unit(basis) * many)
        amount = whole.to(ML if above.is_a(VOLUME) else GRAM)
        things = "" if label is None else label.tally.things
        if label is not None:
            if not label.per.is_a(VOLUME if amount.is_a(VOLUME) else MASS):
                raise refuse("inoculate-label", text=text.living)
            cells = label.over(amount)
    if kind == "mycorrhiza" and amount.is_a(VOLUME):
        raise refuse("inoculate-dry", text=text.rate)
    return Asked(
        text, job, site, system, kind, basis, many, cells, things, amount, each,
        _packet(text, amount, system),
    )  # fmt: skip


def is_inoculant(what: str) -> bool:
    """Whether a name is that of an inoculant, which is not let out."""
    return _named(what) is not None


def _named(what: str) -> str | None:
    name = " ".join(what.casefold().split())
    return next((kind for kind, names in KINDS.items() if name in names), None)


def _kind(what: str) -> str:
    kind = _named(what)
    if kind is None:
        raise refuse("inoculate-what", text=what)
    return kind


def _label(text: str) -> TallyRate:
    found = read_tally_rate(text, _CELLS, "1 billion CFU/g")
    if not (found.is_per(MASS) or found.is_per(VOLUME)):
        raise refuse("inoculate-label", text=text)
    return found


def _by_label(
    text: InoculateText, label: TallyRate | None, cells: Fraction, things: str
) -> Measure:
    """The inoculant that holds so many, by what its label counts."""
    if label is None:
        raise refuse("inoculate-no-label", text=text.rate)
    if label.tally.things != things:
        raise refuse("inoculate-other-things", text=text.rate, label=text.living)
    whole = label.per * (cells / label.tally.number)
    return whole.to(GRAM if whole.is_a(MASS) else ML)


def _each(text: InoculateText) -> Fraction | None:
    """The weight of one seed in grams."""
    if text.thousand is not None and text.seed_count is not None:
        raise refuse("sow-two-sizes")
    if text.thousand is not None:
        weight = read.positive(
            text.thousand, MASS, want="the weight of a thousand seeds", example="200 g",
            oz_is="weight",
        )  # fmt: skip
        return weight.amount_in(GRAM) / sowing.THOUSAND
    if text.seed_count is not None:
        rate = read_tally_rate(text.seed_count, ("seed",), "850 seeds/g")
        if not rate.is_per(MASS):
            raise refuse("sow-seed-count", text=text.seed_count)
        return sowing.one_from_count(rate).amount_in(GRAM)
    return None


def _parts(rate: Measure) -> tuple[Measure, Measure]:
    """What stands above the line and what stands below it, each as one of its unit."""
    above = tuple(pair for pair in rate.unit if pair[1] > 0)
    below = tuple((name, -power) for name, power in rate.unit if power < 0)
    return Measure(rate.value, above), Measure(Fraction(1), below)


def _basis(text: InoculateText, per: Measure) -> str:
    found = _BASES.get(engine.dimension(per.unit)) if per.unit else None
    if found is None:
        raise refuse("inoculate-rate", text=text.rate, example=EXAMPLE)
    return found


def _unit(basis: str) -> Measure:
    unit = {"area": SQUARE_METER, "row length": METER, "plant": PLANT, "medium volume": LITER,
            "seed weight": GRAM}[basis]  # fmt: skip
    return Measure(Fraction(1), unit)


def _many(
    text: InoculateText, site: Site, basis: str, each: Fraction | None, system: System | None
) -> Fraction:
    """How much of its basis there is, in the unit of `_unit`, or how many seeds."""
    if basis in ("seed", "seed weight"):
        return _seed(text, basis, each, system)
    if text.seed is not None:
        raise refuse("inoculate-seed-idle", text=text.rate)
    if basis == "area":
        if site.ground is None:
            raise refuse("need-row-spacing" if site.row_length is not None else "need-area")
        return site.ground.amount_in(SQUARE_METER)
    if basis == "row length":
        if site.row_length is None:
            raise refuse("need-rows-in-bed" if site.area is not None else "need-row")
        return site.row_length.amount_in(METER)
    if basis == "plant":
        if site.plants is None:
            raise refuse("need-plants")
        return Fraction(site.plants)
    if site.medium_volume is None:
        raise refuse("need-medium")
    return site.medium_volume.amount_in(LITER)


def _seed(
    text: InoculateText, basis: str, each: Fraction | None, system: System | None
) -> Fraction:
    """Seeds, or grams of seed; the one that was not told goes through the weight of one."""
    if text.seed is None:
        raise refuse("inoculate-no-seed", text=text.rate)
    counted = _SEEDS.fullmatch(text.seed.strip()) is not None
    if counted:
        found = read_tally(text.seed, ("seed",), "2000 seeds").number
    else:
        weight = read.positive(
            text.seed, MASS, system, want="a weight of seed", example="2 kg", oz_is="weight"
        )
        found = weight.amount_in(GRAM)
    if counted == (basis == "seed"):
        return found
    if each is None:
        raise refuse("inoculate-no-size", text=text.seed)
    return found / each if basis == "seed" else found * each


def _packet(text: InoculateText, amount: Measure, system: System | None) -> Measure | None:
    if text.packet is None:
        return None
    dim, example = (VOLUME, "100 mL") if amount.is_a(VOLUME) else (MASS, "250 g")
    return read.positive(
        text.packet, dim, system, want="what one pack holds", example=example, oz_is="weight"
    )
