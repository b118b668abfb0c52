"""A person's file against the schema: pydantic's verdict as problems in plain words."""

from __future__ import annotations

import json
from collections.abc import Mapping
from difflib import get_close_matches
from typing import Any

from pydantic import BaseModel, ValidationError

from dosecalc.catalog import schema
from dosecalc.errors import Problem

MODELS: dict[str, type[BaseModel]] = {
    "material": schema.MaterialFile,
    "recipe": schema.RecipeFile,
    "source": schema.SourceFile,
    "limits": schema.LimitsFile,
    "rules": schema.RulesFile,
    "crops": schema.CropsFile,
    "label": schema.LabelFile,
}


def validate(kind: str, data: Mapping[str, Any], name: str) -> list[Problem]:
    """Check a parsed table against a file model; every fault is a problem with its place.

    Parameters
    ----------
    kind : str
        "material", "recipe", "source", "limits", "rules", "crops" or "label".
    data : mapping
    name : str
        The file as the person named it.
    """
    model = MODELS[kind]
    try:
        model.model_validate_json(json.dumps(data, default=_not_text))
    except ValidationError as err:
        return [_problem(error, model, name) for error in err.errors(include_url=False)]
    except (TypeError, ValueError, RecursionError) as err:
        return [Problem(name, "", f"holds a value that no key takes ({err}): write"
                        " amounts as quoted text.")]  # fmt: skip
    return []


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
