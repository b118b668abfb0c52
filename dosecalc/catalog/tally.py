"""`Tally`: a number of living things; it is neither a weight nor a volume and never becomes one."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.errors import refuse
from dosecalc.units import read
from dosecalc.units.measure import AREA, LENGTH, MASS, VOLUME, Measure
from dosecalc.units.words import System

ROW_PLANT = (("[plant]", 1),)
BASES = {AREA, LENGTH, MASS, VOLUME, ROW_PLANT}
MOST_POWER = 15
MOST_NUMBER = Fraction(10) ** 18

_WORDS = {
    "seed": "seed seeds kernel kernels pellet pellets",
    "plant": "plant plants seedling seedlings",
    "nematode": "nematode nematodes juvenile juveniles IJ IJs",
    "CFU": "CFU cfu CFUs rhizobia cell cells bacteria",
    "propagule": "propagule propagules",
    "animal": "predator predators mite mites wasp wasps beetle beetles larva larvae egg eggs"
    " lacewing lacewings insect insects animal animals",
}
THINGS = {word: thing for thing, words in _WORDS.items() for word in words.split()}
"""Which words name which thing; the two sides of a sum must be of one thing."""
_TIMES = {"thousand": 10**3, "million": 10**6, "billion": 10**9}
_HEAD = re.compile(
    r"(?:(?P<number>\d[\d.,]*)(?: ?[x*\u00d7] ?10\^(?P<power>\d{1,2})|e(?P<short>\d{1,2}))?"
    r"|10\^(?P<lone>\d{1,2}))(?: (?P<times>thousand|million|billion))?"
    r"(?: (?P<word>[A-Za-z]+))?",
    re.ASCII,
)
_DOTTED = re.compile(r"[1-9]\d{0,2}(?:\.\d{3})+", re.ASCII)


@dataclass(frozen=True, slots=True)
class Tally:
    """So many of one thing.

    Parameters
    ----------
    number : Fraction
    things : str
        "seed", "plant", "nematode", "CFU", "propagule", "animal"; "" where it was not said.
    """

    number: Fraction
    things: str


@dataclass(frozen=True, slots=True)
class TallyRate:
    """So many of one thing for each `per`: an area, a length, a weight, a volume or plants."""

    tally: Tally
    per: Measure

    def is_per(self, dim: tuple[tuple[str, int], ...]) -> bool:
        """Whether it is counted on this dimension (AREA, LENGTH, MASS ...)."""
        return self.per.is_a(dim)

    def over(self, amount: Measure) -> Fraction:
        """How many there are for `amount`. Refuses another dimension than that of `per`."""
        return self.tally.number * amount.amount_in(self.per.unit) / self.per.value


def read_tally(text: str, things: Collection[str], example: str) -> Tally:
    """A number of things: "5 million nematodes", "2 x 10^9 CFU", "1,500 seeds".

    Parameters
    ----------
    text : str
    things : collection of str
        Which things may be meant; a number without a word is the first of them.
    example : str

    Raises
    ------
    DoseError
        For what is no count, for a word of another thing, and for a number that a grower of
        another country would read otherwise.
    """
    return _tally(read.tidy(text, "a count", example), text, things, example, whole=True)


def read_tally_rate(
    text: str, things: Collection[str], example: str, system: System | None = None
) -> TallyRate:
    """A count for each area, length of row, weight, volume or plant: "25 plants/m2".

    Raises
    ------
    DoseError
        As `read_tally`, and where it is not said for each of what.
    """
    clean = read.tidy(text, "a count for an area", example)
    head, mark, below = clean.rpartition(" per ")
    if not mark:
        head, mark, below = clean.partition("/")
    below = below.strip().removesuffix(" of row").removesuffix(" row")
    if not head or not below:
        raise refuse("tally-per", text=text, example=example)
    tally = _tally(head, text, things, example, whole=False)
    below = below if below[0].isdigit() else f"1 {below}"
    per = read.quantity(below, system, want="what it is counted on", example="1 m2",
                        oz_is="weight")  # fmt: skip
    if per.value <= 0 or not any(per.is_a(dim) for dim in BASES):
        raise refuse("tally-per", text=text, example=example)
    return TallyRate(tally, per)


def _tally(head: str, text: str, things: Collection[str], example: str, *, whole: bool) -> Tally:
    match = _HEAD.fullmatch(head.strip())
    if match is None:
        raise refuse("tally-form", text=text, example=example)
    number = _number(match, text, example, whole=whole)
    word = match["word"]
    thing = next(iter(things)) if word is None else THINGS.get(word)
    if thing is None or thing not in things:
        raise refuse("tally-thing", text=text, word=word, example=example)
    if number <= 0 or number > MOST_NUMBER:
        raise refuse("tally-size", text=text, example=example)
    if whole and number.denominator != 1:
        raise refuse("tally-whole", text=text, example=example)
    return Tally(number, thing)


def _number(match: re.Match[str], text: str, example: str, *, whole: bool) -> Fraction:
    """The number with its powers; "250.000" and "2,500 million" are in doubt and refused."""
    power = int(match["power"] or match["short"] or match["lone"] or 0)
    if power > MOST_POWER:
        raise refuse("tally-size", text=text, example=example)
    scaled = power or match["times"] is not None
    plain = match["number"]
    if plain is None:
        return Fraction(10) ** power
    if _DOTTED.fullmatch(plain):
        raise refuse("tally-dot", text=text)
    value = read.number(plain, "us" if whole and not scaled else None, example="1500")
    return value * Fraction(10) ** power * _TIMES.get(match["times"], 1)
