"""A crop that the text names is the recipe's; a word that only sounds like one is not."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

import dosecalc.faces.cli as cli
from dosecalc.catalog.prose.reading import read_text
from dosecalc.errors import DoseError

RATE = "1 g borax per m2"


def crops(text: str) -> tuple[str, ...]:
    return read_text(text).recipe.crops


def said(text: str) -> list[str]:
    return [say.english() for say in read_text(text).says]


@pytest.mark.parametrize(
    ("text", "named"),
    [
        (f"{RATE} for beets", ["beet"]),
        (f"{RATE} on roses", ["rose"]),
        (f"{RATE} for new plantings of raspberries", ["raspberry"]),
        (f"{RATE} for beets, turnips, and broccoli", ["beet", "turnip", "broccoli"]),
        (f"{RATE} for beets, turnips and broccoli", ["beet", "turnip", "broccoli"]),
        (f"{RATE} for rose bushes in spring", ["rose"]),
        (f"{RATE} for Swiss chard", ["chard"]),
        (f"{RATE} for pole beans before bloom", ["bean"]),
        (f"{RATE} for apple scab", ["apple"]),
        (f"{RATE} for black spot on roses", ["rose"]),
        (f"{RATE} for brassicas", ["brassica"]),
        (f"{RATE} on the lawn", ["turf"]),
        (f"{RATE} (for roses)", ["rose"]),
        (f"{RATE} (beets)", ["beet"]),
        (f"for beets: {RATE}", ["beet"]),
        (f"tomatoes: {RATE}", ["tomato"]),
        (f"tomatoes and peppers: {RATE}", ["tomato", "pepper"]),
        (f"{RATE} for grape vines", ["grape"]),
        (f"{RATE} for sweet corn and corn", ["sweet-corn", "corn"]),
        (f"{RATE} for beets and for beetroot", ["beet"]),
        ("50 g alfalfa meal per m2 for alfalfa", ["alfalfa"]),
        # no crop, or not the one that the recipe is for
        (RATE, []),
        ("50 g alfalfa meal per m2", []),
        ("50 g cottonseed meal per m2", []),
        ("3 cm wheat straw over 10 m2", []),
        ("50 g soybean meal per m2 (bean meal)", []),
        (f"{RATE} for corn flour", []),
        (f"{RATE} on corn stalks", []),
        (f"{RATE} for hybrid tea roses", []),
        (f"{RATE} for tea roses", []),
        (f"{RATE} for clover control", []),
        (f"{RATE}, harmful to beans", []),
        (f"{RATE}, toxic for beans", []),
        (f"{RATE} for beans it is poison", []),
        (f"{RATE}, beans suffer", []),
        (f"{RATE} after beans", []),
        (f"{RATE}, before planting beans", []),
        (f"garlic spray: {RATE}", []),
        (f"{RATE} for better growth", []),
        (f"{RATE} for mint", []),
    ],
)
def test_whole_names_where_it_grows_count(text: str, named: list[str]) -> None:
    assert list(crops(text)) == named
    assert read_text(text).table.get("crops", []) == named


def test_what_was_understood_is_said_and_the_rest_is_left_aside() -> None:
    assert said(f"{RATE} for beetroot")[-1] == "Crop from the text: Beet."
    assert said(f"{RATE} for roses and lawns")[-1] == "Crops from the text: Rose and Turf."
    assert said(f"{RATE} for rose bushes, in spring")[-2:] == [
        "Crop from the text: Rose.", "Left aside: in spring.",
    ]  # fmt: skip
    assert said(f"{RATE} for apple scab")[-1] == "Left aside: for apple scab."


@pytest.mark.parametrize("turn", ["not on beans", "except on beans", "but never on beans"])
def test_a_crop_that_must_not_get_it_is_still_refused(turn: str) -> None:
    with pytest.raises(DoseError, match="turn a recipe round"):
        read_text(f"{RATE} for beets, {turn}")


def mixed(text: str, *words: str) -> dict[str, object]:
    line = ["mix", "--text", text, "--area", "10 m2", "--json", *words]
    done = CliRunner().invoke(cli.group, line, standalone_mode=False)
    assert done.exception is None
    return dict(json.loads(done.output))


def judged(mix: dict[str, object]) -> str:
    assert isinstance(mix["findings"], list)
    return json.dumps(mix["findings"])


def test_the_crop_of_the_text_is_judged_like_the_crop_that_is_told() -> None:
    strong = "4 g borax per m2"
    beans = judged(mixed(f"{strong} for beans"))
    assert beans == judged(mixed(strong, "--crop", "beans"))
    assert beans != judged(mixed(strong))
    assert '"boron-none-on-beans", "level": "stop"' in beans


def test_every_crop_of_the_text_is_judged_together() -> None:
    strong = "4 g borax per m2"
    both = judged(mixed(f"{strong} for beets and beans"))
    assert '"boron-none-on-beans", "level": "stop"' in both
    beets = judged(mixed(f"{strong} for beets"))
    assert "boron-none-on-beans" not in beets
    assert '"level": "over"' in beets


def test_another_crop_than_the_text_names_is_noted_and_judged() -> None:
    mix = mixed(f"{RATE} for beets", "--crop", "tomato")
    assert "written for Beet; it was judged for Tomato, as told" in judged(mix)
    for same in ("beetroot", "root-vegetable"):
        assert "written for" not in judged(mixed(f"{RATE} for beets", "--crop", same))
    assert "written for" not in judged(mixed(RATE, "--crop", "tomato"))
    general = mixed(f"{RATE} for beans", "--crop", "runner beans")
    assert "written for" not in judged(general)
