"""The grower's ground: shapes to areas, rows and beds to lengths, and what is refused."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosecalc.catalog.site import Site, SiteText, read_shape, read_site
from dosecalc.errors import DoseError
from dosecalc.units.measure import LITER, METER, SQUARE_METER, Measure

FOOT = Fraction("0.3048")  # metres; NIST Handbook 44, Appendix C
# Pi to 20 places (OEIS A000796): far beyond the 12 digits that anything here is shown in.
PI = Fraction("3.14159265358979323846")


def square_metres(shape: str) -> Fraction:
    area = read_shape(shape)
    assert area.unit == SQUARE_METER
    return area.value


def metres(measure: Measure | None) -> Fraction:
    assert measure is not None
    return measure.amount_in(METER)


def area(measure: Measure | None) -> Fraction:
    assert measure is not None
    return measure.amount_in(SQUARE_METER)


def said(site: Site) -> list[str]:
    return [line.english() for line in site.said]


# Straight shapes. Formulas: Euclid, Elements I.41 (triangle); half the sum of the parallel sides
# times the height for a trapezium and the sum of cross products for a polygon (any surveying
# text). Cases whose figures a source prints are named; the others are worked by hand.
STRAIGHT = [
    # Virginia turf educational site, Size of treatment area: 1,600 sq ft
    ("triangle: base 40 ft, height 80 ft", 1600 * FOOT**2),
    ("triangle: base 4 m, height 3 m", Fraction(6)),
    ("triangle: base 4 m and height 300 cm", Fraction(6)),
    # University of Hawaii, Math 100, property areas: 175,000 and 60,000 m2
    ("trapezoid: sides 300 m and 400 m, height 500 m", Fraction(175_000)),
    ("triangle: base 300 m, height 400 m", Fraction(60_000)),
    ("trapezoid: sides 6 m and 4 m, height 3 m", Fraction(15)),
    ("trapezoid: sides 6 m, 4 m, height 3 m", Fraction(15)),
    ("trapezoid: sides 4 m and 4 m, height 3 m", Fraction(12)),
    ("polygon: 0 0, 4 0, 4 3 m", Fraction(6)),
    ("polygon: 0 0, 4 0, 4 3, 0 3 m", Fraction(12)),
    ("polygon: 0 0, 400 0, 400 300, 0 300 cm", Fraction(12)),
    ("polygon: 0 0, 4 0, 4 3, 0 3 ft", 12 * FOOT**2),
    ("polygon: -2 -1.5, 2 -1.5, 2 1.5, -2 1.5 m", Fraction(12)),
    ("polygon: 0 0, 0.5 0, .5 3, 0 3 m", Fraction(3, 2)),
    # An L: 4 x 3 less a corner of 2 x 1
    ("polygon: 0 0, 4 0, 4 2, 2 2, 2 3, 0 3 m", Fraction(10)),
    # A U round a doorway: 3 x 2 less a notch of 1 x 1; two of its edges lie on one line
    ("polygon: 0 0, 3 0, 3 2, 2 2, 2 1, 1 1, 1 2, 0 2 m", Fraction(5)),
    # A T: top bar 3 x 1, stem 1 x 1; the undersides of the bar lie on one line
    ("polygon: 1 0, 2 0, 2 1, 3 1, 3 2, 0 2, 0 1, 1 1 m", Fraction(4)),
    # A corner in the middle of a side changes nothing
    ("polygon: 0 0, 2 0, 4 0, 4 3, 0 3 m", Fraction(12)),
    ("triangle base 4 m, height 3 m", Fraction(6)),
]


@pytest.mark.parametrize(("shape", "expected"), STRAIGHT)
def test_a_straight_shape_has_its_area_exactly(shape: str, expected: Fraction) -> None:
    assert square_metres(shape) == expected


# Round shapes. Archimedes, Measurement of a Circle, proposition 1: half the edge times the radius.
ROUND = [
    # Tennessee pesticide safety education, area of a 20 ft circle: 314.159 sq ft
    ("circle: diameter 20 ft", 100 * PI * FOOT**2),
    ("circle: radius 10 ft", 100 * PI * FOOT**2),
    ("circle: diameter 4 m", 4 * PI),
    ("circle: radius 200 cm", 4 * PI),
    ("circle diameter 4 m", 4 * PI),
    ("Circle: Diameter 4 m", 4 * PI),
    # NCERT schoolbook: a 4 m path round a bed of 33 m radius
    ("ring: outer 74 m, inner 66 m", (37**2 - 33**2) * PI),
    ("ring: outer 74 m and inner 6600 cm", (37**2 - 33**2) * PI),
]


@pytest.mark.parametrize(("shape", "expected"), ROUND)
def test_a_round_shape_has_its_area_to_more_digits_than_are_shown(
    shape: str, expected: Fraction
) -> None:
    assert abs(square_metres(shape) / expected - 1) < Fraction(1, 10**18)


def test_a_ring_is_a_circle_less_a_circle() -> None:
    whole, hole = square_metres("circle: diameter 5 m"), square_metres("circle: diameter 2 m")
    assert square_metres("ring: outer 5 m, inner 2 m") == whole - hole


# Offsets at equal steps, by the trapezoidal rule: the two ends count half.
# Surveying teaching notes, Calculation of areas from offsets to a base line: 460.75 m2 by the
# trapezoidal rule (442.66 by mean ordinates and 461.167 by Simpson's rule, which are not ours).
OFFSETS = [
    (
        "offsets: every 10 m, widths 3.15 m, 4.3 m, 8.2 m, 5.6 m, 6.85 m, 7.6 m, 4.2 m, 5.6 m,"
        " 4.3 m",
        Fraction("460.75"),
    ),
    ("offsets: every 2 m, widths 3 m, 3.5 m, 4 m", Fraction(14)),
    ("offsets: every 2 m, widths 0, 3 m, 0", Fraction(6)),
    ("offsets: every 2 m, widths 3 m, 3 m", Fraction(6)),
    ("offsets: every 1 ft, widths 0, 10 ft", 5 * FOOT**2),
]  # fmt: skip


@pytest.mark.parametrize(("shape", "expected"), OFFSETS)
def test_offsets_follow_the_trapezoidal_rule(shape: str, expected: Fraction) -> None:
    assert square_metres(shape) == expected


def polygon(corners: list[tuple[int, int]]) -> str:
    return f"polygon: {', '.join(f'{x} {y}' for x, y in corners)} m"


def cross(o: tuple[int, int], a: tuple[int, int], b: tuple[int, int]) -> int:
    return (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0])


def hull(points: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """The convex hull, by Andrew's monotone chain: a polygon that surely does not cross."""
    ordered = sorted(set(points))

    def half(way: list[tuple[int, int]]) -> list[tuple[int, int]]:
        chain: list[tuple[int, int]] = []
        for point in way:
            while len(chain) >= 2 and cross(chain[-2], chain[-1], point) <= 0:
                chain.pop()
            chain.append(point)
        return chain[:-1]

    return half(ordered) + half(ordered[::-1])


POINTS = st.lists(st.tuples(st.integers(-50, 50), st.integers(-50, 50)), min_size=3, max_size=12)


@given(POINTS, st.integers(0, 11))
def test_a_polygon_has_one_area_whichever_way_round_it_is_walked(
    points: list[tuple[int, int]], turn: int
) -> None:
    corners = hull(points)
    if len(corners) < 3:
        with pytest.raises(DoseError):
            read_shape(polygon(corners))
        return
    first = corners[0]
    fan = sum(cross(first, a, b) for a, b in pairwise(corners[1:]))
    assert square_metres(polygon(corners)) == Fraction(fan, 2)
    start = turn % len(corners)
    turned = corners[start:] + corners[:start]
    assert square_metres(polygon(turned)) == Fraction(fan, 2)
    assert square_metres(polygon(turned[::-1])) == Fraction(fan, 2)
    moved = [(x + 7, y - 9) for x, y in corners]
    assert square_metres(polygon(moved)) == Fraction(fan, 2)


@pytest.mark.parametrize(
    "shape",
    [
        "polygon: 0 0, 4 3, 4 0, 0 3 m",  # a bow tie
        "polygon: 0 0, 4 0, 0 3, 4 3 m",
        "polygon: 0 0, 2 0, 2 2, 1 -1, 0 2 m",  # a star's point through the base
        "polygon: 0 0, 4 0, 2 0, 2 2 m",  # back along its own side
        "polygon: 0 0, 2 2, 4 0, 4 4, 2 2, 0 4 m",  # two pieces that touch in a corner
        "polygon: 0 0, 4 0 m",
        "polygon: 0 0 m",
        f"polygon: {', '.join(f'{n} {n * n}' for n in range(20))} x",
    ],
)
def test_a_polygon_without_a_clear_inside_is_refused(shape: str) -> None:
    with pytest.raises(DoseError):
        read_shape(shape)


@pytest.mark.parametrize(
    ("shape", "piece"),
    [
        ("", "Nothing was written"),
        ("circle", "not a shape"),
        ("circle:", "not a shape"),
        ("circle: 4 m", "not a shape"),
        ("circle: diameter 4", "without a unit"),
        ("circle: diameter 0 m", "more than zero"),
        ("circle: diameter -4 m", "no number"),
        ("circle: diameter 4 m2", "a length"),
        ("circle: diameter 4 m, radius 2 m", "not a shape"),
        ("circle: diameter 4 m high", "not understood"),
        ("circle: diameter nan m", "no number"),
        ("circle: diameter inf m", "no number"),
        ("circle: diameter 1e3 m", ""),
        ("ring: outer 4 m", "not a shape"),
        ("ring: outer 4 m, inner 4 m", "not a shape"),
        ("ring: outer 2 m, inner 4 m", "not a shape"),
        ("ring: inner 2 m, outer 4 m", "not a shape"),
        ("square: side 4 m", "not a shape"),
        ("blob", "not a shape"),
        ("triangle: base 4 m", "not a shape"),
        ("triangle: base 4 m, height 0 m", "more than zero"),
        ("trapezoid: sides 4 m, height 3 m", ""),
        ("polygon: 0 0, 4 0, 4 m", "not a shape"),
        ("polygon: 0 0, 4 0, 4 3", "not a shape"),
        ("polygon: 0 0, 4 0, 4 3 kg", "a length"),
        ("polygon: 0 0, 4 0, 4 3 m2", "not a shape"),
        ("polygon: 0 0, 2 0, 4 0 m", ""),  # all on one line
        ("polygon: 0 0, 4 -, 4 3 m", ""),
        ("polygon: 0 0, 4 --1, 4 3 m", ""),
        ("polygon: 0 0 0, 4 0 0, 4 3 0 m", "not a shape"),
        ("offsets: every 2 m, widths 3 m", "not a shape"),
        ("offsets: every 2 m, widths 0, 0", "not a shape"),
        ("offsets: every 0 m, widths 3 m, 4 m", "more than zero"),
        ("offsets: widths 3 m, 4 m", "not a shape"),
        ("offsets: every 2 m, widths 3 m, , 4 m", "Nothing was written"),
        ("offsets: every 2 m, widths 3, 4 m", "without a unit"),
        ("x" * 1000, "characters long"),
    ],
)
def test_a_shape_that_cannot_be_read_is_refused(shape: str, piece: str) -> None:
    with pytest.raises(DoseError) as caught:
        read_shape(shape)
    assert piece in str(caught.value)
    assert "\n" not in str(caught.value)


def test_more_corners_than_anyone_paces_out_are_refused() -> None:
    corners = hull([(n, n * n) for n in range(-25, 26)])
    assert len(corners) == 51
    with pytest.raises(DoseError):
        read_shape(polygon(corners * 10))


# The beds of Saltmarsh Lane garden.
def test_a_bed_with_three_rows_and_a_path() -> None:
    site = read_site(SiteText(bed="75 cm x 30 m", path="45 cm", rows_per_bed="3"))
    assert metres(site.row_length) == 90
    assert area(site.area) == Fraction("22.5")
    assert area(site.gross_area) == 36
    assert area(site.judged_area) == 36
    assert area(site.ground) == Fraction("22.5")
    assert metres(site.row_spacing) == Fraction("0.4")
    assert site.spacing_told is False
    assert said(site) == [
        "1 bed of 75 cm x 30 m: 22.5 m2 of bed top, 36 m2 with paths",
        "3 rows x 30 m = 90 m of row",
    ]


def test_three_rows_of_forty_metres() -> None:
    site = read_site(SiteText(row="40 m", rows="3", row_spacing="45 cm"))
    assert metres(site.row_length) == 120
    assert area(site.ground) == 54
    assert area(site.judged_area) == 54
    assert site.spacing_told is True
    assert said(site) == ["3 rows x 40 m = 120 m of row"]


def test_one_row_without_a_spacing_tells_no_area() -> None:
    site = read_site(SiteText(row="40 m"))
    assert metres(site.row_length) == 40
    assert (site.ground, site.judged_area, site.band_area, site.area) == (None,) * 4
    assert read_site(SiteText(row="40 m", rows="1")).row_length == site.row_length


def test_the_same_bed_four_times() -> None:
    one = read_site(SiteText(bed="75 cm x 30 m", path="45 cm", rows_per_bed="3"))
    four = read_site(SiteText(bed="75 cm x 30 m", path="45 cm", rows_per_bed="3", beds="4"))
    assert metres(four.row_length) == 4 * metres(one.row_length)
    assert area(four.area) == 4 * area(one.area)
    assert area(four.gross_area) == 4 * area(one.gross_area)
    assert four.row_spacing == one.row_spacing


@pytest.mark.parametrize(
    "bed", ["75 cm x 30 m", "30 m x 75 cm", "0.75 x 30 m", "750 mm x 3000 cm", "0.75m x 30m"]
)
def test_a_bed_is_the_same_bed_however_it_is_written(bed: str) -> None:
    site = read_site(SiteText(bed=bed, path="45 cm", rows_per_bed="3"))
    assert (metres(site.row_length), area(site.area), area(site.gross_area)) == (
        90,
        Fraction("22.5"),
        36,
    )


def test_a_bed_without_path_or_rows() -> None:
    site = read_site(SiteText(bed="1.2 m x 8 m"))
    assert area(site.area) == Fraction("9.6")
    assert site.gross_area is None
    assert site.row_length is None
    assert area(site.judged_area) == Fraction("9.6")
    # No path was told, so nothing may be said of the ground with its paths.
    assert "path" not in " ".join(said(site))


def test_a_bed_in_feet() -> None:
    assert area(read_site(SiteText(bed="4 x 8 ft")).area) == 32 * FOOT**2


def test_a_wide_row_counts_as_a_metre_for_judging_only() -> None:
    """The bare ground beside a lone row thins nothing."""
    site = read_site(SiteText(row="40 m", row_spacing="1.5 m"))
    assert area(site.ground) == 60
    assert area(site.judged_area) == 40
    at_the_edge = read_site(SiteText(row="40 m", row_spacing="1 m"))
    assert area(at_the_edge.judged_area) == area(at_the_edge.ground) == 40


def test_a_band_is_counted_along_the_row() -> None:
    site = read_site(SiteText(row="40 m", row_spacing="45 cm", band="30 cm"))
    assert area(site.band_area) == 12
    assert read_site(SiteText(area="18 m2", band="30 cm")).band_area is None
    whole = read_site(SiteText(row="40 m", row_spacing="45 cm", band="45 cm"))
    assert area(whole.band_area) == area(whole.ground) == 18


def test_plants_are_counted_down_to_whole_ones() -> None:
    site = read_site(SiteText(row="40 m", plant_spacing="30 cm"))
    assert site.plants == 133
    assert read_site(SiteText(row="40 m", plant_spacing="40 cm")).plants == 100
    told = read_site(SiteText(row="40 m", plant_spacing="30 cm", plants="20"))
    assert told.plants == 20
    on_ground = read_site(SiteText(area="18 m2", row_spacing="45 cm", plant_spacing="30 cm"))
    assert on_ground.plants == 133


def test_pots_tell_the_growing_medium() -> None:
    site = read_site(SiteText(pots="12", pot_size="2 L"))
    assert site.medium_volume is not None
    assert site.medium_volume.amount_in(LITER) == 24
    assert said(site) == ["12 pots x 2 L = 24 L of growing medium"]
    told = read_site(SiteText(pots="12", pot_size="2 L", medium_volume="30 L"))
    assert told.medium_volume is not None
    assert told.medium_volume.amount_in(LITER) == 30


def test_a_shape_is_the_ground() -> None:
    site = read_site(SiteText(shape="trapezoid: sides 6 m and 4 m, height 3 m"))
    assert area(site.area) == area(site.ground) == area(site.judged_area) == 15


def test_nothing_told_is_an_empty_site() -> None:
    assert read_site(SiteText()) == Site()


@pytest.mark.parametrize(
    ("text", "piece"),
    [
        (SiteText(rows="3"), "add --row"),
        (SiteText(row="40 m", bed="1 m x 5 m", rows_per_bed="3"), "give one"),
        (SiteText(bed="1 m x 5 m", area="5 m2"), "--bed and --area both"),
        (SiteText(area="5 m2", shape="circle: radius 2 m"), "--area and --shape both"),
        (SiteText(path="45 cm"), "add --bed"),
        (SiteText(rows_per_bed="3"), "add --bed"),
        (SiteText(beds="4"), "add --bed"),
        (SiteText(row="40 m", row_spacing="20 cm", band="30 cm"), "wider than the row spacing"),
        (SiteText(plant_spacing="30 cm"), "needs rows"),
        (SiteText(area="18 m2", plant_spacing="30 cm"), "needs rows"),
        (SiteText(row="20 cm", plant_spacing="30 cm"), "leaves no plant"),
        (SiteText(row="40"), "without a unit"),
        (SiteText(row="40 m2"), "a length"),
        (SiteText(row="40 L"), "a length"),
        (SiteText(row="0 m"), "more than zero"),
        (SiteText(row="-40 m"), "no number"),
        (SiteText(row="nan m"), "no number"),
        (SiteText(row="inf m"), "no number"),
        (SiteText(row="30-40 m"), "is a range"),
        (SiteText(row="200 km"), "beyond anything"),
        (SiteText(row="60 km", rows="2"), "beyond anything"),
        (SiteText(area="2000000 ha"), "beyond anything"),
        (SiteText(bed="20 km x 20 km"), "beyond anything"),
        (SiteText(layer="11 m", area="5 m2"), "beyond anything"),
        (SiteText(medium_volume="20000 m3"), "beyond anything"),
        (SiteText(area="18 m"), "an area"),
        (SiteText(bed="75 cm"), "width x length"),
        (SiteText(bed="75 cm x 30 m x 20 cm"), "width x length"),
        (SiteText(bed="75 x 30"), "without a unit"),
        (SiteText(bed="75 cm by 30 m"), "not understood"),
        (SiteText(bed="0 m x 5 m"), "more than zero"),
        (SiteText(row="40 m", rows="0"), "whole number from 1"),
        (SiteText(row="40 m", rows="2.5"), "whole number from 1"),
        (SiteText(row="40 m", rows="2 1/2"), "whole number from 1"),
        (SiteText(row="40 m", rows="three"), "no number"),
        (SiteText(row="40 m", rows="1e3"), ""),
        (SiteText(row="40 m", rows="99999999"), "whole number from 1"),
        (SiteText(bed="1 m x 5 m", beds="0"), "whole number from 1"),
        (SiteText(pots="12", pot_size="1 gal"), "differs by country"),
        (SiteText(pots="12", pot_size="2 kg"), "a volume"),
        (SiteText(spray_volume="2 kg"), "write the spray"),
        (SiteText(spray_volume="0 L"), "write the spray"),
        (SiteText(spray_volume="8 oz"), "fl oz"),
        (SiteText(plants="-3"), "no number"),
    ],
)
def test_a_site_that_makes_no_sense_is_refused_with_the_way_out(text: SiteText, piece: str) -> None:
    with pytest.raises(DoseError) as caught:
        read_site(text)
    assert piece in str(caught.value)
    assert str(caught.value).endswith(".")


@given(
    st.fractions(min_value=Fraction(1, 10), max_value=5, max_denominator=50),
    st.fractions(min_value=5, max_value=80, max_denominator=50),
    st.fractions(min_value=Fraction(1, 10), max_value=2, max_denominator=50),
    st.integers(1, 9),
    st.integers(1, 9),
)
def test_rows_and_beds_agree_on_the_ground(
    width: Fraction, length: Fraction, path: Fraction, rows: int, beds: int
) -> None:
    """The row spacing that a bed implies times its row is the ground with paths, exactly."""
    site = read_site(
        SiteText(
            bed=f"{width} m x {length} m",
            path=f"{path} m",
            rows_per_bed=str(rows),
            beds=str(beds),
        )
    )
    assert metres(site.row_length) == length * rows * beds
    assert metres(site.row_spacing) * metres(site.row_length) == area(site.gross_area)
    assert area(site.gross_area) - area(site.area) == path * length * beds
