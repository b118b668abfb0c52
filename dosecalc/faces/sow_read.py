"""What was typed about seed, read; what could be meant two ways is asked, never guessed."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.lookup import source
from dosecalc.catalog.site import Site, read_site
from dosecalc.catalog.sowing import SeedKind, find_seed, near_seeds, read_seeds
from dosecalc.catalog.tally import ROW_PLANT, TallyRate, read_tally, read_tally_rate
from dosecalc.dose import sowing
from dosecalc.dose.sowing import Lot
from dosecalc.errors import MOST_TYPED, DoseError, printable, refuse
from dosecalc.faces.job import Job, garden_of, read_system, with_garden
from dosecalc.faces.layer_read import percent
from dosecalc.faces.sow_text import count_text
from dosecalc.units import read
from dosecalc.units.measure import (
    AREA,
    GRAM,
    LENGTH,
    MASS,
    MASS_PER_AREA,
    METER,
    PLANT,
    SQUARE_METER,
    VOLUME,
    Measure,
)
from dosecalc.units.show import show
from dosecalc.units.words import System

MOST_DENSE = 1_000_000
"""Seeds on a metre of row, a square metre or in a place: more is a slip of the pen."""
MASS_PER_LENGTH = (("[length]", -1), ("[mass]", 1))
_VOLUME_PER_MASS = (("[length]", 3), ("[mass]", -1))
_MASS_PER_MASS = (("[mass] in [mass]", 1),)
_SEED_RATE = re.compile(r"\b(?:seeds?|kernels?|pellets?)\b")
_SEEDS = re.compile(r".*\d ?(?:thousand|million)? ?(?:seeds?|pellets?)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class SowText:
    """What was typed about seed besides its site: text, None where nothing was said."""

    what: str
    stand: str | None = None
    rate: str | None = None
    rate_is: str | None = None
    have: str | None = None
    thousand: str | None = None
    seed_count: str | None = None
    counted: str | None = None
    germination: str | None = None
    emergence: str | None = None
    establishment: str | None = None
    purity: str | None = None
    purity_of: str | None = None
    coating: str | None = None
    packet: str | None = None
    inoculant: str | None = None
    living: str | None = None
    treated: bool = False
    untreated: bool = False


@dataclass(frozen=True, slots=True)
class Inoculant:
    """How much inoculant goes with the seed.

    Parameters
    ----------
    material : str
        Material id.
    amount : Measure
        For the whole site.
    on_row : bool
        Whether it goes by length of furrow, and not onto the seed.
    holds : TallyRate or None
        Living cells for each weight or volume of it.
    """

    material: str
    amount: Measure
    on_row: bool
    holds: TallyRate | None


@dataclass(frozen=True, slots=True)
class Asked:
    """Seed as it was asked for.

    Parameters
    ----------
    kind : SeedKind or None
        What is on file of it; None where only its typed size is known.
    wanted : Fraction or None
        The plants that were asked for.
    stand : TallyRate or None
    rate : Measure or None
    seeds : Fraction
        How many pure seeds are sown; not rounded.
    bag : Measure
        What is weighed out of the bag for them.
    basis : {"row length", "area", "plant"}
    times : Fraction
        How many metres, square metres or plants the site has.
    packet : Measure or Fraction or None
        What one holds: a weight, or seeds.
    """

    text: SowText
    job: Job
    site: Site
    name: str
    kind: SeedKind | None
    lot: Lot
    wanted: Fraction | None
    stand: TallyRate | None
    rate: Measure | None
    seeds: Fraction
    bag: Measure
    basis: str
    times: Fraction
    packet: Measure | Fraction | None
    inoculant: Inoculant | None


def read_sowing(text: SowText, job: Job) -> Asked:
    """Read one sowing.

    Raises
    ------
    DoseError
        For anything that cannot be read, that is told twice, or that could be read in two ways.
    """
    by_count = _by_count(text)
    sites = (
        ()
        if by_count is not None and by_count.is_per(ROW_PLANT)
        else (job.site.plants, job.site.plant_spacing)
    )
    if text.treated and text.untreated:
        raise refuse("sow-treated-both")
    given = [text.stand, text.rate, text.have, *sites]
    count = sum(item is not None for item in given)
    if count > 1 and (text.stand or text.rate or text.have or count > 2):
        raise refuse("sow-goals", count=count)
    job = with_garden(job, garden_of(job.garden))
    system = read_system(job.measures)
    name = printable(read.tidy(text.what, "the name of the seed", "carrot"), MOST_TYPED)
    kind = find_seed(name, read_seeds(source))
    lot = _lot(text, kind)
    site = read_site(job.site, system)
    wanted = stand = rate = None
    if text.stand is not None:
        stand = _stand(text.stand, system)
        wanted = stand.over(_ground(site, stand.per.is_a(LENGTH)))
        seeds = sowing.seeds_for(wanted, lot)
    elif by_count is not None:
        seeds = by_count.over(_counted_on(site, by_count))
    elif text.rate is not None:
        rate = _rate(text.rate, system)
        seeds = sowing.seeds_in(_bag_of_rate(text, rate, lot, site), lot)
    elif text.have is not None:
        have = _seeds_or_weight(text.have, "sow-have", "50 g")
        seeds = have if isinstance(have, Fraction) else sowing.seeds_in(have, lot)
    elif site.plants is not None:
        wanted = Fraction(site.plants)
        seeds = sowing.seeds_for(wanted, lot)
    else:
        raise refuse("sow-goals", count="none")
    if text.rate is None and text.rate_is is not None:
        raise refuse("sow-rate-is-alone")
    bag = sowing.weight_of(seeds, lot)
    basis, times = _basis(site)
    if seeds > MOST_DENSE * times:
        raise refuse("sow-dense", count=count_text(seeds / times))
    packet = None
    if text.packet is not None:
        packet = _seeds_or_weight(text.packet, "sow-packet", "500 seeds")
    name = name if kind is None else kind.name
    return Asked(
        text, job, site, name, kind, lot, wanted, stand, rate, seeds, bag, basis, times, packet,
        _inoculant(text, bag, site, system),
    )  # fmt: skip


def _by_count(text: SowText) -> TallyRate | None:
    """A rate in seeds and not by weight; it counts seeds as they are, so --rate-is is idle."""
    if text.rate is None or _SEED_RATE.search(text.rate) is None:
        return None
    if text.rate_is is not None:
        raise refuse("sow-rate-is-count")
    found = read_tally_rate(text.rate, ("seed",), "6 seeds/ft")
    if not any(found.is_per(dim) for dim in (AREA, LENGTH, ROW_PLANT)):
        raise refuse("sow-rate", text=text.rate)
    return found


def _counted_on(site: Site, rate: TallyRate) -> Measure:
    """The ground or the plants that a rate in seeds is for."""
    if not rate.is_per(ROW_PLANT):
        return _ground(site, rate.is_per(LENGTH))
    if site.plants is None:
        raise refuse("need-plants")
    return Measure(Fraction(site.plants), PLANT)


def _lot(text: SowText, kind: SeedKind | None) -> Lot:
    """The lot of the tag; a share that was not told is 1, and the lines say so."""
    coating = _share(text.coating, "--coating", "34 %", zero=True) or Fraction(0)
    if text.counted is not None and text.counted not in ("bare", "coated"):
        raise refuse("sow-counted-word", text=text.counted)
    if text.counted is not None and not coating:
        raise refuse("sow-counted-alone")
    one = _one(text, kind)
    typed = text.thousand is not None or text.seed_count is not None
    if coating and typed and text.counted is None:
        raise refuse("sow-counted")
    establishment = _share(text.establishment, "--establishment", "85 %")
    germination = _share(text.germination, "--germination", "90 %")
    emergence = _share(text.emergence, "--emergence", "80 %")
    if establishment is not None and (germination is not None or emergence is not None):
        raise refuse("sow-twice")
    whole = Fraction(1)
    return sowing.checked(
        Lot(
            one, typed and text.counted == "coated", germination or whole,
            establishment or emergence or whole, _pure(text, coating), coating,
        )
    )  # fmt: skip


def _pure(text: SowText, coating: Fraction) -> Fraction:
    """The purity of the seed without its coat."""
    if text.purity_of is not None and text.purity_of not in ("bag", "seed"):
        raise refuse("sow-purity-of-word", text=text.purity_of)
    purity = _share(text.purity, "--purity", "98 %")
    if text.purity_of is not None and (purity is None or not coating):
        raise refuse("sow-purity-of-alone")
    if purity is None or not coating:
        return Fraction(1) if purity is None else purity
    if text.purity_of == "bag":
        return sowing.pure_without_coat(purity, coating)
    if text.purity_of is None and purity + coating <= 1:
        raise refuse("sow-purity-of", purity=text.purity, coating=text.coating)
    return purity


def _one(text: SowText, kind: SeedKind | None) -> Measure:
    """The weight of one seed: typed, else on file."""
    if text.thousand is not None and text.seed_count is not None:
        raise refuse("sow-two-sizes")
    if text.thousand is not None:
        weight = _quantity(text.thousand, "sow-thousand")
        if not weight.is_a(MASS) or weight.value <= 0:
            raise refuse("sow-thousand", text=text.thousand)
        return weight.to(GRAM) / sowing.THOUSAND
    if text.seed_count is not None:
        rate = read_tally_rate(text.seed_count, ("seed",), "850 seeds/g")
        if not rate.is_per(MASS):
            raise refuse("sow-seed-count", text=text.seed_count)
        return sowing.one_from_count(rate)
    if kind is None:
        raise refuse("sow-unknown", text=text.what, near=near_seeds(text.what, read_seeds(source)))
    return sowing.one_from_count(kind.counts[0].rate)


def _quantity(text: str, key: str, system: System | None = None) -> Measure:
    """A quantity; one that has no unit is refused in the words of `key`."""
    try:
        plain = text.removesuffix(" of row")
        return read.quantity(plain, system, want="a weight", example="1.2 g", oz_is="weight")
    except DoseError as err:
        if err.say.key in ("read-no-unit", "read-number", "read-unit"):
            raise refuse(key, text=text) from None
        raise


def _share(text: str | None, option: str, example: str, *, zero: bool = False) -> Fraction | None:
    if text is None:
        return None
    found = percent(text, option, example)
    if not found and not zero:
        raise refuse("sow-share", text=text, option=option, example=example)
    return found


def _stand(text: str, system: System | None) -> TallyRate:
    found = read_tally_rate(text, ("plant",), "25 plants/m2", system)
    if not (found.is_per(AREA) or found.is_per(LENGTH)):
        raise refuse("sow-stand", text=text)
    return found


def _rate(text: str, system: System | None) -> Measure:
    found = _quantity(text, "sow-rate", system)
    if found.value <= 0 or not (found.is_a(MASS_PER_AREA) or found.is_a(MASS_PER_LENGTH)):
        raise refuse("sow-rate", text=text)
    return found


def _bag_of_rate(text: SowText, rate: Measure, lot: Lot, site: Site) -> Measure:
    """What of the bag a rate takes on the site; whether it counts live seed must be told."""
    told = text.germination is not None and text.purity is not None
    if text.rate_is is None:
        both = ""
        if told:
            live = show(sowing.bag_for(rate, lot)).metric
            both = f" ({show(rate).metric} of that is {live} of this bag)"
        raise refuse("sow-rate-is", text=text.rate, both=both)
    if text.rate_is not in ("bag", "live"):
        raise refuse("sow-rate-is-word", text=text.rate_is)
    if text.rate_is == "live" and text.establishment is not None:
        raise refuse("sow-live-establishment")
    if text.rate_is == "live" and not told:
        raise refuse("sow-live-needs")
    weight = (rate * _ground(site, rate.is_a(MASS_PER_LENGTH))).to(GRAM)
    return sowing.bag_for(weight, lot) if text.rate_is == "live" else weight


def _ground(site: Site, by_row: bool) -> Measure:
    """The length of row or the area that a rate is for."""
    if by_row:
        if site.row_length is None:
            raise refuse("need-rows-in-bed" if site.area is not None else "need-row")
        return site.row_length
    if site.ground is None:
        raise refuse("need-row-spacing" if site.row_length is not None else "need-area")
    return site.ground


def _basis(site: Site) -> tuple[str, Fraction]:
    if site.row_length is not None:
        return "row length", site.row_length.amount_in(METER)
    if site.ground is not None:
        return "area", site.ground.amount_in(SQUARE_METER)
    if site.plants is not None:
        return "plant", Fraction(site.plants)
    raise refuse("need-area")


def _seeds_or_weight(text: str, key: str, example: str) -> Measure | Fraction:
    """A number of seeds, which says so, or a weight."""
    if _SEEDS.fullmatch(text.strip()):
        return read_tally(text, ("seed",), "500 seeds").number
    try:
        return read.positive(text, MASS, want="a weight", example=example, oz_is="weight")
    except DoseError as err:
        if err.say.key in ("read-no-unit", "read-number", "read-unit", "read-kind"):
            raise refuse(key, text=text, example=example) from None
        raise


def _inoculant(text: SowText, bag: Measure, site: Site, system: System | None) -> Inoculant | None:
    if text.inoculant is None:
        if text.living is not None:
            raise refuse("sow-living-alone")
        return None
    rate = _quantity(text.inoculant, "sow-inoculant", system)
    over = any(power < 0 for _, power in rate.unit)
    on_seed = rate.is_a(_MASS_PER_MASS) or rate.is_a(_VOLUME_PER_MASS)
    on_row = over and (rate.is_a(MASS_PER_LENGTH) or rate.is_a(AREA))
    if rate.value <= 0 or not over or not (on_seed or on_row):
        raise refuse("sow-inoculant", text=text.inoculant)
    amount = rate * (_ground(site, True) if on_row else bag)
    liquid = amount.is_a(VOLUME)
    holds = None
    if text.living is not None:
        holds = read_tally_rate(text.living, ("CFU",), "2 billion CFU/g")
        if not holds.is_per(VOLUME if liquid else MASS):
            raise refuse("sow-living", text=text.living)
    amount = amount.to((("mL", 1),)) if liquid else amount.to(GRAM)
    material = "liquid-inoculant" if liquid else "rhizobium-inoculant"
    return Inoculant(material, amount, on_row, holds)
