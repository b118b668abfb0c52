"""The floors hold: no file imports a higher floor, and each third party has one place."""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path, PurePosixPath

import pytest

import dosecalc

PACKAGE = Path(dosecalc.__file__).parent
ORDER = ("root", "units", "catalog", "dose", "season", "faces", "__main__")
# The catalogue of sentences may be split, the root may hold nothing else.
ROOT_MODULE = re.compile(r"errors|say|english(_[a-z]+)*|__init__")
PLACES = {
    "pint": ("units/engine.py",),
    "pydantic": ("catalog/schema.py", "catalog/schema_liming.py", "catalog/checking.py"),
    "click": ("faces/cli/",),
    "tabulate": ("faces/",),
    "tomlkit": ("faces/garden_file.py",),
    "lark": ("catalog/prose/",),
    "typst": ("faces/card/render.py",),
    "highspy": ("dose/feed/solve.py",),
    "sqlite3": ("season/",),
    "icalendar": ("faces/calendar_file.py",),
}
# A dose must come out the same today and tomorrow, here and elsewhere.
NOT_PURE = frozenset(
    {"os", "io", "sys", "time", "datetime", "pathlib", "random", "secrets", "tempfile",
     "subprocess", "socket", "locale", "platform", "shutil", "sqlite3", "importlib", "logging"}
)  # fmt: skip


@cache
def sources() -> dict[str, str]:
    """Every module of the package by its path inside it."""
    return {
        path.relative_to(PACKAGE).as_posix(): path.read_text("utf-8")
        for path in sorted(PACKAGE.rglob("*.py"))
    }


def floor_of(parts: tuple[str, ...]) -> str:
    """The floor of a dotted name below the package, given in parts."""
    if not parts or ROOT_MODULE.fullmatch(parts[0]):
        return "root"
    return parts[0]


@cache
def imported(text: str) -> tuple[tuple[int, str, bool], ...]:
    """Line, full dotted name and whether the import hides its floor behind a dot."""
    return tuple(_imported(text))


def _imported(text: str) -> Iterator[tuple[int, str, bool]]:
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield node.lineno, alias.name, False
        elif isinstance(node, ast.ImportFrom):
            for alias in node.names:
                yield node.lineno, f"{node.module or ''}.{alias.name}", node.level > 0
        elif isinstance(node, ast.Call) and _called(node.func) in ("import_module", "__import__"):
            # A name put together at run time cannot be followed further than its fixed start.
            yield node.lineno, _start(node.args[0]), False


def _called(node: ast.expr) -> str:
    if isinstance(node, ast.Name):
        return node.id
    return node.attr if isinstance(node, ast.Attribute) else ""


def _start(node: ast.expr) -> str:
    if isinstance(node, ast.JoinedStr) and node.values:
        node = node.values[0]
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""


def faults(file: str, text: str) -> list[str]:
    """What is wrong with the imports of one module."""
    mine = floor_of(PurePosixPath(file).with_suffix("").parts)
    found: list[str] = []
    if mine not in ORDER:
        return [f"{file}: '{mine}' is no floor"]
    for line, name, relative in imported(text):
        at = f"{file}:{line} imports {name}"
        top, *rest = name.split(".")
        if relative:
            found.append(f"{at}: a relative import hides its floor")
        elif not top:
            found.append(f"{at}: its name cannot be read")
        elif top == "dosecalc":
            theirs = floor_of(tuple(rest))
            if theirs not in ORDER:
                found.append(f"{at}: '{theirs}' is no floor")
            elif ORDER.index(theirs) > ORDER.index(mine):
                found.append(f"{at}: {theirs} stands above {mine}")
        elif top in PLACES:
            if not file.startswith(PLACES[top]):
                found.append(f"{at}: {top} belongs to {' and '.join(PLACES[top])} only")
        elif top not in sys.stdlib_module_names and top != "__future__":
            found.append(f"{at}: {top} has no place")
        if mine == "dose" and top in NOT_PURE:
            found.append(f"{at}: dose reads no clock, file or environment")
    return found


def test_every_floor_was_read() -> None:
    files = sources()
    assert len(files) >= 35
    for floor in ("units", "catalog", "dose", "faces"):
        assert sum(file.startswith(f"{floor}/") for file in files) >= 4, floor
    imports = [name for text in files.values() for _, name, _ in imported(text)]
    assert sum(name.startswith("dosecalc.") for name in imports) >= 100


def test_no_floor_imports_a_higher_one() -> None:
    assert [fault for file, text in sources().items() for fault in faults(file, text)] == []


def test_each_third_party_is_used_where_it_belongs() -> None:
    files = sources()
    for party, places in PLACES.items():
        users = {
            file
            for file, text in files.items()
            if any(name.split(".")[0] == party for _, name, _ in imported(text))
        }
        assert users, party
        for place in places:
            assert any(file.startswith(place) for file in users), f"{party}: {place} is idle"


def test_dose_prints_and_opens_nothing() -> None:
    calls = [
        f"{file}:{node.lineno} {node.func.id}"
        for file, text in sources().items()
        if file.startswith("dose/")
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
        if node.func.id in ("print", "open", "input")
    ]
    assert calls == []


@pytest.mark.parametrize(
    ("file", "text", "complaint"),
    [
        ("units/read.py", "from dosecalc.catalog import files", "catalog stands above units"),
        ("errors.py", "import dosecalc.units.measure", "units stands above root"),
        ("catalog/site.py", "from dosecalc import dose", "dose stands above catalog"),
        ("dose/mix.py", "def f():\n    from dosecalc.faces import text", "faces stands above dose"),
        ("dose/mix.py", "import dosecalc.season.store", "season stands above dose"),
        ("english_cards.py", "from dosecalc.units import show", "units stands above root"),
        ("dose/mix.py", "import dosecalc.__main__", "__main__ stands above dose"),
        ("dose/need.py", "from . import plan", "relative import"),
        ("dose/need.py", "from ..units import read", "relative import"),
        ("dose/need.py", "from dosecalc.extra import thing", "'extra' is no floor"),
        ("extra/thing.py", "", "'extra' is no floor"),
        ("units/read.py", "import pint", "pint belongs to units/engine.py only"),
        ("dose/mix.py", "from pydantic import BaseModel", "pydantic belongs to"),
        ("faces/text.py", "import click", "click belongs to faces/cli/ only"),
        ("dose/dump.py", "from tabulate import tabulate", "tabulate belongs to faces/ only"),
        ("units/show.py", "import numpy", "numpy has no place"),
        ("dose/feed/exact.py", "import highspy", "highspy belongs to dose/feed/solve.py only"),
        ("dose/steps.py", "from datetime import date", "reads no clock"),
        ("units/engine.py", "import_module('dosecalc.dose.mix')", "dose stands above units"),
        ("units/engine.py", "importlib.import_module(name)", "its name cannot be read"),
        ("catalog/files.py", "import_module(f'dosecalc.faces.{x}')", "faces stands above catalog"),
    ],
)
def test_the_check_sees_each_fault(file: str, text: str, complaint: str) -> None:
    found = faults(file, text)
    assert len(found) == 1
    assert complaint in found[0]
