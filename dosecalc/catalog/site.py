"""`Site`: the grower's own ground, plants or pots, from what they type about it."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from dosecalc.errors import refuse
from dosecalc.say import Say
from dosecalc.units import read
from dosecalc.units.measure import (
    AREA,
    LENGTH,
    LITER,
    METER,
    PI,
    SQUARE_METER,
    VOLUME,
    Measure,
    exact_text,
)
from dosecalc.units.show import show
from dosecalc.units.words import System

ONE_METER = Measure(Fraction(1), METER)
MOST_LENGTH = Measure(Fraction(100_000), METER)
MOST_AREA = Measure(Fraction(100_000_000), SQUARE_METER)
MOST_VOLUME = Measure(Fraction(10_000_000), LITER)
MOST_COUNT = 10_000_000
_VOLUME_PER_AREA = (("[length]", 1),)


@dataclass(frozen=True, slots=True)
class SiteText:
    """What was typed about the site: every field as text, None where nothing was said."""

    row: str | None = None
    rows: str | None = None
    row_spacing: str | None = None
    plant_spacing: str | None = None
    bed: str | None = None
    path: str | None = None
    rows_per_bed: str | None = None
    beds: str | None = None
    area: str | None = None
    shape: str | None = None
    band: str | None = None
    plants: str | None = None
    pots: str | None = None
    pot_size: str | None = None
    medium_volume: str | None = None
    layer: str | None = None
    spray_volume: str | None = None


@dataclass(frozen=True, slots=True)
class Site:
    """The ground a recipe is scaled to. Lengths, areas and volumes are exact.

    Parameters
    ----------
    row_length : Measure or None
        All rows together.
    rows : int or None
    row_spacing : Measure or None
        Middle of row to middle of row; from the bed where that was told instead.
    spacing_told : bool
        False where the spacing was worked out from the bed.
    area : Measure or None
        The ground that is treated: the bed top, or the area told.
    gross_area : Measure or None
        With its paths.
    band_width : Measure or None
        The strip that is treated along each row.
    plants, pots : int or None
    pot_size, medium_volume : Measure or None
    layer : Measure or None
        A depth that replaces the recipe's.
    spray : Measure or None
        A volume, or a volume per area, of spray.
    said : tuple of Say
        How the pieces were put together ("3 rows x 40 m = 120 m of row").
    """

    row_length: Measure | None = None
    rows: int | None = None
    row_spacing: Measure | None = None
    spacing_told: bool = False
    area: Measure | None = None
    gross_area: Measure | None = None
    band_width: Measure | None = None
    plants: int | None = None
    pots: int | None = None
    pot_size: Measure | None = None
    medium_volume: Measure | None = None
    layer: Measure | None = None
    spray: Measure | None = None
    said: tuple[Say, ...] = ()

    @property
    def ground(self) -> Measure | None:
        """The area to spread over: told, or row length times row spacing."""
        if self.area is not None:
            return self.area
        if self.row_length is not None and self.row_spacing is not None:
            return (self.row_length * self.row_spacing).to(SQUARE_METER)
        return None

    @property
    def judged_area(self) -> Measure | None:
        """The area that a dose is counted over: for rows their share, at most 1 m wide."""
        if self.gross_area is not None and not self.spacing_told:
            return self.gross_area
        if self.row_length is not None and self.row_spacing is not None:
            share = min(self.row_spacing.to(METER), ONE_METER, key=lambda m: m.value)
            return (self.row_length * share).to(SQUARE_METER)
        return self.area

    def counted_over_the_top(self) -> Site:
        """The same site where what is spread stays on the bed top: paths thin nothing."""
        if self.gross_area is None or self.area is None:
            return self
        return replace(self, gross_area=self.area, spacing_told=False)

    @property
    def band_area(self) -> Measure | None:
        """Row length times band width."""
        if self.row_length is None or self.band_width is None:
            return None
        return (self.row_length * self.band_width).to(SQUARE_METER)


def read_site(text: SiteText, system: System | None = None) -> Site:
    """Build a `Site` from typed text.

    Parameters
    ----------
    text : SiteText
    system : {"us", "imperial", "metric", "australian"} or None
        Whose gallons and cups a typed volume speaks.

    Raises
    ------
    DoseError
        For the first piece that cannot be read or does not fit the others.
    """
    said: list[Say] = []
    rows = _count(text.rows, "--rows", "3")
    row_length = one = _length(text.row, "--row", "40 m")
    if rows is not None and one is None:
        raise refuse("site-rows-length")
    if one is not None and rows is not None and rows > 1:
        row_length = one * rows
        said.append(
            Say.of("site-rows", rows=rows, one=show(one).metric, total=show(row_length).metric)
        )
    area, gross, bed_rows = _ground(text, said)
    spacing = _length(text.row_spacing, "--row-spacing", "45 cm")
    told = spacing is not None
    if bed_rows is not None:
        if one is not None:
            raise refuse("site-row-and-bed")
        row_length = bed_rows
        assert gross is not None
        if spacing is None:
            spacing = (gross / row_length).to(METER)
    plant_spacing = _length(text.plant_spacing, "--plant-spacing", "30 cm")
    plants = _count(text.plants, "--plants", "12")
    if plants is None and plant_spacing is not None:
        plants = _plants(row_length, area, spacing, plant_spacing, said)
    pots = _count(text.pots, "--pots", "12")
    pot_size = _volume(text.pot_size, "--pot-size", "2 L", system)
    medium = _volume(text.medium_volume, "--medium-volume", "60 L", system)
    if medium is None and pots is not None and pot_size is not None:
        medium = pot_size * pots
        said.append(
            Say.of("site-pots", pots=pots, size=show(pot_size).metric, total=show(medium).metric)
        )
    site = Site(
        row_length=row_length,
        rows=rows,
        row_spacing=spacing,
        spacing_told=told,
        area=area,
        gross_area=gross,
        band_width=_length(text.band, "--band", "30 cm"),
        plants=plants,
        pots=pots,
        pot_size=pot_size,
        medium_volume=medium,
        layer=_length(text.layer, "--layer", "5 cm"),
        spray=_spray(text.spray_volume, system),
        said=tuple(said),
    )
    _check_size(site)
    return site


def _check_size(site: Site) -> None:
    for measure, most in (
        (site.row_length, MOST_LENGTH), (site.area, MOST_AREA), (site.gross_area, MOST_AREA),
        (site.ground, MOST_AREA), (site.medium_volume, MOST_VOLUME),
        (site.layer, Measure(Fraction(10), METER)),
    ):  # fmt: skip
        if measure is not None and most < measure:
            raise refuse("site-absurd", text=exact_text(measure), most=exact_text(most))
    width, spacing = site.band_width, site.row_spacing
    if width is not None and spacing is not None and spacing < width:
        raise refuse("site-band-wide", band=exact_text(width), spacing=exact_text(spacing))


def _length(text: str | None, option: str, example: str) -> Measure | None:
    if text is None:
        return None
    return read.positive(text, LENGTH, want=f"a length for {option}", example=example)


def _volume(text: str | None, option: str, example: str, system: System | None) -> Measure | None:
    if text is None:
        return None
    return read.positive(
        text, VOLUME, system, want=f"a volume for {option}", example=example, oz_is="doubt"
    )


def _count(text: str | None, option: str, example: str) -> int | None:
    if text is None:
        return None
    value = read.number(text, "us", example=example)
    if value <= 0 or value.denominator != 1 or value > MOST_COUNT:
        raise refuse("site-count", text=text, option=option, example=example, most=MOST_COUNT)
    return int(value)


def _spray(text: str | None, system: System | None) -> Measure | None:
    if text is None:
        return None
    measure = read.quantity(text, system, want="a spray volume", example="2 L", oz_is="doubt")
    rate = any(power < 0 for _, power in measure.unit) and measure.is_a(_VOLUME_PER_AREA)
    if measure.value <= 0 or not (measure.is_a(VOLUME) or rate):
        raise refuse("site-spray", text=text)
    return measure


def _plants(
    row_length: Measure | None,
    area: Measure | None,
    row_spacing: Measure | None,
    plant_spacing: Measure,
    said: list[Say],
) -> int | None:
    if row_length is not None:
        many = row_length / plant_spacing
    elif area is not None and row_spacing is not None:
        many = area / (row_spacing * plant_spacing)
    else:
        raise refuse("site-plant-spacing")
    count = int(many.amount_in(()))
    if count < 1:
        raise refuse("site-no-plant", spacing=exact_text(plant_spacing))
    said.append(Say.of("site-plants", plants=count, spacing=show(plant_spacing).metric))
    return count


def _ground(
    text: SiteText, said: list[Say]
) -> tuple[Measure | None, Measure | None, Measure | None]:
    """Treated area, area with paths, and the length of row that a bed holds."""
    given = [name for name in ("bed", "area", "shape") if getattr(text, name) is not None]
    if len(given) > 1:
        raise refuse("site-two-areas", first=f"--{given[0]}", second=f"--{given[1]}")
    per_bed = _count(text.rows_per_bed, "--rows-per-bed", "3")
    path = _length(text.path, "--path", "45 cm")
    beds = _count(text.beds, "--beds", "4") or 1
    if text.bed is None and (per_bed is not None or path is not None or text.beds is not None):
        raise refuse("site-needs-bed")
    if text.area is not None:
        area = read.positive(text.area, AREA, want="an area", example="18 m2")
        return area.to(SQUARE_METER), None, None
    if text.shape is not None:
        area = read_shape(text.shape)
        said.append(Say.of("site-shape", shape=text.shape, area=show(area).metric))
        return area, None, None
    if text.bed is None:
        return None, None, None
    sides = read.dimensions(text.bed)
    if len(sides) != 2:
        raise refuse("site-bed-form", text=text.bed)
    width, length = sorted(sides, key=lambda side: side.amount_in(METER))
    top = (width * length * beds).to(SQUARE_METER)
    gross = top if path is None else ((width + path) * length * beds).to(SQUARE_METER)
    said.append(
        Say.of(
            "site-bed" if path is not None else "site-bed-alone",
            beds="1 bed" if beds == 1 else f"{beds} beds",
            width=show(width).metric,
            length=show(length).metric,
            top=show(top).metric,
            gross=show(gross).metric,
        )
    )
    if per_bed is None:
        return top, None if path is None else gross, None
    row_length = length * per_bed * beds
    said.append(
        Say.of(
            "site-bed-rows",
            rows=per_bed * beds,
            one=show(length).metric,
            total=show(row_length).metric,
        )
    )
    return top, gross, row_length


_SHAPE = re.compile(r"(circle|ring|triangle|trapezoid|polygon|offsets) *:? *(.+)")
_AND = r"(?:, *(?:and )?| and )"
SHAPE_EXAMPLE = (
    "'circle: diameter 4 m', 'ring: outer 4 m, inner 2 m', 'triangle: base 4 m, height 3 m',"
    " 'trapezoid: sides 6 m and 4 m, height 3 m', 'polygon: 0 0, 4 0, 4 3 m' or"
    " 'offsets: every 2 m, widths 3 m, 3.5 m, 4 m'"
)


def read_shape(text: str) -> Measure:
    """The area of a shape written in words, in square metres. Round ones use 35 digits of pi.

    Parameters
    ----------
    text : str
        circle (diameter or radius), ring (outer and inner diameter), triangle, trapezoid,
        polygon (corners), offsets (widths at equal steps along a base line, by the
        trapezoidal rule).

    Raises
    ------
    DoseError
        For anything else, or a shape without area.
    """
    clean = read.tidy(text, "a shape", "circle: diameter 4 m")
    match = _SHAPE.fullmatch(clean.casefold())
    if match is None:
        raise refuse("site-shape-form", text=text, example=SHAPE_EXAMPLE)
    kind, rest = match.groups()
    area = {
        "circle": _circle, "ring": _ring, "triangle": _triangle, "trapezoid": _trapezoid,
        "polygon": _polygon, "offsets": _offsets,
    }[kind](rest, text)  # fmt: skip
    if area.value <= 0:
        raise refuse("site-shape-form", text=text, example=SHAPE_EXAMPLE)
    return area.to(SQUARE_METER)


def _lengths(pattern: str, rest: str, text: str) -> tuple[Measure, ...]:
    match = re.fullmatch(pattern, rest)
    if match is None:
        raise refuse("site-shape-form", text=text, example=SHAPE_EXAMPLE)
    return tuple(
        read.positive(part.strip(), LENGTH, want="a length", example="4 m")
        for part in match.groups()
    )


def _circle(rest: str, text: str) -> Measure:
    (size,) = _lengths(r"(?:diameter|radius) ([^,]+)", rest, text)
    return size * size * (PI if rest.startswith("radius") else PI / 4)


def _ring(rest: str, text: str) -> Measure:
    outer, inner = _lengths(rf"outer (.+?){_AND}inner (.+)", rest, text)
    return (outer * outer - inner * inner) * (PI / 4)


def _triangle(rest: str, text: str) -> Measure:
    base, height = _lengths(rf"base (.+?){_AND}height (.+)", rest, text)
    return base * height / 2


def _trapezoid(rest: str, text: str) -> Measure:
    one, two, height = _lengths(rf"sides (.+?){_AND}(.+?){_AND}height (.+)", rest, text)
    return (one + two) * height / 2


def _polygon(rest: str, text: str) -> Measure:
    match = re.fullmatch(r"([-\d., ]+?) ?([a-z]+)", rest)
    if match is None:
        raise refuse("site-shape-form", text=text, example=SHAPE_EXAMPLE)
    unit = read.positive(f"1 {match[2]}", LENGTH, want="a length", example="4 m").unit
    corners = [_corner(part, text) for part in match[1].split(",")]
    if not 3 <= len(corners) <= 100 or _crosses(corners):
        raise refuse("site-polygon", text=text)
    double = sum(
        (x1 * y2 - x2 * y1)
        for (x1, y1), (x2, y2) in zip(corners, corners[1:] + corners[:1], strict=True)
    )
    return Measure(abs(Fraction(double)) / 2, unit) * Measure(Fraction(1), unit)


def _corner(part: str, text: str) -> tuple[Fraction, Fraction]:
    pieces = part.split()
    if len(pieces) != 2:
        raise refuse("site-shape-form", text=text, example=SHAPE_EXAMPLE)
    x, y = (
        read.number(piece.removeprefix("-"), example="4") * (-1 if piece[0] == "-" else 1)
        for piece in pieces
    )
    return x, y


def _crosses(corners: list[tuple[Fraction, Fraction]]) -> bool:
    """Whether two sides of the polygon cross: its area would have no meaning."""
    sides = list(zip(corners, corners[1:] + corners[:1], strict=True))
    return any(
        _sides_cross(*sides[i], *sides[j])
        for i in range(len(sides))
        for j in range(i + 2, len(sides))
        if (i, j) != (0, len(sides) - 1)
    )


Corner = tuple[Fraction, Fraction]


def _turn(p: Corner, q: Corner, r: Corner) -> int:
    """Which way p-q-r turns: 1 left, -1 right, 0 straight on."""
    area = (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])
    return (area > 0) - (area < 0)


def _on(p: Corner, q: Corner, r: Corner) -> bool:
    """Whether r, in line with p and q, lies between them."""
    return all(min(p[i], q[i]) <= r[i] <= max(p[i], q[i]) for i in (0, 1))


def _sides_cross(a: Corner, b: Corner, c: Corner, d: Corner) -> bool:
    turns = (_turn(a, b, c), _turn(a, b, d), _turn(c, d, a), _turn(c, d, b))
    if turns[0] * turns[1] < 0 and turns[2] * turns[3] < 0:
        return True
    ends = ((a, b, c), (a, b, d), (c, d, a), (c, d, b))
    return any(turn == 0 and _on(*end) for turn, end in zip(turns, ends, strict=True))


def _offsets(rest: str, text: str) -> Measure:
    match = re.fullmatch(r"every ([^,]+), *widths (.+)", rest)
    if match is None:
        raise refuse("site-shape-form", text=text, example=SHAPE_EXAMPLE)
    step = read.positive(match[1], LENGTH, want="a length", example="2 m")
    widths = [
        Measure(Fraction(0), METER)
        if part.strip() == "0"
        else read.positive(part, LENGTH, want="a width", example="3 m")
        for part in match[2].split(",")
    ]
    if len(widths) < 2:
        raise refuse("site-shape-form", text=text, example=SHAPE_EXAMPLE)
    total = (widths[0] + widths[-1]) / 2
    for width in widths[1:-1]:
        total = total + width
    return step * total
