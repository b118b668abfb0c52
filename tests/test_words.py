"""docs/words.md explains every parameter and field of the public code, and nothing else."""

from __future__ import annotations

import dataclasses
import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType

PAGE = Path(__file__).parents[1] / "docs/words.md"
FLOORS = ("dosecalc.units", "dosecalc.catalog", "dosecalc.dose")


def modules() -> Iterator[ModuleType]:
    for floor in FLOORS:
        package = importlib.import_module(floor)
        for found in pkgutil.walk_packages(package.__path__, f"{floor}."):
            yield importlib.import_module(found.name)


def parameters(thing: Callable[..., object]) -> list[str]:
    return list(inspect.signature(thing).parameters)


def names_of_class(cls: type) -> Iterator[str]:
    if dataclasses.is_dataclass(cls):
        yield from (field.name for field in dataclasses.fields(cls))
    elif hasattr(cls, "model_fields"):
        yield from cls.model_fields
        return
    elif "__init__" in vars(cls):
        yield from parameters(cls.__init__)
    for name, member in vars(cls).items():
        plain = getattr(member, "__func__", member)
        if name.startswith("_"):
            continue
        if isinstance(member, property):
            yield name
        elif inspect.isfunction(plain):
            yield from parameters(plain)


def public_names() -> set[str]:
    found: set[str] = set()
    for module in modules():
        for name, thing in vars(module).items():
            if name.startswith("_") or getattr(thing, "__module__", None) != module.__name__:
                continue
            if inspect.isclass(thing):
                found.update(names_of_class(thing))
            elif callable(thing) and hasattr(thing, "__name__"):
                found.update(parameters(thing))
    return {name for name in found if not name.startswith("_")} - {"self", "cls"}


def rows() -> list[list[str]]:
    lines = PAGE.read_text("utf-8").splitlines()
    table = [line for line in lines if re.match(r"\| `?\w", line)]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in table][1:]


def test_every_public_name_is_explained_with_its_unit() -> None:
    explained = {row[0].strip("`") for row in rows()}
    assert len(public_names()) > 200
    assert sorted(public_names() - explained) == []


def test_the_glossary_holds_no_name_that_the_code_has_not() -> None:
    of_code = {row[0].strip("`") for row in rows() if row[0].startswith("`")}
    assert sorted(of_code - public_names()) == []


def test_every_row_has_a_meaning_and_a_unit_and_stands_once_in_order() -> None:
    table = rows()
    assert all(len(row) == 3 and all(row) for row in table)
    names = [row[0].strip("`").casefold() for row in table]
    assert names == sorted(set(names))
