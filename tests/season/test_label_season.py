"""What a label allows in a season counts the record; the label of another product is silent."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest

from dosecalc.catalog.site import SiteText
from dosecalc.catalog.told import ToldText
from dosecalc.catalog.tools import ToolsText
from dosecalc.dose.result import Mix
from dosecalc.faces.job import Job, run
from dosecalc.faces.record import Record, entry_of
from dosecalc.season.entries import add
from dosecalc.season.store import writing

SULFUR = 'product = "Saltmarsh dust"\nmaterial = "wettable-sulfur"\n'
OIL = 'product = "Saltmarsh oil"\nmaterial = "horticultural-oil"\n'


def label(folder: Path, rest: str, head: str = SULFUR) -> str:
    path = folder / f"{head.split()[3]}.toml"
    path.write_text(head + rest, encoding="utf-8")
    return str(path)


def sprayed(day: str, file: Path | None, *labels: str) -> Mix:
    record = None if file is None else Record(file, "north", datetime.date.fromisoformat(day))
    site = SiteText(area="100 m2", spray_volume="10 L")
    told = ToldText(crop="apple")
    return run(Job("wettable-sulfur-apple", site, ToolsText(), told, labels, record=record))


@pytest.fixture
def three(tmp_path: Path) -> Path:
    """The record of three sprays on one place; each brings 112 g of wettable sulfur on 100 m2."""
    file = tmp_path / "s.sqlite"
    with writing(file) as base:
        for day in ("2027-05-01", "2027-05-11", "2027-05-21"):
            add(base, entry_of(sprayed(day, None), "foliar", "apple", day=day, bed="north"))
    return file


def levels(mix: Mix, key: str) -> list[str]:
    return [f.level for f in mix.findings if f.id == f"label-wettable-sulfur-{key}"]


@pytest.mark.parametrize(("times", "level"), [(3, "over"), (4, "within"), (9, "within")])
def test_how_often_a_label_allows_counts_the_record(
    three: Path, tmp_path: Path, times: int, level: str
) -> None:
    """Three were given in May: the one in June is the fourth."""
    assert levels(sprayed("2027-06-10", three, label(tmp_path, f"times = {times}")), "times") == [
        level
    ]  # fmt: skip


def test_the_next_season_begins_anew(three: Path, tmp_path: Path) -> None:
    assert levels(sprayed("2028-01-01", three, label(tmp_path, "times = 3")), "times") == []


@pytest.mark.parametrize(("most", "level"), [("44 kg/ha", "over"), ("48 kg/ha", "within")])
def test_how_much_a_label_allows_in_a_season_counts_the_record(
    three: Path, tmp_path: Path, most: str, level: str
) -> None:
    """10 lb on an acre of 4046.8564224 m2 are 11.2 kg/ha; 4 times, 44.8."""
    found = sprayed("2027-06-10", three, label(tmp_path, f'most_season = "{most}"'))
    assert levels(found, "most-season") == [level]


def test_a_label_of_a_product_that_is_not_in_the_mix_says_no_wait(tmp_path: Path) -> None:
    waits = 'harvest_wait = "60 days"\nentry_wait = "24 h"\ninterval = "9 days"\n'
    mine, other = label(tmp_path, waits), label(tmp_path, waits, OIL)
    said = [say.english() for say in sprayed("2027-05-01", None, mine, other).waits]
    assert sum("Saltmarsh dust" in line for line in said) == 3
    assert [line for line in said if "Saltmarsh oil" in line] == []


def test_a_product_of_ones_own_comes_again_too_soon_by_the_record(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A bag that is like nothing on file: its recipe's own interval is held all the same."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "garden.toml").write_text(
        '[product.bag]\nanalysis = "6-0-0"\nform = "granules"\n', encoding="utf-8"
    )
    (tmp_path / "bag.toml").write_text(
        'name = "Bag"\npurpose = "Feed"\nhow = "broadcast"\nplacement = "broadcast"\n'
        'practice = "common practice, no source"\n[[statement]]\nbasis = "area"\nper = "1 m2"\n'
        '[[statement.ingredient]]\nmaterial = "bag"\namount = "20 g"\nrole = "feed"\n'
        '[repeat]\ninterval = "21 days"\n',
        encoding="utf-8",
    )
    file = tmp_path / "s.sqlite"

    def made(day: str, record: bool = True) -> Mix:
        kept = Record(file, "north", datetime.date.fromisoformat(day)) if record else None
        return run(Job("./bag.toml", SiteText(area="10 m2"), ToolsText(), record=kept))

    with writing(file) as base:
        first = made("2027-05-01", record=False)
        add(base, entry_of(first, "broadcast", "", day="2027-05-01", bed="north"))
    assert [f.why for f in made("2027-05-11").findings if f.level == "caution"] == ["too-soon"]
    assert [f.why for f in made("2027-05-22").findings if f.why == "too-soon"] == []
    (tmp_path / "garden.toml").unlink()  # a garden that is gone is no reason to stumble
    assert sprayed("2027-05-11", file).findings is not None
