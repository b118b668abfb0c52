"""The command line from outside: figures, or one sentence for what is refused; no traceback."""

from __future__ import annotations

import io
import json
import os
import re
import subprocess
import sys
import unicodedata
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any, NamedTuple
from unittest import mock

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dosecalc.catalog import lookup
from dosecalc.catalog.material import SOLID_FORMS
from dosecalc.faces.cli import main
from dosecalc.faces.cli.options import SITE, TOLD, TOOLS
from tests.catalog.test_files import GOOD, HOSTILE

ROOT = Path(__file__).parents[2]
SCHEMA = ROOT / "docs" / "mix.schema.json"
WIDTH = 92


class Done(NamedTuple):
    """What one call left behind."""

    code: int
    out: str
    err: str


def call(*words: str) -> Done:
    """One call in this process; anything but a clean exit comes out of here as it is."""
    out, err = io.StringIO(), io.StringIO()
    with (
        mock.patch.object(sys, "argv", ["dosecalc", *words]),
        redirect_stdout(out),
        redirect_stderr(err),
        pytest.raises(SystemExit) as ended,
    ):
        main()
    code = ended.value.code
    assert isinstance(code, int)
    return Done(code, out.getvalue(), err.getvalue())


def child(*words: str | bytes, **env: str) -> subprocess.CompletedProcess[bytes]:
    """One call in a process of its own."""
    return subprocess.run(
        [sys.executable, "-W", "error", "-m", "dosecalc", *words],
        capture_output=True,
        env=os.environ | env,
    )


def check_refused(done: Done) -> None:
    """One readable sentence on standard error, nothing on standard output, exit code 2."""
    assert done.code == 2
    assert done.out == ""
    assert re.fullmatch(r"dosecalc: \S[^\n]*[.?]\n", done.err)
    # What was typed is repeated, but none of it may steer the screen that shows it.
    assert not [c for c in done.err[:-1] if unicodedata.category(c) in ("Cc", "Cf", "Zl", "Zp")]
    assert len(done.err) < 2000
    assert not re.search(r"Traceback|Error\b|Fraction\(|recursion|sys\.", done.err)


BED = ("--bed", "75 cm x 30 m")
ROW = ("--row", "40 m")

# What the first issue lists as bad input.
LISTED: list[tuple[tuple[str, ...], str]] = [
    # unknown recipe, material, unit
    (("mix", "zzz", *ROW), "`dosecalc recipes` lists"),
    (("mix", "boron-drnch", *ROW), "did you mean 'boron-drench'"),
    (("recipes", "show", "boron-drnch"), "did you mean 'boron-drench'"),
    (("mix", "no-such.toml", *ROW), "no such file"),
    (("materials", "show", "unobtainium"), "`dosecalc materials` lists"),
    (("materials", "show", "boraks"), "did you mean 'borax'"),
    (("convert", "1 tbsp boron", "g", "--recipe-measures", "us"), "boric acid"),
    (("convert", "1 tsp unobtainium", "g"), "not a known material"),
    (("convert", "1 blob", "g"), "the unit 'blob' is not known"),
    (("convert", "1 g", "blob"), "'blob' is not known"),
    (("convert", "1 g borax", "g X"), ""),
    (("convert", "1 g borax", "g Zn"), "is not known to hold Zn"),
    # wrong dimension
    (("mix", "boron-drench", "--row", "40 L"), "a length"),
    (("mix", "boron-drench", "--row", "40 m2"), "a length"),
    (("mix", "feed-5-10-10-broadcast", "--area", "18 m"), "an area"),
    (("mix", "leaf-spray-oil", "--sprayer", "2 kg"), "a sprayer"),
    (("mix", "boron-drench", *ROW, "--scale", "5 mL"), "a scale"),
    (("convert", "1 m", "g"), "a weight is needed"),
    (("convert", "1 lb/acre", "g"), "a weight is needed"),
    (("convert", "1 L borax", "m2"), "an area is needed"),
    # a bare oz of a liquid, a gallon of no country
    (("convert", "8 oz vegetable oil", "mL"), "'oz by weight' or 'fl oz'"),
    (("mix", "leaf-spray-oil", "--spray-volume", "8 oz"), "'oz by weight' or 'fl oz'"),
    (("convert", "1 gal", "L"), "'US gal' (3.785 L) or 'imperial gal'"),
    (("convert", "1 L", "gal"), "--recipe-measures"),
    (("mix", "leaf-spray-oil", "--sprayer", "1 gal"), "(4.546 L)"),
    (("convert", "1 ton", "kg"), "'US ton' (907.2 kg)"),
    # zero, negative, no number, infinite, absurd
    (("mix", "boron-drench", "--row", "0 m"), "more than zero"),
    (("mix", "boron-drench", "--row", "-40 m"), "no number"),
    (("mix", "boron-drench", "--row", "nan m"), "no number"),
    (("mix", "boron-drench", "--row", "NaN"), "no number"),
    (("mix", "boron-drench", "--row", "inf m"), "no number"),
    (("mix", "boron-drench", "--row", "-inf m"), "no number"),
    (("mix", "boron-drench", "--row", "infinity"), "no number"),
    (("mix", "boron-drench", "--row", "1e400 m"), ""),
    (("mix", "boron-drench", "--row", f"{'9' * 40} m"), "out of any reach"),
    (("mix", "boron-drench", "--row", "999999 km"), "beyond anything"),
    (("mix", "feed-5-10-10-broadcast", "--area", "0 m2"), "more than zero"),
    (("mix", "leaf-spray-oil", "--sprayer", "0 L"), "more than zero"),
    (("mix", "leaf-spray-oil", "--sprayer", "999999 L"), "no size"),
    (("mix", "leaf-spray-oil", "--spray-volume", "15 L", "--sprayer", "1 mL"), "more than anyone"),
    (("mix", "starter-drench", "--plants", "0"), "whole number from 1"),
    (("mix", "starter-drench", "--plants", "999999999"), "whole number from 1"),
    # too little told
    (("mix", "feed-5-10-10-broadcast", *ROW), "--row-spacing"),
    (("mix", "boron-target", *ROW), "--row-spacing"),
    (("mix", "boron-drench", *BED), "--rows-per-bed"),
    (("mix", "boron-drench"), "--row"),
]


@pytest.mark.parametrize(("words", "piece"), LISTED, ids=lambda value: " ".join(value)[:50])
def test_bad_input_that_was_foreseen(words: tuple[str, ...], piece: str) -> None:
    done = call(*words)
    check_refused(done)
    assert piece in done.err


def test_a_volume_of_a_powder_with_no_known_density() -> None:
    without = [
        found
        for found in map(lookup.material, lookup.material_ids())
        if found.density is None and found.form in SOLID_FORMS
    ]
    assert without
    for found in without:
        for amount, unit in (("1 tsp", "g"), ("5 mL", "kg"), ("5 g", "mL")):
            done = call("convert", f"{amount} {found.name}", unit)
            check_refused(done)
            assert "weigh ten level spoons" in done.err


# And what nobody foresees: text that was pasted, cut off, mistyped or made to hurt.
UGLY: list[tuple[str, ...]] = [
    ("mix", ""),
    ("mix", " "),
    ("mix", "../../etc/passwd"),
    ("mix", "/"),
    ("mix", "."),
    ("mix", "boron-drench.toml"),
    ("mix", "boron drench", *ROW),
    ("mix", "BORON-DRENCH", *ROW),
    ("mix", "boron-drench", "--row", ""),
    ("mix", "boron-drench", "--row", " "),
    ("mix", "boron-drench", "--row", "m"),
    ("mix", "boron-drench", "--row", "40"),
    ("mix", "boron-drench", "--row", "40 m m"),
    ("mix", "boron-drench", "--row", "40 m, 30 m"),
    ("mix", "boron-drench", "--row", "40-50 m"),
    ("mix", "boron-drench", "--row", "40 m; rm -rf /"),
    ("mix", "boron-drench", "--row", "40\nmm2"),
    ("mix", "boron-drench", "--row", "40 m\n\n30 m"),
    ("mix", "boron-drench", "--row", "\x1b[2J40 m"),
    ("mix", "boron-drench", "--row", "40 m\u202e"),
    ("mix", "boron-drench", "--row", "4\u0660 m"),
    ("mix", "boron-drench", "--row", "\uff14\uff10 m"),
    ("mix", "boron-drench", "--row", "4_0 m"),
    ("mix", "boron-drench", "--row", "4e1 m"),
    ("mix", "boron-drench", "--row", "0x28 m"),
    ("mix", "boron-drench", "--row", "1/0 m"),
    ("mix", "boron-drench", "--row", "1 3/2 m"),
    ("mix", "boron-drench", "--row", "1/2/3 m"),
    ("mix", "boron-drench", "--row", "40.. m"),
    ("mix", "boron-drench", "--row", "40,0,0 m"),
    ("mix", "boron-drench", "--row", "1,500 m"),
    ("mix", "boron-drench", "--row", "40 \U0001f33f"),
    ("mix", "boron-drench", "--row", "\u00bd\u00bd m"),
    ("mix", "boron-drench", "--row", "3 ft 14 in"),
    ("mix", "boron-drench", "--row", "3 in 1 ft"),
    ("mix", "boron-drench", "--row", "x" * 10_000),
    ("mix", "boron-drench", "--row", "9" * 10_000 + " m"),
    ("mix", "boron-drench", "--row", "{0.__class__} m"),
    ("mix", "boron-drench", "--row", "%s%n m"),
    ("mix", "boron-drench", "--row", "40 m", "--rows", "2.5"),
    ("mix", "boron-drench", "--row", "40 m", "--rows", "two"),
    ("mix", "boron-drench", "--rows", "3"),
    ("mix", "boron-drench", *ROW, *BED, "--rows-per-bed", "3"),
    ("mix", "boron-drench", *ROW, "--row-spacing", "20 cm", "--band", "30 cm"),
    ("mix", "boron-drench", *ROW, "--my-spoons", "French"),
    ("mix", "boron-drench", *ROW, "--my-spoons", "US"),
    ("mix", "boron-drench", *ROW, "--recipe-measures", "uk"),
    ("mix", "boron-drench", *ROW, "--recipe-measures", ""),
    ("mix", "boron-drench", *ROW, "--water", "5 kg"),
    ("mix", "boron-drench", *ROW, "--water", "0 L"),
    ("mix", "boron-drench", *ROW, "--scale", "0 g"),
    ("mix", "boron-drench", *ROW, "--bag", "1 gal"),
    ("mix", "boron-drench", *ROW, "--crop", "moonflower of nowhere"),
    ("mix", "boron-drench", *ROW, "--region", "Atlantis"),
    ("mix", "boron-drench", *ROW, "--setting", "moon"),
    ("mix", "boron-drench", *ROW, "--already", "-1"),
    ("mix", "boron-drench", *ROW, "--already", "1/2"),
    ("mix", "boron-drench", *ROW, "--after", "oil"),
    ("mix", "boron-drench", *ROW, "--after", "unobtainium 5 days"),
    ("mix", "boron-drench", *ROW, "--after", "horticultural oil 5 m"),
    ("mix", "boron-drench", *ROW, "--sprayer-held", "unobtainium"),
    ("mix", "boron-drench", *ROW, "--temperature", "hot"),
    ("mix", "boron-drench", *ROW, "--temperature", "5000 C"),
    ("mix", "boron-drench", *ROW, "--humidity", "damp"),
    ("mix", "boron-drench", *ROW, "--wind", "5 kg"),
    ("mix", "boron-drench", *ROW, "--rain-in", "soon"),
    ("mix", "boron-drench", *ROW, "--weather", "fog"),
    ("mix", "boron-drench", *ROW, "--label", "no-such.toml"),
    ("mix", "starter-drench", "--plants", "16", "--water", "9 L"),
    ("mix", "feed-5-10-10-broadcast", "--shape", "circle"),
    ("mix", "feed-5-10-10-broadcast", "--shape", "polygon: 0 0, 4 3, 4 0, 0 3 m"),
    ("mix", "feed-5-10-10-broadcast", "--area", "18 m2", "--shape", "circle: radius 2 m"),
    ("mix", "feed-5-10-10-broadcast", "--area", "18 m2", "--path", "45 cm"),
    ("mix", "leaf-spray-oil", "--area", "18 m2"),
    ("mix", "leaf-spray-oil", "--sprayer", "2 L", "--recipe-measures", "metric"),
    ("convert", "", ""),
    ("convert", "5", "g"),
    ("convert", "5 g", ""),
    ("convert", "5 g", "5 kg"),
    ("convert", "5 g of", "kg"),
    ("convert", "g", "kg"),
    ("convert", "5 % borax", "g"),
    ("convert", "5 ppm", "g"),
    ("convert", "5 g", "g B"),
    ("convert", "20 C", "F"),
    ("convert", "5 g borax\x00", "g B"),
    ("materials", "show", ""),
    ("materials", "show", "\n"),
    ("materials", "show", "x" * 5000),
    ("materials", "show", "soap"),
    ("recipes", "show", ""),
    ("recipes", "show", "\x1b[31m"),
    ("recipes", "show", "\u0000.toml"),
    ("recipes", "show", "x" * 5000),
    ("check", "100 g unobtainium", "--area", "10 m2"),
    ("check", "borax", "--area", "10 m2"),
    ("check", "nan g borax", "--area", "10 m2"),
    ("check", "100 g borax", "--area", "0 m2"),
    ("check", "100 g borax", "--area", "10 m2", "--placement", "sideways"),
]  # fmt: skip


@pytest.mark.parametrize("words", UGLY, ids=lambda words: repr(" ".join(words))[:60])
def test_ugly_input(words: tuple[str, ...]) -> None:
    check_refused(call(*words))


def test_there_is_enough_ugliness() -> None:
    assert len(set(UGLY)) == len(UGLY) >= 25
    assert len(LISTED) >= 25


@pytest.mark.parametrize(
    "words",
    [
        ("no-such-command",),
        ("mix",),
        ("mix", "boron-drench", "--no-such-option", "1"),
        ("mix", "boron-drench", "--row"),
        ("mix", "boron-drench", "40 m"),
        ("mix", "boron-drench", "--json=1"),
        ("convert", "1 g"),
        ("materials", "no-such-command"),
        ("recipes", "check"),
        ("--no-such-option",),
    ],
    ids=" ".join,
)
def test_a_call_that_is_no_call_says_why(words: tuple[str, ...]) -> None:
    done = call(*words)
    assert done.code == 2
    assert done.out == ""
    assert re.search(r"^Error: \S", done.err, re.MULTILINE)
    assert "Traceback" not in done.err


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_recipe_file(name: str, tmp_path: Path) -> None:
    content = HOSTILE[name]
    path = tmp_path / "mine.toml"
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    done = call("mix", str(path), *ROW)
    check_refused(done)
    assert str(path) in done.err


def test_a_folder_of_hostile_recipe_files(tmp_path: Path) -> None:
    some = list(HOSTILE.values())[::4]
    for number, content in enumerate(some):
        path = tmp_path / f"mine-{number}.toml"
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
    done = call("recipes", "check", str(tmp_path))
    assert done.code == 2
    assert re.fullmatch(rf"{len(some)} checked, \d+ problems\n", done.out)
    named = [re.match(rf"{re.escape(str(tmp_path))}/mine-(\d+)\.toml[,:] ", line)
             for line in done.err.splitlines()]  # fmt: skip
    assert all(named)
    assert {match[1] for match in named if match} == {str(n) for n in range(len(some))}


def test_a_folder_of_recipes_is_checked_file_by_file(tmp_path: Path) -> None:
    (tmp_path / "good.toml").write_text(GOOD)
    done = call("recipes", "check", str(tmp_path))
    assert done == (0, "1 checked, 0 problems\n", "")
    (tmp_path / "bad.toml").write_text(GOOD.replace('"5 mL"', "5").replace("purpose", "purpos"))
    done = call("recipes", "check", str(tmp_path))
    assert done.code == 2
    assert done.out == "2 checked, 3 problems\n"
    assert len(done.err.splitlines()) == 3
    assert all(line.startswith(f"{tmp_path / 'bad.toml'}, ") for line in done.err.splitlines())


def test_a_folder_without_recipes_and_a_file_that_is_not_there(tmp_path: Path) -> None:
    check_refused(call("recipes", "check", str(tmp_path)))
    done = call("recipes", "check", str(tmp_path / "nowhere.toml"))
    assert done.code == 2
    assert "no such file" in done.err
    done = call("mix", str(tmp_path), *ROW)
    check_refused(done)
    assert "directory" in done.err


def test_a_recipe_of_ones_own(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(GOOD)
    done = call("mix", str(path), *ROW)
    assert done.code in (0, 3)
    assert done.err == ""
    assert "Borax beside the beetroot" in done.out
    assert "40 mL" in done.out


# The result as JSON.
EVERY_SITE = (
    "--row", "40 m", "--row-spacing", "45 cm", "--band", "30 cm", "--plants", "133",
    "--pots", "12", "--pot-size", "2 L", "--spray-volume", "5.3 L", "--sprayer", "2 L",
)  # fmt: skip
KEYS = {
    "recipe", "site", "amounts", "supplies", "tankfuls", "findings", "assumed", "steps",
    "cautions", "sources",
}  # fmt: skip
Q = {"value", "unit"}
SPAN = {"low", "likely", "high", "unit"}


def no_constant(word: str) -> Any:
    raise AssertionError(f"{word} is no JSON")


def as_json(*words: str) -> dict[str, Any]:
    done = call(*words, "--json")
    assert done.code in (0, 3)
    assert done.err == ""
    found = json.loads(done.out, parse_constant=no_constant)
    assert isinstance(found, dict)
    return found


SHAPE = json.loads(SCHEMA.read_text("utf-8"))
CHECKER = jsonschema.validators.validator_for(SHAPE)
FITS = CHECKER(SHAPE)


@pytest.mark.parametrize("id", lookup.recipe_ids())
def test_the_json_of_every_recipe_has_the_published_shape(id: str) -> None:
    out = as_json("mix", id, *EVERY_SITE)
    FITS.validate(out)
    assert set(out) >= KEYS
    assert out["recipe"]["id"] == id
    assert set(out["recipe"]) >= {"id", "name"}
    for item in out["amounts"]:
        assert set(item) >= {"material", "role", "volume", "mass"}
        for span in (item["volume"], item["mass"]):
            assert span is None or (set(span) == SPAN and span["low"] <= span["likely"])
    for item in out["supplies"]:
        assert set(item) >= {
            "nutrient", "mass", "per_area", "per_length", "in_band", "in_solution",
        }  # fmt: skip
        assert set(item["mass"]) == SPAN
    for item in out["tankfuls"]:
        assert set(item) >= {"number", "of", "volume", "amounts", "measures"}
        assert item["volume"] is None or set(item["volume"]) == Q
        for action in item["measures"]:
            assert set(action) >= {"material", "say", "amount", "error_percent"}
    for item in out["findings"]:
        assert item["level"] in ("stop", "over", "caution", "note", "within")
        assert set(item) >= {"id", "why", "about", "say", "likely", "high", "limit", "ratio"}
    for item in out["assumed"]:
        assert set(item) >= {"what", "value", "instead"}
    for item in out["sources"]:
        assert set(item) >= {"id", "title", "publisher", "year", "url"}
    assert out["sources"]
    assert out["cautions"]


def test_the_published_schema_is_one_and_refuses_what_is_none() -> None:
    CHECKER.check_schema(SHAPE)
    out = as_json("mix", "boron-drench", *ROW)
    FITS.validate(out)
    for key in KEYS:
        with pytest.raises(jsonschema.ValidationError):
            FITS.validate({name: value for name, value in out.items() if name != key})
    with pytest.raises(jsonschema.ValidationError):
        FITS.validate(out | {"amounts": [{"material": "borax"}]})


@pytest.mark.parametrize(
    "words",
    [
        ("mix", "boron-drench", "--row", "40 m", "--row-spacing", "45 cm", "--json"),
        ("mix", "leaf-spray-oil", "--spray-volume", "5.3 L", "--sprayer", "2 L"),
    ],
    ids=lambda words: words[1],
)
def test_the_same_call_gives_the_same_bytes(words: tuple[str, ...]) -> None:
    first, second = (child(*words, PYTHONHASHSEED=seed) for seed in ("1", "4242"))
    assert first.returncode in (0, 3)
    assert first.stdout
    assert first.stderr == b""
    assert (first.returncode, first.stdout) == (second.returncode, second.stdout)
    assert first.stdout.decode() == call(*words).out


def test_text_and_json_exit_alike() -> None:
    for words in (("mix", "boron-drench", *ROW), ("mix", "leaf-spray-oil", "--sprayer", "2 L")):
        assert call(*words).code == call(*words, "--json").code


# The result as text.
def check_width(text: str) -> None:
    """An address cannot be broken without spoiling it; everything else can."""
    for line in text.splitlines():
        assert len(line) <= WIDTH or re.fullmatch(r" *<https?://\S+>", line), line
        assert line == line.rstrip()
        assert line.isprintable()


@pytest.mark.parametrize("id", lookup.recipe_ids())
def test_the_text_of_every_recipe_fits_the_screen(id: str) -> None:
    done = call("mix", id, *EVERY_SITE)
    assert done.code in (0, 3)
    assert done.err == ""
    check_width(done.out)
    check_width(call("recipes", "show", id).out)


def test_every_material_fits_the_screen() -> None:
    for id in lookup.material_ids():
        done = call("materials", "show", id)
        assert (done.code, done.err) == (0, "")
        check_width(done.out)


def test_the_lists_fit_the_screen() -> None:
    for kind, ids in (("recipes", lookup.recipe_ids()), ("materials", lookup.material_ids())):
        done = call(kind, "list")
        assert (done.code, done.err) == (0, "")
        rows = done.out.splitlines()
        assert {row.split(" ")[0] for row in rows} >= set(ids)
        check_width(done.out)


def test_amounts_come_first_and_in_both_systems() -> None:
    done = call("mix", "leaf-spray-oil", "--spray-volume", "5.3 L", "--sprayer", "2 L")
    need, fillings, supplies = (
        done.out.index(title) for title in ("You need", "Fillings 1 to 2 of 3", "This supplies")
    )
    assert need < fillings < supplies < done.out.index("Assumed") < done.out.index("Sources")
    assert "5.3 L (1.4 US gal)" in done.out
    assert "Filling 3 of 3, 1.3 L" in done.out


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        # NIST Handbook 44, Appendix C; UK Weights and Measures Act 1985; SI Brochure
        (("convert", "1 acre", "m2"), "4046.86 m2\n"),
        (("convert", "1 US gal", "L"), "3.78541 L\n"),
        (("convert", "1 gal", "L", "--recipe-measures", "imperial"), "4.54609 L\n"),
        (("convert", "2 lb per 100 sq ft", "g/m2"), "97.6486 g/m2\n"),
        (("convert", "1 1/2 tsp", "mL"), "7.5 mL\n"),
        (("convert", "50 degF", "degC"), None),
    ],
)
def test_conversions_that_are_exact(words: tuple[str, ...], expected: str | None) -> None:
    done = call(*words)
    if expected is None:
        # A temperature is no amount, and nothing here needs it turned: refused, not guessed.
        check_refused(done)
        return
    assert done == (0, expected, "")


def test_a_spoon_of_borax_in_grams_and_in_boron() -> None:
    """14.787 mL at 0.700 / 0.85 / 0.961 g/mL; 4 x 10.81 of 381.363 of it is boron (CIAAW 2021)."""
    grams = call("convert", "1 tbsp borax", "g", "--recipe-measures", "us")
    assert grams.code == 0
    assert grams.out.startswith("12.6 g (10.3 to 14.3)\n")
    assert "through the density" in grams.out
    boron = call("convert", "1 tbsp borax", "g B", "--recipe-measures", "us")
    assert boron.out.startswith("1.43 g (1.17 to 1.62) B\n")


# Anything at all.
PIECES = st.sampled_from(
    [
        "0", "1", "2", "40", "1/2", "1,5", "1,500", "\u00bd", "-", "+", ".", "/", " per ", " x ",
        ":", ",", " ", "  ", "\n", "\t", "m", "m2", "ft", "sq ft", "in", "L", "mL", "gal", "US gal",
        "g", "kg", "lb", "oz", "fl oz", "tsp", "T", "t", "cm", "ha", "acre", "L/ha", "%", "ppm",
        "C", "F", "h", "days", "borax", "oil", "B", "P2O5", "circle", "polygon", "offsets: every ",
        "widths", "diameter", "radius", "base", "height", "nan", "inf", "1e9", "\u0664", "\x00",
        "\x1b[0m", "{", "}", "%s", "us", "imperial", "metric", "EU", "beet", "garden", "frost",
        "yearly", "9" * 20, "plant", "pot", "to", "and",
    ]
)  # fmt: skip
TEXT = st.lists(PIECES, max_size=6).map("".join) | st.text(max_size=30)
# Readable figures of every size: odd sites must reach the whole pipeline, not only the reader.
LENGTHS = ("40 m", "15 ft 6 in", "1/8 in", "0.001 mm", "99 km", "45 cm", "3 ft")
VOLUMES = ("2 L", "5.3 L", "1 US gal", "1/3 mL", "0.001 mL", "9999 L", "1 imp qt")
COUNTS = ("1", "3", "133", "9999999")
PLAUSIBLE: dict[str, tuple[str, ...]] = {
    "row": LENGTHS, "rows": COUNTS, "row-spacing": LENGTHS, "plant-spacing": LENGTHS,
    "bed": ("75 cm x 30 m", "4 x 8 ft", "1 mm x 99 km"), "path": LENGTHS, "rows-per-bed": COUNTS,
    "beds": COUNTS, "area": ("18 m2", "100 sq ft", "0.001 mm2", "9 ha"), "band": LENGTHS,
    "shape": ("circle: diameter 4 m", "ring: outer 4 m, inner 2 m", "polygon: 0 0, 4 0, 4 3 m"),
    "plants": COUNTS, "pots": COUNTS, "pot-size": VOLUMES, "medium-volume": VOLUMES,
    "layer": LENGTHS, "spray-volume": (*VOLUMES, "400 L/ha", "1 US gal/acre"),
    "my-spoons": ("us", "imperial", "metric", "australian"),
    "scale": ("0.1 g", "5 kg", "1 g to 5 kg"),
    "spoons": ("15 mL, 5 mL", "none"), "syringe": ("10 mL",), "jug": ("1 L", "none"),
    "sprayer": VOLUMES, "bag": VOLUMES, "crop": ("beetroot", "bean", "tomato", "apple"),
    "region": ("EU", "US", "UK", "CA", "AU", "NZ"), "setting": ("field", "garden", "container"),
    "phase": ("establishing", "yearly"), "already": ("0", "1", "5"),
    "sprayer-held": ("borax", "horticultural oil"), "water-temperature": ("10 C", "33 F", "95 C"),
    "temperature": ("34 C", "-2 C"), "humidity": ("85 %", "0 %"), "wind": ("4 m/s", "9 mi/h"),
    "rain-in": ("6 h", "1 min"), "dry-in": ("3 h",), "weather": ("frost", "sun, in bloom"),
    "recipe-measures": ("us", "imperial", "metric", "australian"), "water": VOLUMES,
}  # fmt: skip
NAMES = st.sampled_from(sorted(PLAUSIBLE))
# A few at a time: many options at once only meet the first refusal.
LIKELY = st.lists(
    NAMES.flatmap(lambda name: st.tuples(st.just(name), st.sampled_from(PLAUSIBLE[name]))),
    max_size=3,
)
OPTIONS = st.builds(lambda good, odd: [*good, odd], LIKELY, st.tuples(NAMES, TEXT))


def check_sane(done: Done) -> None:
    """Figures, or a refusal; what is no call at all is click's to explain."""
    if done.code == 2 and not done.err.startswith(("Usage: ", "Error: ")):
        check_refused(done)
        return
    assert done.code in (0, 2, 3)
    assert "Traceback" not in done.err
    if done.code != 2:
        assert done.err == ""
        assert done.out.strip()


def test_every_option_is_tried() -> None:
    assert set(PLAUSIBLE) == {*SITE, *TOOLS, *TOLD, "recipe-measures", "water"}


def spelled(options: list[tuple[str, str]]) -> list[str]:
    return [word for name, text in options for word in (f"--{name}", text)]


@settings(deadline=None, max_examples=60)
@given(st.sampled_from(lookup.recipe_ids()), OPTIONS)
def test_random_option_texts_never_trace_back(recipe: str, options: list[tuple[str, str]]) -> None:
    # Enough is told for most recipes to run: click takes the last of two, so the odd text counts.
    check_sane(call("mix", recipe, *EVERY_SITE, "--medium-volume", "60 L", *spelled(options)))


@settings(deadline=None, max_examples=60)
@given(st.sampled_from(lookup.recipe_ids()), LIKELY, st.booleans())
def test_odd_sites_never_trace_back(
    recipe: str, options: list[tuple[str, str]], as_json: bool
) -> None:
    base = (*EVERY_SITE, "--medium-volume", "60 L")
    done = call("mix", recipe, *base, *spelled(options), *(["--json"] if as_json else []))
    check_sane(done)
    if as_json and done.code != 2:
        json.loads(done.out, parse_constant=no_constant)


@settings(deadline=None)
@given(TEXT)
def test_a_random_recipe_name_never_traces_back(text: str) -> None:
    check_sane(call("mix", "--row", "40 m", "--", text))
    check_sane(call("recipes", "show", "--", text))


@settings(deadline=None)
@given(TEXT, TEXT, st.sampled_from([None, "us", "imperial", "metric", "australian"]))
def test_a_random_conversion_never_traces_back(amount: str, to: str, system: str | None) -> None:
    words = () if system is None else ("--recipe-measures", system)
    check_sane(call("convert", *words, "--", amount, to))
    check_sane(call("convert", *words, "--", amount, "g"))
    check_sane(call("convert", *words, "--", "1 tsp borax", to))


@settings(deadline=None)
@given(TEXT)
def test_a_random_material_never_traces_back(text: str) -> None:
    check_sane(call("materials", "show", "--", text))


@settings(deadline=None, max_examples=60)
@given(st.lists(TEXT, max_size=2), OPTIONS)
def test_a_random_check_never_traces_back(
    amounts: list[str], options: list[tuple[str, str]]
) -> None:
    words = spelled(options)
    check_sane(call("check", "--area", "10 m2", *words, "--", "100 g borax", *amounts))


# What only a process of its own can show.
def test_bytes_that_are_no_text() -> None:
    for words in (("mix", b"\xff\xfe"), ("mix", "boron-drench", "--row", b"\xff m")):
        done = child(*words)
        assert done.returncode == 2
        assert done.stdout == b""
        assert b"Traceback" not in done.stderr
        assert done.stderr.startswith(b"dosecalc: ")


def test_a_reader_that_goes_away() -> None:
    with subprocess.Popen(
        [sys.executable, "-W", "error", "-m", "dosecalc", "mix", "boron-drench", "--row", "40 m"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as running:
        assert running.stdout is not None
        assert running.stderr is not None
        running.stdout.close()
        assert b"Traceback" not in running.stderr.read()


def test_a_screen_that_knows_fewer_letters(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(GOOD.replace("the beetroot", "die R\u00fcben"), "utf-8")
    done = child("mix", str(path), "--row", "40 m", PYTHONIOENCODING="ascii")
    assert b"Traceback" not in done.stderr
    assert done.returncode in (0, 3)
    assert b"40 mL" in done.stdout
