"""The ground drawn to scale from what was told, so that the wrong bed is hard to pick."""

from __future__ import annotations

from math import ceil, sqrt

from dosecalc.catalog.site import SiteText
from dosecalc.faces.card.data import Drawing, Shape
from dosecalc.faces.card.words import Words
from dosecalc.units import read
from dosecalc.units.measure import LENGTH, METER, Measure
from dosecalc.units.show import show
from dosecalc.units.words import System

_LONGEST = 10.0
"""Drawn no longer than so many times its width: a strip of 40 m by 45 cm would be a hair."""
_MOST_STRIPS = 24
_MOST_DOTS = 60
_BARS = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0)


def drawing(site: SiteText, system: System | None, words: Words) -> Drawing | None:
    """The beds, rows, plants or pots that were told; None where only a size is known.

    Parameters
    ----------
    site : SiteText
        As typed; it was read before, so that it can be.
    system : System or None
    words : Words
    """
    if site.bed is not None:
        return _beds(site, system, words)
    if site.row is not None:
        return _rows(site, system, words)
    count = site.pots or site.plants
    if count is not None:
        return _dots(int(count), "pots" if site.pots else "plants", words)
    return None


def _beds(site: SiteText, system: System | None, words: Words) -> Drawing:
    one, other = read.dimensions(site.bed or "", system)
    width, length = sorted((one, other), key=_metres)
    path = _length(site.path, system)
    count = int(site.beds or "1")
    captions = [
        _said("bed", count, words, width=_shown(width, words), length=_shown(length, words))
    ]
    if path is not None:
        captions.append(words("card-site-path", width=_shown(path, words)))
    gap = _metres(path) if path is not None else _metres(width) / 4
    if count > 1 and path is None:
        captions.append(words("card-site-gap"))
    return _strips(count, _metres(width), gap, _metres(length), captions, words)


def _rows(site: SiteText, system: System | None, words: Words) -> Drawing:
    length = read.quantity(site.row or "", system)
    spacing, band = _length(site.row_spacing, system), _length(site.band, system)
    count = int(site.rows or "1")
    captions = [_said("row", count, words, length=_shown(length, words))]
    if spacing is not None:
        captions.append(words("card-site-spacing", width=_shown(spacing, words)))
    if band is not None:
        captions.append(words("card-site-band", width=_shown(band, words)))
    pitch = _metres(spacing) if spacing is not None else _metres(length) / 20
    wide = min(_metres(band), pitch) if band is not None else pitch / 6
    if count > 1 and spacing is None:
        captions.append(words("card-site-gap"))
    return _strips(count, wide, pitch - wide, _metres(length), captions, words)


def _strips(
    count: int, wide: float, gap: float, length: float, captions: list[str], words: Words
) -> Drawing:
    """Treated strips of one length, with ground between and beside them."""
    drawn = min(count, _MOST_STRIPS)
    if drawn < count:
        captions.append(words("card-site-drawn", count=drawn))
    height = drawn * wide + (drawn + 1) * gap
    shown = min(length, _LONGEST * height)
    if shown < length:
        captions.append(words("card-site-short"))
    shapes = tuple(
        Shape(0.0, gap + at * (wide + gap), shown, wide, "treated") for at in range(drawn)
    )
    bar = 0.0 if shown < length else max((b for b in _BARS if b <= shown / 3), default=0.0)
    text = words.marked(f"{bar:g} m") if bar else ""
    return Drawing(shown, height, shapes, tuple(captions), bar, text, words("card-site-treated"))


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


def _length(text: str | None, system: System | None) -> Measure | None:
    found = None if text is None else read.quantity(text, system)
    return found if found is not None and found.is_a(LENGTH) and found.value > 0 else None


def _metres(length: Measure) -> float:
    return float(length.amount_in(METER))


def _shown(length: Measure, words: Words) -> str:
    return words.marked(show(length).both())
