"""The card in Spanish: no word missing, no figure changed, nothing left in English by oversight."""

from __future__ import annotations

import dataclasses
import re
import string
from functools import cache
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po

import dosecalc.faces.card.languages
from dosecalc.catalog.lookup import find_recipe, material, material_ids, recipe_ids
from dosecalc.english import SENTENCES
from dosecalc.faces.card.build import Told, build
from dosecalc.faces.card.data import Card
from dosecalc.faces.card.languages.phrases import PHRASES
from dosecalc.faces.card.words import Words
from tests.faces.test_card import BASES, NUMBER, first_that_fits, job, run, strings

ON_CARDS = re.compile(
    r"(hazard-|weather-|step-|do-|batch|wait-|repeat-|caution-|limit-|untold-|meeting-|unit-|level-|assume-"
    r"|instead-|not-told-|off-|settles|card-(site-|record|filling|pack|poison|over|grey|first|where"
    r"|when|who|need|measure|steps|wear|not|wait|rescue|supplies|held|assumed|read|sources|small"
    r"|other|up-to|whose))"
)
NOT_ON_CARDS = re.compile(r"card-(no-shape|letter)|assume-placement|instead-placement|wait-.*-form")
ENGLISH = re.compile(
    r"\b(the|and|of|with|for|not|is|are|water|at|or|by|from|to|within|on|your|it|than)\b", re.I
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


@pytest.mark.parametrize("key", [k for k in SENTENCES if ON_CARDS.match(k)])
def test_every_sentence_of_a_card_is_there(key: str) -> None:
    if NOT_ON_CARDS.fullmatch(key):
        return
    found = known().get((key, SENTENCES[key]))
    assert found, key
    assert fields(found) <= fields(SENTENCES[key])


def test_no_sentence_is_kept_that_no_longer_exists() -> None:
    for context, text in known():
        if context not in ("name", "word", "text"):
            assert SENTENCES.get(context) == text, context


def test_every_name_word_and_text_of_the_book_is_there() -> None:
    names = [material(id).name for id in material_ids()]
    recipes = [find_recipe(id) for id in recipe_ids()]
    wanted = [("name", name) for name in names]
    wanted += [("name", recipe.name) for recipe in recipes]
    wanted += [("word", phrase) for phrase in PHRASES]
    wanted += [("text", t) for recipe in recipes for t in (*recipe.order, *recipe.cautions)]
    assert [pair for pair in wanted if pair not in known()] == []


@pytest.mark.parametrize("id", recipe_ids())
def test_nothing_is_left_in_english_but_what_a_source_is_called(id: str) -> None:
    mix = first_that_fits(id)
    cites = sorted({s.cite() for s in mix.sources}, key=len, reverse=True)
    card = spanish(id)
    kept = tuple(s for s in card.back if s.title not in ("Fuentes", "Comparado con"))
    for text in strings(dataclasses.replace(card, back=kept)):
        plain = re.sub(r"\(impreso: [^)]*\)", "", text)
        for cite in cites:
            plain = plain.replace(cite, "")
        # A law's or a limit's own source need not stand among the job's sources.
        plain = re.sub(
            r"(hay una norma, véala: |veces [^.]*\. |\()[A-Z][\w ,()&'-]+: [^.]*", "", plain
        )
        assert not ENGLISH.search(plain), plain


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
