"""Crops by any of their names, and the classes that limits are written for."""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from functools import cache

from dosecalc.catalog import files
from dosecalc.errors import refuse

_SETTING_OF_CLASS = {
    "turf-class": "turf", "tree-fruit": "tree", "stone-fruit": "tree", "pome-fruit": "tree",
    "citrus-class": "tree", "nut-tree": "tree", "ornamental-class": "ornamental",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Crop:
    """One crop.

    Parameters
    ----------
    id, name : str
    words : frozenset of str
        What limits are scoped by: its id, its classes, the general crop it is a kind of, and
        its own kinds, so that a general name is judged as the most sensitive of them.
    own : frozenset of str
        The same without its kinds: what a label that allows some crops must name.
    """

    id: str
    name: str
    words: frozenset[str]
    own: frozenset[str]

    @property
    def settings(self) -> frozenset[str]:
        """Settings that the crop itself implies (a lawn is turf, an apple a tree)."""
        return frozenset(s for c, s in _SETTING_OF_CLASS.items() if c in self.words)


_GENERAL = frozenset({"field-vegetable"})
GENERAL = Crop("field-vegetable", "general field vegetables", _GENERAL, _GENERAL)


@cache
def crops() -> dict[str, Crop]:
    """Every crop by each of its folded names; class ids are names too."""
    found: dict[str, Crop] = {}
    table = files.shipped(files.data_root().joinpath("crops.toml"))["crop"]
    classes = {word for entry in table.values() for word in entry.get("classes", ())}
    for id, entry in table.items():
        general = {g for g, other in table.items() if id in other.get("kinds", ())}
        own = frozenset({id, *entry.get("classes", ()), *general})
        crop = Crop(id, entry["name"], own | frozenset(entry.get("kinds", ())), own)
        for name in (id, entry["name"], *entry.get("also", ())):
            found.setdefault(crop_key(name), crop)
    for word in sorted(classes):
        found.setdefault(
            crop_key(word), Crop(word, word.replace("-", " "), frozenset({word}), frozenset({word}))
        )
    return found


def crop_words() -> frozenset[str]:
    """Every crop and class as a finding calls it, in small letters."""
    every = {crop.id: crop for crop in crops().values()}.values()
    ids = {crop.id.replace("-", " ") for crop in every}
    return frozenset(ids | {crop.name.lower() for crop in every})


def crop_key(text: str) -> str:
    """A crop name as it is looked up."""
    return " ".join(text.casefold().replace("-", " ").split())


def known_crop(text: str) -> Crop | None:
    """The crop of a name, in the singular or plural; None when no crop has it."""
    known, key = crops(), crop_key(text)
    forms = (key, key.removesuffix("s"), key.removesuffix("es"))
    return next((known[form] for form in forms if form in known), None)


def find_crop(text: str) -> Crop:
    """The crop a person means.

    Raises
    ------
    DoseError
        When no crop has that name, with the nearest ones.
    """
    found = known_crop(text)
    if found is not None:
        return found
    near = difflib.get_close_matches(crop_key(text), crops(), n=3, cutoff=0.6)
    hint = " or ".join(f"'{name}'" for name in near) or "a class such as 'field-vegetable'"
    raise refuse("crop-unknown", text=text[:60], near=hint)
