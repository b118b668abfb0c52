"""What the rules of a place ask to be written down, and which applications they are about."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from dosecalc.catalog import files
from dosecalc.catalog.lookup import source
from dosecalc.catalog.material import Material
from dosecalc.catalog.rules import Law
from dosecalc.catalog.source import Source

ON_PLANTS = frozenset({"foliar", "dormant-spray", "dip"})
_FED = frozenset({"N", "P", "K", "Ca", "Mg", "S", "B", "Cu", "Fe", "Mn", "Mo", "Zn"})
"""Elements for which a material is given to ground; sodium and chlorine are not among them."""


@dataclass(frozen=True, slots=True)
class RecordField:
    """One thing that a rule asks to be written down.

    Parameters
    ----------
    name, asks : str
    answers : tuple of str
        What of an entry answers it; see ``schema.RecordFieldEntry``. One is enough.
    also : str
        The word under which `dosecalc log --also` takes it, "" where there is none.
    instead : str
        What to do where nothing of an entry answers it.
    when : str
        Where it is asked for only sometimes.
    """

    name: str
    asks: str
    answers: tuple[str, ...]
    also: str
    instead: str
    when: str
    source: Source

    @property
    def held(self) -> bool:
        """Whether anything of an entry can answer it."""
        return bool(self.answers or self.also)


@dataclass(frozen=True, slots=True)
class RecordRule:
    """One rule about records; see ``schema.RecordRuleEntry`` for its parts."""

    id: str
    name: str
    region: str
    about: str
    asked: str
    organic: bool
    who: str
    fields: tuple[RecordField, ...]
    duties: tuple[RecordField, ...]


def _field(table: Mapping[str, Any]) -> RecordField:
    return RecordField(
        table["name"], table["asks"], tuple(table.get("answers", ())), table.get("also", ""),
        table.get("instead", ""), table.get("when", ""), source(table["source"]),
    )  # fmt: skip


def _file() -> dict[str, Any]:
    return files.shipped(files.data_root().joinpath("records.toml"))


@cache
def record_rules() -> tuple[RecordRule, ...]:
    """Every rule about records."""
    return tuple(
        RecordRule(
            table["id"], table["name"], table["region"], table["about"], table["asked"],
            table.get("organic", False), table["who"], tuple(map(_field, table["field"])),
            tuple(map(_field, table.get("duty", ()))),
        )
        for table in _file()["rule"]
    )  # fmt: skip


@cache
def also_words() -> tuple[str, ...]:
    """Every word under which an entry can hold what has no field of its own."""
    words = [field.also for rule in record_rules() for field in rule.fields if field.also]
    return tuple(dict.fromkeys(words))


def protects_plants(material: Material, placement: str, region: str, laws: Collection[Law]) -> bool:
    """Whether giving a material in this way counts as plant protection.

    It does where the law of any region names the material for that use and it was put on plants,
    or anywhere if it holds nothing that ground is fed with. A few count only in the region whose
    law names them (`only_where_named` of the data).

    Parameters
    ----------
    material : Material
    placement : str
    region : str
        Whose rule asks.
    laws : collection of Law
    """
    named = {law.region for law in laws if law.use == "plant protection" and _is(material, law.of)}
    if any(_is(material, word) for word in _file()["plant_protection"]["only_where_named"]):
        named &= {region}
    feeds = any(content.element in _FED for content in material.contents)
    return bool(named) and (placement in ON_PLANTS or not feeds)


def _is(material: Material, word: str) -> bool:
    if word.startswith("trait:"):
        return word.removeprefix("trait:") in material.traits
    return word == material.id
