"""`LimingValue`: how strong a lime, a sulfur or a gypsum is, and by whose count.

Percent of calcium carbonate and of calcium oxide are told apart: 54 % CaO is 96 % CaCO3, and a
bare 54 is refused. A count that sieves and moisture have gone into is never mixed with one that
they have not.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.formula import atoms, molar_mass
from dosecalc.errors import refuse
from dosecalc.units import read
from dosecalc.units.measure import MASS_PER_AREA, Measure
from dosecalc.units.show import rounded

LIME = "90 % CaCO3, 52 % CaO, 68 % ENV, lime score 95, 1800 lb ENP/ton or 400 lb ENM/ton"
SULFUR = "90 % S"
GYPSUM = "85 % gypsum"
_SHARE = re.compile(r"(?P<number>.+?) ?% ?(?:of )?(?P<word>\S.*)")
_PER_TON = re.compile(r"(?P<number>.+?) (?:lb|lbs) (?P<word>ENP|ENM)(?: per |/)(?:US )?ton")
_SCORE = re.compile(r"lime score (?P<number>.+)", re.IGNORECASE)
_WORDS = {
    "caco3": "CaCO3", "cce": "CaCO3", "cao": "CaO", "env": "ENV", "ecce": "ENV",
    "s": "S", "sulfur": "S", "sulphur": "S", "gypsum": "gypsum",
    "ferrous sulfate": "ferrous sulfate",
}  # fmt: skip
_PURE_ENP = 2000
CAO = molar_mass("CaCO3") / molar_mass("CaO")
"""How much calcium carbonate does what one part of calcium oxide does, by molar mass."""
LIMES = frozenset({"CaCO3", "CaO", "ENV", "lime score", "ENP", "ENM"})
_MOST = {
    "CaCO3": Fraction(250), "CaO": Fraction(140), "ENV": Fraction(180), "S": Fraction(100),
    "gypsum": Fraction(100), "lime score": Fraction(180), "ENP": Fraction(3600),
    "ENM": Fraction(2000), "ferrous sulfate": Fraction(100),
}  # fmt: skip
"""No material reaches these (magnesium oxide is 248 % CaCO3): the digit or the word is wrong."""


@dataclass(frozen=True, slots=True)
class LimingValue:
    """A strength as its own count has it.

    Parameters
    ----------
    kind : str
        "CaCO3", "CaO", "ENV", "lime score", "ENP", "ENM", "S", "gypsum" or "ferrous sulfate".
    value : Fraction
        In percent; for ENP and ENM in lb per US ton.
    """

    kind: str
    value: Fraction

    @property
    def family(self) -> str:
        """Counts of one family may be divided by each other: CaO is a way to say CaCO3."""
        return "CaCO3" if self.kind == "CaO" else self.kind

    @property
    def share(self) -> Fraction:
        """Of the pure thing that its family counts (of 2000 lb to the ton for ENP and ENM)."""
        if self.kind in ("ENP", "ENM"):
            return self.value / _PURE_ENP
        return self.value / 100 * (CAO if self.kind == "CaO" else 1)

    def text(self) -> str:
        """As it is written: "90 % CaCO3"."""
        number = rounded(self.value, 4)[0]
        if self.kind == "lime score":
            return f"lime score {number}"
        if self.kind in ("ENP", "ENM"):
            return f"{number} lb {self.kind}/ton"
        return f"{number} % {self.kind}"


def read_liming_value(
    text: str, want: str = LIME, kinds: frozenset[str] = frozenset(_MOST)
) -> LimingValue:
    """A strength with its count, strictly.

    Parameters
    ----------
    text : str
        Such as "90 % CaCO3", "52 % CaO", "lime score 95", "1800 lb ENP/ton".
    want : str
        How it may be written, for the refusal.
    kinds : frozenset of str
        The counts that may stand here.

    Raises
    ------
    DoseError
        For a bare number or percentage, another count, or more than any material reaches.
    """
    clean = read.tidy(text, "a liming value", want)
    for pattern in (_SCORE, _PER_TON, _SHARE):
        match = pattern.fullmatch(clean)
        if match is not None:
            break
    else:
        raise refuse("liming-value-bare", text=text, want=want)
    words = match.groupdict()
    word = "lime score" if pattern is _SCORE else words["word"]
    kind = word if pattern is not _SHARE else _WORDS.get(word.casefold())
    if kind is None or kind not in kinds:
        raise refuse("liming-value-count", text=text, word=word, want=want)
    number = read.number(words["number"], example="90")
    if not 0 < number <= _MOST[kind]:
        raise refuse("liming-value-size", text=text, most=LimingValue(kind, _MOST[kind]).text())
    return LimingValue(kind, number)


def pure_value(formula: str) -> Fraction:
    """What share of calcium carbonate's work one part of a pure lime does, by molar mass.

    Published beside it: MgCO3 119 %, Ca(OH)2 135 %, CaO 178 % (University of Nebraska).
    """
    counted = atoms(formula)
    bases = counted.get("Ca", 0) + counted.get("Mg", 0)
    return bases * molar_mass("CaCO3") / molar_mass(formula)


Sieve = tuple[Fraction, Fraction]
"""A mesh number, and what share of the lime passes it."""
_SIEVE = re.compile(r"(?P<share>.+?) ?% (?:passes|passing|through) (?P<mesh>\d+) ?mesh")
FINENESS = "95 % through 20 mesh, 70 % through 60 mesh, 50 % through 100 mesh"


def read_fineness(text: str) -> tuple[Sieve, ...]:
    """How much of a lime passes each sieve, coarse to fine.

    Raises
    ------
    DoseError
        For anything that is not a list of such shares, or more through a finer sieve.
    """
    found: list[Sieve] = []
    for part in read.tidy(text, "a fineness", FINENESS).split(","):
        match = _SIEVE.fullmatch(part.strip())
        if match is None:
            raise refuse("liming-fineness", text=part.strip(), example=FINENESS)
        share = read.number(match["share"], example="95") / 100
        if share > 1:
            raise refuse("liming-fineness", text=part.strip(), example=FINENESS)
        found.append((Fraction(match["mesh"]), share))
    found.sort()
    meshes = [mesh for mesh, _ in found]
    shares = [share for _, share in found]
    if len(set(meshes)) < len(meshes) or shares != sorted(shares, reverse=True):
        raise refuse("liming-fineness-order", text=text)
    return tuple(found)


ADVICE = '"5 lb/100 sq ft of 100 % CaCO3" or "1200 lb ENM/acre"'
_ADVICE = re.compile(r"(?P<amount>.+?) of (?P<value>.+)")
_ADVICE_ENM = re.compile(r"(?P<number>.+?) (?:lb|lbs) ENM(?P<per>(?: per |/).+)")


def read_advice(text: str) -> tuple[Measure, LimingValue]:
    """What a report itself asks for: a mass over an area, and of what lime it counts.

    Raises
    ------
    DoseError
        Where the quality of the lime is not said.
    """
    clean = read.tidy(text, "the advice of a report", ADVICE)
    enm = _ADVICE_ENM.fullmatch(clean)
    if enm is not None:
        value, amount = LimingValue("ENM", Fraction(_PURE_ENP)), f"{enm['number']} lb{enm['per']}"
    else:
        match = _ADVICE.fullmatch(clean)
        if match is None:
            raise refuse("liming-advice", text=text, example=ADVICE)
        value, amount = read_liming_value(match["value"], kinds=LIMES), match["amount"]
    found = read.positive(
        amount, MASS_PER_AREA, want="a weight per area", example="5 lb/100 sq ft", oz_is="weight"
    )
    return found, value
