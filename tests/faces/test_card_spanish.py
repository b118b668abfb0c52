"""The card in Spanish: no word missing, no figure changed, nothing left in English by oversight."""

from __future__ import annotations

import ast
import dataclasses
import re
import string
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po

import dosecalc.faces.card.languages
from dosecalc.catalog.crops import crop_words
from dosecalc.catalog.limit import read_limits
from dosecalc.catalog.lookup import (
    find_recipe,
    material,
    material_ids,
    recipe_ids,
    source,
    source_ids,
)
from dosecalc.catalog.rules import read_rules
from dosecalc.catalog.site import SiteText
from dosecalc.catalog.told import REGIONS
from dosecalc.catalog.tools import ToolsText
from dosecalc.catalog.usual import read_usual
from dosecalc.english import every
from dosecalc.faces.card.build import Told, build
from dosecalc.faces.card.data import Card
from dosecalc.faces.card.languages.phrases import PHRASES
from dosecalc.faces.card.words import Words
from dosecalc.faces.done import Done
from dosecalc.faces.done import run as check
from dosecalc.faces.prose import job_and_mix
from tests.faces.test_card import BASES, NUMBER, first_that_fits, job, run, strings

OFF_CARD = re.compile(
    r"card-(no-shape|too-much|letter|paper|sheet|form|extra|language|decimal|list-.*|date"
    r"|wrote)|need-.*|prose-(size|place)-.*|answer-.*|ask-(?!adviser).*|calibrate-.*|tank-.*"
    r"|layer-.*|fill-.*|liming-.*"
    r"|page-(several|one|line.*|gives|judged|cannot)"
    r"|stock-.*|schedule-.*|shopping-.*|calendar-.*"
    r"|gaps-.*|season-(logged|undone|taken|whole|listed|none|more|copied)"
    r"|solution-.*"
    r"|feed-.*"
    r"|ground-(unheard|split|merge|after|adds-up)|crop-(started|ended|beside|no-start)"
    r"|test-logged|event-.*|report-.*"
    r"|sow-.*|tally-.*|inoculate-.*"
)
"""Talk about a card, answers to choose from, other commands: never on a card."""
CONTEXTS = ("name", "word", "text", "region")
ENGLISH = re.compile(
    r"\b(the|and|of|with|for|not|is|are|water|at|or|by|from|to|within|on|your|it|than|in|per|each"
    r"|any|where|unless|beans?|plants?|pots?|field|garden|tree|turf|cups?|tbsp|tsp|ft)\b",
    re.I,
)


@cache
def catalog() -> Catalog:
    with (Path(dosecalc.faces.card.languages.__file__).parent / "es.po").open("rb") as stream:
        return read_po(stream, locale="es")


@cache
def known() -> dict[tuple[str, str], str]:
    return {(m.context, m.id): m.string for m in catalog() if m.id and not m.fuzzy}


def spanish(id: str) -> Card:
    mix = first_that_fits(id)
    return build(mix, Told(region="US"), Words("es", names=[a.name for a in mix.amounts]))


def fields(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}


@cache
def refusals() -> frozenset[str]:
    """The keys that the code only ever refuses with."""
    found: set[str] = set()
    for path in Path(dosecalc.__file__).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and ast.unparse(node.func).endswith("refuse"):
                found |= {
                    inner.value
                    for inner in ast.walk(node.args[0])
                    if isinstance(inner, ast.Constant) and isinstance(inner.value, str)
                }
    return frozenset(found)


@pytest.mark.parametrize("key", sorted(every()))
def test_every_sentence_of_a_card_is_there(key: str) -> None:
    english = every()[key]
    found = known().get((key, english))
    if found is None:
        assert key in refusals() or OFF_CARD.fullmatch(key), (
            f"no Spanish, and not off the card: {key}"
        )
        return
    assert fields(found) == fields(english)
    assert found.strip() or "--" in english, "only what tells which option to type may be left out"


def test_no_sentence_is_kept_that_no_longer_exists() -> None:
    for context, text in known():
        if context not in CONTEXTS:
            assert every().get(context) == text, context


def catalog_texts() -> Iterator[str]:
    """Every sentence of the catalog that fills one of a card."""
    for water in (False, True):
        yield from (limit.why for limit in read_limits(None, source, water=water))
    for usual in read_usual(None, source):
        yield usual.why
    rules = read_rules(None, source)
    for pair in rules.pairs:
        yield from (pair.why, pair.unless)
    yield from (weather.why for weather in rules.weather)
    yield from (wait.condition for wait in rules.waits)
    for law in rules.law:
        yield from (law.why, *([] if re.fullmatch(r"[\d-]+", law.as_of) else [law.as_of]))
    for rescue in rules.rescue:
        yield from (rescue.say, rescue.only_if, rescue.never)
    yield from (" ".join(material(id).insoluble.split()) for id in material_ids())


def test_every_reason_way_out_and_condition_of_the_catalog_is_there() -> None:
    texts = {text for text in catalog_texts() if text}
    assert len(texts) > 400
    assert sorted(text for text in texts if ("text", text) not in known()) == []


def test_every_crop_and_region_is_there() -> None:
    assert [crop for crop in sorted(crop_words()) if ("word", crop) not in known()] == []
    assert [region for region in REGIONS if ("region", region) not in known()] == []


def test_every_name_word_and_text_of_the_book_is_there() -> None:
    names = [material(id).name for id in material_ids()]
    recipes = [find_recipe(id) for id in recipe_ids()]
    wanted = [("name", name) for name in names]
    wanted += [("name", recipe.name) for recipe in recipes]
    wanted += [("word", phrase) for phrase in PHRASES]
    wanted += [("text", t) for recipe in recipes for t in (*recipe.order, *recipe.cautions)]
    assert [pair for pair in wanted if pair not in known()] == []


SCENES: tuple[dict[str, Any], ...] = (
    {},
    {"already": "3", "crop": "beans", "phase": "yearly"},
    {"temperature": "38 C", "humidity": "90 %", "wind": "9 m/s", "rain_in": "1 h", "crop": "apple",
     "weather": "in bloom, frost, sun, drought"},
    {"after": ("horticultural oil 5 days",), "water_temperature": "2 C", "organic": True},
    {"after": ("wettable sulfur 5 days",), "sprayer_held": "weedkiller", "crop": "turf"},
)  # fmt: skip


@cache
def citations() -> tuple[str, ...]:
    """Every source as it is printed, the longest first."""
    every = [source(id) for id in source_ids()]
    printed = {words for one in every for words in (one.cite(), one.id)}
    return tuple(sorted(printed, key=len, reverse=True))


def own_words(text: str) -> str:
    """`text` without what is quoted and what a source calls itself."""
    plain = re.sub(r"\(impreso: (?:[^()]|\([^()]*\))*\)", "", text)
    for cite in citations():
        plain = plain.replace(cite, "")
    return plain


@pytest.mark.parametrize("id", recipe_ids())
@pytest.mark.parametrize("scene", SCENES)
def test_nothing_is_left_in_english_but_what_a_source_is_called(
    id: str, scene: dict[str, Any]
) -> None:
    made = 0
    for site in BASES:
        try:
            mix = run(job(id, site, **scene))
        except ValueError:
            continue
        made += 1
        words = Words("es", names=[a.name for a in mix.amounts])
        card = build(mix, Told(region="US"), words)
        kept = tuple(section for section in card.back if section.title != "Fuentes")
        for text in strings(dataclasses.replace(card, back=kept)):
            assert not ENGLISH.search(own_words(text)), text
    assert made


@pytest.mark.parametrize("region", [region for region in REGIONS if region != "US"])
@pytest.mark.parametrize("id", ["copper-lime-home", "leaf-spray-quart", "soap-leaf", "milk-leaf"])
def test_the_law_of_each_place_is_told_in_spanish(id: str, region: str) -> None:
    asked = job(id, {})
    mix = run(dataclasses.replace(asked, told=dataclasses.replace(asked.told, region=region)))
    words = Words("es", names=[a.name for a in mix.amounts])
    for finding in mix.findings:
        assert not ENGLISH.search(own_words(words.say(finding.say))), finding.id


TEXTS = (
    "1 heaped tbsp borax in 1 quart of water per 100 ft of row, at most once",
    "about 2 inches of straw over 100 sq ft",
    "1 part milk to 9 parts water",
    "copper sulfate and hydrated lime 8-8-100",
    "2 lb 10-10-10 per 100 sq ft for tomatoes, every 14 days",
    "1 cup epsom salt (4 oz) per plant each season",
    "10 g epsom salt (98 % pure) per plant",
)


@pytest.mark.parametrize("text", TEXTS)
def test_a_text_is_read_back_in_spanish_but_for_its_own_words(text: str) -> None:
    mix = None
    for site in BASES:
        try:
            mix = job_and_mix(text, dataclasses.replace(job("", site), measures="us"))[1]
        except ValueError:
            continue
        break
    assert mix is not None
    words = Words("es", names=[a.name for a in mix.amounts])
    for line in (*mix.read_as, *mix.said):
        own = own_words(words.say(line))
        for typed in ("epsom salt", "per 1 plant", "about", "1 tbsp", "2 tbsp"):
            own = own.replace(typed, "")
        assert not ENGLISH.search(own), own


@pytest.mark.parametrize("id", recipe_ids())
def test_the_figures_are_those_of_the_english_card(id: str) -> None:
    mix = first_that_fits(id)
    one = build(mix, Told(region="US"), Words("en", names=[a.name for a in mix.amounts]))
    other = spanish(id)
    for name in ("bands", "need", "fillings", "drawing"):
        mine, theirs = getattr(one, name), getattr(other, name)
        assert sorted(NUMBER.findall(" ".join(strings(mine)))) == sorted(
            NUMBER.findall(" ".join(strings(theirs)))
        )


def test_stop_and_over_are_said_in_spanish() -> None:
    mix = run(job("boron-drench", {"row": "40 m", "row_spacing": "45 cm"}))
    card = build(mix, Told(), Words("es", names=["Borax"]))
    assert card.bands[0].level == "EXCESO"
    assert "veces el límite de como máximo 0.485 mL/m" in card.bands[0].text


def test_a_person_s_own_words_stay_as_they_are() -> None:
    assert (
        Words("es").say(
            dataclasses.replace(
                first_that_fits("gypsum-garden").steps[0], args=(("text", "Dig deep."),)
            )
        )
        == "Dig deep."
    )


def test_many_sites_are_told_in_spanish() -> None:
    words = Words("es", names=["Borax", "water"])
    for site in BASES:
        try:
            mix = run(job("boron-drench", site))
        except ValueError:
            continue
        for text in strings(build(mix, Told(region="US"), words).fillings):
            assert not ENGLISH.search(text), text


def test_each_wait_says_which_crop_it_is_for() -> None:
    card = spanish("cattle-manure-bed")
    waits = " ".join(strings(card.care))
    assert "120 días antes de cosechar si la parte comestible toca el suelo" in waits
    assert "90 días antes de cosechar si la parte comestible no toca el suelo" in waits


def test_a_stop_by_the_recipe_itself_and_one_by_a_limit_say_for_which_crop() -> None:
    mix = run(job("boron-drench", {"row": "40 m", "row_spacing": "45 cm"}, crop="bean"))
    stops = [
        band.text
        for band in build(mix, Told(), Words("es", names=["Borax"])).bands
        if band.level == "ALTO"
    ]
    assert any("no la aplique en frijol" in text for text in stops)
    assert any("nada en absoluto. Vale para frijol, " in text for text in stops)
    english = [band.text for band in build(mix, Told(), Words()).bands]
    assert any("none at all for bean, " in text for text in english)


def test_what_must_never_be_done_against_too_much_is_said() -> None:
    mix = check(Done(("400 g borax",), SiteText(area="10 m2"), ToolsText()))
    said = " ".join(Words("es", names=["Borax"]).say(line) for line in mix.rescue)
    assert "Nunca: En terreno donde el agua se encharca" in said
    assert "Solo si: El terreno drena bien" in said


def test_inches_are_a_unit_and_in_is_a_word() -> None:
    words = Words("es", names=["Straw"])
    assert words.phrase("2 in to 3 in Straw") == "2 pulg a 3 pulg Paja"
    assert words.phrase("2 tbsp in 3.79 L") == "2 cda en 3.79 L"
