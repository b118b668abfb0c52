"""A person's file against the schema: pydantic's verdict as problems in plain words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from typing import Any

from pydantic import BaseModel, ValidationError

from dosecalc.catalog import schema, schema_liming
from dosecalc.errors import Problem

MODELS: dict[str, type[BaseModel]] = {
    "material": schema.MaterialFile,
    "recipe": schema.RecipeFile,
    "source": schema.SourceFile,
    "limits": schema.LimitsFile,
    "usual": schema.UsualFile,
    "availability": schema.AvailabilityFile,
    "sowing": schema.SowingFile,
    "rules": schema.RulesFile,
    "crops": schema.CropsFile,
    "label": schema.LabelFile,
    "poison": schema.PoisonFile,
    "records": schema.RecordsFile,
    "garden": schema.GardenFile,
    "soil": schema.SoilFile,
    "soil-levels": schema.SoilLevelsFile,
    "credits": schema.CreditsFile,
    "excess": schema.ExcessFile,
    "splits": schema.SplitsFile,
    "liming": schema_liming.LimingFile,
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
        model.model_validate(_tuples(data))
    except ValidationError as err:
        errors = err.errors(include_url=False)
        return [_problem(e, model, name) for e in errors if not _follows(e, errors)]
    return []


def _follows(error: Any, errors: Sequence[Any]) -> bool:
    """Whether an error only says that a list is empty because its own items are faulty."""
    if error["type"] != "too_short":
        return False
    loc = error["loc"]
    return any(other["loc"][: len(loc)] == loc and other is not error for other in errors)


def _tuples(data: Any) -> Any:
    """TOML's lists as the tuples that a strict model asks for."""
    if isinstance(data, Mapping):
        return {key: _tuples(value) for key, value in data.items()}
    return tuple(_tuples(value) for value in data) if isinstance(data, list) else data


def _shown(value: object) -> str:
    """A wrong value as it may be printed: short, on one line, whatever it is."""
    try:
        return str(value)[:40]
    except ValueError:
        return "a number of thousands of digits"


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
        return Problem(name, _place(loc), f"'{_shown(error['input'])}' is not one of {allowed}.")
    if kind == "string_type":
        shown = _shown(error["input"])
        return Problem(name, _place(loc), f"{shown} is not quoted text: write \"{shown}\" with"
                       " its unit.")  # fmt: skip
    if kind == "string_pattern_mismatch":
        given = _shown(error["input"])
        return Problem(name, _place(loc), f"'{given}' is not an id: use small letters, digits and"
                       " single hyphens.")  # fmt: skip
    return Problem(name, _place(loc), f"{error['msg']}.")


def _keys_at(model: type[BaseModel], loc: tuple[int | str, ...]) -> list[str]:
    """The keys of the (sub)model at `loc`, for 'did you mean'."""
    found: type[BaseModel] | None = model
    named = False
    for step in loc:
        if named or isinstance(step, int) or found is None:
            named = False  # a name that the person chose, such as a bed's
            continue
        field = found.model_fields.get(step)
        named = field is not None and getattr(field.annotation, "__origin__", None) is dict
        found = _inner_model(field.annotation) if field else None
    return [] if found is None else list(found.model_fields)


def _inner_model(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for arg in getattr(annotation, "__args__", ()):
        if (inner := _inner_model(arg)) is not None:
            return inner
    return None
