"""The card on paper, read back and looked at: every word is there, nothing overlaps."""

from __future__ import annotations

import dataclasses
import io
import re
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path
from typing import Literal

import pypdfium2
import pytest
from fontTools.ttLib import TTFont
from pypdf import PdfReader

from dosecalc.catalog.site import SiteText
from dosecalc.catalog.told import ToldText
from dosecalc.catalog.tools import ToolsText
from dosecalc.faces.card import render as paper_of
from dosecalc.faces.card.build import Told, build
from dosecalc.faces.card.data import Band, Card, Filling, Line, Section
from dosecalc.faces.card.make import Asked, card_of
from dosecalc.faces.card.render import PAPERS, render
from dosecalc.faces.card.words import Words
from dosecalc.faces.job import Job, run

MM = 72 / 25.4
FONTS = Path(paper_of.__file__).parent / "fonts"


@cache
def drench() -> Card:
    job = Job(
        "boron-drench", SiteText(row="40 m", rows="3", row_spacing="45 cm"), ToolsText(),
        ToldText(crop="beetroot", region="US"),
    )  # fmt: skip
    return card_of(job, run(job), Asked(place="Saltmarsh Lane, north", date="2027-05-02"))


@cache
def spray() -> Card:
    job = Job("leaf-spray-oil", SiteText(), ToolsText(sprayer="2 L"), ToldText(region="US"))
    return build(run(job), Told(), Words())


@cache
def crowded() -> Card:
    """Ten materials, twelve fillings, names without end."""
    name = "Calciumammoniumnitratewithsulfurandalongtradename" * 2
    lines = tuple(Line(f"{name} {n}", f"Weigh {n}35.5 g", "1.25 ounces") for n in range(10))
    fillings = tuple(
        Filling(f"Filling {n} of 12: 15 litres", ("Make 20 litres of it",), lines, (), 1)
        for n in range(1, 13)
    )
    return dataclasses.replace(
        drench(), title=f"{name} for {name}", where=Line("Where", f"{name} {name}"),
        fillings=fillings, boxed=(f"{name}: take care",) * 3,
        bands=(Band("STOP", f"{name} and {name} must not meet."), *drench().bands),
        steps=Section("In this order", ("Stir " * 40,) * 10),
    )  # fmt: skip


CARDS = {"drench": drench, "spray": spray, "crowded": crowded}


def strings(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        for field in dataclasses.fields(value):
            yield from strings(getattr(value, field.name))
    elif isinstance(value, tuple):
        for item in value:
            yield from strings(item)


def squeezed(text: str) -> str:
    return re.sub(r"[\s\u00a0\u200b\u00ad]", "", text)


def read_back(pdf: bytes) -> list[str]:
    return [page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages]


def boxes_of(page: pypdfium2.PdfPage) -> list[tuple[float, float, float, float]]:
    text = page.get_textpage()
    return [text.get_rect(n) for n in range(text.count_rects())]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", CARDS)
def test_every_word_of_the_card_is_on_the_paper(name: str, paper: str) -> None:
    card = CARDS[name]()
    text = squeezed("".join(read_back(render([card], form="pdf", paper=paper)[0])))
    assert "\x00" not in text
    assert "(cid:" not in text
    shown = dataclasses.replace(card, language="")
    for said in strings(shown):
        if said not in ("treated", "other", "dot"):
            assert squeezed(said) in text, said


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", CARDS)
def test_nothing_overlaps_and_nothing_falls_off(name: str, paper: str) -> None:
    pdf = render([CARDS[name]()], form="pdf", paper=paper)[0]
    for page in pypdfium2.PdfDocument(pdf):
        width, height = page.get_size()
        boxes = boxes_of(page)
        for left, bottom, right, top in boxes:
            assert left > 4 * MM
            assert right < width - 4 * MM
            assert bottom > 4 * MM
            assert top < height - 4 * MM
        for at, one in enumerate(boxes):
            for other in boxes[at + 1 :]:
                across = min(one[2], other[2]) - max(one[0], other[0])
                down = min(one[3], other[3]) - max(one[1], other[1])
                assert across < 1 or down < 1, (one, other)
        picture = page.render(scale=1).to_pil().convert("L")
        edge = 3 * MM
        for box in (
            (0, 0, width, edge), (0, height - edge, width, height), (0, 0, edge, height),
            (width - edge, 0, width, height),
        ):  # fmt: skip
            assert picture.crop(tuple(map(int, box))).getextrema() == (255, 255)


@pytest.mark.parametrize("paper", ["a6", "a5", "half-letter"])
def test_every_page_of_a_long_front_carries_the_bands(paper: str) -> None:
    card = crowded()
    pages = read_back(render([card], form="pdf", paper=paper)[0])
    back = squeezed(card.record.title)
    front = pages[: next(n for n, page in enumerate(pages) if back in squeezed(page))]
    assert len(front) > 1
    for page in front:
        for band in card.bands:
            assert squeezed(band.level + band.text) in squeezed(page)


def test_what_to_measure_is_big_enough_to_read_at_arm_s_length() -> None:
    """14 pt on A5: capitals of about 3.3 mm at 70 cm; nothing is under 7 pt."""
    found: list[tuple[str, float]] = []

    def look(text: str, _cm: object, matrix: Sequence[float], _font: object, size: float) -> None:
        found.append((text, size * matrix[3]))

    pdf = render([drench()], form="pdf", paper="a5")[0]
    PdfReader(io.BytesIO(pdf)).pages[0].extract_text(visitor_text=look)
    big = "".join(text for text, size in found if abs(size) >= 14)
    for filling in drench().fillings:
        for line in filling.lines:
            assert squeezed(line.text) in squeezed(big)
    assert min(abs(size) for text, size in found if text.strip()) >= 7


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", CARDS)
def test_no_text_is_under_seven_points(name: str, paper: str) -> None:
    found: list[float] = []

    def look(text: str, _cm: object, matrix: Sequence[float], _font: object, size: float) -> None:
        if text.strip():
            found.append(abs(size * matrix[3]))

    for page in PdfReader(io.BytesIO(render([CARDS[name]()], form="pdf", paper=paper)[0])).pages:
        page.extract_text(visitor_text=look)
    assert len(found) > 20
    assert min(found) >= 6.99  # the file keeps sizes as decimals


def test_the_same_card_gives_the_same_bytes() -> None:
    forms: tuple[Literal["pdf", "png", "svg"], ...] = ("pdf", "png", "svg")
    for form in forms:
        one = render([drench()], form=form, paper="a5")
        assert one == render([drench()], form=form, paper="a5")
        assert len(one) == (1 if form == "pdf" else 2)


def test_the_pdf_is_tagged_has_a_title_and_a_language() -> None:
    reader = PdfReader(io.BytesIO(render([drench()], form="pdf", paper="a5")[0]))
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert reader.metadata is not None
    assert reader.metadata.title == drench().title


@pytest.mark.parametrize("place", ["שדה צפוני", "Шпинат", "bed \U0001f966", "a\u202eb", "1 \u2153"])
def test_a_letter_without_a_shape_is_refused_by_name(place: str) -> None:
    card = dataclasses.replace(drench(), where=Line("Where", place))
    with pytest.raises(ValueError, match="has no shape in the font"):
        render([card], form="pdf", paper="a5")


def test_the_letters_on_file_are_those_of_the_fonts() -> None:
    shapes = [set(TTFont(path).getBestCmap()) for path in sorted(FONTS.glob("*.ttf"))]
    assert len(shapes) == 4
    known = {ord(char) for char in (FONTS / "letters.txt").read_text("utf-8")}
    assert known <= set.intersection(*shapes)
    assert {ord(char) for char in "aZ09ñáéíóúü¿¡%()'\u00a0"} <= known


@pytest.mark.parametrize(("paper", "sheet"), [("a4", 2), ("a4", 4), ("letter", 2), ("letter", 4)])
def test_several_cards_on_a_sheet_with_their_backs_behind_them(paper: str, sheet: int) -> None:
    short = dataclasses.replace(
        spray(), care=(), need=(), back=(), steps=Section("In this order", ("Shake.",))
    )
    cards = [dataclasses.replace(short, title=f"Card {n}") for n in range(sheet)]
    pages = read_back(render(cards, form="pdf", paper=paper, sheet=sheet)[0])
    assert len(pages) == 2
    for card in cards:
        assert card.title in pages[0]


def places_of(page: pypdfium2.PdfPage, titles: Sequence[str]) -> list[tuple[bool, bool]]:
    """For each title whether it stands on the right half and on the upper half of a page."""
    width, height = page.get_size()
    text = page.get_textpage()
    found = []
    for title in titles:
        at = text.search(title).get_next()
        assert at is not None, title
        left, bottom, _, _ = text.get_charbox(at[0])
        found.append((left > width / 2, bottom > height / 2))
    return found


@pytest.mark.parametrize("sheet", [2, 4])
def test_a_sheet_turned_over_its_long_edge_has_each_back_behind_its_own_front(sheet: int) -> None:
    """A tall page turned so changes left and right; a wide one is turned over its top."""
    short = dataclasses.replace(
        spray(), boxed=(), care=(), need=(), back=(), steps=Section("In order", ("Shake.",))
    )
    titles = [f"Card {n}" for n in range(sheet)]
    cards = [dataclasses.replace(short, title=title) for title in titles]
    front, back = pypdfium2.PdfDocument(render(cards, form="pdf", paper="a4", sheet=sheet)[0])
    wide = front.get_width() > front.get_height()
    behind = [
        (right, not upper) if wide else (not right, upper)
        for right, upper in places_of(front, titles)
    ]
    if wide:  # one row: top and bottom are not told apart
        assert [right for right, _ in places_of(back, titles)] == [right for right, _ in behind]
    else:
        assert places_of(back, titles) == behind


@pytest.mark.parametrize("paper", ["a6", "a5"])
def test_no_amount_stands_on_a_page_without_its_filling(paper: str) -> None:
    card = crowded()
    seen = 0
    for page in read_back(render([card], form="pdf", paper=paper)[0]):
        first = re.search(r"Weigh\s\d35|Filling\s\d+\sof\s12", page)
        if first:
            assert first.group().startswith("Filling"), page
            seen += 1
    assert seen > 3


def test_the_pages_of_a_card_are_counted_and_each_says_whose_it_is() -> None:
    cards = [drench(), dataclasses.replace(crowded(), title="Another one"), drench()]
    pages = read_back(render(cards, form="pdf", paper="a5")[0])
    long = len(pages) - 4
    counts = [(1, 2), (2, 2), *((n, long) for n in range(1, long + 1)), (1, 2), (2, 2)]
    for page, (n, of) in zip(pages, counts, strict=True):
        title = "Another one" if of == long else drench().title
        assert re.search(rf"(?<!\d){n}/{of}(?!\d)", page), page
        assert squeezed(title) in squeezed(page)


@pytest.mark.parametrize("paper", ["a6", "a5", "a4"])
def test_no_line_ends_inside_a_unit(paper: str) -> None:
    """Sixty lines of growing length, so that every place of the unit comes to the edge."""
    lines = tuple(f"{'n' * (n % 20)} {'so ' * n}1.46 g/L 0.104 oz/100 ft" for n in range(60))
    card = dataclasses.replace(drench(), back=(Section("Held against", lines),))
    text = "\n".join(read_back(render([card], form="pdf", paper=paper)[0])).replace("\u00a0", " ")
    assert len(re.findall(r"1\.46 g/L", text)) == len(lines)
    assert len(re.findall(r"0\.104 oz/100 ft", text)) == len(lines)


def test_a_heading_with_nothing_under_it_is_left_out() -> None:
    bare = dataclasses.replace(drench(), need=(), steps=Section("In this order", ()))
    text = "".join(read_back(render([bare], form="pdf", paper="a5")[0]))
    assert bare.need_title not in text
    assert "In this order" not in text


def test_a_card_too_big_for_its_part_of_a_sheet_is_refused() -> None:
    with pytest.raises(ValueError, match="does not fit its part"):
        render([crowded()], form="pdf", paper="a4", sheet=4)
