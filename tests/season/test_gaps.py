"""What the rules ask to be written down: of the right entries, in numbers, and only when asked."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

import dosecalc.faces.cli as cli
from dosecalc.catalog.lookup import material, source
from dosecalc.catalog.records import RecordRule, also_words, protects_plants, record_rules
from dosecalc.catalog.rules import read_rules
from dosecalc.catalog.source import STRONG_GRADES
from dosecalc.catalog.told import REGIONS
from dosecalc.errors import DoseError
from dosecalc.faces.gaps import OPTIONS, note_of
from dosecalc.season.entries import Entry, counting
from dosecalc.season.gaps import Held, hold, told
from dosecalc.season.store import reading
from tests.season.test_season import entry

RULES = {rule.id: rule for rule in record_rules()}
KNOWN = read_rules(None, source)
LABELLED = ("product", "start", "end", "re-entry", "location", "certificate number")


def given(id: str, *materials: str, placement: str = "foliar", **more: Any) -> Entry:
    amounts = {("asked mass", what): ("90 gram",) * 3 for what in materials}
    return entry(id, "2026-05-01", amounts=amounts, placement=placement, **more)


def held(rule: RecordRule | str, *entries: Entry) -> Held:
    found = RULES[rule] if isinstance(rule, str) else rule
    return hold(found, entries, KNOWN.law, KNOWN.waits)


def gaps(rule: RecordRule | str, *entries: Entry) -> dict[str, int]:
    return {gap.field.name: gap.count for gap in held(rule, *entries).gaps}


def test_the_worker_rule_asks_for_what_the_regulation_lists() -> None:
    """40 CFR 170.311(b)(1), as the central posting page of the educational resources lists it."""
    asked = {"product name", "active ingredient", "registration number", "re-entry wait", "crop",
             "place", "day", "start", "end", "safety data sheet"}  # fmt: skip
    assert {field.name for field in RULES["us-worker-protection"].fields} == asked


def test_the_restricted_use_rule_asks_for_what_the_regulation_lists() -> None:
    """7 CFR 110.3(a)(1) to (6)."""
    asked = {"product name", "registration number", "amount", "size of the ground", "crop",
             "location", "day", "applicator", "certificate number"}  # fmt: skip
    assert {field.name for field in RULES["us-restricted-use"].fields} == asked


@pytest.mark.parametrize("id", RULES)
def test_every_field_has_an_answer_or_the_way_out(id: str) -> None:
    rule = RULES[id]
    assert rule.region in REGIONS
    names = [field.name for field in (*rule.fields, *rule.duties)]
    assert len(names) == len(set(names))
    for field in rule.fields:
        assert field.held != bool(field.instead), field.name
        assert field.source.grade != "memory" or not field.answers, field.name
    for word in also_words():
        assert word == word.casefold() == " ".join(word.split())
        assert not set(word) & set("=:\n")


PROTECTS = [
    ("copper-hydroxide", "foliar", "US", True),
    ("copper-sulfate-pentahydrate", "dormant-spray", "EU", True),
    ("copper-sulfate-pentahydrate", "broadcast", "EU", False),  # a feed of the ground
    ("wettable-sulfur", "foliar", "US", True),
    ("elemental-sulfur", "foliar", "US", True),  # named in the UK only: still a spray
    ("elemental-sulfur", "mixed-in", "US", False),
    ("lime-sulfur", "dormant-spray", "EU", True),
    ("soft-soap", "foliar", "EU", True),
    ("soft-soap", "broadcast", "EU", True),  # it feeds nothing
    ("vinegar", "broadcast", "US", True),
    ("horticultural-oil", "dormant-spray", "US", True),
    ("neem-oil", "foliar", "US", True),
    ("sodium-bicarbonate", "foliar", "US", True),
    ("potassium-bicarbonate", "foliar", "EU", True),
    ("potassium-bicarbonate", "fertigation", "EU", False),
    ("borax", "foliar", "US", False),
    ("borax", "foliar", "CA", True),  # its law names home-made borate baits
    ("borax", "row-drench", "CA", False),
    ("epsom-salt", "foliar", "US", False),
    ("urea", "foliar", "EU", False),
    ("cattle-manure", "broadcast", "US", False),
]


@pytest.mark.parametrize(("id", "placement", "region", "is_so"), PROTECTS)
def test_what_counts_as_plant_protection(id: str, placement: str, region: str, is_so: bool) -> None:
    assert protects_plants(material(id), placement, region, KNOWN.law) is is_so


def test_a_feed_is_never_asked_for_a_registration_number() -> None:
    feeds = [given("a", "epsom-salt"), given("b", "urea", placement="broadcast"),
             given("c", "borax", placement="row-drench")]  # fmt: skip
    found = held("us-worker-protection", *feeds)
    assert (found.about, found.of, found.gaps) == (0, 3, ())


def test_the_grower_word_counts_a_registered_product_is_asked_about() -> None:
    kaolin = given("a", "kaolin", registration="12-34")
    assert held("us-worker-protection", kaolin, given("b", "kaolin")).about == 1


def test_gaps_are_counted_over_the_entries_that_the_rule_is_about() -> None:
    bare = given("a", "wettable-sulfur")
    number = given("b", "wettable-sulfur", registration="12-34", crop="apple")
    note = "\n".join(f"{word}: x" for word in LABELLED)
    all_of_it = replace(number, id="c", note=f"calm\n{note}")
    feed = given("d", "epsom-salt")
    assert gaps("us-worker-protection", bare, number, all_of_it, feed) == {
        "product name": 2, "registration number": 1, "re-entry wait": 2, "crop": 1, "start": 2,
        "end": 2,
    }  # fmt: skip
    assert gaps("us-worker-protection", all_of_it) == {}
    assert gaps("us-restricted-use", all_of_it) == {"applicator": 1}
    assert gaps("us-restricted-use", replace(all_of_it, who="Ro")) == {}


def test_area_and_dose_come_from_the_site() -> None:
    without = given("a", "wettable-sulfur", ground={})
    assert gaps("us-restricted-use", without)["size of the ground"] == 1
    assert gaps("eu-plant-protection", without)["dose"] == 1
    row = given("a", "wettable-sulfur", ground={"row_length": "40 m"})
    assert "size of the ground" not in gaps("us-restricted-use", row)
    assert "dose" not in gaps("eu-plant-protection", row)


@pytest.mark.parametrize(
    ("stage", "count"), [("", 1), ("first flowers", 1), ("BBCH 65", 0), ("65", 0), ("2026", 1)]
)
def test_a_stage_answers_with_a_number_only(stage: str, count: int) -> None:
    assert gaps("eu-plant-protection", given("a", "wettable-sulfur", stage=stage)).get(
        "growth stage", 0
    ) == count  # fmt: skip


def test_a_re_entry_wait_is_derived_from_a_strong_source_and_never_from_memory() -> None:
    """A Canadian label gives 24 h for sulfur; the US figure on file is from memory."""
    here = RULES["us-worker-protection"]
    sulfur, copper = given("a", "wettable-sulfur"), given("b", "copper-hydroxide")
    assert gaps(here, sulfur)["re-entry wait"] == 1
    there = replace(here, region="CA")
    assert "re-entry wait" not in gaps(there, sulfur)
    assert gaps(there, sulfur, copper)["re-entry wait"] == 1
    both = given("c", "wettable-sulfur", "copper-hydroxide")
    assert gaps(there, both)["re-entry wait"] == 1
    strong = [w for w in KNOWN.waits if w.what == "re-entry" and w.source.grade in STRONG_GRADES]
    assert strong


def test_what_is_not_of_the_catalog_is_counted_apart() -> None:
    own = given("a", "invented-leaf-salt")
    found = held("us-worker-protection", own, given("b", "wettable-sulfur"))
    assert (found.about, found.unknown, found.of) == (1, 1, 2)
    water = given("c", "irrigation-water", placement="irrigation")
    assert held("us-worker-protection", water).unknown == 0
    inputs = held("us-organic-inputs", own, water)
    assert (inputs.about, inputs.unknown) == (1, 0)
    assert gaps("us-organic-inputs", own)["input"] == 1


def test_raw_manure_is_its_own_matter() -> None:
    fresh = given("a", "cattle-manure", placement="broadcast", note="worked in: 2026-05-01")
    ripe = given("b", "garden-compost", placement="broadcast")
    assert held("us-organic-manure", fresh, ripe).about == 1
    assert gaps("us-organic-manure", fresh) == {"crop": 1}


@pytest.mark.parametrize(
    ("note", "also", "made"),
    [
        ("", ("start=06:30",), "start: 06:30"),
        ("calm", (" Start = 06:30 ", "certificate number=A=1"),
         "calm\nstart: 06:30\ncertificate number: A=1"),
        ("two\nlines", (), "two\nlines"),
    ],
)  # fmt: skip
def test_other_words_go_into_the_note_and_are_found_there(
    note: str, also: tuple[str, ...], made: str
) -> None:
    assert note_of(note, also) == made
    assert len(told(given("a", "urea", note=made))) == len(also)


@pytest.mark.parametrize(
    ("also", "said"),
    [("start", "write it like"), ("=x", "write it like"), ("start= ", "write it like"),
     ("startt=06:30", "is no word that --also knows"), ("=", "write it like")],
)  # fmt: skip
def test_a_word_that_no_rule_asks_for_is_refused(also: str, said: str) -> None:
    with pytest.raises(DoseError) as refused:
        note_of("", (also,))
    assert said in str(refused.value)


def test_a_word_told_twice_is_refused() -> None:
    with pytest.raises(DoseError, match="told twice"):
        note_of("", ("start=06:30", "Start=07:00"))


def test_a_note_holds_only_words_of_the_rules() -> None:
    note = "weather: hot\nstart:\nstart 06:30\n END : 07:15 "
    assert told(given("a", "urea", note=note)) == {"end": "07:15"}


def run(folder: Path, *words: str) -> Result:
    season = ("--season", str(folder / "s.sqlite"), "--garden", str(folder / "garden.toml"))
    return CliRunner().invoke(cli.group, ["log", *words, *season], standalone_mode=False)


SULFUR = ("--used", "90 g wettable sulfur", "--area", "10 m2", "--placement", "foliar",
          "--place", "north")  # fmt: skip


def test_export_names_what_is_missing_on_standard_error_and_exits_with_zero(
    tmp_path: Path,
) -> None:
    garden = tmp_path / "garden.toml"
    garden.write_text('name = "Three Hedges"\nregion = "US"\n', "utf-8")
    first = run(tmp_path, *SULFUR, "--registration", "12-34", "--also", "start=06:30")
    assert first.exception is None, first.exception
    assert "missing" not in first.output
    assert "missing" not in run(tmp_path, *SULFUR).output
    run(tmp_path, *SULFUR)
    run(tmp_path, "undo", "last")
    run(tmp_path, "--used", "90 g Epsom salt", *SULFUR[2:])
    done = run(tmp_path, "export", str(tmp_path / "o.csv"))
    assert done.exception is None
    assert done.return_value in (None, 0)
    assert done.stdout.startswith("wrote ")
    assert "missing" not in done.stdout
    said = done.stderr.splitlines()
    assert "It concerns 2 of 3 entries." in said[0]
    assert "  registration number: missing in 1 of 2; write it with --registration" in said
    assert '  start: missing in 1 of 2; write it with --also "start=..."' in said
    assert "  nothing in this record answers: safety data sheet." in said
    assert not any("National Organic" in line for line in said)
    assert "us-restricted-use, us-commercial" in said[-1]
    assert len(said) < 12
    with reading(tmp_path / "s.sqlite") as base:
        assert {e.note for e in counting(base)} == {"start: 06:30", ""}


@pytest.mark.parametrize(
    ("garden", "words", "said"),
    [
        ("", (), "no region is known"),
        ('region = "NZ"\n', (), "No rule of what to write down is on file for NZ"),
        ('region = "US"\norganic = true\n', (), "It concerns 1 of 1 entries"),
        ("", ("--rule", "us-organic-inputs"), "us-organic-inputs"),
        ('region = "US"\n', ("--rule", "eu-plant-protection"), "authorisation number"),
        ('region = "EU"\n', (), "electronic form"),
    ],
)
def test_the_region_or_a_name_says_which_rules(
    garden: str, words: tuple[str, ...], said: str, tmp_path: Path
) -> None:
    (tmp_path / "garden.toml").write_text(f'name = "Three Hedges"\n{garden}', "utf-8")
    run(tmp_path, *SULFUR)
    done = run(tmp_path, "export", str(tmp_path / "o.json"), *words)
    assert done.exception is None, done.exception
    assert said in done.stderr
    if words:
        assert done.stderr.count("Held against") == 1


def test_a_name_that_is_no_rule_writes_nothing(tmp_path: Path) -> None:
    (tmp_path / "garden.toml").write_text('name = "Three Hedges"\n', "utf-8")
    run(tmp_path, *SULFUR)
    done = run(tmp_path, "export", str(tmp_path / "o.json"), "--rule", "us-worker")
    assert "'us-worker' is no rule" in str(done.exception)
    assert not (tmp_path / "o.json").exists()


def test_every_answer_that_can_be_typed_has_its_option() -> None:
    page = CliRunner().invoke(cli.group, ["log", "add", "--help"]).output
    for option in (*OPTIONS.values(), "--also"):
        assert f"{option} " in page
    page = (Path(__file__).parents[2] / "docs/season.md").read_text("utf-8")
    for rule in RULES.values():
        for field in rule.fields:
            assert f"| {field.name} | {field.asks} |" in page
    data = tomllib.loads(
        (Path(cli.__file__).parents[2] / "catalog/data/records.toml").read_text("utf-8")
    )
    assert len(data["rule"]) == len(RULES) >= 7
