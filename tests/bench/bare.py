"""The yardstick for ``mix``: click, one pydantic model, pint on our own units, one conversion."""

import sys
from fractions import Fraction
from importlib import import_module
from importlib.resources import files
from typing import Any

import click
from pydantic import BaseModel

modules: dict[str, Any] = sys.modules
modules["numpy"] = None  # pint without numpy, as units/engine.py loads it
pint = import_module("pint")
del modules["numpy"]


class One(BaseModel):
    """One model, so that pydantic's lazy import is paid."""

    name: str


lines = files("dosecalc.units").joinpath("definitions.txt").read_text("utf-8").splitlines()
registry = pint.UnitRegistry(lines, non_int_type=Fraction, on_redefinition="raise")
click.echo(registry.Quantity(Fraction(1), "gal_us").to("liter").magnitude)
click.echo(One(name="borax").name)
