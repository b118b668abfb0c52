"""Writing the garden file: read back as it was answered, whole or not at all, nothing lost."""

from __future__ import annotations

import json
import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from dosecalc.catalog.garden import read_garden
from dosecalc.catalog.site import SiteText
from dosecalc.catalog.told import ToldText
from dosecalc.catalog.tools import ToolsText
from dosecalc.errors import DoseError
from dosecalc.faces import job
from dosecalc.faces.cli import group
from dosecalc.faces.garden_file import Answers, garden_text, save_calibration, write_garden
from dosecalc.faces.whole_file import write_whole
from dosecalc.units.measure import LITER

F = Fraction
ANSWERS = (
    "--name", "Saltmarsh Lane garden", "--region", "uk", "--my-spoons", "metric",
    "--spoons", "15 mL, 5 mL, 2.5 mL", "--scale", "0.1 g to 500 g", "--syringe", "10 mL",
    "--jug", "1 L",
    "--sprayer", "hand: 2 L", "--sprayer", "knapsack: 15 L", "--sprayer", "can: 9 L",
    "--row", "beetroot-row: 40 m, spacing 45 cm, crop beetroot",
    "--bed", "long-bed: 75 cm x 30 m, path 45 cm, rows 3, crop carrot",
)  # fmt: skip
EXPECTED: dict[str, Any] = {
    "name": "Saltmarsh Lane garden",
    "region": "UK",
    "tools": {
        "my_spoons": "metric", "spoons": "15 mL, 5 mL, 2.5 mL", "scale": "0.1 g to 500 g",
        "syringe": "10 mL", "jug": "1 L",
    },
    "sprayer": {"hand": {"size": "2 L"}, "knapsack": {"size": "15 L"}, "can": {"size": "9 L"}},
    "bed": {
        "beetroot-row": {"row": "40 m", "row_spacing": "45 cm", "crop": "beetroot"},
        "long-bed": {"bed": "75 cm x 30 m", "path": "45 cm", "rows_per_bed": 3, "crop": "carrot"},
    },
}  # fmt: skip


@pytest.fixture
def lane(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*words: str, typed: str | None = None) -> Result:
    return CliRunner().invoke(group, words, input=typed)


def done(*words: str, typed: str | None = None) -> str:
    result = run(*words, typed=typed)
    assert result.exception is None, result.exception
    assert result.exit_code == 0
    return result.output


def refused(*words: str, typed: str | None = None) -> str:
    """The one sentence of a refusal; any other exception would be a traceback for a grower."""
    result = run(*words, typed=typed)
    assert isinstance(result.exception, DoseError), repr(result.exception)
    sentence = str(result.exception)
    assert "\n" not in sentence
    assert sentence.endswith((".", "?"))
    return sentence


def left_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


# setup, with options.


def test_options_are_read_back_as_they_were_given(lane: Path) -> None:
    assert done("setup", *ANSWERS) == "wrote garden.toml\n"
    assert read_garden(None).data == EXPECTED
    assert left_in(lane) == ["garden.toml"]


def test_the_file_is_named_as_wished(lane: Path) -> None:
    assert done("setup", "saltmarsh.toml", "--region", "EU") == "wrote saltmarsh.toml\n"
    assert read_garden(Path("saltmarsh.toml")).data == {"region": "EU"}
    assert left_in(lane) == ["saltmarsh.toml"]


def test_what_was_written_scales_a_job(lane: Path) -> None:
    done("setup", *ANSWERS)
    out = done("mix", "leaf-spray-quart", "--sprayer", "hand", "--json")
    assert json.loads(out)["tankfuls"][0]["volume"] == {"value": 2.0, "unit": "L"}
    # The boron drench on this row is above a limit, so the exit code is 3 and not 0.
    found = run("mix", "boron-drench", "--at", "beetroot-row")
    assert found.exception is None or isinstance(found.exception, SystemExit)
    assert "weigh 34 g" in found.output.replace("\u00a0", " ")


def test_nothing_answered_is_an_empty_garden(lane: Path) -> None:
    done("setup")
    assert read_garden(None).data == {}


# setup, asked.

ASKED = (
    "uk", "metric", "15 mL, 5 mL, 2.5 mL", "0.1 g to 500 g", "10 mL", "1 L",
    "hand: 2 L", "knapsack: 15 L", "can: 9 L", "",
    "beetroot-row: 40 m, spacing 45 cm, crop beetroot", "",
    "long-bed: 75 cm x 30 m, path 45 cm, rows 3, crop carrot", "",
)  # fmt: skip


def test_questions_lead_to_the_same_file(lane: Path) -> None:
    out = done("setup", "--ask", "--name", EXPECTED["name"], typed="\n".join(ASKED) + "\n")
    assert out.endswith("wrote garden.toml\n")
    for word in ("Whose law", "Whose spoons", "scale", "A sprayer", "A row", "A bed"):
        assert word in out
    assert read_garden(None).data == EXPECTED


def test_every_question_may_be_passed_over(lane: Path) -> None:
    done("setup", "--ask", typed="\n" * 9)
    assert read_garden(None).data == {}


def test_what_was_given_is_not_asked(lane: Path) -> None:
    words = ("--region", "EU", "--scale", "1 g", "--jug", "none", "--sprayer", "hand: 2 L")
    out = done("setup", "--ask", *words, typed="metric\n\n\ncan: 9 L\n\n\n\n")
    assert "Whose law" not in out
    found = read_garden(None).data
    assert found["tools"] == {"my_spoons": "metric", "scale": "1 g", "jug": "none"}
    assert found["sprayer"] == {"hand": {"size": "2 L"}, "can": {"size": "9 L"}}


def test_breaking_off_the_questions_writes_nothing(lane: Path) -> None:
    result = run("setup", "--ask", typed="uk\nmetric\n")
    assert result.exit_code == 1
    assert left_in(lane) == []


# setup, refused: nothing is written, nothing is left behind.

REFUSED: list[tuple[tuple[str, ...], str]] = [
    (("--region", "Atlantis"), "'ATLANTIS' is not one of"),
    (("--my-spoons", "silver"), "my_spoons: 'silver' is not one of"),
    (("--spoons", "5 g"), "a spoon's size"),
    (("--scale", "1 g to 5 g"), "carries less than it can be trusted from"),
    (("--scale", "fine"), "no number"),
    (("--spoons", "none", "--jug", "none"), "nothing to measure with"),
    (("--sprayer", "2 L"), "a name in small letters, a colon"),
    (("--sprayer", "Hand: 2 L"), "a name in small letters, a colon"),
    (("--sprayer", "hand:"), "a name in small letters, a colon"),
    (("--sprayer", "../hand: 2 L"), "a name in small letters, a colon"),
    (("--sprayer", "hand: 0 L"), "must be more than zero"),
    (("--sprayer", "hand: 2 kg"), "sprayer"),
    (("--sprayer", "hand: 2"), "without a unit"),
    (("--sprayer", "tank: 1 gal"), "US gal"),
    (("--row", "40 m"), "a name in small letters, a colon"),
    (("--row", "r: 40 L"), "a length"),
    (("--row", "r: 40 m, spacing"), "known words"),
    (("--row", "r: 40 m, spaced 45 cm"), "known words are spacing, rows, plants, crop"),
    (("--row", "r: 40 m, rows three"), "known words"),
    (("--row", "r: 40 m, rows 0"), "rows"),
    (("--row", "r: 40 m, rows -3"), "known words"),
    (("--row", "r: 40 m, rows 99999"), "rows"),
    (("--bed", "b: 30 m"), "width x length"),
    (("--bed", "b: 75 cm x 30 m, rows 3, beds 2, way 4"), "known words are path, rows, beds, crop"),
    # One name or word twice: which of the two is meant?
    (("--sprayer", "hand: 2 L", "--sprayer", "hand: 3 L"), "hand"),
    (("--row", "plot: 40 m", "--bed", "plot: 1 m x 2 m"), "plot"),
    (("--row", "r: 40 m, spacing 45 cm, spacing 50 cm"), "spacing"),
    # Digits that TOML does not take for a number.
    (("--row", "r: 40 m, rows 007"), ""),
    (("--row", "r: 40 m, rows \uff13"), ""),
    # A mark that no text in TOML may hold as it is.
    (("--row", "r: 40\x7f m"), ""),
    (("--name", "\udcff"), ""),
]  # fmt: skip


@pytest.mark.parametrize(("words", "sentence"), REFUSED, ids=lambda found: ascii(found)[:40])
def test_what_cannot_be_is_not_written(lane: Path, words: tuple[str, ...], sentence: str) -> None:
    assert sentence in refused("setup", *words)
    assert left_in(lane) == []


@pytest.mark.parametrize(
    "name", ["Lane \x7f end", 'He said "beet"', "a\\b", "tab\tline\nend", "Ä ☂"]
)
def test_any_name_is_kept_or_refused(lane: Path, name: str) -> None:
    result = run("setup", "--name", name)
    if result.exception is None:
        assert read_garden(None).data == {"name": name}
    else:
        assert isinstance(result.exception, DoseError), repr(result.exception)
        assert left_in(lane) == []


NAMES = st.from_regex(r"[a-z0-9]{1,8}(-[a-z0-9]{1,4})?", fullmatch=True)
COUNTS = st.integers(1, 1000)


@given(
    st.dictionaries(NAMES, st.integers(1, 400), max_size=3),
    st.dictionaries(NAMES, st.tuples(st.integers(1, 400), st.integers(20, 90), COUNTS), max_size=3),
    st.text(max_size=40, alphabet=st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"])),
)
def test_answers_come_back(
    sprayers: dict[str, int], rows: dict[str, tuple[int, int, int]], name: str
) -> None:
    answers = Answers(
        name or None, "nz", {"scale": "1 g", "jug": None},
        [f"{key}: {litres} L" for key, litres in sprayers.items()],
        [f" {key} :{m} m,spacing {cm} cm , rows {n}" for key, (m, cm, n) in rows.items()], [],
    )  # fmt: skip
    expected: dict[str, Any] = {"region": "NZ", "tools": {"scale": "1 g"}}
    if name:
        expected["name"] = name
    if sprayers:
        expected["sprayer"] = {key: {"size": f"{litres} L"} for key, litres in sprayers.items()}
    if rows:
        expected["bed"] = {
            key: {"row": f"{m} m", "row_spacing": f"{cm} cm", "rows": n}
            for key, (m, cm, n) in rows.items()
        }
    assert tomllib.loads(garden_text(answers)) == expected


# Never overwritten unasked, never half written.


def test_a_file_that_is_there_is_not_overwritten(lane: Path) -> None:
    file = lane / "garden.toml"
    file.write_text("# mine, by hand\n", encoding="utf-8")
    assert "is there already" in refused("setup", "--region", "UK")
    assert file.read_text("utf-8") == "# mine, by hand\n"
    done("setup", "--region", "UK", "--replace")
    assert read_garden(None).data == {"region": "UK"}
    assert left_in(lane) == ["garden.toml"]


def test_a_refused_answer_leaves_the_old_file(lane: Path) -> None:
    done("setup", *ANSWERS)
    refused("setup", "--region", "Atlantis", "--replace")
    assert read_garden(None).data == EXPECTED
    assert left_in(lane) == ["garden.toml"]


def test_no_folder_is_made(lane: Path) -> None:
    assert "could not be written" in refused("setup", "shed/garden.toml", "--region", "UK")
    assert left_in(lane) == []


def test_a_folder_is_not_replaced(lane: Path) -> None:
    (lane / "garden.toml").mkdir()
    assert "is there already" in refused("setup")
    assert "could not be written" in refused("setup", "--replace")
    assert left_in(lane) == ["garden.toml"]
    assert left_in(lane / "garden.toml") == []


@pytest.mark.parametrize("step", ["replace", "chmod"])
def test_a_write_that_fails_leaves_the_old_file_and_no_other(
    lane: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    file = lane / "garden.toml"
    file.write_text("# mine\n", encoding="utf-8")

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, step, full)
    with pytest.raises(DoseError, match="no space left on device"):
        write_whole(file, "region = 'UK'\n", replace=True)
    monkeypatch.undo()
    assert file.read_text("utf-8") == "# mine\n"
    assert left_in(lane) == ["garden.toml"]


def test_write_garden_checks_before_it_writes(lane: Path) -> None:
    answers = Answers(None, None, {}, ["hand: 2 L"], [], ["b: 30 m"])
    with pytest.raises(DoseError):
        write_garden(lane / "garden.toml", answers, replace=False)
    assert left_in(lane) == []


# A calibration is kept.

MINE = """\
# Saltmarsh Lane, begun in spring
region = "UK" # for the law

[tools]
scale = "0.1 g to 500 g"

# leaks a little at the lance
[sprayer.hand]
size = "2 L"
output = "999 L/ha" # of last year
along_row = "99 mL/m"
spread = "9 %"
held = "baking soda"

[bed.long-bed]
bed = "75 cm x 30 m" # the sunny one
path = "45 cm"
crop = "cucumber"
"""
STRIP = ("calibrate", "strip", "--caught", "400 mL", "--caught", "410 mL", "--width", "1 m",
         "--length", "10 m")  # fmt: skip


def test_an_old_output_is_replaced_and_all_else_stays(lane: Path) -> None:
    file = lane / "garden.toml"
    file.write_text(MINE, encoding="utf-8")
    done(*STRIP, "--save", "garden.toml", "--sprayer-name", "hand")
    text = file.read_text("utf-8")
    for comment in ("# Saltmarsh Lane, begun in spring", "# for the law", "# leaks a little",
                    "# the sunny one"):  # fmt: skip
        assert comment in text
    expected = tomllib.loads(MINE)
    expected["sprayer"]["hand"] |= {
        "output": "405 L/ha",
        "along_row": "40.5 mL/m",
        "spread": "2.5 %",
    }
    assert read_garden(None).data == expected
    assert left_in(lane) == ["garden.toml"]


def test_what_the_new_calibration_does_not_know_is_not_kept_from_the_old(lane: Path) -> None:
    file = lane / "garden.toml"
    file.write_text(MINE, encoding="utf-8")
    save_calibration(file, "hand", {"output": "400 L/ha"}, None)
    assert read_garden(None).data["sprayer"]["hand"] == {
        "size": "2 L", "output": "400 L/ha", "held": "baking soda",
    }  # fmt: skip


def test_a_sprayer_is_added(lane: Path) -> None:
    file = lane / "garden.toml"
    file.write_text(MINE, encoding="utf-8")
    done(*STRIP, "--tank", "15 L", "--save", "garden.toml", "--sprayer-name", "knapsack")
    expected = tomllib.loads(MINE)
    expected["sprayer"]["knapsack"] = {
        "size": "15 L", "output": "405 L/ha", "along_row": "40.5 mL/m", "spread": "2.5 %",
    }  # fmt: skip
    assert read_garden(None).data == expected
    assert all(line in file.read_text("utf-8").splitlines() for line in MINE.splitlines())


def test_a_file_is_made_where_there_is_none(lane: Path) -> None:
    done(*STRIP, "--tank", "2 L", "--save", "garden.toml", "--sprayer-name", "hand")
    assert read_garden(None).data == {
        "sprayer": {
            "hand": {
                "size": "2 L", "output": "405 L/ha", "along_row": "40.5 mL/m", "spread": "2.5 %"
            }
        }
    }  # fmt: skip


@pytest.mark.parametrize(
    "text",
    [
        'sprayer = { hand = { size = "2 L", output = "1 L/ha" } } # all in one line\n',
        '[sprayer]\nhand.size = "2 L" # dotted\nhand.output = "1 L/ha"\n',
        '[sprayer]\n[sprayer.hand]\nsize = "2 L"\noutput = "1 L/ha"\n[bed.x]\nrow = "4 m"\n',
        '[bed.x]\nrow = "4 m"\n[sprayer.hand]\nsize = "2 L"\n[bed.y]\nrow = "4 m"\n',
    ],
)
def test_however_the_file_is_written(lane: Path, text: str) -> None:
    file = lane / "garden.toml"
    file.write_text(text, encoding="utf-8")
    before = tomllib.loads(text)
    lines = {"output": "405 L/ha"}
    save_calibration(file, "hand", lines, None)
    save_calibration(file, "can", lines, "9 L")
    before["sprayer"]["hand"]["output"] = "405 L/ha"
    before["sprayer"]["can"] = {"size": "9 L", "output": "405 L/ha"}
    assert read_garden(None).data == before
    assert text.count("#") == file.read_text("utf-8").count("#")


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ((*STRIP, "--save", "garden.toml"), "--sprayer-name"),
        ((*STRIP, "--save", "garden.toml", "--sprayer-name", "Big One"), "--sprayer-name"),
        ((*STRIP, "--save", "garden.toml", "--sprayer-name", "knapsack"), "--tank"),
        ((*STRIP, "--save", "no/garden.toml", "--sprayer-name", "hand", "--tank", "2 L"),
         "could not be written"),
        (("calibrate", "nozzle", "--caught", "450 mL", "--caught", "600 mL", "--time", "30 s",
          "--swath", "1 m", "--speed", "4 km/h", "--save", "garden.toml", "--sprayer-name", "hand"),
         "catch again"),
    ],
)  # fmt: skip
def test_a_calibration_that_cannot_be_kept(
    lane: Path, words: tuple[str, ...], sentence: str
) -> None:
    file = lane / "garden.toml"
    file.write_text(MINE, encoding="utf-8")
    assert sentence in refused(*words)
    assert file.read_text("utf-8") == MINE
    assert left_in(lane) == ["garden.toml"]


def test_a_broken_file_is_not_touched(lane: Path) -> None:
    file = lane / "garden.toml"
    file.write_text("[sprayer.hand]\nsize = 2\n", encoding="utf-8")
    assert "sprayer, hand, size" in refused(
        *STRIP, "--save", "garden.toml", "--sprayer-name", "hand"
    )
    assert file.read_text("utf-8") == "[sprayer.hand]\nsize = 2\n"


def test_gallons_of_a_country_stay_readable(lane: Path) -> None:
    """A tank typed in the gallons of --measures must not become a gallon of no country."""
    done("calibrate", "strip", "--caught", "14 fl oz", "--caught", "14 fl oz", "--width", "1 m",
         "--length", "10 m", "--tank", "4 gal", "--measures", "us",
         "--save", "garden.toml", "--sprayer-name", "knapsack")  # fmt: skip
    found = job.gather(job.Job("leaf-spray-quart", SiteText(), ToolsText(sprayer="knapsack")))
    assert found.tools.sprayer is not None
    # 231 cubic inches to the US gallon: NIST Handbook 44, Appendix C.
    assert found.tools.sprayer.amount_in(LITER) == 4 * F("3.785411784")


# What was kept is used.


def test_mix_takes_the_calibrated_output(lane: Path) -> None:
    """405 L/ha on 75 cm x 30 m of bed top: 22.5 m2 take 0.91125 L."""
    (lane / "garden.toml").write_text(MINE, encoding="utf-8")
    done(*STRIP, "--save", "garden.toml", "--sprayer-name", "hand")
    out = json.loads(
        done("mix", "leaf-spray-quart", "--at", "long-bed", "--sprayer", "hand", "--json")
    )
    assert out["tankfuls"][0]["volume"] == {"value": 0.91125, "unit": "L"}
    assert any("405 L/ha" in one["value"] for one in out["assumed"])


def test_a_typed_spray_volume_goes_before_the_calibration(lane: Path) -> None:
    (lane / "garden.toml").write_text(MINE, encoding="utf-8")
    found = job.run(
        job.Job("leaf-spray-quart", SiteText(spray_volume="3 L"), ToolsText(sprayer="hand"),
                ToldText(), at="long-bed")
    )  # fmt: skip
    assert found.liquid is not None
    assert found.liquid.amount_in(LITER) == 3
    assert [t.volume.amount_in(LITER) for t in found.tankfuls if t.volume] == [2, 1]


def test_an_output_along_the_row_serves_a_row_of_no_known_width(lane: Path) -> None:
    (lane / "garden.toml").write_text(
        '[sprayer.can]\nsize = "9 L"\nalong_row = "514 mL/m"\n[bed.beet]\nrow = "40 m"\n', "utf-8"
    )
    found = job.run(job.Job("leaf-spray-quart", SiteText(), ToolsText(sprayer="can"), at="beet"))
    assert found.liquid is not None
    assert found.liquid.amount_in(LITER) == F("20.56")
    assert len(found.tankfuls) == 3


def test_a_can_calibrated_on_a_wetted_strip_waters_no_more_than_its_row(lane: Path) -> None:
    """9 L on 17.5 m of row, 30 cm wet: the output is that of the strip, and 40 m take 20.6 L."""
    done("calibrate", "can", "--poured", "9 L", "--length", "18 m", "--length", "17 m",
         "--width", "30 cm", "--tank", "9 L",
         "--save", "garden.toml", "--sprayer-name", "can")  # fmt: skip
    site = SiteText(row="40 m", row_spacing="45 cm", band="30 cm")
    found = job.run(job.Job("leaf-spray-quart", site, ToolsText(sprayer="can")))
    assert found.liquid is not None
    assert abs(found.liquid.amount_in(LITER) - F("20.57")) < F("0.1")
