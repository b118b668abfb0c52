"""The drawing of the ground: inside its frame, to scale, the treated part as large as told."""

from __future__ import annotations

from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosecalc.catalog.site import SiteText, read_site
from dosecalc.faces.card.data import Drawing
from dosecalc.faces.card.site import drawing
from dosecalc.faces.card.words import Words

CM = st.integers(10, 4000)


def drawn(**typed: str) -> Drawing:
    read_site(SiteText(**typed))  # what cannot be read is never drawn
    found = drawing(SiteText(**typed), None, Words())
    assert found is not None
    return found


def treated(found: Drawing) -> float:
    return sum(one.width * one.height for one in found.shapes if one.kind == "treated")


def inside(found: Drawing) -> bool:
    return all(
        one.x >= 0 and one.y >= 0 and one.width > 0 and one.height > 0
        and one.x + one.width <= found.width + 1e-9
        and one.y + one.height <= found.height + 1e-9
        for one in found.shapes
    )  # fmt: skip


@given(CM, CM, st.integers(1, 20), st.none() | CM)
def test_beds_are_as_large_as_told(width: int, length: int, beds: int, path: int | None) -> None:
    typed = {"bed": f"{width} cm x {length} cm", "beds": str(beds)}
    if path is not None:
        typed["path"] = f"{path} cm"
    found = drawn(**typed)
    assert inside(found)
    assert len(found.shapes) == beds
    if found.width * 100 >= max(width, length) - 1e-6:
        assert isclose(treated(found) * 10_000, width * length * beds, rel_tol=1e-9)
    else:
        assert "The length is drawn shorter than it is." in found.captions
        assert found.bar == 0


@given(CM, st.integers(1, 24), st.integers(20, 200), st.integers(5, 20))
def test_rows_are_bands_on_their_ground(length: int, rows: int, apart: int, band: int) -> None:
    found = drawn(row=f"{length} cm", rows=str(rows), row_spacing=f"{apart} cm", band=f"{band} cm")
    assert inside(found)
    assert len(found.shapes) == rows
    assert all(isclose(one.height * 100, band) for one in found.shapes)
    below = [two.y - one.y for one, two in zip(found.shapes, found.shapes[1:], strict=False)]
    assert all(isclose(step * 100, apart) for step in below)


@pytest.mark.parametrize("what", ["plants", "pots"])
@given(count=st.integers(1, 1000))
def test_plants_and_pots_are_dots_that_are_counted(what: str, count: int) -> None:
    typed = {what: str(count)}
    if what == "pots":
        typed["pot_size"] = "2 L"
    found = drawn(**typed)
    assert inside(found)
    assert len(found.shapes) == min(count, 60)
    assert found.captions[0].startswith(f"{count} ")
    assert (len(found.captions) == 2) == (count > 60)


def test_what_was_not_told_is_said_and_not_drawn_to_scale() -> None:
    assert "How far apart they lie was not told" in " ".join(drawn(row="4 m", rows="2").captions)
    assert drawing(SiteText(area="10 m2"), None, Words()) is None
    assert drawing(SiteText(), None, Words()) is None


def test_the_scale_bar_is_shorter_than_a_third_of_the_ground() -> None:
    found = drawn(bed="1.2 m x 8 m")
    assert (found.bar, found.bar_text) == (2.0, "2 m")
    assert found.captions == ("1 bed, 1.2 m (3.94 ft) by 8 m (26.2 ft).",)
