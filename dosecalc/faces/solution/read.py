"""A feeding solution from what was typed: its products, its volumes, its stock tanks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.limit import terms_of
from dosecalc.catalog.lookup import source
from dosecalc.catalog.material import Material
from dosecalc.catalog.rules import read_rules
from dosecalc.catalog.site import read_site
from dosecalc.dose.solution import Blend, Portion, Salt, Want, blend
from dosecalc.dose.stock import Injector, Tank, apart, tanks
from dosecalc.errors import refuse
from dosecalc.faces.job import Job, garden_of, read_system, with_garden
from dosecalc.faces.solution.shelf import Shelf, all_distinct
from dosecalc.faces.solution.words import (
    ALKALINITY,
    Held,
    read_held,
    read_injector,
    read_irrigation,
    read_want,
)
from dosecalc.say import Say
from dosecalc.units import read
from dosecalc.units.engine import Unit
from dosecalc.units.measure import LENGTH, LITER, MASS, VOLUME, Measure
from dosecalc.units.show import listed, rounded, show
from dosecalc.units.words import System

_MM: Unit = (("mm", 1),)
_ONE_LITRE = Measure(Fraction(1), LITER)
_BASES = ("w/w", "w/v")


@dataclass(frozen=True, slots=True)
class Typed:
    """A solution as typed: text throughout, None where nothing was said."""

    amounts: tuple[str, ...] = ()
    wants: tuple[str, ...] = ()
    products: tuple[str, ...] = ()
    vessel: str | None = None
    feed: str | None = None
    irrigation: str | None = None
    injector: str | None = None
    to_water: bool = False
    holds: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Solution:
    """What a face shows of a solution, and what the jobs are made from.

    Parameters
    ----------
    portions : tuple of Portion
        Of the finished feed.
    wants : tuple of Want
    held : tuple of Held
        What the water itself holds.
    injector : Injector or None
    feed, made : Measure
        Litres of finished feed; litres of each stock, or of feed where there is no injector.
    fill : Measure or None
        One filling, where what is made does not go into the tank at once.
    depth : Measure or None
        Depth of irrigation that the feed is, where the ground is known.
    tanks : tuple of Tank
        One where there is no injector.
    idle : tuple of str
        Products that are not needed.
    own : tuple of (str, Material)
        Materials that are not as the catalog or the garden file has them.
    says : tuple of Say
        How the products were read.
    apart : tuple of (str, str)
        Names of products that must not meet in one stock.
    """

    portions: tuple[Portion, ...]
    wants: tuple[Want, ...]
    held: tuple[Held, ...]
    injector: Injector | None
    feed: Measure
    made: Measure
    fill: Measure | None
    depth: Measure | None
    tanks: tuple[Tank, ...]
    idle: tuple[str, ...]
    own: tuple[tuple[str, Material], ...]
    says: tuple[Say, ...]
    apart: tuple[tuple[str, str], ...]

    @property
    def water(self) -> dict[str, Fraction]:
        """Milligrams of each element in a litre of the water."""
        return {held.element: held.per_litre for held in self.held if held.element != ALKALINITY}


@dataclass(frozen=True, slots=True)
class _Volumes:
    """What was told about volumes, each None where it was not."""

    vessel: Measure | None
    feed: Measure | None
    depth: Measure | None
    ground: Measure | None


def solution_of(typed: Typed, job: Job) -> Solution:
    """Read a solution and work it out.

    Parameters
    ----------
    typed : Typed
    job : Job
        What was typed about site, tools and the rest.

    Raises
    ------
    DoseError
        For anything that cannot be read or met.
    """
    garden = garden_of(job.garden)
    job = with_garden(job, garden)
    if job.site.spray_volume is not None:
        raise refuse("solution-spray-volume")
    _whole(typed)
    system = read_system(job.measures)
    shelf = Shelf(garden, system, job.told.region)
    injector = None
    if typed.injector is not None:
        injector = read_injector(typed.injector, to_water=typed.to_water)
    elif typed.to_water:
        raise refuse("solution-to-water")
    volumes = _volumes(typed, job, system)
    held = _held(typed.holds)
    wants: tuple[Want, ...] = ()
    if typed.amounts:
        entered = [shelf.amount(text) for text in typed.amounts]
        portions = _from_amounts(entered, volumes, injector, job.told.region)
    else:
        wants = tuple(read_want(text, volumes.depth) for text in typed.wants)
        salts = [shelf.salt(text) for text in typed.products]
        all_distinct(salts)
        water = {h.element: h.per_litre for h in held if h.element != ALKALINITY}
        found = blend(salts, wants, water)
        if found.misses:
            raise _missed(found, wants)
        portions = found.portions
    needed = tuple(portion for portion in portions if portion.per_litre)
    if not needed:
        raise refuse("solution-water-all")
    idle = tuple(p.salt.material.name for p in portions if not p.per_litre)
    split, apart = _split(needed, job.told.region, stock=injector is not None)
    feed, made = _made(volumes, injector, len(split))
    fill = volumes.vessel if volumes.vessel is not None and volumes.vessel < made else None
    depth = volumes.depth
    if depth is None and volumes.ground is not None:
        depth = (feed / volumes.ground).to(_MM)
    return Solution(
        needed, wants, held, injector, feed, made, fill, depth, split, idle,
        tuple(shelf.own.items()), tuple(shelf.says), apart,
    )  # fmt: skip


def _whole(typed: Typed) -> None:
    if typed.amounts and (typed.wants or typed.products):
        raise refuse("solution-both")
    if bool(typed.wants) != bool(typed.products):
        raise refuse("solution-from")
    if not typed.amounts and not typed.wants:
        raise refuse("solution-nothing")


def _volumes(typed: Typed, job: Job, system: System | None) -> _Volumes:
    def volume(text: str | None, want: str) -> Measure | None:
        if text is None:
            return None
        return read.positive(text, VOLUME, system, want=want, example="20 L", oz_is="doubt")

    vessel = volume(typed.vessel, "the volume of a tank")
    feed = volume(typed.feed, "a volume of feed")
    ground = read_site(job.site, system).ground
    depth = None
    if typed.irrigation is not None:
        if feed is not None:
            raise refuse("solution-irrigation-twice")
        found = read_irrigation(typed.irrigation, system)
        if found.is_a(LENGTH):
            depth = found.to(_MM)
            feed = None if ground is None else (depth * ground).to(LITER)
        else:
            feed = found
    if feed is not None and ground is not None and depth is None:
        depth = (feed / ground).to(_MM)
    return _Volumes(vessel, feed, depth, ground)


def _made(volumes: _Volumes, injector: Injector | None, count: int) -> tuple[Measure, Measure]:
    """Litres of feed, and of what is made up in each tank."""
    told = volumes.feed or volumes.vessel
    if told is None:
        raise refuse("solution-volume")
    litres = told.to(LITER)
    if injector is None:
        return litres, litres
    times = injector.times(count)
    if volumes.feed is not None:
        return litres, litres / times
    return litres * times, litres


def _held(texts: Sequence[str]) -> tuple[Held, ...]:
    found: dict[str, Held] = {}
    for text in texts:
        held = read_held(text)
        before = found.get(held.element)
        if before is not None:
            words = f"{before.word}, {held.word}"
            raise refuse("solution-held-twice", element=held.element, words=words)
        found[held.element] = held
    return tuple(found.values())


def _from_amounts(
    entered: list[tuple[Salt, Measure, str]], volumes: _Volumes, injector: Injector | None,
    region: str | None,
) -> tuple[Portion, ...]:  # fmt: skip
    """Amounts are of the tank that is filled (with an injector the stock), strengths of feed."""
    all_distinct([salt for salt, _, _ in entered])
    loose = [
        (salt, amount, text) for salt, amount, text in entered
        if amount.is_a(MASS) or amount.is_a(VOLUME)
    ]  # fmt: skip
    feed: Fraction | None = None
    if loose:
        told = volumes.vessel
        if told is None and injector is None:
            told = volumes.feed
        if told is None:
            raise refuse("solution-amount-in", text=loose[0][2])
        litres = told.amount_in(LITER)
        feed = litres
        if injector is not None:
            trial = [Portion(salt, Fraction(1)) for salt, _, _ in entered]
            split, _ = _split(trial, region, stock=True)
            feed = litres * injector.times(len(split))
    portions = []
    for salt, amount, text in entered:
        if amount.is_a(MASS) or amount.is_a(VOLUME):
            assert feed is not None
            portions.append(Portion(salt, salt.counted(amount) / feed))
            continue
        in_litre = amount * _ONE_LITRE
        if not (in_litre.is_a(MASS) or in_litre.is_a(VOLUME)):
            raise refuse("solution-amount", text=text)
        portions.append(Portion(salt, salt.counted(in_litre)))
    return tuple(portions)


def _split(
    portions: Sequence[Portion], region: str | None, *, stock: bool
) -> tuple[tuple[Tank, ...], tuple[tuple[str, str], ...]]:
    """The stock tanks, and the pairs of products that asked for more than one."""
    if not stock:
        return (Tank(tuple(portions)),), ()
    terms = terms_of((), [p.salt.material for p in portions])
    pairs = read_rules(terms, source).pairs
    found = tanks(portions, pairs, region)
    if len(found) == 1:
        return found, ()
    names = []
    for at, one in enumerate(portions):
        for other in portions[at + 1 :]:
            if apart(pairs, one.salt.material, other.salt.material, region) == "stop":
                names.append((one.salt.material.name, other.salt.material.name))
    return found, tuple(names)


def _missed(found: Blend, wants: Sequence[Want]) -> Exception:
    missed = {miss.want.word for miss in found.misses}
    met = [want.word for want in wants if want.word not in missed]
    misses = [
        Say.of(
            "solution-miss", word=m.want.word, got=mg_text(m.got),
            by=mg_text(abs(m.got - m.want.per_litre)),
            way="more" if m.got > m.want.per_litre else "less", want=mg_text(m.want.per_litre),
        ).english()
        for m in found.misses
    ]  # fmt: skip
    amounts = [
        f"{show(p.in_volume(Fraction(1))).metric}/L {p.salt.material.name}" for p in found.portions
    ]
    return refuse(
        "solution-missed", amounts=", ".join(amounts),
        met=Say.of("solution-met", words=listed(met)).english(), misses="; ".join(misses),
    )  # fmt: skip


def mg_text(mg: Fraction) -> str:
    """Milligrams to four digits below a thousand, whole above."""
    return rounded(mg, 4)[0]
