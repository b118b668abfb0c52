"""The only opener of data: size, depth and digit caps before parsing, problems with places."""

from __future__ import annotations

import re
import stat
import tomllib
from collections.abc import Iterator
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any

from dosecalc.errors import Problem

MAX_BYTES = 200_000
MAX_DEPTH = 20
MAX_DIGITS = 30

_LONG_NUMBER = re.compile(rf"\d[\d_]{{{MAX_DIGITS},}}")


def data_root() -> Traversable:
    """The folder of shipped data inside the package."""
    return files("dosecalc.catalog").joinpath("data")


def shipped_recipes() -> Traversable:
    """The recipe book: inside an installed package, or beside it in a source checkout."""
    inside = files("dosecalc").joinpath("recipes")
    return inside if inside.is_dir() else Path(__file__).parents[2] / "recipes"


def shipped(entry: Traversable) -> dict[str, Any]:
    """A shipped file's table: the tests hold it against the schema, so nobody waits for that."""
    return _parsed(str(entry), entry)


def entries(folder: str, key: str) -> Iterator[dict[str, Any]]:
    """Every table `key` of the shipped files of a data folder, in the order of their names."""
    inside = data_root().joinpath(folder)
    for entry in sorted(inside.iterdir(), key=lambda item: item.name):
        if entry.name.endswith(".toml"):
            yield from shipped(entry).get(key, ())


def one_line(text: str | None) -> str:
    """A text of a data file, which may run over several lines, as one; "" for none."""
    return " ".join((text or "").split())


_TABLES: dict[str, dict[str, Any]] = {}


def _parsed(name: str, entry: Traversable) -> dict[str, Any]:
    """Shipped files do not change while a program runs, so each is parsed once."""
    if name not in _TABLES:
        _TABLES[name] = tomllib.loads(entry.read_text("utf-8"))
    return _TABLES[name]


def parse_toml(raw: bytes, name: str) -> tuple[dict[str, Any], list[Problem]]:
    """Parse one file's bytes; on any fault an empty table and the problem, never an exception."""
    if len(raw) > MAX_BYTES:
        return {}, [Problem(name, "", f"is larger than {MAX_BYTES} bytes: a file of this kind"
                            " has a few thousand; check that it is the right file.")]  # fmt: skip
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as err:
        return {}, [Problem(name, f"byte {err.start}", "is not UTF-8 text: save it as UTF-8.")]
    fault = _too_wild(text)
    if fault:
        return {}, [Problem(name, "", fault)]
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as err:
        return {}, [Problem(name, "", f"is not TOML ({err}): check that line.")]
    except (ValueError, RecursionError):
        return {}, [Problem(name, "", "could not be parsed as TOML: check its numbers and"
                            " brackets.")]  # fmt: skip
    if _depth(data) > MAX_DEPTH:
        return {}, [Problem(name, "", f"nests tables more than {MAX_DEPTH} deep: write it flat.")]
    return data, []


def _depth(data: Any) -> int:
    """How deep tables and lists nest; walked without recursion, which is what it guards."""
    depth = 0
    level = [data]
    while level and depth <= MAX_DEPTH:
        depth += 1
        inner: list[Any] = []
        for item in level:
            inner += item.values() if isinstance(item, dict) else item
        level = [item for item in inner if isinstance(item, dict | list)]
    return depth


def _too_wild(text: str) -> str | None:
    """A reason not to parse: nesting or numbers that no honest file has."""
    depth = deepest = 0
    for char in text:
        if char in "[{":
            depth += 1
            deepest = max(deepest, depth)
        elif char in "]}":
            depth = max(0, depth - 1)
    if deepest > MAX_DEPTH:
        return f"nests brackets more than {MAX_DEPTH} deep: write it flat."
    if _LONG_NUMBER.search(text):
        return f"holds a number of more than {MAX_DIGITS} digits: check it."
    return None


def read_path(path: Path) -> tuple[bytes, list[Problem]]:
    """The bytes of a file that a person named, or the problem in words."""
    try:
        if stat.S_ISFIFO(path.stat().st_mode):
            return b"", [Problem(str(path), "", "cannot be read (it is a pipe): name a file.")]
        with path.open("rb") as stream:
            return stream.read(MAX_BYTES + 1), []
    except OSError as err:
        reason = (err.strerror or "unreadable").lower()
    except ValueError:
        reason = "no file can have that name"
    return b"", [Problem(str(path), "", f"cannot be read ({reason}): check the name.")]


def read_checked(path: Path, kind: str) -> tuple[dict[str, Any], list[Problem]]:
    """A person's file, parsed and held against the model of its kind (see ``checking.MODELS``)."""
    raw, problems = read_path(path)
    if problems:
        return {}, problems
    return check_bytes(raw, kind, str(path))


def check_bytes(raw: bytes, kind: str, name: str) -> tuple[dict[str, Any], list[Problem]]:
    """The bytes of a person's file, parsed and checked; an empty table with any problem."""
    data, problems = parse_toml(raw, name)
    if problems:
        return {}, problems
    from dosecalc.catalog.checking import validate  # pydantic is for people's files only

    problems = validate(kind, data, name)
    return ({}, problems) if problems else (data, [])
