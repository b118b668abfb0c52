"""pint's traps, each from both sides: pint falls in, and nothing of it shows through our layer."""

from __future__ import annotations

import ast
import dataclasses
import pickle
import subprocess
import sys
from decimal import Decimal
from fractions import Fraction
from itertools import permutations
from pathlib import Path

import pint
import pytest

import dosecalc
from dosecalc.errors import DoseError
from dosecalc.units import engine, measure, read, show, spread
from dosecalc.units.measure import GRAM, LITER, METER, ML, SQUARE_METER, Measure, exact_text

PACKAGE = Path(dosecalc.__file__).parent
ENGINE = PACKAGE / "units" / "engine.py"

ACRE = (("acre", 1),)
GRAM_PER_SQUARE_METER = (("gram", 1), ("meter", -2))


@pytest.fixture(scope="module")
def own() -> pint.UnitRegistry:
    """Bare pint on our own definitions, set up as the engine sets it up."""
    lines = ENGINE.with_name("definitions.txt").read_text("utf-8").splitlines()
    return pint.UnitRegistry(lines, non_int_type=Fraction, on_redefinition="raise")


@pytest.fixture(scope="module")
def stock() -> pint.UnitRegistry:
    """Bare pint on its own list, exact numbers."""
    return pint.UnitRegistry(non_int_type=Fraction)


@pytest.fixture(scope="module")
def floating() -> pint.UnitRegistry:
    """Bare pint as it comes."""
    return pint.UnitRegistry()


def _bare(registry, unit, value=1):
    powers = {name: Fraction(power) for name, power in unit}
    return registry.Quantity(Fraction(value), registry.UnitsContainer(powers))


# ---------------------------------------------------------------- showing

SHOWING = [repr, str, format, lambda quantity: format(quantity, "~P"), lambda q: f"{q.units}"]


@pytest.mark.parametrize("way", SHOWING)
@pytest.mark.parametrize("unit", [SQUARE_METER, GRAM_PER_SQUARE_METER, (("foot", 3),)])
def test_pint_cannot_show_a_power_of_a_unit(own, unit, way):
    with pytest.raises(TypeError, match="unsupported format string"):
        way(_bare(own, unit))


@pytest.mark.parametrize(
    ("unit", "text"),
    [
        (SQUARE_METER, "4 m2"),
        (GRAM_PER_SQUARE_METER, "4 g/m2"),
        ((("foot", 3),), "4 ft3"),
        ((("acre", -1), ("gal_us", 1)), "4 US gal/acre"),
    ],
)
def test_ours_shows_every_power_of_a_unit(unit, text):
    amount = Measure(Fraction(4), unit)
    assert exact_text(amount) == text
    assert show.number_text(amount, unit).startswith("4 ")
    assert "Fraction(4, 1)" in repr(amount)
    assert show.show(amount).metric


def test_pint_formats_no_exact_number_to_so_many_places(own):
    amount = _bare(own, GRAM, 1)
    if sys.version_info >= (3, 12):  # Fraction has learnt .3f, so only there does it work
        assert f"{amount:.3f}".startswith("1.000")
    else:
        with pytest.raises(TypeError, match="unsupported format string"):
            format(amount, ".3f")


def test_ours_rounds_exact_numbers():
    assert show.rounded(Fraction(1, 3), 3) == ("0.333", Fraction(1, 1000))


# ---------------------------------------------------------------- refusing


def test_the_text_of_pint_s_own_refusal_crashes(own):
    with pytest.raises(pint.DimensionalityError) as caught:
        _bare(own, GRAM).to("mL")
    with pytest.raises(TypeError, match="unsupported format string"):
        str(caught.value)


def test_ours_words_its_own_refusal():
    with pytest.raises(DoseError) as caught:
        Measure(Fraction(1), GRAM).to(ML)
    assert str(caught.value) == (
        "'1 g' is a weight, but a volume is needed: write an amount of that kind."
    )
    assert caught.value.__cause__ is None


def test_every_pair_of_different_kinds_is_refused_in_words():
    units = [((name, 1),) for name in engine.unit_names()]
    units += [SQUARE_METER, (("foot", 3),), GRAM_PER_SQUARE_METER, (("lb", 1), ("meter", -1))]
    units += [(("liter", -1), ("mg", 1)), (("hectare", -1), ("liter", 1)), (("day", -1),)]
    pairs = [
        (have, want)
        for have, want in permutations(units, 2)
        if engine.dimension(have) != engine.dimension(want)
    ]
    assert len(pairs) > 3000
    for have, want in pairs:
        amount = Measure(Fraction(3, 2), have)
        with pytest.raises(DoseError) as caught:
            amount.to(want)
        text = str(caught.value)
        assert text.startswith(f"'{exact_text(amount)}' is {measure.kind_word(have)}, but ")
        assert f"{measure.kind_word(want)} is needed" in text
        assert "Fraction" not in text
        assert "[" not in text


# ---------------------------------------------------------------- carrying


def test_a_pickled_acre_of_pint_comes_back_as_the_survey_acre(own):
    back = pickle.loads(pickle.dumps(_bare(own, ACRE)))
    size = back.to("meter ** 2").magnitude
    assert size != Fraction("4046.8564224")
    assert abs(size - Fraction("4046.8726")) < Fraction(1, 10000)
    with pytest.raises(ValueError, match="different registries"):
        back + _bare(own, ACRE)


def test_a_pickled_gallon_of_pint_does_not_come_back(own):
    dumped = pickle.dumps(_bare(own, (("gal_us", 1),)))
    with pytest.raises(pint.UndefinedUnitError):
        pickle.loads(dumped)


@pytest.mark.parametrize("name", engine.unit_names())
def test_ours_comes_back_from_a_pickle_as_it_was(name):
    amount = Measure(Fraction(1, 3), ((name, 1),))
    back = pickle.loads(pickle.dumps(amount))
    assert back == amount
    assert hash(back) == hash(amount)
    assert back + amount == amount * 2


def test_our_pickled_acre_is_still_the_international_one():
    back = pickle.loads(pickle.dumps(Measure(Fraction(1), ACRE)))
    assert back.amount_in(SQUARE_METER) == Fraction("4046.8564224")


def test_pint_changes_an_amount_in_place(own):
    amount = _bare(own, METER, 4)
    amount.ito("cm")
    assert amount.magnitude == 400


def test_ours_cannot_be_changed():
    amount = Measure(Fraction(4), METER)
    assert not hasattr(amount, "ito")
    with pytest.raises(dataclasses.FrozenInstanceError):
        amount.value = Fraction(5)
    assert amount == Measure(Fraction(4), METER)


def test_pint_takes_weight_in_weight_for_volume_in_volume(own):
    weights = _bare(own, GRAM) / _bare(own, GRAM)
    volumes = _bare(own, ML) / _bare(own, ML)
    assert weights == volumes


@pytest.mark.parametrize(
    ("weights", "volumes"),
    [("1 g/g", "1 mL/mL"), ("5 g/kg", "5 mL/L"), ("1 oz/lb", "1 US fl oz per US pt")],
)
def test_ours_keeps_weight_in_weight_from_volume_in_volume(weights, volumes):
    assert not _is_one_thing(weights, volumes)


def _is_one_thing(one: str, other: str) -> bool:
    """Whether the second can be told in the unit of the first; a refused text is no thing."""
    try:
        read.quantity(other).to(read.quantity(one).unit)
    except DoseError:
        return False
    return True


def test_one_thing_in_two_units_is_still_one_thing():
    assert _is_one_thing("5 g/kg", "80 mg/g")
    assert _is_one_thing("5 mL/L", "1 US fl oz per US pt")


# ---------------------------------------------------------------- exactness


def test_a_float_spreads_through_pint_unseen(own):
    amount = own.Quantity(0.1, "gram")
    assert type(amount.to("mg").magnitude) is float
    assert type((_bare(own, GRAM) + amount).magnitude) is float
    assert type((_bare(own, GRAM) * 1.0).magnitude) is float


INEXACT = [0.1, 1.0, float("nan"), Decimal("0.1"), "0.1", "1e999", None, 1 + 0j]


@pytest.mark.parametrize("value", [*INEXACT, True, 1])
def test_ours_takes_no_number_but_a_fraction(value):
    with pytest.raises(TypeError, match="takes a Fraction"):
        Measure(value, GRAM)


@pytest.mark.parametrize("value", INEXACT)
@pytest.mark.parametrize(
    "way",
    [
        lambda amount, value: amount * value,
        lambda amount, value: amount / value,
        lambda amount, value: value * amount,
        lambda amount, value: amount + value,
        lambda amount, value: amount - value,
    ],
    ids=["times", "over", "before", "plus", "minus"],
)
def test_no_inexact_number_gets_in_by_arithmetic(way, value):
    with pytest.raises((TypeError, AttributeError)):
        way(Measure(Fraction(1), GRAM), value)


@pytest.mark.parametrize("value", [0.1, 1.0, Decimal("0.1"), "0.1", None])
def test_no_inexact_number_gets_in_as_a_temperature(value):
    with pytest.raises(TypeError):
        engine.convert_temperature(value, "degF", "degC")


@pytest.mark.parametrize("place", ["low", "likely", "high"])
def test_no_inexact_number_gets_in_as_a_factor(place):
    numbers = {"low": Fraction(1, 2), "likely": Fraction(1, 2), "high": Fraction(1, 2)}
    with pytest.raises(TypeError):
        spread.Factor("density:test", **{**numbers, place: 0.5})


def test_no_inexact_number_gets_in_as_an_estimate():
    with pytest.raises((TypeError, AttributeError)):
        spread.Est.of(Measure(Fraction(1), GRAM)).by(0.1)


def test_a_square_root_in_pint_leaves_the_exact_numbers(own):
    root = _bare(own, SQUARE_METER, 4) ** Fraction(1, 2)
    assert type(root.magnitude) is float


def test_ours_has_no_roots():
    with pytest.raises(TypeError):
        Measure(Fraction(4), SQUARE_METER) ** Fraction(1, 2)


def test_every_factor_and_dimension_is_exact_and_plain():
    units = [((name, 1),) for name in engine.unit_names() if not name.startswith("deg")]
    checked = 0
    for have in units:
        dim = engine.dimension(have)
        assert type(dim) is tuple
        assert {(type(name), type(power)) for name, power in dim} <= {(str, int)}
        for want in units:
            if engine.dimension(want) == dim:
                there, back = engine.factor(have, want), engine.factor(want, have)
                assert type(there) is Fraction
                assert there > 0
                assert there * back == 1
                checked += 1
    assert checked > 900


def test_factors_of_compound_units_multiply():
    lb_acre = engine.factor((("acre", -1), ("lb", 1)), (("hectare", -1), ("kg", 1)))
    parts = engine.factor((("lb", 1),), (("kg", 1),)) / engine.factor(ACRE, (("hectare", 1),))
    assert lb_acre == parts
    assert type(lb_acre) is Fraction


@pytest.mark.parametrize(("have", "want"), [*permutations(("degC", "degF", "kelvin"), 2)])
def test_a_temperature_reading_has_no_factor(have, want):
    # 20 degC is not 20 times 1 degC: a factor between scales with different zeros misleads
    with pytest.raises(ValueError, match=r"dimension|temperature|reading"):
        engine.factor(((have, 1),), ((want, 1),))


@pytest.mark.parametrize("have", ["degC", "degF", "kelvin"])
@pytest.mark.parametrize("want", ["degC", "degF", "kelvin"])
def test_temperatures_convert_exactly_up_and_back(have, want):
    there = engine.convert_temperature(Fraction(123, 7), have, want)
    assert type(there) is Fraction
    assert engine.convert_temperature(there, want, have) == Fraction(123, 7)


# ---------------------------------------------------------------- reading

# (text, what pint on its own list makes of it, ours: system and exact amount, None if refused)
MISREAD = [
    ("1 1/2 tsp", (Fraction(1, 2), {"teaspoon": 1}), (None, Fraction("7.5"), ML)),
    ("1,5 L", (Fraction(15), {"liter": 1}), (None, Fraction(3, 2), LITER)),
    ("2 fl oz", (Fraction(2), {"femtoliter": 1, "ounce": 1}), None),
    ("2 fl oz", (Fraction(2), {"femtoliter": 1, "ounce": 1}), ("us", Fraction("59.147059125"), ML)),
    ("1 c", (Fraction(1), {"speed_of_light": 1}), None),
    ("1 a", (Fraction(1), {"year": 1}), None),
    ("1 T", (Fraction(1), {"tesla": 1}), ("australian", Fraction(20), ML)),
    ("1 T", (Fraction(1), {"tesla": 1}), None),
    ("2 C", (Fraction(2), {"coulomb": 1}), None),
    ("4 M", (Fraction(4), {"molar": 1}), None),
    ("5 G", (Fraction(5), {"gauss": 1}), None),
    ("1 Mg", (Fraction(1), {"megagram": 1}), None),
    ("20 deg F", (Fraction(20), {"degree": 1, "farad": 1}), None),
    ("1 gal", (Fraction(1), {"gallon": 1}), None),
    ("1 gal", (Fraction(1), {"gallon": 1}), ("imperial", Fraction("4.54609"), LITER)),
    ("1 cup", (Fraction(1), {"cup": 1}), None),
    ("3 oz", (Fraction(3), {"ounce": 1}), None),
    ("1 ton", (Fraction(1), {"ton": 1}), None),
    ("1,500 g", (Fraction(1500), {"gram": 1}), None),
    ("1e400 g", (Fraction(10**400), {"gram": 1}), None),
    ("1e3 g", (Fraction(1000), {"gram": 1}), None),
    ("1_000 g", (Fraction(1000), {"gram": 1}), None),
    ("1/2/3 g", (Fraction(1, 6), {"gram": 1}), None),
    ("2(3) g", (Fraction(6), {"gram": 1}), None),
    ("2**3 g", (Fraction(8), {"gram": 1}), None),
    ("-1 g", (Fraction(-1), {"gram": 1}), None),
    ("2 g ft", (Fraction(2), {"gram": 1, "foot": 1}), None),
    ("g", (Fraction(1), {"gram": 1}), None),
    ("3", (Fraction(3), {}), None),
]


@pytest.mark.parametrize(("text", "theirs", "ours"), MISREAD)
def test_what_pint_misreads_ours_reads_right_or_refuses(stock, text, theirs, ours):
    found = stock.Quantity(text)
    assert (found.magnitude, {str(name): power for name, power in found.unit_items()}) == theirs
    if ours is None:
        with pytest.raises(DoseError):
            read.quantity(text)
    else:
        system, value, unit = ours
        assert read.quantity(text, system).amount_in(unit) == value


@pytest.mark.parametrize("text", ["nan g", "inf g", "1e400 g"])
def test_pint_reads_numbers_that_are_none(floating, text):
    found = floating.Quantity(text).magnitude
    assert found != found or found == float("inf")
    with pytest.raises(DoseError):
        read.quantity(text)


def test_a_fahrenheit_reading_is_no_farad():
    assert read.temperature("20 deg F") == Fraction(-20, 3)
    assert read.temperature("68 deg F") == 20


# ---------------------------------------------------------------- the wall


def _imports(path: Path) -> set[str]:
    """The top names of everything imported in a file, lazily or by name too."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name.partition(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            found.add((node.module or "").partition(".")[0])
        elif isinstance(node, ast.Constant) and node.value == "pint":
            found.add("pint")
    return found


def test_pint_is_imported_in_one_file_only():
    files = sorted(PACKAGE.rglob("*.py"))
    assert len(files) > 20
    assert [path for path in files if "pint" in _imports(path)] == [ENGINE]


def test_nothing_of_pint_is_a_public_name_of_the_engine():
    public = {name: value for name, value in vars(engine).items() if not name.startswith("_")}
    assert {"factor", "dimension", "convert_temperature", "unit_names"} <= set(public)
    homes = {getattr(value, "__module__", "") or "" for value in public.values()}
    assert [home for home in homes if home.partition(".")[0] == "pint"] == []


def test_a_refused_text_never_loads_pint():
    code = (
        "import sys\n"
        "from dosecalc.errors import DoseError\n"
        "from dosecalc.units import measure, read, show, spread\n"
        "for text in ('nan g', '2 %', '1e9 g', '5', '5 foo', '1,500 g'):\n"
        "    try:\n"
        "        read.quantity(text)\n"
        "    except DoseError as refusal:\n"
        "        print(str(refusal)[:1])\n"
        "print('pint' in sys.modules)\n"
    )
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", code], capture_output=True, text=True, check=True
    )
    assert done.stdout.split() == ["'"] * 6 + ["False"]
