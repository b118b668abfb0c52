"""The yardstick for ``mix``: click, one pydantic model, pint on our own units, one conversion."""

import sys
from fractions import Fraction
from importlib.resources import files

import click
from pydantic import BaseModel

sys.modules["numpy"] = None  # type: ignore[assignment]  # as units/engine.py does
import pint  # noqa: E402

del sys.modules["numpy"]


class One(BaseModel):
    """One model, so that pydantic's lazy import is paid."""

    name: str


lines = files("dosecalc.units").joinpath("definitions.txt").read_text("utf-8").splitlines()
registry = pint.UnitRegistry(lines, non_int_type=Fraction, on_redefinition="raise")
click.echo(registry.Quantity(Fraction(1), "gal_us").to("liter").magnitude)
click.echo(One(name="borax").name)
