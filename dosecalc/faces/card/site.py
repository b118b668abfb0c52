"""The ground drawn to scale from what was told, so that the wrong bed is hard to pick."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import ceil, sqrt

from dosecalc.catalog.site import SiteText
from dosecalc.faces.card.data import Drawing, Shape
from dosecalc.faces.card.words import Words
from dosecalc.units import read
from dosecalc.units.measure import LENGTH, METER, Measure
from dosecalc.units.show import show

_LONGEST = 8.0
"""Drawn no longer than so many times its width: a strip of 40 m by 45 cm would be a hair."""
_CUT = 0.03
"""The stripe that shows where a longer one is cut, as a part of the length that is drawn."""
_MOST_STRIPS = 24
_MOST_DOTS = 60
_WHOLE = frozenset({"area", "layer", "spray volume", "medium volume"})
_EACH = {"plant": "card-site-each-plant", "pot": "card-site-each-pot"}
_BARS = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0)


def drawing(site: SiteText, basis: str, words: Words) -> Drawing | None:
    """The beds, rows, plants or pots that were told; None where only a size is known.

    What is marked as treated follows the recipe: a rate per row marks the rows, also those on a
    bed; a rate per area, layer or volume of spray marks the whole ground, where it is known; a
    rate per plant or pot marks the ground and says that each plant or pot gets its own.

    To scale, but for what the captions say was not told. What is longer than eight times its
    width is cut: a stripe across the middle, and no scale bar.

    Parameters
    ----------
    site : SiteText
        As typed, for a `Site` keeps of a bed its area only. It was read before, so that it can
        be, and is read here as it was there: by no system of measures.
    basis : str
        What the rate of the recipe is per; see ``catalog.recipe.Statement``.
    words : Words
    """
    found = None
    if site.bed is not None:
        found = _beds(site, basis, words)
    elif site.row is not None:
        found = _rows(site, basis, words)
    elif site.pots is not None:
        found = _dots(_count(site.pots), "pots", words)
    elif site.plants is not None:
        found = _dots(_count(site.plants), "plants", words)
    if found is not None and basis in _EACH:
        return replace(found, treated=words(_EACH[basis]))
    return found


def _beds(site: SiteText, basis: str, words: Words) -> Drawing:
    width, length = sorted(read.dimensions(site.bed or ""), key=_metres)
    path = _length(site.path)
    count = _count(site.beds)
    captions = [
        _said("bed", count, words, width=_shown(width, words), length=_shown(length, words))
    ]
    if site.rows_per_bed is not None:
        rows = _count(site.rows_per_bed) * count
        captions.append(_said("row", rows, words, length=_shown(length, words)))
    within: tuple[tuple[float, float], ...] = ((0.0, _metres(width)),)
    if basis == "row length":
        within = _on_the_bed(site, _metres(width), captions, words)
    if path is not None:
        captions.append(words("card-site-path", width=_shown(path, words)))
        gap, before = _metres(path), 0.0
    else:
        gap = _metres(width) / 4
        before = gap / 2
        if count > 1:
            captions.append(words("card-site-gap"))
    pitch = _metres(width) + gap
    treated = tuple((before + at, wide) for at, wide in within)
    between = None if path is None else (_metres(width), gap)
    return _strips(count, treated, pitch, _metres(length), captions, words, between)


def _on_the_bed(
    site: SiteText, width: float, captions: list[str], words: Words
) -> tuple[tuple[float, float], ...]:
    """Where the rows of a bed lie across it, and how wide each is."""
    rows = _count(site.rows_per_bed)
    share = width / rows
    band = _length(site.band)
    wide = share / 6 if band is None else min(_metres(band), share)
    if band is None:
        captions.append(words("card-site-wide"))
    else:
        captions.append(words("card-site-band", width=_shown(band, words)))
    return tuple((share * (at + 0.5) - wide / 2, wide) for at in range(rows))


def _rows(site: SiteText, basis: str, words: Words) -> Drawing:
    length = read.positive(site.row or "", LENGTH, want="a length", example="40 m")
    spacing, band = _length(site.row_spacing), _length(site.band)
    count = _count(site.rows)
    captions = [_said("row", count, words, length=_shown(length, words))]
    if spacing is not None:
        pitch = _metres(spacing)
        captions.append(words("card-site-spacing", width=_shown(spacing, words)))
    else:
        pitch = _metres(length) / max(_LONGEST, 2 * min(count, _MOST_STRIPS))
        if band is not None:
            pitch = max(pitch, 2 * _metres(band))
        if count > 1:
            captions.append(words("card-site-gap"))
    banded = basis == "spray volume" and band is not None
    if basis in _WHOLE and spacing is not None and not banded:
        wide = pitch
    elif band is not None:
        wide = _metres(band)
        captions.append(words("card-site-band", width=_shown(band, words)))
    else:
        wide = pitch / 6
        captions.append(words("card-site-wide"))
    treated = (((pitch - wide) / 2, wide),)
    return _strips(count, treated, pitch, _metres(length), captions, words)


def _strips(
    count: int,
    treated: tuple[tuple[float, float], ...],
    pitch: float,
    length: float,
    captions: list[str],
    words: Words,
    between: tuple[float, float] | None = None,
) -> Drawing:
    """Treated strips of one length, on one share of the ground after the other.

    Parameters
    ----------
    treated : tuple of (float, float)
        m: where each strip of a share begins, and how wide it is.
    pitch, length : float
        m; `pitch` is the width of one share.
    between : (float, float) or None
        m: the part of each share that is drawn as other ground, a path; None for bare ground.
    """
    drawn = min(count, _MOST_STRIPS)
    if drawn < count:
        captions.append(words("card-site-drawn", count=drawn))
    height = drawn * pitch
    shown = min(length, _LONGEST * height)
    short = shown < length
    shapes: list[Shape] = []
    for at in range(drawn):
        for before, wide in treated:
            shapes += _run(at * pitch + before, wide, shown, short, "treated")
        if between is not None:
            shapes += _run(at * pitch + between[0], between[1], shown, short, "other")
    if short:
        captions.append(words("card-site-short"))
        shapes.append(Shape(shown * (1 - _CUT) / 2, 0.0, shown * _CUT, height, "other"))
    bar = 0.0 if short else max((b for b in _BARS if b <= shown / 3), default=0.0)
    text = words.marked(f"{bar:g} m") if bar else ""
    legend = words("card-site-treated")
    return Drawing(shown, height, tuple(shapes), tuple(captions), bar, text, legend)


def _run(y: float, wide: float, shown: float, short: bool, kind: str) -> Iterator[Shape]:
    """A strip along the drawing, in two parts where it is cut."""
    if not short:
        yield Shape(0.0, y, shown, wide, kind)
        return
    part = shown * (1 - _CUT) / 2
    yield Shape(0.0, y, part, wide, kind)
    yield Shape(shown - part, y, part, wide, kind)


def _dots(count: int, what: str, words: Words) -> Drawing:
    """Plants or pots in a grid that is to no scale."""
    drawn = min(count, _MOST_DOTS)
    across = max(1, ceil(sqrt(drawn * 3)))
    down = ceil(drawn / across)
    shapes = tuple(
        Shape(at % across + 0.25, at // across + 0.25, 0.5, 0.5, "dot") for at in range(drawn)
    )
    captions = [_said(what, count, words)]
    if drawn < count:
        captions.append(words("card-site-drawn", count=drawn))
    treated = words("card-site-treated")
    return Drawing(float(across), float(down), shapes, tuple(captions), 0.0, "", treated)


def _said(what: str, count: int, words: Words, **args: str) -> str:
    many = "one" if count == 1 else "many"
    return words(f"card-site-{what}-{many}", count=count, **args)


def _count(text: str | None) -> int:
    """As the site reads it: "1,000" and "3.0" are counts too."""
    return 1 if text is None else int(read.number(text, "us"))


def _length(text: str | None) -> Measure | None:
    if text is None:
        return None
    return read.positive(text, LENGTH, want="a length", example="45 cm")


def _metres(length: Measure) -> float:
    return float(length.amount_in(METER))


def _shown(length: Measure, words: Words) -> str:
    return words.marked(show(length).both())
