"""`Material`: what a substance is made of, how dense it is, what dissolves, what it harms."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from dosecalc.errors import refuse
from dosecalc.units.measure import GRAM, ML, VOLUME, Measure, exact_text
from dosecalc.units.spread import Est, Factor

IRRIGATION_WATER = "irrigation-water"
"""The id of water whose analysis a grower typed: the liquid is the material itself."""

SOLID_FORMS = frozenset({"powder", "granules", "crystals", "flakes"})


@dataclass(frozen=True, slots=True)
class Content:
    """How much of one element a material holds.

    Parameters
    ----------
    element : str
        "B", "P" ...: always the element, oxides are already converted.
    factor : Factor
        Mass fraction (w/w) or grams per mL (w/v), with its spread where a source gives one.
    basis : {"w/w", "w/v"}
    kind : {"formula", "minimum", "typical"}
        A guaranteed analysis is a minimum.
    source : str
        Source id, "" for a formula.
    """

    element: str
    factor: Factor
    basis: str
    kind: str
    source: str


@dataclass(frozen=True, slots=True)
class Solubility:
    """Grams of the material as named that dissolve in a litre of water.

    Parameters
    ----------
    celsius : Fraction
    grams_per_litre : Fraction
    used : bool
        False where another source is taken instead; the caveat says why.
    """

    celsius: Fraction
    grams_per_litre: Fraction
    printed: str
    source: str
    used: bool
    caveat: str


@dataclass(frozen=True, slots=True)
class Material:
    """One material of the catalog. See ``catalog.schema.MaterialFile`` for the file."""

    id: str
    name: str
    also: tuple[str, ...]
    form: str
    traits: tuple[str, ...]
    contents: tuple[Content, ...]
    uncounted: tuple[str, ...]
    by_weight: bool
    density: Factor | None
    density_how: str
    solubility: tuple[Solubility, ...]
    insoluble: str
    hazards: tuple[str, ...]
    caveat: str
    formula: str
    sources: tuple[str, ...]
    suspends: bool = False

    @property
    def liquid(self) -> bool:
        """Whether it is poured rather than spooned."""
        return self.form in ("liquid", "suspension")

    @property
    def loose(self) -> bool:
        """Whether it comes as a heap (compost, mulch), not by the spoon."""
        return self.form == "bulk"

    def content(self, element: str) -> Content | None:
        """Its content of `element`, None when it is not known to hold any."""
        return next((c for c in self.contents if c.element == element), None)

    def mass_of(self, amount: Est, is_volume: bool) -> Est | None:
        """The mass of an amount, through the stated density; None when that is unknown."""
        if not is_volume:
            return amount.to(GRAM)
        return None if self.density is None else amount.to(ML).times(self.density).to(GRAM)

    def volume_of(self, amount: Est, is_volume: bool) -> Est | None:
        """The volume of an amount, through the stated density; None when that is unknown."""
        if is_volume:
            return amount.to(ML)
        if self.density is None:
            return None
        return amount.to(GRAM).times(self.density, -1).to(ML)

    def need_density(self, amount: Measure) -> Factor:
        """The density, or a refusal that says how to measure it."""
        if self.density is None:
            raise refuse("no-density", text=exact_text(amount), material=self.name)
        return self.density


def is_volume(measure: Measure) -> bool:
    """Whether an amount is a volume (otherwise it is a mass)."""
    return measure.is_a(VOLUME)


def exact_factor(key: str, value: Fraction, why: str = "") -> Factor:
    """A content without spread."""
    return Factor(key, value, value, value, (), why)
