"""The garden file: found, checked, and never stronger than what was typed."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from dosecalc.catalog.garden import DEFAULT_FILE, Garden, read_garden
from dosecalc.catalog.site import SiteText
from dosecalc.catalog.told import ToldText
from dosecalc.catalog.tools import ToolsText
from dosecalc.errors import DoseError
from dosecalc.faces import job
from dosecalc.faces.done import Done
from dosecalc.faces.done import run as check
from dosecalc.units.measure import LITER, METER, ML, SQUARE_METER
from tests.catalog.test_files import HOSTILE

SALTMARSH = """\
name = "Saltmarsh Lane garden"
region = "UK"
label = ["soda-label.toml"]

[tools]
my_spoons = "imperial"
scale = "0.1 g to 500 g"
jug = "500 mL"
weighed = ["borax: ten level 5 mL spoons weigh 41 g"]

[sprayer.hand]
size = "2 L"
held = "weedkiller"

[sprayer.knapsack]
size = "15 L"
output = "400 L/ha"

[bed.beetroot-row]
row = "40 m"
row_spacing = "45 cm"
crop = "beetroot"

[bed.long-bed]
bed = "75 cm x 30 m"
path = "45 cm"
rows_per_bed = 3
crop = "carrot"
setting = "garden"
phase = "yearly"
"""
LABEL = 'product = "Saltmarsh soda"\nmaterial = "sodium-bicarbonate"\nhighest = "6 g/L"\n'


@pytest.fixture
def lane(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Saltmarsh Lane's folder, with its garden file, as the current one."""
    (tmp_path / DEFAULT_FILE).write_text(SALTMARSH, encoding="utf-8")
    (tmp_path / "soda-label.toml").write_text(LABEL, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def with_garden(site: SiteText | None = None, tools: ToolsText | None = None,
                told: ToldText | None = None, at: str | None = None,
                garden: str | None = None) -> job.Job:  # fmt: skip
    return filled(
        job.Job("leaf-spray-quart", site or SiteText(), tools or ToolsText(), told or ToldText(),
                garden=garden, at=at)
    )  # fmt: skip


def filled(typed: job.Job) -> job.Job:
    return job.with_garden(typed, job.garden_of(typed.garden))


# Found.


def test_no_file_is_no_garden(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    found = read_garden(None)
    assert found == Garden()
    assert found.path is None
    typed = job.Job("leaf-spray-quart", SiteText(), ToolsText())
    assert filled(typed) == typed


def test_the_file_of_the_current_folder_is_found(lane: Path) -> None:
    found = read_garden(None)
    assert found.path == Path(DEFAULT_FILE)
    assert found.data["name"] == "Saltmarsh Lane garden"


def test_a_named_file_goes_before_the_one_of_the_folder(lane: Path) -> None:
    other = lane / "other.toml"
    other.write_text('region = "EU"\n', encoding="utf-8")
    assert with_garden().told.region == "UK"
    assert with_garden(garden="other.toml").told.region == "EU"
    assert with_garden(garden=str(other)).tools == ToolsText()


def test_a_named_file_that_is_not_there_is_refused(lane: Path) -> None:
    with pytest.raises(DoseError, match=r"nowhere\.toml"):
        read_garden(Path("nowhere.toml"))


def test_a_folder_called_like_the_file_is_not_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / DEFAULT_FILE).mkdir()
    monkeypatch.chdir(tmp_path)
    assert read_garden(None) == Garden()


# Defaults that what is typed overrides.


def test_every_part_of_the_file_is_a_default(lane: Path) -> None:
    found = with_garden(at="long-bed", tools=ToolsText(sprayer="knapsack"))
    assert found.site == SiteText(bed="75 cm x 30 m", path="45 cm", rows_per_bed="3")
    assert found.told == ToldText(region="UK", crop="carrot", setting="garden", phase="yearly")
    assert found.tools == ToolsText(
        my_spoons="imperial", scale="0.1 g to 500 g", jug="500 mL", sprayer="knapsack",
        weighed=("borax: ten level 5 mL spoons weigh 41 g",),
    )  # fmt: skip
    assert found.labels == ("soda-label.toml",)


@pytest.mark.parametrize(
    ("kind", "field", "typed"),
    [
        ("site", "row", "12 m"), ("site", "row_spacing", "30 cm"), ("tools", "scale", "1 g"),
        ("tools", "scale", "none"), ("tools", "my_spoons", "us"), ("tools", "jug", "none"),
        ("tools", "weighed", ("borax: ten level 5 mL spoons weigh 35 g",)),
        ("told", "region", "US"), ("told", "crop", "swede"),
    ],
)  # fmt: skip
def test_what_is_typed_overrides_the_file(
    lane: Path, kind: str, field: str, typed: str | tuple[str, ...]
) -> None:
    parts = {"site": SiteText(), "tools": ToolsText(), "told": ToldText()}
    parts[kind] = type(parts[kind])(**{field: typed})
    found = with_garden(**parts, at="beetroot-row")
    free = with_garden(at="beetroot-row")
    assert getattr(getattr(found, kind), field) == typed
    assert getattr(getattr(free, kind), field) not in (typed, None)


def test_a_typed_label_stands_in_place_of_the_files(lane: Path) -> None:
    typed = job.Job("leaf-spray-quart", SiteText(), ToolsText(), labels=("mine.toml",))
    assert filled(typed).labels == ("mine.toml",)


def test_labels_lie_beside_the_garden_file(lane: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    below = lane / "shed"
    below.mkdir()
    monkeypatch.chdir(below)
    assert with_garden(garden="../garden.toml").labels == ("../soda-label.toml",)
    found = job.run(job.Job("leaf-spray-quart", SiteText(spray_volume="2 L"), ToolsText(),
                            garden="../garden.toml"))  # fmt: skip
    assert any("Saltmarsh soda" in finding.say.english() for finding in found.findings)


def test_organic_ground_is_said_once_for_all(lane: Path) -> None:
    assert not with_garden().told.organic
    (lane / DEFAULT_FILE).write_text("organic = true\n", encoding="utf-8")
    assert with_garden().told.organic


def test_no_bed_is_used_unless_it_is_named(lane: Path) -> None:
    found = with_garden()
    assert found.site == SiteText()
    assert found.told.crop is None


def test_a_named_sprayer_brings_its_size_and_what_it_held(lane: Path) -> None:
    found = job.run(job.Job("leaf-spray-quart", SiteText(), ToolsText(sprayer="hand")))
    assert found.liquid is not None
    assert found.liquid.amount_in(LITER) == 2
    assert "sprayer-held-herbicide" in [f.id for f in found.findings]
    rinsed = job.Job("leaf-spray-quart", SiteText(), ToolsText(sprayer="hand"),
                     ToldText(sprayer_held="baking soda"))  # fmt: skip
    assert "sprayer-held-herbicide" not in [f.id for f in job.run(rinsed).findings]
    assert job.gather(rinsed).tools.sprayer is not None


def test_a_bed_of_the_file_scales_a_job(lane: Path) -> None:
    found = job.run(job.Job("boron-drench", SiteText(), ToolsText(), at="beetroot-row"))
    site = dict(found.site)
    length, area = site["row_length"], site["area"]
    assert not isinstance(length, int)
    assert not isinstance(area, int)
    assert (length.amount_in(METER), area.amount_in(SQUARE_METER)) == (40, 18)
    assert found.tankfuls[0].measures[0].say.key == "do-weigh"


def test_check_reads_the_garden_too(lane: Path) -> None:
    found = check(Done(("34 g borax",), SiteText(), ToolsText(), water="2.8 L", at="beetroot-row"))
    assert found.worst == "over"
    amount = found.amounts[0].volume
    assert amount is not None
    assert amount.to(ML).likely == 40


# Refused.


def test_an_unknown_bed_is_named_with_those_that_are_there(lane: Path) -> None:
    with pytest.raises(DoseError) as refusal:
        with_garden(at="beetrot-row")
    assert "'beetrot-row'" in str(refusal.value)
    assert "beetroot-row, long-bed" in str(refusal.value)
    assert "--at" in str(refusal.value)


def test_a_bed_without_a_garden_file_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(DoseError, match=r"no bed called 'beetroot-row'.* none"):
        with_garden(at="beetroot-row")


def test_an_unknown_sprayer_is_named_with_those_that_are_there(lane: Path) -> None:
    with pytest.raises(DoseError) as refusal:
        job.gather(job.Job("leaf-spray-quart", SiteText(), ToolsText(sprayer="knapsak")))
    assert "knapsak" in str(refusal.value)
    assert "hand, knapsack" in str(refusal.value)


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("regoin = 'UK'", "did you mean 'region'"),
        ("region = 'Atlantis'", "region: 'Atlantis' is not one of"),
        ("name = 3", 'write "3"'),
        ("organic = 'yes'", "organic"),
        ("[tools]\nscale = 0.1", "tools, scale: 0.1 is not quoted text"),
        ("[tools]\nspoon = '5 mL'", "did you mean 'spoons'"),
        ("[sprayer.hand]\noutput = '1 L/ha'", "sprayer, hand, size: the key 'size' is missing"),
        ("[sprayer.'Big One']\nsize = '2 L'", "is not an id"),
        ("[bed.row]\nrows = 0", "bed, row, rows"),
        ("[bed.row]\nrows = 1.5", "bed, row, rows"),
        ("[bed.row]\nphase = 'never'", "bed, row, phase: 'never' is not one of"),
        ("bed = 3", "bed"),
        ("label = 'soda.toml'", "label"),
        ("[bed.x]\n[bed.x]\n", "is not TOML"),
    ],
)
def test_every_fault_has_its_place(tmp_path: Path, text: str, place: str) -> None:
    path = tmp_path / "garden.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(DoseError) as refusal:
        read_garden(path)
    assert "garden.toml" in str(refusal.value)
    assert place in str(refusal.value)


def test_several_faults_are_said_at_once(tmp_path: Path) -> None:
    path = tmp_path / "garden.toml"
    path.write_text("region = 'Atlantis'\n[tools]\nscale = 1\n[bed.a]\nrwo = '4 m'\n", "utf-8")
    with pytest.raises(DoseError) as refusal:
        read_garden(path)
    for word in ("Atlantis", "scale", "did you mean 'row'"):
        assert word in str(refusal.value)


EMPTY = frozenset({"nothing", "only a comment", "line ends alone"})
"""A garden file that says nothing is no fault: everything in it may be left out."""


@pytest.mark.parametrize("name", sorted(EMPTY))
def test_an_empty_file_says_nothing(tmp_path: Path, name: str) -> None:
    content = HOSTILE[name]
    assert isinstance(content, str)
    path = tmp_path / "garden.toml"
    path.write_text(content, encoding="utf-8")
    assert read_garden(path).data == {}


@pytest.mark.parametrize("name", sorted(HOSTILE.keys() - EMPTY))
def test_a_hostile_file_is_one_sentence(tmp_path: Path, name: str) -> None:
    path = tmp_path / "garden.toml"
    content = HOSTILE[name]
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    with pytest.raises(DoseError) as refusal:
        read_garden(path)
    assert "\n" not in str(refusal.value)
    assert str(refusal.value).isprintable()
    assert len(str(refusal.value)) < 2000


@pytest.mark.parametrize("what", ["folder", "pipe"])
def test_what_is_no_file_is_refused(tmp_path: Path, what: str) -> None:
    path = tmp_path / "garden.toml"
    if what == "folder":
        path.mkdir()
    else:
        os.mkfifo(path)
    with pytest.raises(DoseError, match="cannot be read"):
        read_garden(path)


# Values that are well formed and still cannot be: said when they are used, in one sentence.


@pytest.mark.parametrize(
    ("sprayer", "sentence"),
    [
        ('size = "0 L"', "must be more than zero"),
        ('size = "2 kg"', "sprayer"),
        ('size = "15 L"\noutput = "0 L/ha"', "must be more than zero"),
        ('size = "15 L"\noutput = "-4 L/ha"', "no number"),
        ('size = "15 L"\noutput = "25 g/m2"', ""),
        ('size = "15 L"\noutput = "much"', "no number"),
        ('size = "15 L"\nalong_row = "0 mL/m"', ""),
        ('size = "15 L"\nheld = "unobtainium"', "not a known material"),
    ],
)
def test_a_sprayer_that_cannot_be(lane: Path, sprayer: str, sentence: str) -> None:
    text = SALTMARSH + f"\n[sprayer.odd]\n{sprayer}\n"
    (lane / DEFAULT_FILE).write_text(text, encoding="utf-8")
    with pytest.raises(DoseError) as refusal:
        job.run(
            job.Job("leaf-spray-quart", SiteText(), ToolsText(sprayer="odd"), at="beetroot-row")
        )
    assert sentence in str(refusal.value)


@pytest.mark.parametrize("bed", ['row = "0 m"', 'row = "40"', 'bed = "30 m"', 'area = "18 m"'])
def test_a_bed_that_cannot_be(lane: Path, bed: str) -> None:
    (lane / DEFAULT_FILE).write_text(f"[bed.odd]\n{bed}\n", encoding="utf-8")
    with pytest.raises(DoseError):
        job.run(job.Job("boron-drench", SiteText(), ToolsText(), at="odd"))
