"""Writing a label file: checked first, written whole or not at all."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping
from pathlib import Path

from dosecalc.catalog.checking import validate
from dosecalc.catalog.label import build_label
from dosecalc.catalog.lookup import find_material
from dosecalc.errors import problems_text, refuse
from dosecalc.faces.whole_file import write_whole
from dosecalc.units import read

_LISTS = ("crops", "not_on")


def write_label(file: Path, typed: Mapping[str, str | None], *, replace: bool) -> None:
    """Check what was typed and write it as TOML.

    Raises
    ------
    DoseError
        For anything that cannot be read, or a file that is there already.
    """
    if not typed.get("product") or not typed.get("material"):
        raise refuse("label-needs")
    if file.exists() and not replace:
        raise refuse("file-there", path=file)
    text = _toml(typed)
    data = tomllib.loads(text)
    if problems := validate("label", data, str(file)):
        raise refuse("label-problems", problems=problems_text(problems))
    build_label(data)
    write_whole(file, text, replace=replace)


def _toml(typed: Mapping[str, str | None]) -> str:
    lines = []
    for name, value in typed.items():
        if not value:
            continue
        if name in _LISTS:
            parts = [json.dumps(part.strip()) for part in value.split(",") if part.strip()]
            lines.append(f"{name} = [{', '.join(parts)}]")
        elif name == "times":
            lines.append(f"times = {_whole(value)}")
        elif name == "material":
            lines.append(f"material = {json.dumps(find_material(value).id)}")
        else:
            lines.append(f"{name} = {json.dumps(value, ensure_ascii=False)}")
    return "\n".join(lines) + "\n"


def _whole(text: str) -> int:
    value = read.number(text, example="3")
    if value.denominator != 1 or not 0 < value <= 100:
        raise refuse("site-count", text=text, option="--times", example="3", most=100)
    return int(value)
