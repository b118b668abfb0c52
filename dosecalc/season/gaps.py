"""What the rules ask to be written down and the entries do not hold, counted, not judged."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass

from dosecalc.catalog.lookup import material, material_ids
from dosecalc.catalog.material import IRRIGATION_WATER, Material
from dosecalc.catalog.records import RecordField, RecordRule, also_words, protects_plants
from dosecalc.catalog.rules import Law, Wait
from dosecalc.dose.together import matches
from dosecalc.season.entries import Entry

_STAGE = re.compile(r"(?<!\d)\d{2}(?!\d)")
_SIZES = ("row_length", "area", "judged_area", "plants", "pots", "volume")


@dataclass(frozen=True, slots=True)
class Gap:
    """One field of a rule and how many of the entries do not answer it."""

    field: RecordField
    count: int


@dataclass(frozen=True, slots=True)
class Held:
    """The entries held against one rule.

    Parameters
    ----------
    rule : RecordRule
    about : int
        Entries that the rule is about.
    of : int
        Entries that were looked at.
    gaps : tuple of Gap
        Fields that some of them do not answer, in the order of the rule.
    unknown : int
        Entries with a material that is not of the catalog: whether the rule is about them is not
        known, and they are not among `about`.
    """

    rule: RecordRule
    about: int
    of: int
    gaps: tuple[Gap, ...]
    unknown: int


def rules_of(
    rules: Iterable[RecordRule], region: str | None, *, organic: bool, named: Collection[str]
) -> list[RecordRule]:
    """The named rules; else those that are asked for by the region and way of growing."""
    if named:
        return [rule for rule in rules if rule.id in named]
    return [
        rule
        for rule in rules
        if rule.region == region and rule.asked == "by region" and (organic or not rule.organic)
    ]


def hold(
    rule: RecordRule, entries: Iterable[Entry], laws: Collection[Law], waits: Collection[Wait]
) -> Held:
    """Count what a rule asks for and the entries do not hold."""
    found = list(entries)
    mine = [e for e in found if _about(rule, e, laws)]
    known = {entry.id for entry in mine}
    unknown = [e for e in found if e.id not in known and _strange(e)]
    gaps = []
    for field in rule.fields:
        if field.held:
            count = sum(not _answered(field, e, rule.region, laws, waits) for e in mine)
            if count:
                gaps.append(Gap(field, count))
    return Held(rule, len(mine), len(found), tuple(gaps), len(unknown))


def _materials(entry: Entry) -> list[Material]:
    known = set(material_ids())
    return [material(id) for id in _asked(entry) if id in known]


def _asked(entry: Entry) -> list[str]:
    return list(dict.fromkeys(what for kind, what in entry.amounts if kind.startswith("asked")))


def _strange(entry: Entry) -> bool:
    return not {*_asked(entry), IRRIGATION_WATER} <= {*material_ids(), IRRIGATION_WATER}


def _about(rule: RecordRule, entry: Entry, laws: Collection[Law]) -> bool:
    """Whether a rule asks for a record of this application."""
    given = _materials(entry)
    if rule.about == "any input":
        return any(id != IRRIGATION_WATER for id in _asked(entry))
    if rule.about == "raw manure":
        return any("raw-manure" in one.traits for one in given)
    return bool(_protecting(entry, rule.region, laws)) or bool(entry.registration)


def _protecting(entry: Entry, region: str, laws: Collection[Law]) -> list[Material]:
    return [one for one in _materials(entry) if protects_plants(one, entry.placement, region, laws)]


def _answered(
    field: RecordField, entry: Entry, region: str, laws: Collection[Law], waits: Collection[Wait]
) -> bool:
    if field.also and field.also in told(entry):
        return True
    ways: dict[str, Callable[[], bool]] = {
        "day": lambda: True,
        "place": lambda: bool(entry.bed),
        "crop": lambda: bool(entry.crop),
        "who": lambda: bool(entry.who),
        "registration": lambda: bool(entry.registration),
        "materials": lambda: bool(_asked(entry)) and not _strange(entry),
        "amounts": lambda: bool(_asked(entry)),
        "ground": lambda: _sized(entry),
        "dose": lambda: bool(_asked(entry)) and _sized(entry),
        "stage number": lambda: _STAGE.search(entry.stage) is not None,
        "re-entry wait": lambda: _waited(entry, _protecting(entry, region, laws), region, waits),
    }
    return any(ways[answer]() for answer in field.answers)


def _sized(entry: Entry) -> bool:
    return any(name in entry.ground for name in _SIZES)


def _waited(entry: Entry, protecting: list[Material], region: str, waits: Collection[Wait]) -> bool:
    """Whether everything in it that protects has a re-entry wait from a strong source."""
    strong = [
        wait
        for wait in waits
        if wait.what == "re-entry"
        and wait.source.strong
        and wait.region in ("any", region)
        and ("any" in wait.placement or entry.placement in wait.placement)
        and ("any" in wait.crops or entry.crop in wait.crops)
    ]
    return bool(protecting) and all(any(matches(w.of, one) for w in strong) for one in protecting)


def told(entry: Entry) -> dict[str, str]:
    """What a note holds under the words of `also_words`: one a line, "start: 06:30"."""
    found = {}
    for line in entry.note.splitlines():
        word, colon, text = line.partition(":")
        if colon and text.strip() and word.strip().casefold() in also_words():
            found[word.strip().casefold()] = text.strip()
    return found
