"""`Limit`: one published figure over a basis within a window, and the scope it holds in."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from importlib.resources.abc import Traversable
from typing import Any

from dosecalc.catalog import files
from dosecalc.catalog.files import one_line
from dosecalc.catalog.source import Source
from dosecalc.units import read
from dosecalc.units.measure import Measure

ANY: frozenset[str] = frozenset({"any"})
_OF = re.compile(r'^(?:of|a|b) = "([^"]+)"', re.MULTILINE)
_WATER_FILE = "water.toml"


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit. See ``catalog.schema.LimitEntry`` and docs/limits.md for the scope words.

    Parameters
    ----------
    of : str
        A nutrient ("B"), a material id, "trait:oil" or "salt:N+K2O".
    per : str
        The basis of the figure ("field area", "row length", "solution" ...).
    limit : Measure
        The figure; zero excludes.
    inclusive : bool
        True for "at most", False for "below".
    lower : bool
        True for a lowest useful rate, which is a note and never more.
    judges : bool
        False where it is shown as a comparison only.
    """

    id: str
    of: str
    per: str
    limit: Measure
    inclusive: bool
    window: str
    years: int
    crops: frozenset[str]
    not_crops: frozenset[str]
    setting: frozenset[str]
    placement: frozenset[str]
    phase: str
    region: str
    law: bool
    lower: bool
    judges: bool
    not_judging: str
    printed: str
    source: Source
    why: str
    caveat: str

    @property
    def excludes(self) -> bool:
        """Whether it forbids the thing altogether."""
        return self.limit.value == 0 and not self.lower


def _words(value: Any) -> frozenset[str]:
    return ANY if value == "any" else frozenset(value)


def build_limit(entry: Mapping[str, Any], source: Source) -> Limit:
    """One limit from its checked table.

    Raises
    ------
    DoseError
        When its figure cannot be read.
    """
    text = entry["limit"]
    figure = read.quantity(
        f"{text} count" if re.fullmatch(r"[\d.]+", text) else text,
        want="a limit",
        example="2 lb/acre",
        oz_is="weight",
    )
    return Limit(
        id=entry["id"],
        of=entry["of"],
        per=entry["per"],
        limit=figure,
        inclusive=entry["edge"] == "at most",
        window=entry["window"],
        years=entry.get("years", 0),
        crops=_words(entry["crops"]),
        not_crops=frozenset(entry.get("not_crops", ())),
        setting=_words(entry["setting"]),
        placement=_words(entry["placement"]),
        phase=entry.get("phase", "any"),
        region=entry.get("region", "any"),
        law=entry.get("law", False),
        lower=entry.get("direction") == "lower",
        judges=entry["judges"],
        not_judging=entry.get("not_judging", ""),
        printed=entry["printed"],
        source=source,
        why=one_line(entry["why"]),
        caveat=one_line(entry.get("caveat")),
    )


def relevant(entry: Traversable, terms: frozenset[str]) -> bool:
    """Whether a data file speaks of any of `terms`; looked at before it is parsed."""
    return not terms.isdisjoint(_OF.findall(entry.read_text("utf-8")))


def read_limits(
    terms: frozenset[str] | None, look_up: Any, *, water: bool = False
) -> tuple[Limit, ...]:
    """Every shipped limit of one of `terms`, all of them when `terms` is None.

    Parameters
    ----------
    terms : frozenset of str or None
        Nutrients, material ids, "trait:..." and "salt:..." words of the mix.
    look_up : callable
        Source id to `Source`.
    water : bool
        Whether irrigation water is judged; its file is long and of no other use.
    """
    found: list[Limit] = []
    folder = files.data_root().joinpath("limits")
    for entry in sorted(folder.iterdir(), key=lambda item: item.name):
        if not entry.name.endswith(".toml"):
            continue
        if entry.name == _WATER_FILE and terms is not None and not water:
            continue
        if terms is not None and not relevant(entry, terms):
            continue
        for table in files.shipped(entry)["limit"]:
            if terms is None or table["of"] in terms:
                found.append(build_limit(table, look_up(table["source"])))
    return tuple(found)


def terms_of(nutrients: Iterable[str], materials: Iterable[Any]) -> frozenset[str]:
    """The words under which limits and rules may speak of these nutrients and materials."""
    words = set(nutrients)
    for material in materials:
        words.add(material.id)
        words.update(f"trait:{trait}" for trait in material.traits)
    if words & {"N", "K2O", "S"}:
        words.update({"salt:N+K2O", "salt:N+K2O+S"})
    return frozenset(words)
