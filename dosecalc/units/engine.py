"""The only module that touches pint: factors and dimensions, memoised.

Nothing of pint leaves here. Its quantities are not printed, formatted, pickled
or caught as text anywhere: with Fraction magnitudes each of these fails or
misleads (tests/units/test_engine.py shows every case).
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from functools import cache, lru_cache
from importlib.resources import files
from typing import Any

Unit = tuple[tuple[str, int], ...]
"""A unit as sorted (name, power) pairs of definitions.txt: (("gram", 1), ("meter", -2))."""


_SCALES = frozenset({"degC", "degF", "kelvin"})


@contextmanager
def _without_numpy() -> Iterator[None]:
    """Keep numpy out: pint loads it wherever it is installed, and every start waits for it.

    Our magnitudes are Fractions; only the solver of plans needs numpy, and loads it itself.
    """
    modules: dict[str, Any] = sys.modules
    if "numpy" in modules:
        yield
        return
    modules["numpy"] = None  # importing it fails as if it were not there (Python Reference, 5.3.1)
    try:
        yield
    finally:
        del modules["numpy"]


@cache
def _registry() -> Any:
    with _without_numpy():
        import pint  # loaded on first use: --help and refusals do without it

    lines = files("dosecalc.units").joinpath("definitions.txt").read_text("utf-8").splitlines()
    return pint.UnitRegistry(lines, non_int_type=Fraction, on_redefinition="raise")


def unit_names() -> tuple[str, ...]:
    """Every unit of the closed list, by name."""
    text = files("dosecalc.units").joinpath("definitions.txt").read_text("utf-8")
    names = (line.partition("=")[0].strip() for line in text.splitlines() if "=" in line)
    return tuple(name for name in names if name and not name.startswith("#"))


def _pint_unit(unit: Unit) -> Any:
    registry = _registry()
    return registry.UnitsContainer({name: Fraction(power) for name, power in unit})


@lru_cache(maxsize=4096)
def dimension(unit: Unit) -> Unit:
    """The dimension of `unit` as sorted (name, power) pairs: (("[length]", 2),).

    A ratio of one kind keeps its kind ("[mass] in [mass]"), so that a share by weight is
    never taken for one by volume.
    """
    found = _dimensions(unit)
    if found or all(_dimensions(((name, 1),)) == () for name, _ in unit):
        return found
    above = _dimensions(tuple((name, power) for name, power in unit if power > 0))
    kind = " ".join(f"{name}{power if power > 1 else ''}" for name, power in above)
    return ((f"{kind} in {kind}", 1),)


@lru_cache(maxsize=4096)
def _dimensions(unit: Unit) -> Unit:
    dims = _registry().get_dimensionality(_pint_unit(unit))
    return tuple(sorted((str(name), int(power)) for name, power in dims.items() if power))


@lru_cache(maxsize=4096)
def factor(have: Unit, want: Unit) -> Fraction:
    """How many `want` make one `have`, exactly.

    Raises
    ------
    ValueError
        When the dimensions differ, or for a temperature scale, whose readings have no
        factor. The caller words the refusal: pint's own text is not usable with Fraction
        powers.
    """
    if have == want:
        return Fraction(1)
    if any(name in _SCALES for name, _ in (*have, *want)):
        raise ValueError("a temperature reading has no factor")
    plain = () in (have, want) and not _dimensions(have) and not _dimensions(want)
    if not plain and dimension(have) != dimension(want):
        raise ValueError("dimensions differ")
    quantity = _registry().Quantity(Fraction(1), _pint_unit(have)).to(_pint_unit(want))
    return _exact(quantity.magnitude)


def convert_temperature(value: Fraction, have: str, want: str) -> Fraction:
    """A temperature reading on one scale ("degC", "degF", "kelvin") read on another."""
    quantity = _registry().Quantity(value, have).to(want)
    return _exact(quantity.magnitude)


def _exact(number: object) -> Fraction:
    if isinstance(number, int | Fraction) and not isinstance(number, bool):
        return Fraction(number)
    raise TypeError(f"an inexact number came out of the unit engine: {type(number).__name__}")
