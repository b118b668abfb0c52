"""`Mix`: one frozen value that holds everything a face shows."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.source import Source
from dosecalc.say import Say
from dosecalc.units.measure import Measure
from dosecalc.units.spread import Span

LEVELS = ("stop", "over", "caution", "note", "within")
"""The five levels of a finding, most serious first."""
URGENT = LEVELS[:3]
"""The levels that a person must read before mixing."""


@dataclass(frozen=True, slots=True)
class Amount:
    """One material of the whole job.

    Parameters
    ----------
    material, name, role, printed : str
        `printed` is the recipe's own wording of the amount.
    volume, mass : Span or None
        What the recipe asks for; the one it does not state goes through the density.
    in_solution : Span or None
        Strength by weight, where it is dissolved or sprayed.
    by_volume : Span or None
        Strength by volume, for liquids.
    up_to : Measure or None
        The upper end where the recipe leaves a choice.
    shown, shown_mass : str
        The amount in both unit systems, and its weight where that is the other way to say it.
    """

    material: str
    name: str
    role: str
    printed: str
    volume: Span | None
    mass: Span | None
    in_solution: Span | None
    by_volume: Span | None
    up_to: Measure | None
    shown: str
    shown_other: str
    shown_up_to: str


@dataclass(frozen=True, slots=True)
class Supply:
    """One nutrient that the plan delivers, over each basis that the site allows.

    Parameters
    ----------
    nutrient : str
        An element, or an oxide word beside it (P2O5, K2O).
    mass, per_area, per_length, in_band, per_plant, in_solution : Span or None
        None where the site does not tell it.
    """

    nutrient: str
    mass: Span
    per_area: Span | None
    per_length: Span | None
    in_band: Span | None
    per_plant: Span | None
    in_solution: Span | None
    shown: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Measured:
    """One measuring action: what to do, what it delivers, how far that is from what was asked.

    Parameters
    ----------
    material : str
    say : Say
    nominal : Measure
        What the action says, by weight or by volume.
    amount : Span
        What it delivers, by weight where the density is known, else by volume.
    error_percent : Fraction
        Signed shift of the nominal from what was asked, in percent.
    off : Say or None
        The same in words, None below a twentieth of a percent.
    shown_other : str
        What the action says, in the other unit system; "" where that adds nothing.
    """

    material: str
    name: str
    say: Say
    nominal: Measure
    amount: Span
    error_percent: Fraction
    off: Say | None
    shown_other: str = ""


@dataclass(frozen=True, slots=True)
class MadeBatch:
    """A bigger batch that is made because a filling's own amounts are too small to measure."""

    make: Measure
    use: Measure
    rest: Measure
    say: Say
    say_rest: Say


@dataclass(frozen=True, slots=True)
class Tankful:
    """One filling of the sprayer, can or bucket; of a batch where one is made."""

    number: int
    of: int
    volume: Measure | None
    shown_volume: str
    amounts: tuple[Amount, ...]
    measures: tuple[Measured, ...]
    batch: MadeBatch | None


@dataclass(frozen=True, slots=True)
class Finding:
    """One judgement. See ``dose.judge``; `why` is the kind of reason, `say` the sentence.

    `brief` says the same in one line, for a finding that stands behind a graver one about the
    same thing.
    """

    id: str
    level: str
    why: str
    about: str
    say: Say
    brief: Say | None = None
    likely: Measure | None = None
    high: Measure | None = None
    limit: Measure | None = None
    ratio: Fraction | None = None
    scope: str = ""
    grade: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True)
class Waiting:
    """A wait whose length is known, for a face that turns it into a date.

    Parameters
    ----------
    what : {"re-entry", "harvest", "repeat"}
    wait : Measure
        A time.
    say : Say
        The same as a sentence, with its source.
    """

    what: str
    wait: Measure
    say: Say


@dataclass(frozen=True, slots=True)
class Assumed:
    """Something that was not told and was taken: what, which value, how to say otherwise."""

    what: Say
    value: str
    instead: Say


@dataclass(frozen=True, slots=True)
class Mix:
    """The result: amounts, tankfuls, what they supply, findings, assumptions, steps, sources.

    `basis` is what the rate of the recipe is per; see ``catalog.recipe.Statement``.
    """

    recipe_id: str
    recipe_name: str
    how: str
    basis: str
    read_as: tuple[Say, ...]
    site: tuple[tuple[str, Measure | int], ...]
    said: tuple[Say, ...]
    amounts: tuple[Amount, ...]
    liquid: Measure | None
    tankfuls: tuple[Tankful, ...]
    supplies: tuple[Supply, ...]
    findings: tuple[Finding, ...]
    assumed: tuple[Assumed, ...]
    not_told: tuple[Say, ...]
    when_not: tuple[Say, ...]
    waits: tuple[Say, ...]
    waiting: tuple[Waiting, ...]
    rescue: tuple[Say, ...]
    steps: tuple[Say, ...]
    cautions: tuple[Say, ...]
    sources: tuple[Source, ...]
    bags: int | None

    @property
    def worst(self) -> str:
        """The most serious level among the findings, "note" where there is none."""
        found = {finding.level for finding in self.findings}
        return next((level for level in LEVELS if level in found), "note")
