"""What a grower types from a label judges first; a file that cannot be used is refused whole."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from dosecalc.catalog.label import build_label, per_of, read_label
from dosecalc.catalog.site import SiteText
from dosecalc.catalog.told import ToldText
from dosecalc.catalog.tools import ToolsText
from dosecalc.dose.result import LEVELS, Finding, Mix
from dosecalc.errors import DoseError
from dosecalc.faces import done, job
from dosecalc.faces.label_file import write_label
from dosecalc.units.measure import Measure

POUND, FOOT = Fraction("0.45359237"), Fraction("0.3048")  # NIST Handbook 44: kg, m
SULFUR = 'product = "Saltmarsh dust"\nmaterial = "wettable-sulfur"\n'


class Bench:
    """Writes labels into one folder and judges jobs with them."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def label(self, rest: str, head: str = SULFUR) -> str:
        path = self.folder / "label.toml"
        path.write_text(head + rest, encoding="utf-8")
        return str(path)

    def sulfur(self, rest: str, amount: str = "100 g", *, head: str = SULFUR, area: str = "100 m2",
               water: str | None = "10 L", labelled: bool = True, **told: Any) -> Mix:  # fmt: skip
        """So much wettable sulfur on so much ground, by hand."""
        return done.run(
            done.Done(
                (f"{amount} wettable sulfur",),
                SiteText(area=area),
                ToolsText(scale="0.1 g"),
                water=water,
                placement="foliar",
                told=ToldText(**told),
                labels=(self.label(rest, head),) if labelled else (),
            )
        )


@pytest.fixture
def bench(tmp_path: Path) -> Bench:
    return Bench(tmp_path)


def of_label(found: Mix, key: str) -> list[Finding]:
    return [f for f in found.findings if f.id == f"label-wettable-sulfur-{key}"]


def levels(found: Mix, key: str) -> list[str]:
    return [f.level for f in of_label(found, key)]


# The highest rate. 100 g on 100 m2 is 10 kg/ha and, in 10 L, 10 g/L.


@pytest.mark.parametrize(
    ("highest", "wanted"),
    [
        ("5 kg/ha", "over"),
        ("9.99 kg/ha", "over"),
        ("20 kg/ha", "within"),
        ("5 g/L", "over"),
        ("20 g/L", "within"),
        ("4 lb/acre", "over"),
        ("20 lb/acre", "within"),
        ("0.1 lb/1000 sq ft", "over"),
    ],
)
def test_above_the_highest_rate_is_over(bench: Bench, highest: str, wanted: str) -> None:
    found = bench.sulfur(f'highest = "{highest}"')
    assert levels(found, "highest") == [wanted]
    (finding,) = of_label(found, "highest")
    assert "Saltmarsh dust" in finding.say.english()
    assert highest in finding.say.english()
    assert finding.grade == "label"


def test_a_rate_is_held_exactly_at_its_edge(bench: Bench) -> None:
    at, just_more = "10 kg/ha", "9999.99 m2"
    assert levels(bench.sulfur(f'highest = "{at}"', "10 kg", area="1 ha"), "highest") != ["over"]
    assert levels(bench.sulfur(f'highest = "{at}"', "10 kg", area=just_more), "highest") == ["over"]


def test_over_the_label_stops_the_job_where_nothing_of_ours_does(bench: Bench) -> None:
    assert bench.sulfur("", labelled=False).worst not in ("stop", "over", "caution")
    found = bench.sulfur('highest = "5 kg/ha"')
    assert found.worst == "over"
    assert found.findings[0].id == "label-wettable-sulfur-highest"


def test_no_sentence_says_that_a_label_is_no_strong_source(bench: Bench) -> None:
    (finding,) = of_label(bench.sulfur('highest = "5 kg/ha"'), "highest")
    assert "no strong source" not in finding.say.english()


@pytest.mark.parametrize("highest", ["0 kg/ha", "0 g/L"])
def test_a_highest_rate_of_none_is_a_limit(bench: Bench, highest: str) -> None:
    (finding,) = of_label(bench.sulfur(f'highest = "{highest}"'), "highest")
    assert finding.level in ("stop", "over")


@pytest.mark.parametrize("level", ["over", "caution", "within"])
def test_the_label_comes_first_among_findings_of_one_level(bench: Bench, level: str) -> None:
    """Copper on an apple: the label beside four limits of the data."""
    kilograms = {"over": "0.001 kg/ha", "caution": "0.78 kg/ha", "within": "50 kg/ha"}[level]
    head = 'product = "Saltmarsh blue"\nmaterial = "copper-sulfate-pentahydrate"\n'
    amount = {"over": "30 kg", "caution": "77 g", "within": "1 g"}[level]
    found = done.run(
        done.Done(
            (f"{amount} copper sulfate pentahydrate",),
            SiteText(area="1000 m2"),
            ToolsText(scale="0.1 g"),
            placement="foliar",
            told=ToldText(crop="apple", region="US"),
            labels=(bench.label(f'highest = "{kilograms}"', head),),
        )
    )
    own = [f for f in found.findings if f.grade == "label"]
    assert [f.level for f in own] == [level]
    same = [f for f in found.findings if f.level == level]
    assert same[0] is own[0]
    assert [LEVELS.index(f.level) for f in found.findings] == sorted(
        LEVELS.index(f.level) for f in found.findings
    )


def test_a_label_of_another_product_is_silent(bench: Bench) -> None:
    head = 'product = "Saltmarsh oil"\nmaterial = "horticultural-oil"\n'
    rest = 'highest = "0.001 kg/ha"\ncrops = ["rose"]\nleast_water = "9000 L/ha"'
    found = bench.sulfur(rest, head=head, crop="apple")
    assert [f for f in found.findings if f.grade == "label"] == []


def test_the_label_does_not_silence_a_stricter_limit_of_ours(bench: Bench) -> None:
    head = 'product = "Saltmarsh borate"\nmaterial = "borax"\n'
    found = done.run(
        done.Done(
            ("100 g borax",),
            SiteText(area="10 m2"),
            ToolsText(),
            labels=(bench.label('highest = "500 kg/ha"', head),),
        )
    )
    assert found.worst == "over"
    assert levels_of(found, "boron-vegetables-in-general") == ["over"]
    assert levels_of(found, "label-borax-highest") == ["within"]


def levels_of(found: Mix, id: str) -> list[str]:
    return [f.level for f in found.findings if f.id == id]


# The lowest rate.


@pytest.mark.parametrize(
    ("lowest", "wanted"),
    [("20 kg/ha", ["note"]), ("10.001 kg/ha", ["note"]), ("10 kg/ha", []), ("1 kg/ha", [])],
)
def test_below_the_lowest_rate_is_a_note(bench: Bench, lowest: str, wanted: list[str]) -> None:
    found = bench.sulfur(f'lowest = "{lowest}"')
    assert levels(found, "lowest") == wanted
    assert found.worst not in ("stop", "over", "caution")


def test_a_lowest_rate_over_what_is_not_there_is_silent(bench: Bench) -> None:
    found = bench.sulfur('lowest = "20 g/L"', water=None)
    assert [f for f in found.findings if f.grade == "label"] == []


# Least water.


@pytest.mark.parametrize(
    ("least", "water", "stopped"),
    [
        ("1001 L/ha", "10 L", True),
        ("1000 L/ha", "10 L", False),
        ("200 L/ha", "10 L", False),
        ("200 L/ha", "1 L", True),
        ("50 US gal/acre", "10 L", False),
        ("50 US gal/acre", "4 L", True),
        ("200 L/ha", None, False),
    ],
)
def test_too_little_water_is_a_stop(
    bench: Bench, least: str, water: str | None, stopped: bool
) -> None:
    found = bench.sulfur(f'least_water = "{least}"', water=water)
    stops = [f for f in found.findings if f.why == "label-water"]
    assert [f.level for f in stops] == (["stop"] if stopped else [])
    assert (found.worst == "stop") == stopped


def test_without_the_ground_the_least_water_per_area_is_not_guessed(bench: Bench) -> None:
    found = done.run(
        done.Done(
            ("20 g wettable sulfur",),
            SiteText(),
            ToolsText(),
            water="1 L",
            labels=(bench.label('least_water = "9000 L/ha"'),),
        )
    )
    assert [f for f in found.findings if f.why == "label-water"] == []


# Crops.


@pytest.mark.parametrize(
    ("rest", "crop", "stopped"),
    [
        ('crops = ["apple", "pear"]', "apples", False),
        ('crops = ["apple", "pear"]', "tomato", True),
        ('crops = ["tree-fruit"]', "apple", False),
        ('crops = ["tree-fruit"]', "leek", True),
        ('not_on = ["apricot"]', "apricots", True),
        ('not_on = ["apricot"]', "peach", False),
        ('not_on = ["stone fruit"]', "apricot", True),
        ('not_on = ["nectarine"]', "peach", True),
        ('crops = ["tree-fruit"]\nnot_on = ["apricot"]', "apricot", True),
        ('crops = ["tree-fruit"]\nnot_on = ["apricot"]', "apple", False),
        ("crops = []", "apple", False),
    ],
)
def test_only_the_crops_of_the_label(bench: Bench, rest: str, crop: str, stopped: bool) -> None:
    found = bench.sulfur(rest, crop=crop)
    stops = [f for f in found.findings if f.why == "label-crop"]
    assert [f.level for f in stops] == (["stop"] if stopped else [])
    if stopped:
        assert found.findings[0] is stops[0]
        assert "Saltmarsh dust" in stops[0].say.english()


@pytest.mark.parametrize("crop", ["green beans", "runner bean", "kidney bean", "bean"])
def test_not_on_beans_means_every_kind_of_bean(bench: Bench, crop: str) -> None:
    found = bench.sulfur('not_on = ["beans"]', crop=crop)
    assert [f.level for f in found.findings if f.why == "label-crop"] == ["stop"]


def test_a_general_crop_is_not_allowed_by_one_of_its_kinds(bench: Bench) -> None:
    """Whoever says "bean" is judged as the most sensitive kind, here one the label leaves out."""
    found = bench.sulfur('crops = ["snap bean"]', crop="bean")
    assert [f.level for f in found.findings if f.why == "label-crop"] != []
    allowed = bench.sulfur('crops = ["beans"]', crop="green beans")
    assert [f.level for f in allowed.findings if f.why == "label-crop"] == []


def test_the_recipes_own_crop_is_held_against_the_label_when_none_was_told(bench: Bench) -> None:
    def found(rest: str) -> Mix:
        asked = job.Job(
            "wettable-sulfur-apple",  # a recipe for apple and nothing else
            SiteText(area="100 m2"),
            ToolsText(),
            labels=(bench.label(rest),),
        )
        return job.run(asked)

    stops = [f for f in found('not_on = ["apple"]').findings if f.why == "label-crop"]
    assert [f.level for f in stops] == ["stop"]
    assert [f for f in found('crops = ["rose"]').findings if f.why == "label-crop"] != []
    assert [f for f in found('crops = ["apple"]').findings if f.why == "label-crop"] == []


def test_a_recipe_for_several_crops_cautions_where_the_label_bars_one(bench: Bench) -> None:
    def found(rest: str) -> list[str]:
        head = 'product = "Saltmarsh soda"\nmaterial = "sodium-bicarbonate"\n'
        asked = job.Job(
            "leaf-spray-quart",  # for rose, squash, cucumber and pumpkin
            SiteText(spray_volume="2 L"),
            ToolsText(),
            labels=(bench.label(rest, head),),
        )
        return [f.level for f in job.run(asked).findings if f.why == "label-crop"]

    assert found('not_on = ["rose"]') == ["caution"]
    assert found('crops = ["apple"]') == ["stop"]
    assert found('crops = ["rose", "squash", "cucumber", "pumpkin"]') == []


def test_where_no_crop_is_known_the_label_bars_none(bench: Bench) -> None:
    found = bench.sulfur('crops = ["rose"]')
    assert [f for f in found.findings if f.why == "label-crop"] == []
    assert any(a.what.key == "assume-crop" for a in found.assumed)


# Times, season, interval.


@pytest.mark.parametrize(
    ("already", "exceeded"), [(None, False), ("2", False), ("3", True), ("10", True)]
)
def test_times_in_a_season_count_what_was_given_before(
    bench: Bench, already: str | None, exceeded: bool
) -> None:
    found = bench.sulfur("times = 3", already=already)
    assert ("over" in levels(found, "times")) == exceeded
    assert (found.worst in ("stop", "over")) == exceeded


def test_the_number_of_times_is_said_before_the_first(bench: Bench) -> None:
    found = bench.sulfur("times = 3")
    assert any("3 times" in say.english() for say in found.waits)


def test_no_times_at_all_is_not_read_as_any_number(bench: Bench) -> None:
    """It would be silent: the first time is never counted. So it is refused with its place."""
    with pytest.raises(DoseError, match="times"):
        bench.sulfur("times = 0")


@pytest.mark.parametrize(
    ("already", "wanted"), [(None, "within"), ("1", "within"), ("2", "over"), ("5", "over")]
)
def test_most_in_a_season_adds_the_earlier_doses(
    bench: Bench, already: str | None, wanted: str
) -> None:
    found = bench.sulfur('most_season = "25 kg/ha"', already=already)
    assert levels(found, "most-season") == [wanted]


def test_earlier_doses_do_not_count_against_the_rate_of_one(bench: Bench) -> None:
    assert levels(bench.sulfur('highest = "15 kg/ha"', already="5"), "highest") == ["within"]


@pytest.mark.parametrize(("days", "stopped"), [(3, True), (6, True), (7, False), (30, False)])
def test_an_interval_that_is_not_over_is_a_stop(bench: Bench, days: int, stopped: bool) -> None:
    found = bench.sulfur('interval = "7 days"', after=(f"wettable sulfur {days} days",))
    assert (found.worst == "stop") == stopped


def test_the_interval_of_another_product_does_not_run(bench: Bench) -> None:
    head = 'product = "Saltmarsh oil"\nmaterial = "horticultural-oil"\n'
    after = ("wettable sulfur 20 days",)
    found = bench.sulfur('interval = "60 days"', head=head, after=after)
    assert [f for f in found.findings if f.why == "too-soon"] == []
    without = bench.sulfur('harvest_wait = "60 days"', after=after)
    assert [f for f in without.findings if f.why == "too-soon"] == []


def test_the_graver_of_two_intervals_judges_and_the_longer_is_told(bench: Bench) -> None:
    """A label of five days is a stop beside the recipe's own seven, which only caution."""
    head = 'product = "Saltmarsh soda"\nmaterial = "sodium-bicarbonate"\n'

    def soon(days: int) -> list[Finding]:
        asked = job.Job(
            "leaf-spray-quart",
            SiteText(spray_volume="2 L"),
            ToolsText(),
            ToldText(after=(f"baking soda {days} days",)),
            labels=(bench.label('interval = "5 days"', head),),
        )
        return [f for f in job.run(asked).findings if f.why == "too-soon"]

    assert [f.level for f in soon(3)] == ["stop"]
    assert dict(soon(3)[0].say.args)["longest"] == "7"
    assert [f.level for f in soon(6)] == ["caution"]
    assert soon(7) == []


def test_only_numbers_of_times_in_scope_are_said_as_waits(bench: Bench) -> None:
    """Four sprays of calcium chloride are a rule for tomatoes."""

    def waits(crop: str, material: str = "calcium chloride flake") -> str:
        found = done.run(
            done.Done(
                (f"20 g {material}",),
                SiteText(),
                ToolsText(),
                water="10 L",
                placement="foliar",
                told=ToldText(crop=crop),
            )
        )
        return " ".join(say.english() for say in found.waits)

    assert "4 times" in waits("tomato")
    assert "times" not in waits("pear")
    # Two sprays of Epsom salt are a figure that does not judge, so that no rule is made of it.
    assert "twice" not in waits("apple", "Epsom salt")
    assert "times" not in waits("apple", "Epsom salt")
    rates = bench.sulfur('highest = "5 kg/ha"\nmost_season = "9 kg/ha"')
    assert "times" not in " ".join(say.english() for say in rates.waits)


def test_the_waits_of_the_label_are_said_first(bench: Bench) -> None:
    rest = 'interval = "7 days"\nharvest_wait = "3 days"\nentry_wait = "2 days"'
    found = bench.sulfur(rest)
    said = [say.english() for say in found.waits]
    assert len([line for line in said[:3] if "Saltmarsh dust" in line]) == 3
    for piece in ("7 day", "3 day", "2 day"):
        assert any(piece in line for line in said[:3])


# Reading a label file.


@pytest.mark.parametrize(
    ("rest", "place", "piece"),
    [
        ('highst = "2 g/L"', "highst", "highest"),
        ("highest = 2", "highest", "quoted"),
        ('times = "3"', "times", ""),
        ("times = 2.5", "times", ""),
        ("crops = [1]", "crops 1", ""),
        ('crops = "apple"', "crops", ""),
        ('harvest_wait = ""', "harvest_wait", ""),
        ('highest = "2 g"', "2 g", "per"),
        ('highest = "2 %"', "2 %", "w/v"),
        ('highest = "2 oz/gal"', "2 oz/gal", ""),
        ('lowest = "some"', "some", ""),
        ('least_water = "200 L"', "200 L", ""),
        ('interval = "7"', "7", "unit"),
        ('interval = "-7 days"', "-7 days", ""),
        ('crops = ["aple"]', "aple", "apple"),
        ('not_on = ["no such plant"]', "no such plant", ""),
        ("=", "", "TOML"),
    ],
)
def test_a_bad_label_is_refused_with_its_place(
    bench: Bench, rest: str, place: str, piece: str
) -> None:
    path = bench.label(rest)
    with pytest.raises(DoseError) as caught:
        read_label(Path(path))
    message = str(caught.value)
    assert path in message
    assert place in message
    assert piece in message


@pytest.mark.parametrize("head", ['product = "X"\n', 'material = "borax"\n'])
def test_a_label_needs_its_product_and_material(bench: Bench, head: str) -> None:
    with pytest.raises(DoseError, match="missing"):
        read_label(Path(bench.label("", head)))


def test_a_label_for_a_material_that_does_not_exist_is_refused(bench: Bench) -> None:
    """It would never judge anything: silence where the grower trusts the label."""
    with pytest.raises(DoseError, match="saltmarsh-wonder"):
        bench.sulfur("", head='product = "X"\nmaterial = "saltmarsh-wonder"\n')


def test_a_label_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(DoseError, match=r"nowhere\.toml"):
        read_label(tmp_path / "nowhere.toml")


@pytest.mark.parametrize(
    ("rate", "per"),
    [
        ((("kg", 1), ("hectare", -1)), "field area"),
        ((("lb", 1), ("foot", -2)), "field area"),
        ((("gram", 1), ("meter", -1)), "row length"),
        ((("mL", 1), ("liter", -1)), "solution"),
        ((("oz", 1), ("gal_us", -1)), "solution"),
        ((("mL", 1), ("plant", -1)), "plant"),
        ((("gram", 1),), None),
        ((("gram", 1), ("second", -1)), None),
    ],
)
def test_what_a_rate_is_per_follows_from_its_unit(
    rate: tuple[tuple[str, int], ...], per: str | None
) -> None:
    assert per_of(Measure(Fraction(1), tuple(sorted(rate)))) == per


# Writing one.

TYPED: dict[str, str | None] = {
    "product": 'Saltmarsh "blue" dust, 80 %',
    "material": "wettable sulphur",
    "lowest": "2 kg/ha",
    "highest": "5 kg/ha",
    "least_water": "200 L/ha",
    "most_season": "20 kg/ha",
    "times": "3",
    "interval": "7 days",
    "harvest_wait": "3 days",
    "entry_wait": "24 h",
    "crops": "apples, pears ,rose",
    "not_on": "apricot",
}


def test_what_is_written_is_read_back(tmp_path: Path) -> None:
    path = tmp_path / "dust.toml"
    write_label(path, TYPED, replace=False)
    label = read_label(path)
    assert (label.product, label.material) == (TYPED["product"], "wettable-sulfur")
    assert {(limit.id.removeprefix("label-wettable-sulfur-"), limit.printed)
            for limit in label.limits} == {
        ("lowest", "2 kg/ha"), ("highest", "5 kg/ha"), ("most-season", "20 kg/ha"), ("times", "3"),
    }  # fmt: skip
    assert {limit.id for limit in label.limits if limit.lower} == {"label-wettable-sulfur-lowest"}
    day = (("day", 1),)
    assert label.interval is not None
    assert label.harvest_wait is not None
    assert label.entry_wait is not None
    assert label.least_water is not None
    waits = [w.amount_in(day) for w in (label.interval, label.harvest_wait, label.entry_wait)]
    assert waits == [7, 3, 1]
    assert label.least_water.amount_in((("hectare", -1), ("liter", 1))) == 200
    assert label.crops == {"apple", "pear", "rose"}
    assert label.not_on == {"apricot"}


def test_only_what_was_typed_is_written(tmp_path: Path) -> None:
    path = tmp_path / "short.toml"
    typed: dict[str, str | None] = dict.fromkeys(TYPED)
    write_label(path, typed | {"product": "Soap", "material": "soft soap"}, replace=False)
    label = read_label(path)
    assert label.limits == ()
    assert (label.interval, label.least_water, label.crops) == (None, None, frozenset())
    assert sorted(tmp_path.iterdir()) == [path]


def test_a_file_that_is_there_is_not_replaced_unasked(tmp_path: Path) -> None:
    path = tmp_path / "dust.toml"
    path.write_text("# my own notes\n", encoding="utf-8")
    with pytest.raises(DoseError, match="--replace"):
        write_label(path, TYPED, replace=False)
    assert path.read_text("utf-8") == "# my own notes\n"
    write_label(path, TYPED, replace=True)
    assert read_label(path).product == TYPED["product"]
    assert sorted(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize(
    "change",
    [
        {"highest": "5"},
        {"times": "2.5"},
        {"times": "0"},
        {"crops": "aple"},
        {"material": "no such thing"},
        {"material": "sulfur"},
        {"product": ""},
        {"material": None},
        {"interval": "soon"},
    ],
)
def test_what_cannot_be_read_is_not_written(tmp_path: Path, change: dict[str, str | None]) -> None:
    path = tmp_path / "dust.toml"
    with pytest.raises(DoseError):
        write_label(path, TYPED | change, replace=False)
    assert list(tmp_path.iterdir()) == []


def test_a_bad_answer_leaves_the_old_file_whole(tmp_path: Path) -> None:
    path = tmp_path / "dust.toml"
    write_label(path, TYPED, replace=False)
    before = path.read_bytes()
    with pytest.raises(DoseError):
        write_label(path, TYPED | {"highest": "lots"}, replace=True)
    assert path.read_bytes() == before


def test_a_folder_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(DoseError, match="could not be written"):
        write_label(tmp_path / "no" / "dust.toml", TYPED, replace=False)


def test_a_folder_that_is_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "shed").write_text("", encoding="utf-8")
    with pytest.raises(DoseError, match="could not be written"):
        write_label(tmp_path / "shed" / "dust.toml", TYPED, replace=False)


@pytest.fixture
def closed_folder(tmp_path: Path) -> Iterator[Path]:
    """A folder nobody may write to, also where the tests run as root."""
    folder = tmp_path / "closed"
    folder.mkdir()
    if os.geteuid() == 0:
        yield Path("/proc/self")
        return
    folder.chmod(stat.S_IRUSR | stat.S_IXUSR)
    yield folder
    folder.chmod(stat.S_IRWXU)


def test_an_unwritable_folder_is_refused(closed_folder: Path) -> None:
    with pytest.raises(DoseError, match="could not be written"):
        write_label(closed_folder / "dust.toml", TYPED, replace=False)


def test_building_needs_no_file() -> None:
    label = build_label({"product": "Dust", "material": "wettable-sulfur", "highest": "2 g/L"})
    assert [(limit.per, limit.judges, limit.lower) for limit in label.limits] == [
        ("solution", True, False)
    ]
