"""Writing a garden file from answers: checked first, written whole or not at all."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from dosecalc.catalog.checking import validate
from dosecalc.catalog.garden import Garden, read_garden
from dosecalc.catalog.site import SiteText, read_site
from dosecalc.catalog.tools import ToolsText, read_tools
from dosecalc.errors import problems_text, refuse
from dosecalc.faces.whole_file import write_whole

_WHOLE = re.compile(r"[1-9]\d{0,3}", re.ASCII)
_NAME = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_TOOL_KEYS = ("my_spoons", "spoons", "scale", "syringe", "jug")


@dataclass(frozen=True, slots=True)
class Answers:
    """What a grower answered; empty where nothing was said.

    Parameters
    ----------
    name, region : str or None
    tools : mapping
        Of `my_spoons`, `spoons`, `scale`, `syringe`, `jug`.
    sprayers : sequence of str
        "hand: 2 L".
    rows : sequence of str
        "beetroot-row: 40 m, spacing 45 cm, crop beetroot".
    beds : sequence of str
        "long-bed: 75 cm x 30 m, path 45 cm, rows 3, crop carrot".
    """

    name: str | None
    region: str | None
    tools: Mapping[str, str | None]
    sprayers: Sequence[str]
    rows: Sequence[str]
    beds: Sequence[str]


def write_garden(file: Path, answers: Answers, *, replace: bool) -> None:
    """Check the answers and write them as a garden file.

    Raises
    ------
    DoseError
        For anything that cannot be read, or a file that is there already.
    """
    if file.exists() and not replace:
        raise refuse("file-there", path=file)
    text = garden_text(answers)
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        raise refuse("setup-odd") from None
    if problems := validate("garden", data, str(file)):
        raise refuse("garden-problems", problems=problems_text(problems))
    garden = Garden(file, data)
    read_tools(garden.tools(ToolsText()))
    for sprayer in data.get("sprayer", {}).values():
        read_tools(ToolsText(sprayer=sprayer["size"]))
    for name in data.get("bed", {}):
        read_site(garden.site(SiteText(), name))
    write_whole(file, text, replace=replace)


def garden_text(answers: Answers) -> str:
    """The answers as TOML."""
    lines = [
        f"{key} = {_quoted(value)}"
        for key, value in (("name", answers.name), ("region", (answers.region or "").upper()))
        if value
    ]
    sprayers: set[str] = set()
    beds: set[str] = set()
    tools = [f"{k} = {_quoted(v)}" for k in _TOOL_KEYS if (v := answers.tools.get(k))]
    if tools:
        lines += ["", "[tools]", *tools]
    for text in answers.sprayers:
        name, size = _named(text, "hand: 2 L", sprayers)
        lines += ["", f"[sprayer.{name}]", f"size = {_quoted(size)}"]
    for text in answers.rows:
        name, rest = _named(text, "beetroot-row: 40 m, spacing 45 cm", beds)
        lines += ["", f"[bed.{name}]", *_measures(rest, "row", text)]
    for text in answers.beds:
        name, rest = _named(text, "long-bed: 75 cm x 30 m, path 45 cm, rows 3", beds)
        lines += ["", f"[bed.{name}]", *_measures(rest, "bed", text)]
    return "\n".join(lines).lstrip("\n") + "\n"


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def _named(text: str, example: str, taken: set[str]) -> tuple[str, str]:
    """A name that is not taken yet, and what stands behind its colon."""
    name, colon, rest = (part.strip() for part in text.partition(":"))
    if not colon or not _NAME.fullmatch(name) or not rest:
        raise refuse("setup-name", text=text, example=example)
    if name in taken:
        raise refuse("setup-twice", text=name)
    taken.add(name)
    return name, rest


_WORDS = {
    "row": {"spacing": "row_spacing", "rows": "rows", "plants": "plant_spacing", "crop": "crop"},
    "bed": {"path": "path", "rows": "rows_per_bed", "beds": "beds", "crop": "crop"},
}
_COUNTS = frozenset({"rows", "rows_per_bed", "beds"})


def _measures(rest: str, kind: str, text: str) -> list[str]:
    """The size first, then words with their measures, commas between."""
    first, *others = (part.strip() for part in rest.split(","))
    lines = [f"{kind} = {_quoted(first)}"]
    said: set[str] = set()
    for part in others:
        word, _, value = part.partition(" ")
        key = _WORDS[kind].get(word)
        if key in said:
            raise refuse("setup-twice", text=word)
        said.add(str(key))
        if key is None or not value or (key in _COUNTS and not _WHOLE.fullmatch(value)):
            raise refuse("setup-word", text=text, known=", ".join(_WORDS[kind]))
        lines.append(f"{key} = {value if key in _COUNTS else _quoted(value)}")
    return lines


def save_calibration(
    file: Path, name: str | None, lines: Mapping[str, str], size: str | None
) -> None:
    """Keep a calibration for one sprayer of a garden file; everything else in it stays.

    Parameters
    ----------
    file : Path
        Made when it is not there.
    name : str or None
        The sprayer's name.
    lines : mapping of str to str
        `output`, `along_row`, `spread`.
    size : str or None
        Its usable volume, needed when the file does not know the sprayer yet.

    Raises
    ------
    DoseError
        For a name or a file that cannot be used, or a result that has no output to keep.
    """
    import tomlkit  # keeps a person's own comments and order; loaded only to edit their file

    if name is None or not _NAME.fullmatch(name):
        raise refuse("calibrate-save-name")
    if not lines:
        raise refuse("calibrate-save-nothing")
    known = read_garden(file) if file.exists() else Garden(file, {})
    have = known.sprayer(name)
    if have is None and size is None:
        raise refuse("calibrate-save-size", text=name)
    document = tomlkit.parse(file.read_text("utf-8")) if file.exists() else tomlkit.document()
    held = document.get("sprayer")
    if isinstance(held, tomlkit.items.InlineTable):
        # One line cannot take another sprayer: it becomes tables, at the end of the file.
        comment = held.trivia.comment
        document.remove("sprayer")
        if comment:
            document.add(tomlkit.comment(comment.lstrip("# ")))
        document["sprayer"] = _as_tables(held.unwrap())
    sprayers = document.setdefault("sprayer", tomlkit.table(is_super_table=True))
    mine = sprayers.setdefault(name, tomlkit.table())
    if have is None:
        mine["size"] = size
    for key in ("output", "along_row", "spread"):
        if key in lines:
            mine[key] = lines[key]
        elif key in mine:
            del mine[key]  # of an earlier calibration, which this one replaces
    text = tomlkit.dumps(document)
    if problems := validate("garden", tomllib.loads(text), str(file)):
        raise refuse("garden-problems", problems=problems_text(problems))
    write_whole(file, text, replace=True)


def _as_tables(sprayers: Mapping[str, Mapping[str, str]]) -> Any:
    import tomlkit

    tables = tomlkit.table(is_super_table=True)
    for name, values in sprayers.items():
        one = tomlkit.table()
        one.update(values)
        tables[name] = one
    return tables
