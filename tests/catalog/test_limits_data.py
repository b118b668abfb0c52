"""Limits, rates, rules and crops as data: whole, sourced, naming what exists; a bad copy fails.

The checks are functions over tables, so that the same checks that pass the shipped data can be
shown to catch a copy that was spoilt.
"""

from __future__ import annotations

import copy
import re
import tomllib
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, get_args

import pytest

from dosecalc.catalog import build, files, lookup, schema
from dosecalc.catalog.checking import validate
from dosecalc.catalog.crops import crops, find_crop
from dosecalc.catalog.limit import Limit, build_limit, read_limits
from dosecalc.catalog.rules import read_rules
from dosecalc.catalog.usual import build_usual, read_usual
from dosecalc.english import every
from dosecalc.errors import DoseError, Problem
from dosecalc.units import read
from dosecalc.units.measure import Measure

DATA = Path(str(files.data_root()))
RULE_KINDS = ("pair", "weather", "wait", "law", "rescue")
NUTRIENT_WORDS = {*get_args(schema.Nutrient), "P2O5", "K2O", "CaO", "MgO", "SO3"}
STRONG = {"regulator", "standard", "journal", "extension"}
WEAK = {"reference", "trade", "seller", "hobby", "memory", "practice"}

Table = dict[str, Any]


@dataclass
class Data:
    """Every table of limits, rates, rules, crops, materials and sources, by file."""

    limits: dict[str, Table] = field(default_factory=dict)
    usual: dict[str, Table] = field(default_factory=dict)
    rules: dict[str, Table] = field(default_factory=dict)
    crops: Table = field(default_factory=dict)
    materials: dict[str, Table] = field(default_factory=dict)
    sources: dict[str, Table] = field(default_factory=dict)

    def limit_entries(self) -> Iterator[Table]:
        for file in self.limits.values():
            yield from file["limit"]

    def rate_entries(self) -> Iterator[Table]:
        for file in self.usual.values():
            yield from file["rate"]

    def rule_entries(self, *kinds: str) -> Iterator[Table]:
        for file in self.rules.values():
            for kind in kinds or RULE_KINDS:
                yield from file.get(kind, ())

    def entries(self) -> Iterator[Table]:
        yield from self.limit_entries()
        yield from self.rate_entries()
        yield from self.rule_entries()

    def limit(self, id: str) -> Table:
        return next(entry for entry in self.limit_entries() if entry["id"] == id)


def load() -> Data:
    def folder(name: str) -> dict[str, Table]:
        return {
            path.stem: tomllib.loads(path.read_text("utf-8"))
            for path in sorted((DATA / name).glob("*.toml"))
        }

    return Data(
        folder("limits"),
        folder("usual"),
        folder("rules"),
        tomllib.loads((DATA / "crops.toml").read_text("utf-8")),
        folder("materials"),
        folder("sources"),
    )


SHIPPED = load()
READ_LIMITS = read_limits(None, lookup.source)
READ_RATES = read_usual(None, lookup.source)
READ_RULES = read_rules(None, lookup.source)


# The checks: each gives the faults it finds in some data.


def schema_faults(data: Data) -> list[str]:
    problems: list[Problem] = validate("crops", data.crops, "crops.toml")
    for kind, tables in (("limits", data.limits), ("rules", data.rules), ("usual", data.usual),
                         ("material", data.materials), ("source", data.sources)):  # fmt: skip
        for name, table in tables.items():
            problems += validate(kind, table, f"{name}.toml")
    return [str(problem) for problem in problems]


def repeated_ids(data: Data) -> list[str]:
    ids = Counter(entry["id"] for entry in data.entries())
    return [id for id, count in ids.items() if count > 1]


def unknown_sources(data: Data) -> list[str]:
    """Entries whose source is not on file, which is also where its grade stands."""
    return [
        f"{entry['id']}: {entry['source']}"
        for entry in data.entries()
        if data.sources.get(entry["source"], {}).get("grade") not in STRONG | WEAK
    ]


def unused_sources(data: Data, elsewhere: set[str]) -> list[str]:
    used = {entry["source"] for entry in data.entries()} | elsewhere
    return sorted(set(data.sources) - used)


def crop_words(data: Data) -> set[str]:
    table = data.crops["crop"]
    classes = {word for entry in table.values() for word in entry.get("classes", ())}
    return set(table) | classes


def unknown_crops(data: Data) -> list[str]:
    """A crop word that no crop has: the limit would never judge anything."""
    known = crop_words(data)
    faults = [
        f"{entry['id']}: {word}"
        for entry in data.entries()
        for key in ("crops", "not_crops")
        for word in (() if entry.get(key, "any") == "any" else entry[key])
        if word not in known
    ]
    return faults + [
        f"{id}: {word}"
        for id, entry in data.crops["crop"].items()
        for word in entry.get("kinds", ())
        if word not in data.crops["crop"]
    ]


def narrow_for_their_class(data: Data) -> list[str]:
    """A limit for "citrus" that orange and lemon escape, since their class has another word."""
    classes = crop_words(data) - set(data.crops["crop"])
    return [
        f"{entry['id']}: {word}"
        for entry in data.entries()
        for word in (() if entry.get("crops", "any") == "any" else entry["crops"])
        if f"{word}-class" in classes and f"{word}-class" not in entry["crops"]
    ]


def unknown_things(data: Data) -> list[str]:
    traits = {t for material in data.materials.values() for t in material.get("traits", ())}

    def known(word: str) -> bool:
        if word.startswith("trait:"):
            return word.removeprefix("trait:") in traits
        if word.startswith("salt:"):
            return set(word.removeprefix("salt:").split("+")) <= NUTRIENT_WORDS
        return word in data.materials or word in NUTRIENT_WORDS

    return [
        f"{entry['id']}: {entry[key]}"
        for entry in data.entries()
        for key in ("of", "a", "b")
        if key in entry and not known(entry[key])
    ]


def unscoped(data: Data) -> list[str]:
    """Limits without a word for where, on what, how often, and which way the edge falls."""
    needed = ("of", "per", "limit", "edge", "window", "crops", "setting", "placement", "printed",
              "source", "why", "judges")  # fmt: skip
    return [
        f"{entry['id']}: {key}"
        for entry in data.limit_entries()
        for key in needed
        if entry.get(key) in (None, "", [])
    ]


def silent_without_reason(data: Data) -> list[str]:
    return [
        entry["id"]
        for entry in data.limit_entries()
        if not entry["judges"] and entry.get("direction") != "lower" and "not_judging" not in entry
    ]


def unreadable(data: Data) -> list[str]:
    """Figures that the reader refuses, or that are no figure over their own basis."""
    faults = []
    source = lookup.source("from-memory")
    for entry in data.limit_entries():
        try:
            made = build_limit(entry, source)
        except DoseError as err:
            faults.append(f"{entry['id']}: {err}")
            continue
        if not fits_its_basis(made.per, made.limit):
            faults.append(f"{entry['id']}: {entry['limit']} is no figure per {made.per}")
    for entry in data.rate_entries():
        try:
            rate = build_usual(entry, source).rate
        except DoseError as err:
            faults.append(f"{entry['id']}: {err}")
            continue
        if rate.value <= 0 or not fits_its_basis(entry["per"], rate):
            faults.append(f"{entry['id']}: {entry['rate']} is no rate per {entry['per']}")
    return faults


BELOW = {
    "field area": {("meter", 2)}, "band area": {("meter", 2)}, "row length": {("meter", 1)},
    "solution": {("meter", 3)}, "irrigation water": {("meter", 3)}, "plant": {("plant", 1)},
    "medium volume": {("meter", 3)},
}  # fmt: skip
"""What stands below the line of a figure, in metres."""


def fits_its_basis(per: str, figure: Measure) -> bool:
    if figure.value < 0:
        return False
    if per == "count":
        return figure.value.denominator == 1
    above = {"gram": ("gram", 1), "volume": ("meter", 3)}
    if per == "depth":
        return converts(figure, (("meter", 1),))
    below = next(iter(BELOW[per]))
    for name, power in above.values():
        powers: dict[str, int] = {name: power}
        powers[below[0]] = powers.get(below[0], 0) - below[1]
        if converts(figure, tuple(sorted((n, p) for n, p in powers.items() if p))):
            return True
    return False


def converts(figure: Measure, unit: tuple[tuple[str, int], ...]) -> bool:
    try:
        figure.amount_in(unit)
    except ValueError:
        return False
    return True


def upside_down(data: Data) -> list[str]:
    """Spans of materials that do not run low, likely, high."""
    faults: list[str] = []
    for id, table in data.materials.items():
        found = build.Faults(f"{id}.toml")
        build.material(id, table, found)
        faults += [str(problem) for problem in found.problems]
    return faults


def law_without_region(data: Data) -> list[str]:
    return [
        entry["id"]
        for entry in data.limit_entries()
        if entry.get("law", False) and entry.get("region", "any") == "any"
    ]


def windows_without_years(data: Data) -> list[str]:
    return [
        entry["id"]
        for entry in data.limit_entries()
        if (entry["window"] == "rolling years") != (entry.get("years", 0) > 0)
    ]


def days_apart_without_days(data: Data) -> list[str]:
    return [
        entry["id"]
        for entry in data.rule_entries("pair")
        if (entry["where"] == "days apart") != (entry.get("days", 0) > 0)
    ]


def carried_by_nothing(data: Data) -> list[str]:
    """Rates that no material can ever be compared with, or that a trait without a nutrient has."""
    faults = []
    for entry in data.rate_entries():
        carriers = set(entry.get("carriers", ()))
        if bool(carriers) != (entry["of"] in NUTRIENT_WORDS):
            faults.append(f"{entry['id']}: carriers go with a nutrient, and a nutrient with them")
        elif carriers and not any(
            carriers & set(table.get("traits", ())) and lookup.material(id).content(entry["of"])
            for id, table in data.materials.items()
        ):
            faults.append(f"{entry['id']}: no material carries {entry['of']} so")
    return faults


CHECKS: list[Callable[[Data], list[str]]] = [
    schema_faults, repeated_ids, unknown_sources, unknown_crops, unknown_things, unscoped,
    silent_without_reason, unreadable, upside_down, law_without_region, windows_without_years,
    days_apart_without_days, carried_by_nothing,
]  # fmt: skip


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.__name__)
def test_the_shipped_data_is_sound(check: Callable[[Data], list[str]]) -> None:
    assert check(SHIPPED) == []


def test_a_limit_for_a_general_crop_holds_for_its_class() -> None:
    assert narrow_for_their_class(SHIPPED) == []


def test_there_is_enough_to_check() -> None:
    assert len(list(SHIPPED.limit_entries())) == len(READ_LIMITS) >= 200
    assert len(list(SHIPPED.rate_entries())) == len(READ_RATES) >= 50
    kinds = {kind: len(list(SHIPPED.rule_entries(kind))) for kind in RULE_KINDS}
    assert kinds == {
        "pair": len(READ_RULES.pairs), "weather": len(READ_RULES.weather),
        "wait": len(READ_RULES.waits), "law": len(READ_RULES.law),
        "rescue": len(READ_RULES.rescue),
    }  # fmt: skip
    assert all(count >= 4 for count in kinds.values())


# A spoilt copy is caught, each fault by the check that is there for it.


def spoilt() -> Data:
    return copy.deepcopy(SHIPPED)


def first_limit(data: Data) -> Table:
    return data.limit("boron-high-need-vegetables")


def without(key: str) -> Callable[[Data], None]:
    def change(data: Data) -> None:
        del first_limit(data)[key]

    return change


def with_value(key: str, value: Any) -> Callable[[Data], None]:
    def change(data: Data) -> None:
        first_limit(data)[key] = value

    return change


def same_id(data: Data) -> None:
    data.limit("boron-medium-need-vegetables")["id"] = "boron-high-need-vegetables"


def rule_with_a_limits_id(data: Data) -> None:
    next(data.rule_entries("pair"))["id"] = "boron-high-need-vegetables"


def without_grade(data: Data) -> None:
    del data.sources["udel-boron-vegetables"]["grade"]


def odd_grade(data: Data) -> None:
    data.sources["udel-boron-vegetables"]["grade"] = "hearsay"


def density_upside_down(data: Data) -> None:
    span = data.materials["borax"]["density"]
    span["low"], span["high"] = span["high"], span["low"]


def analysis_upside_down(data: Data) -> None:
    entry = next(e for e in data.materials["wood-ash"]["analysis"] if "low" in e)
    entry["low"], entry["high"] = entry["high"], entry["low"]


def pair_of_nothing(data: Data) -> None:
    next(data.rule_entries("pair"))["b"] = "trait:wonder"


def rule_crop(data: Data) -> None:
    next(e for e in data.rule_entries("pair") if e.get("crops", "any") != "any")["crops"] = ["aple"]


def wait_without_days(data: Data) -> None:
    next(e for e in data.rule_entries("pair") if e["where"] == "days apart").pop("days")


def law_without_its_date(data: Data) -> None:
    next(data.rule_entries("law")).pop("as_of")


def rate_with(key: str, value: Any) -> Callable[[Data], None]:
    def change(data: Data) -> None:
        next(e for e in data.rate_entries() if e["id"] == "gypsum-against-sodium")[key] = value

    return change


SPOILS: list[tuple[str, Callable[[Data], None], Callable[[Data], list[str]], str]] = [
    *(
        (f"limit without {key}", without(key), schema_faults, key)
        for key in ("id", "of", "per", "limit", "edge", "window", "crops", "setting", "placement",
                    "judges", "printed", "source", "why")
    ),
    ("an unknown setting", with_value("setting", ["balcony"]), schema_faults, "setting"),
    ("an unknown placement", with_value("placement", ["thrown"]), schema_faults, "placement"),
    ("an unknown basis", with_value("per", "moon"), schema_faults, "per"),
    ("an unknown window", with_value("window", "fortnight"), schema_faults, "window"),
    ("an unknown edge", with_value("edge", "about"), schema_faults, "edge"),
    ("an unknown phase", with_value("phase", "someday"), schema_faults, "phase"),
    ("an unknown region", with_value("region", "Atlantis"), schema_faults, "region"),
    ("a misspelt key", with_value("relgion", "EU"), schema_faults, "relgion"),
    ("a bare number", with_value("limit", 3), schema_faults, "limit"),
    ("empty crops", with_value("crops", []), unscoped, "crops"),
    ("an unknown source", with_value("source", "hearsay"), unknown_sources, "hearsay"),
    ("two limits with one id", same_id, repeated_ids, "boron-high-need-vegetables"),
    ("a rule with a limit's id", rule_with_a_limits_id, repeated_ids, "boron-high-need"),
    ("a source without grade", without_grade, schema_faults, "udel-boron-vegetables"),
    ("a source without grade, seen from the limit", without_grade, unknown_sources, "boron-high"),
    ("a grade that is none", odd_grade, schema_faults, "grade"),
    ("an unknown crop", with_value("crops", ["boron-hihg"]), unknown_crops, "boron-hihg"),
    ("a crop of a rule that is none", rule_crop, unknown_crops, "aple"),
    ("an excluded crop that is none", with_value("not_crops", ["beens"]), unknown_crops, "beens"),
    ("an unknown material", with_value("of", "boraxx"), unknown_things, "boraxx"),
    ("a trait that nothing has", with_value("of", "trait:wonder"), unknown_things, "wonder"),
    ("a salt of no nutrient", with_value("of", "salt:N+Xx"), unknown_things, "salt:N+Xx"),
    ("a pair with nothing", pair_of_nothing, unknown_things, "trait:wonder"),
    ("a density upside down", density_upside_down, upside_down, "borax"),
    ("an analysis upside down", analysis_upside_down, upside_down, "wood-ash"),
    ("a figure per another basis", with_value("limit", "3 g/L"), unreadable, "3 g/L"),
    ("a figure of another kind", with_value("limit", "3 m/s"), unreadable, "3 m/s"),
    ("a figure that cannot be read", with_value("limit", "3 lbx/acre"), unreadable, "lbx"),
    ("a limit of some gallon", with_value("limit", "3 gal/acre"), unreadable, "gal"),
    ("law of no region", with_value("law", True), law_without_region, "boron-high"),
    ("rolling years of no number", with_value("window", "rolling years"), windows_without_years,
     "boron-high"),
    ("years of no window", with_value("years", 3), windows_without_years, "boron-high"),
    ("not judging for no reason", with_value("judges", False), silent_without_reason, "boron-high"),
    ("a wait of no days", wait_without_days, days_apart_without_days, ""),
    ("a law without its date", law_without_its_date, schema_faults, "as_of"),
    ("a rate over nothing", rate_with("per", "moon"), schema_faults, "per"),
    ("a rate with a limit's key", rate_with("judges", True), schema_faults, "judges"),
    ("a rate of an unknown source", rate_with("source", "hearsay"), unknown_sources, "hearsay"),
    ("a rate with a limit's id", rate_with("id", "boron-high-need-vegetables"), repeated_ids,
     "boron-high-need"),
    ("a rate of nothing", rate_with("of", "gypsumm"), unknown_things, "gypsumm"),
    ("a rate of none at all", rate_with("rate", "0 lb/acre"), unreadable, "0 lb/acre"),
    ("a rate per another basis", rate_with("rate", "3 g/L"), unreadable, "3 g/L"),
    ("a rate that cannot be read", rate_with("rate", "3 lbx/acre"), unreadable, "lbx"),
    ("carriers of no nutrient", rate_with("carriers", ["oil"]), carried_by_nothing, "carriers"),
    ("a nutrient without carriers", rate_with("of", "Ca"), carried_by_nothing, "carriers"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("spoil", "check", "piece"), [spoil[1:] for spoil in SPOILS], ids=[s[0] for s in SPOILS]
)
def test_a_spoilt_copy_is_caught(
    spoil: Callable[[Data], None], check: Callable[[Data], list[str]], piece: str
) -> None:
    data = spoilt()
    spoil(data)
    before, after = check(SHIPPED), check(data)
    new = [fault for fault in after if fault not in before]
    assert new
    assert any(piece in fault for fault in new)


def test_a_source_that_is_never_used_is_caught() -> None:
    data = spoilt()
    data.sources["idle-page"] = {"title": "Idle", "publisher": "Nobody", "grade": "hobby"}
    unused = unused_sources(data, elsewhere=set())
    assert "idle-page" in unused
    assert first_limit(data)["source"] not in unused
    assert "idle-page" not in unused_sources(data, elsewhere={"idle-page"})


# What the data comes to when it is read.


@pytest.mark.parametrize("limit", READ_LIMITS, ids=lambda limit: limit.id)
def test_a_limit_is_read_as_it_is_written(limit: Limit) -> None:
    entry = SHIPPED.limit(limit.id)
    assert limit.source.id == entry["source"]
    assert limit.source.grade == SHIPPED.sources[entry["source"]]["grade"]
    assert limit.inclusive == (entry["edge"] == "at most")
    assert limit.lower == (entry.get("direction") == "lower")
    assert limit.judges == entry["judges"]
    for key, words in (("crops", limit.crops), ("setting", limit.setting),
                       ("placement", limit.placement)):  # fmt: skip
        assert words == ({"any"} if entry[key] == "any" else set(entry[key]))
    assert limit.not_crops == set(entry.get("not_crops", ()))
    assert (limit.phase, limit.region, limit.window) == (
        entry.get("phase", "any"), entry.get("region", "any"), entry["window"],
    )  # fmt: skip
    assert limit.excludes == (limit.limit.value == 0 and not limit.lower)
    # The figure is the one that is written, whatever unit the reader keeps it in.
    if not re.fullmatch(r"[\d.]+", entry["limit"]):
        written = read.quantity(entry["limit"], oz_is="weight")
        assert limit.limit.amount_in(written.unit) == written.value


def test_only_strong_sources_may_call_a_dose_over() -> None:
    for limit in READ_LIMITS:
        assert limit.source.strong == (limit.source.grade in STRONG), limit.id
    assert {s["grade"] for s in SHIPPED.sources.values()} <= STRONG | WEAK


def test_a_limit_that_is_law_has_a_region_and_a_strong_source_or_says_so() -> None:
    for entry in SHIPPED.limit_entries():
        if entry.get("law", False):
            grade = SHIPPED.sources[entry["source"]]["grade"]
            assert entry["region"] != "any"
            assert grade in STRONG or entry.get("caveat"), entry["id"]


def test_the_row_words_are_never_left_open() -> None:
    """A drench along a row is no band: whichever it means, a limit names it or means any."""
    for entry in SHIPPED.limit_entries():
        if entry["placement"] != "any":
            assert set(entry["placement"]) <= set(get_args(schema.Placement))
        if entry["per"] in ("row length", "band area"):
            assert entry["placement"] != "any", entry["id"]


@pytest.mark.parametrize("id", sorted(SHIPPED.crops["crop"]))
def test_every_crop_is_found_by_each_of_its_names(id: str) -> None:
    entry = SHIPPED.crops["crop"][id]
    for name in (id, entry["name"], *entry.get("also", ())):
        for typed in (name, name.upper(), f"  {name} "):
            assert find_crop(typed.strip()).id == id, typed
    assert find_crop(id).words >= {id, *entry.get("classes", ())}


def test_no_name_stands_for_two_crops() -> None:
    owners: dict[str, set[str]] = {}
    for id, entry in SHIPPED.crops["crop"].items():
        for name in (id, entry["name"], *entry.get("also", ())):
            owners.setdefault(" ".join(name.casefold().replace("-", " ").split()), set()).add(id)
    assert {name: sorted(ids) for name, ids in owners.items() if len(ids) > 1} == {}
    assert set(owners) <= set(crops())


def test_a_class_can_be_typed_as_a_crop() -> None:
    classes = crop_words(SHIPPED) - set(SHIPPED.crops["crop"])
    assert len(classes) >= 10
    for word in classes:
        assert word in find_crop(word).words


def test_every_weather_rule_has_the_words_it_is_said_with() -> None:
    for rule in READ_RULES.weather:
        side = "high" if rule.edge in ("above", "at least") else "low"
        key = f"weather-{rule.quantity}-{'yes' if rule.value is None else side}"
        assert key in every(), rule.id
    for wait in READ_RULES.waits:
        assert f"wait-{wait.what}" in every(), wait.id


def test_no_exception_of_a_source_is_dropped_when_it_is_read() -> None:
    """ "Only above this temperature" must judge or be said; a key that nothing reads is neither."""
    read_keys = {"id", "a", "b", "where", "days", "first", "level", "unless", "region", "crops",
                 "printed", "source", "why", "caveat"}  # fmt: skip
    for entry in SHIPPED.rule_entries("pair"):
        assert set(entry) <= read_keys, entry["id"]
