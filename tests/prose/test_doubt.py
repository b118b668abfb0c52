"""Each reading of a doubt can be answered: the answer changes that place and nothing else."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dosecalc.catalog.lookup import AMBIGUOUS, material, plain_name
from dosecalc.catalog.prose.doubt import CANDIDATES, ITSELF
from dosecalc.catalog.prose.reading import Reading, read_text
from dosecalc.catalog.prose.tidy import tidy
from dosecalc.errors import Answer, DoseError
from dosecalc.faces.job import read_system
from dosecalc.units.words import System
from tests.prose.test_reading import WORDS, brief


def refused(text: str, system: System | None = None) -> DoseError:
    with pytest.raises(DoseError) as caught:
        read_text(text, system)
    return caught.value


def answers(text: str, system: System | None = None) -> tuple[Answer, ...]:
    doubt = refused(text, system).doubt
    assert doubt is not None, text
    return doubt.answers


def put_in(text: str, answer: Answer) -> str:
    plain = tidy(text)
    return plain[: answer.start] + answer.new + plain[answer.end :]


@pytest.mark.parametrize(
    ("text", "system", "said"),
    [
        ("2 per cent  soft soap in water", None, [
            ("2 % v/v soft soap in water", "by volume: 20 mL made up to 1 L"),
            ("2 % w/v soft soap in water", "by weight in the volume: 20 g made up to 1 L"),
        ]),
        ("soft soap 1-2%", None, [
            ("soft soap 1-2% v/v", "by volume: 10 mL made up to 1 L"),
            ("soft soap 1-2% w/v", "by weight in the volume: 10 g made up to 1 L"),
        ]),
        ("1:100 of neem oil", None, [
            ("1 part neem oil to 100 parts water", "1 to 100 of water: 9.9 mL in 1 L of mix"),
            ("1 part neem oil to 99 parts water", "1 in 100 of the whole: 10 mL in 1 L of mix"),
            ("100 parts neem oil to 1 part water",
             "the other way round, 100 to 1 of water: 990 mL in 1 L of mix"),
        ]),
        ("neem oil, well diluted 0.5:100", None, [
            ("neem oil, well diluted 0.5 parts to 100 parts water",
             "0.5 to 100 of water: 4.98 mL in 1 L of mix"),
            ("neem oil, well diluted 0.5 parts to 99.5 parts water",
             "0.5 in 100 of the whole: 5 mL in 1 L of mix"),
            ("neem oil, well diluted 100 parts to 0.5 parts water",
             "the other way round, 100 to 0.5 of water: 995 mL in 1 L of mix"),
        ]),
        ("dilute milk 1 to 9 with water", None, [
            ("dilute milk 1 part to 9 parts water with water",
             "1 to 9 of water: 100 mL in 1 L of mix"),
            ("dilute milk 1 part to 8 parts water with water",
             "1 in 9 of the whole: 111 mL in 1 L of mix"),
            ("dilute milk 9 parts to 1 part water with water",
             "the other way round, 9 to 1 of water: 900 mL in 1 L of mix"),
        ]),
        ("boron: 5 g per 10 m2", None, [
            ("Borax: 5 g per 10 m2", "5 g of Borax: 567 mg of B"),
            ("Boric acid: 5 g per 10 m2", "5 g of Boric acid: 874 mg of B"),
            ("Disodium octaborate tetrahydrate: 5 g per 10 m2",
             "5 g of Disodium octaborate tetrahydrate: 1.03 g of B"),
            ("5 g B from Borax per 10 m2", "5 g of B itself, from Borax: 44.1 g of that"),
            ("5 g B from Boric acid per 10 m2",
             "5 g of B itself, from Boric acid: 28.6 g of that"),
            ("5 g B from Disodium octaborate tetrahydrate per 10 m2",
             "5 g of B itself, from Disodium octaborate tetrahydrate: 24.3 g of that"),
        ]),
        ("10 g zinc sulphate per 10 m2", None, [
            ("10 g Zinc sulfate monohydrate per 10 m2",
             "10 g of Zinc sulfate monohydrate: 3.64 g of Zn"),
            ("10 g Zinc sulfate heptahydrate per 10 m2",
             "10 g of Zinc sulfate heptahydrate: 2.27 g of Zn"),
        ]),
        ("200 g of lime per m2", None, [
            ("200 g of Ground limestone per m2", "200 g of Ground limestone"),
            ("200 g of Dolomitic limestone per m2", "200 g of Dolomitic limestone"),
            ("200 g of Hydrated lime per m2", "200 g of Hydrated lime"),
            ("200 g of Quicklime per m2", "200 g of Quicklime"),
        ]),
        ("20 g Ca per m2 from lime", None, [
            ("20 g Ca per m2 from Ground limestone", "Ground limestone"),
            ("20 g Ca per m2 from Dolomitic limestone", "Dolomitic limestone"),
            ("20 g Ca per m2 from Hydrated lime", "Hydrated lime"),
            ("20 g Ca per m2 from Quicklime", "Quicklime"),
        ]),
        ("2 lb bone meal per 40-foot square", None, [
            ("2 lb bone meal per 40 sq foot", "an area of 3.72 m2"),
            ("2 lb bone meal per 40 x 40 foot", "a square of 40 foot each way: 149 m2"),
        ]),
        ("2 lb bone meal per yard square", None, [
            ("2 lb bone meal per 1 sq yard", "an area of 0.836 m2"),
            ("2 lb bone meal per 1 x 1 yard", "a square of 1 yard each way: 0.836 m2"),
        ]),
        ("1 lb P/1000 sq ft from bone meal", "us", [
            ("1 lb actual P/1000 sq ft from bone meal", "454 g of P, which is 1.04 kg of P2O5"),
            ("1 lb P2O5/1000 sq ft from bone meal", "454 g of P2O5, which is 198 g of P"),
        ]),
        ("1 lb/acre K from potassium sulfate", None, [
            ("1 lb/acre actual K from potassium sulfate", "454 g of K, which is 546 g of K2O"),
            ("1 lb/acre K2O from potassium sulfate", "454 g of K2O, which is 377 g of K"),
        ]),
        ("about 2 oz neem oil per 4 L", None, [
            ("about 2 oz by weight neem oil per 4 L", "a weight: 56.7 g"),
            ("about 2 US fl oz neem oil per 4 L", "US fluid ounces: 59.1 mL"),
            ("about 2 imperial fl oz neem oil per 4 L", "imperial fluid ounces: 56.8 mL"),
        ]),
        ("1 oz to 2 oz of neem oil per gallon", "imperial", [
            ("1 oz by weight to 2 oz by weight of neem oil per gallon", "a weight: 28.3 g"),
            ("1 imperial fl oz to 2 imperial fl oz of neem oil per gallon",
             "imperial fluid ounces: 28.4 mL"),
        ]),
        ("60 ml (2 oz) neem oil per 4 L", "us", [
            ("60 ml (2 oz by weight) neem oil per 4 L", "a weight: 56.7 g"),
            ("60 ml (2 US fl oz) neem oil per 4 L", "US fluid ounces: 59.1 mL"),
        ]),
        ("copper sulfate and lime 4-4-50", "us", [
            ("copper sulfate and Hydrated lime 4-4-50", "Hydrated lime"),
            ("copper sulfate and Quicklime 4-4-50", "Quicklime"),
        ]),
    ],
)  # fmt: skip
def test_an_answer_writes_its_reading_in_the_place_of_the_doubt(
    text: str, system: System | None, said: list[tuple[str, str]]
) -> None:
    found = answers(text, system)
    assert [(put_in(text, a), a.label.english()) for a in found] == said
    read = [brief(read_text(put_in(text, a), system)) for a in found]
    square = "yard square" in text  # of one yard the two readings are the same ground
    assert len(set(read)) == (1 if square else len(read))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("2.5 tbsp borax per 100 ft of row", {
            "us": "US measures: 37 mL", "imperial": "imperial measures: 37.5 mL",
            "metric": "metric measures: 37.5 mL", "australian": "Australian measures: 50 mL",
        }),
        ("5 g borax per gallon of water", {
            "us": "US measures: 3.79 L", "imperial": "imperial measures: 4.55 L",
            "australian": "Australian measures: 4.55 L",
        }),
        ("copper sulfate and hydrated lime 4-4-50", {
            "us": "US measures: 189 L", "imperial": "imperial measures: 227 L",
        }),
    ],
)  # fmt: skip
def test_a_measure_of_no_country_is_answered_by_whose_it_is(
    text: str, said: dict[System, str]
) -> None:
    found = {answer.measures: answer.label.english() for answer in answers(text)}
    assert found == said
    for system in said:
        assert read_text(text, system)


def test_the_second_of_two_equal_wordings_is_the_one_that_is_answered() -> None:
    text = "2 % w/v soft soap and 2 % neem oil"
    assert [put_in(text, answer) for answer in answers(text)] == [
        "2 % w/v soft soap and 2 % v/v neem oil",
        "2 % w/v soft soap and 2 % w/v neem oil",
    ]


@pytest.mark.parametrize(
    "text",
    [
        "1 cap is 10 mL. 2 caps of soap per 5 L",  # the text was put in other words first
        "2 % with water",  # of what is not known either
        "1:100 borax",  # parts of a solid
        "0.2 % boron",  # of the element, perhaps, and no way to write that
        "boron at a rate of 5 g per m2",
        "5 g (1 tsp) boron per m2",
        "5 g boron (98 %) per m2",
        "1 kg of urea per tree",
        "GroMax 5 g per m2",
    ],
)
def test_a_doubt_without_a_wording_for_every_reading_offers_none(text: str) -> None:
    assert refused(text).doubt is None


def test_every_word_for_several_materials_has_them_by_name() -> None:
    assert set(CANDIDATES) == set(AMBIGUOUS)
    for word, (element, ids) in CANDIDATES.items():
        for id in ids:
            found = material(id)
            assert not element or found.content(element) is not None, word
            assert brief(read_text(f"5 g {plain_name(id)} per m2")) == f"5 g {id} per 1 m2 area"
    assert set(ITSELF) <= set(CANDIDATES)


@settings(max_examples=300, deadline=None)
@given(
    st.lists(st.sampled_from([*WORDS.split(" "), "iron", "boron", "%", "square", "neem"])),
    st.sampled_from([None, "us"]),
    st.integers(0, 5),
)
def test_answers_come_to_an_end(words: list[str], system: System | None, pick: int) -> None:
    """Whatever is answered, a text is read or refused after no more answers than it has words."""
    text = " ".join(words)
    for _ in range(len(words) + 2):
        try:
            assert isinstance(read_text(text, system), Reading)
        except DoseError as err:
            if err.doubt is None or not err.doubt.answers:
                return
            answer = err.doubt.answers[pick % len(err.doubt.answers)]
            assert answer.label.english()
            if answer.measures:
                assert system is None
                system = read_system(answer.measures)
                continue
            assert 0 <= answer.start <= answer.end <= len(tidy(text))
            assert put_in(text, answer) != tidy(text)
            text = put_in(text, answer)
        else:
            return
    raise AssertionError(text)


@settings(max_examples=300, deadline=None)
@given(
    st.text(max_size=30),
    st.lists(
        st.sampled_from([*"12½x'\"#%-³·", "oz", "wt", "ft", "4x8", "per", "cent", "percent"]),
        max_size=12,
    ),
    st.sampled_from(["", " "]),
)
def test_a_tidy_text_stays_as_it_is(text: str, marks: list[str], space: str) -> None:
    for one in (text, space.join(marks)):
        try:
            plain = tidy(one)
        except DoseError:
            continue
        assert tidy(plain) == plain
