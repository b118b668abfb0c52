"""The card in words: nothing on it that was not in the `Mix`, no stop or over without its band."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

import dosecalc.faces.cli as cli
from dosecalc.catalog.lookup import find_recipe, recipe_ids
from dosecalc.catalog.site import SiteText
from dosecalc.catalog.told import ToldText
from dosecalc.catalog.tools import ToolsText
from dosecalc.dose.pack import totals
from dosecalc.dose.result import Mix
from dosecalc.faces.card.build import Told, build
from dosecalc.faces.card.data import Card
from dosecalc.faces.card.text import WIDTH, render_text
from dosecalc.faces.card.words import Words
from dosecalc.faces.job import Job, run
from dosecalc.say import Say

NUMBER = re.compile(r"\d+(?:\.\d+)?")
SITE: dict[str, str] = {
    "row": "40 m", "rows": "2", "row_spacing": "45 cm", "plants": "12", "pots": "6",
    "pot_size": "2 L", "medium_volume": "60 L", "spray_volume": "5 L", "plant_spacing": "30 cm",
}  # fmt: skip
BASES = (
    {"row": "40 m", "row_spacing": "45 cm"}, {"bed": "1.2 m x 8 m"}, {"plants": "12"},
    {"pots": "6", "pot_size": "2 L"}, {"medium_volume": "60 L"}, {},
)  # fmt: skip


def job(recipe: str, site: dict[str, str], **told: Any) -> Job:
    tools = ToolsText(sprayer="2 L", scale="1 g")
    return Job(recipe, SiteText(**site), tools, ToldText(region="US", **told))


def first_that_fits(recipe: str) -> Mix:
    for site in BASES:
        try:
            return run(job(recipe, site))
        except ValueError:
            continue
    raise AssertionError(recipe)


def card(mix: Mix, **told: Any) -> Card:
    return build(mix, Told(**told), Words())


def strings(value: object) -> Iterator[str]:
    """Every text that a value holds, sentences rendered."""
    if isinstance(value, Say):
        yield value.english()
        yield from (text for _, text in value.args)
    elif isinstance(value, str):
        yield value
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        for field in dataclasses.fields(value):
            yield from strings(getattr(value, field.name))
        if hasattr(value, "cite"):
            yield value.cite()
    elif isinstance(value, (tuple, list)):
        for item in value:
            yield from strings(item)
    elif isinstance(value, int):
        yield str(value)


@pytest.mark.parametrize("id", recipe_ids())
def test_every_number_on_the_card_was_in_the_mix(id: str) -> None:
    mix = first_that_fits(id)
    made = card(mix)
    known = {n for text in strings(mix) for n in NUMBER.findall(text)}
    known |= {"1", "800", "222", "1222", "2"}  # the poison line; a first and second filling
    shown = {n for text in strings(made) for n in NUMBER.findall(text)}
    fillings = {str(n) for n in range(len(mix.tankfuls) + 1)}
    assert shown - known - fillings == set()


@pytest.mark.parametrize("id", recipe_ids())
def test_the_front_is_written_so_that_it_cannot_be_misread(id: str) -> None:
    """The error-prone-abbreviation lists of medicine (ISMP) forbid each of these."""
    made = card(first_that_fits(id))
    front = dataclasses.replace(made, back=(), grey="", bands=(), boxed=(), care=())
    for text in strings(front):
        assert not re.search(r"(?<![\d.])\.\d", text), text  # ".5" for 0.5
        assert not re.search(r"\d\.\d*0(?!\d)(?! %)", text), text  # "5.0"
        assert not re.search(r"\d,\d{3}", text), text  # "1,000"
        assert not re.search(r"\d (L|tsp|tbsp|gal|oz|lb|t)\b", text), text
        assert not re.search(r"\d+ \d/\d", text), text  # "1 1/2"


def test_a_weighed_narrow_material_has_no_spoon_beside_it() -> None:
    drench = job("boron-drench", {"row": "40 m", "row_spacing": "45 cm"})
    made = card(run(dataclasses.replace(drench, tools=ToolsText(scale="0.1 g"))))
    borax = [line for filling in made.fillings for line in filling.lines if line.name == "Borax"]
    borax += [line for line in made.need if line.name == "Borax"]
    assert len(borax) == 2
    for line in borax:
        assert "spoon" not in f"{line.text} {line.small}"
        assert "mL" not in f"{line.text} {line.small}"


@pytest.mark.parametrize("id", recipe_ids())
@pytest.mark.parametrize("already", ["0", "40"])
def test_stop_and_over_are_never_without_their_band(id: str, already: str) -> None:
    for site in BASES:
        try:
            mix = run(job(id, site, already=already))
        except ValueError:
            continue
        wanted = [f.level.upper() for f in mix.findings if f.level in ("stop", "over")]
        made = card(mix)
        assert [band.level for band in made.bands] == wanted
        text = render_text(made)
        for band in made.bands:
            assert f"# {band.level}:" in text


def test_the_band_tells_the_figure_and_the_limit() -> None:
    drench = job("boron-drench", {"row": "40 m", "row_spacing": "45 cm"})
    made = card(run(dataclasses.replace(drench, tools=ToolsText())))
    assert made.bands[0].level == "OVER"
    assert "1 mL/m along the row is 2.1 times the limit of at most 0.485 mL/m" in (
        made.bands[0].text
    )
    text = render_text(made)
    assert text.index("# OVER") < text.index("One filling")
    assert text.startswith("The product label and local rules come first.")


def test_what_has_no_published_limit_is_one_grey_line() -> None:
    made = card(run(job("gypsum-garden", {"area": "10 m2"})))
    assert made.grey.startswith("No published limit was found for Gypsum")
    assert not any("No published limit" in text for text in strings(made.back))


def test_the_text_card_says_everything_in_eighty_columns() -> None:
    for id in recipe_ids():
        made = card(first_that_fits(id), place="Saltmarsh Lane, bed 3", date="2027-03-14", who="Ro")
        text = render_text(made)
        assert max(map(len, text.splitlines())) <= WIDTH or "http" in text
        flat = "".join(text.replace("#", "").replace("|", "").split())
        for said in strings(dataclasses.replace(made, title="", language="en", drawing=None)):
            assert "".join(said.replace("#", "").replace("|", "").split()) in flat, said


def test_paper_takes_no_options() -> None:
    for id in recipe_ids():
        assert [text for text in strings(card(first_that_fits(id))) if "--" in text] == []


def test_the_decimal_mark_is_the_place_s_and_not_the_language_s() -> None:
    drench = job("boron-drench", {"row": "40 m", "row_spacing": "45 cm"})
    made = build(run(dataclasses.replace(drench, tools=ToolsText())), Told(), Words("en", "comma"))
    for text in strings(dataclasses.replace(made, back=made.back[:-1])):
        assert not re.search(r"\d\.\d", text), text
    assert "2,8 litres" in made.fillings[0].title


def test_an_unknown_region_asks_for_the_number_and_prints_none() -> None:
    made = card(run(job("boron-drench", {"row": "40 m"})))
    assert any("Write the number of your poison centre" in text for text in strings(made.care))
    made = card(run(job("boron-drench", {"row": "40 m"})), region="AU")
    assert any("AU:" in text for text in strings(made.care))


def test_plain_letters_only() -> None:
    made = card(run(job("boron-drench", {"row": "40 m"})), place="Pré salé, côté mer")
    assert "Where: Pre sale, cote mer" in render_text(made, ascii_only=True)
    with pytest.raises(ValueError, match="has no plain letter"):
        render_text(dataclasses.replace(made, title="Шпинат"), ascii_only=True)


def test_a_pack_adds_up_what_its_jobs_need() -> None:
    mixes = [
        run(job("boron-drench", {"row": "40 m"})),
        run(job("boron-drench", {"row": "10 m"})),
        run(job("gypsum-garden", {"area": "10 m2"})),
    ]
    found = {total.material: total for total in totals(mixes)}
    assert float(found["borax"].amount.amount_in((("mL", 1),))) == 50  # 5 mL over each 5 m
    assert found["borax"].jobs == 2
    one = next(a for a in mixes[2].amounts if a.material == "gypsum")
    assert found["gypsum"].shown == one.shown
    assert "water" not in found


# The command.


def command(*words: str) -> Result:
    return CliRunner().invoke(cli.group, ["card", *words], standalone_mode=False)


ROW = ("boron-drench", "--row", "4 m", "--row-spacing", "45 cm")


def test_a_card_is_written_whole_or_not_at_all(tmp_path: Path) -> None:
    file = tmp_path / "card.txt"
    done = command(*ROW, "-o", str(file))
    assert done.exception is None
    assert done.return_value == 3  # over the row figure
    before = file.read_bytes()
    assert b"# OVER" in before
    done = command(*ROW, "-o", str(file))
    assert "--replace" in str(done.exception)
    assert file.read_bytes() == before
    assert command(*ROW, "--date", "2027-03-14", "-o", str(file), "--replace").exception is None
    assert b"Date: 2027-03-14" in file.read_bytes()
    assert [path.name for path in tmp_path.iterdir()] == ["card.txt"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("-o", "card.doc"), ".pdf, .png, .svg or .txt"),
        (("-o", "card"), ".pdf, .png, .svg or .txt"),
        (("-o", "x.txt", "--paper", "a3"), "a4 or a5 or a6 or letter or half-letter"),
        (("-o", "x.txt", "--sheet", "3"), "write 1, 2 or 4"),
        (("-o", "x.txt", "--language", "fr"), "en or es"),
        (("-o", "x.txt", "--decimal", ","), "point or comma"),
        (("-o", "x.txt", "--date", "1" * 81), "too long"),
        (("-o", "no/such/folder/x.txt"), "no/such/folder/x.txt"),
        (("-o", "x.txt", "--list", "pack.txt"), "not both"),
    ],
)
def test_bad_words_are_one_sentence_and_nothing_is_written(
    words: tuple[str, ...], said: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    done = command(*ROW, *words)
    assert said in str(done.exception)
    assert list(tmp_path.iterdir()) == []


def test_a_pack_from_a_list(tmp_path: Path) -> None:
    jobs = tmp_path / "season.txt"
    jobs.write_text(
        "# spring\n"
        'boron-drench --row "40 m" --row-spacing "45 cm"\n\n'
        'gypsum-garden --area "10 m2"\n',
        "utf-8",
    )
    done = command("--list", str(jobs), "-o", "-")
    assert done.exception is None
    pages = done.output.split("\f")
    assert len(pages) == 3
    assert "Fetch in all" in pages[0]
    assert "[ ] 1. Boron drench along a row, with borax (OVER)" in " ".join(pages[0].split())
    assert "# OVER: 1. Borax" in pages[0]


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ("", "names no card"),
        ("# nothing\n", "names no card"),
        ("gypsum-garden --area '10 m2'\nno-such\n", "line 2"),
        ("gypsum-garden --area '10 m2\n", "line 1"),
        ("gypsum-garden --nonsense 3\n", "line 1"),
        ("gypsum-garden\n", "line 1"),
    ],
)
def test_a_bad_list_names_its_line(rows: str, said: str, tmp_path: Path) -> None:
    jobs = tmp_path / "season.txt"
    jobs.write_text(rows, "utf-8")
    done = command("--list", str(jobs), "-o", str(tmp_path / "x.txt"))
    assert said in str(done.exception)
    assert not (tmp_path / "x.txt").exists()


@pytest.mark.parametrize("id", recipe_ids())
def test_no_step_of_a_book_recipe_names_an_amount_that_is_not_scaled(id: str) -> None:
    """A recipe is scaled; a step that says "add 1 quart" is not. What each hole or pot gets is."""
    for step in find_recipe(id).order:
        if "into each hole" not in step:
            assert not re.search(r"\d+ (cup|pint|quart|gallon|lb|oz|ounce|mL|L|g|kg)\b", step), step
