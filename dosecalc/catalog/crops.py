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
    """One crop: `words` are its id and classes, the words that limits are scoped by."""

    id: str
    name: str
    words: frozenset[str]

    @property
    def settings(self) -> frozenset[str]:
        """Settings that the crop itself implies (a lawn is turf, an apple a tree)."""
        return frozenset(s for c, s in _SETTING_OF_CLASS.items() if c in self.words)


GENERAL = Crop("field-vegetable", "general field vegetables", frozenset({"field-vegetable"}))


@cache
def crops() -> dict[str, Crop]:
    """Every crop by each of its folded names; class ids are names too."""
    found: dict[str, Crop] = {}
    table = files.shipped(files.data_root().joinpath("crops.toml"))["crop"]
    classes = {word for entry in table.values() for word in entry.get("classes", ())}
    for id, entry in table.items():
        words = frozenset({id, *entry.get("classes", ()), *entry.get("kinds", ())})
        crop = Crop(id, entry["name"], words)
        for name in (id, entry["name"], *entry.get("also", ())):
            found.setdefault(crop_key(name), crop)
    for word in sorted(classes):
        found.setdefault(crop_key(word), Crop(word, word.replace("-", " "), frozenset({word})))
    return found


def crop_key(text: str) -> str:
    """A crop name as it is looked up."""
    return " ".join(text.casefold().replace("-", " ").split())


def find_crop(text: str) -> Crop:
    """The crop a person means.

    Raises
    ------
    DoseError
        When no crop has that name, with the nearest ones.
    """
    known = crops()
    key = crop_key(text)
    for form in (key, key.removesuffix("s"), key.removesuffix("es")):
        if form in known:
            return known[form]
    near = difflib.get_close_matches(key, known, n=3, cutoff=0.6)
    hint = " or ".join(f"'{name}'" for name in near) or "a class such as 'field-vegetable'"
    raise refuse("crop-unknown", text=text[:60], near=hint)
