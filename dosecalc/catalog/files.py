"""The only opener of data: size, depth and digit caps before parsing, problems with places."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Mapping
from difflib import get_close_matches
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from dosecalc.errors import Problem

MAX_BYTES = 200_000
MAX_DEPTH = 20
MAX_DIGITS = 30

Model = TypeVar("Model", bound=BaseModel)

_LONG_NUMBER = re.compile(rf"\d[\d_]{{{MAX_DIGITS},}}")


def data_root() -> Traversable:
    """The folder of shipped data inside the package."""
    return files("dosecalc.catalog").joinpath("data")


def shipped_recipes() -> Traversable:
    """The recipe book: inside an installed package, or beside it in a source checkout."""
    inside = files("dosecalc").joinpath("recipes")
    return inside if inside.is_dir() else Path(__file__).parents[2] / "recipes"


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
        return tomllib.loads(text), []
    except tomllib.TOMLDecodeError as err:
        return {}, [Problem(name, "", f"is not TOML ({err}): check that line.")]
    except (ValueError, RecursionError):
        return {}, [Problem(name, "", "could not be parsed as TOML: check its numbers and"
                            " brackets.")]  # fmt: skip


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
    if any(line.count(".") > 100 and line.lstrip().startswith("[") for line in text.splitlines()):
        return f"has a table name of more than {MAX_DEPTH} parts: write it flat."
    if _LONG_NUMBER.search(text):
        return f"holds a number of more than {MAX_DIGITS} digits: check it."
    return None


def validate(
    model: type[Model], data: Mapping[str, Any], name: str
) -> tuple[Model | None, list[Problem]]:
    """Check parsed data against a file model; every fault becomes a problem with its place."""
    try:
        return model.model_validate_json(json.dumps(data, default=_not_text)), []
    except ValidationError as err:
        return None, [_problem(error, model, name) for error in err.errors(include_url=False)]
    except (TypeError, ValueError, RecursionError) as err:
        return None, [Problem(name, "", f"holds a value that no key takes ({err}): write"
                              " amounts as quoted text.")]  # fmt: skip


def _not_text(value: object) -> object:
    raise TypeError(f"a {type(value).__name__}")


def _place(loc: tuple[int | str, ...]) -> str:
    """Such as "statement 1, ingredient 2, amount": counted from one, as a person counts."""
    parts: list[str] = []
    for step in loc:
        if isinstance(step, int):
            parts[-1] = f"{parts[-1]} {step + 1}" if parts else str(step + 1)
        else:
            parts.append(step)
    return ", ".join(parts)


def _problem(error: Any, model: type[BaseModel], name: str) -> Problem:
    loc = tuple(error["loc"])
    kind = error["type"]
    if kind == "extra_forbidden":
        table = _place(loc[:-1]) or "the top of the file"
        near = get_close_matches(str(loc[-1]), _keys_at(model, loc[:-1]), n=1)
        hint = f"did you mean '{near[0]}'?" if near else "leave it out, or move it to its table."
        return Problem(name, _place(loc), f"the key '{loc[-1]}' is not known in {table}: {hint}")
    if kind == "missing":
        return Problem(name, _place(loc), f"the key '{loc[-1]}' is missing: add it.")
    if kind == "literal_error":
        allowed = error["ctx"]["expected"]
        return Problem(name, _place(loc), f"{error['input']!r} is not one of {allowed}.")
    if kind == "string_type":
        shown = str(error["input"])[:40]
        return Problem(name, _place(loc), f"{shown} is not quoted text: write \"{shown}\" with"
                       " its unit.")  # fmt: skip
    if kind == "string_pattern_mismatch":
        return Problem(name, _place(loc), f"{error['input']!r} is not an id: use small letters,"
                       " digits and single hyphens.")  # fmt: skip
    return Problem(name, _place(loc), f"{error['msg']}.")


def _keys_at(model: type[BaseModel], loc: tuple[int | str, ...]) -> list[str]:
    """The keys of the (sub)model at `loc`, for 'did you mean'."""
    found: type[BaseModel] | None = model
    for step in loc:
        if isinstance(step, int) or found is None:
            continue
        field = found.model_fields.get(step)
        found = _inner_model(field.annotation) if field else None
    return [] if found is None else list(found.model_fields)


def _inner_model(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for arg in getattr(annotation, "__args__", ()):
        if (inner := _inner_model(arg)) is not None:
            return inner
    return None


def read_path(path: Path) -> tuple[bytes, list[Problem]]:
    """The bytes of a file that a person named, or the problem in words."""
    try:
        if path.stat().st_size > MAX_BYTES:
            return b"", [Problem(str(path), "", f"is larger than {MAX_BYTES} bytes: check that"
                                 " it is the right file.")]  # fmt: skip
        return path.read_bytes(), []
    except OSError as err:
        reason = (err.strerror or "unreadable").lower()
        return b"", [Problem(str(path), "", f"cannot be read ({reason}): check the name.")]
