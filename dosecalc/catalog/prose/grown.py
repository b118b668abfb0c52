"""Crops that the words left aside name: what the text says that the recipe is for."""

from __future__ import annotations

from dataclasses import dataclass

from dosecalc.catalog.crops import Crop, known_crop
from dosecalc.catalog.prose import words
from dosecalc.catalog.prose.grammar import Piece
from dosecalc.catalog.prose.sizes import Word

MOST_WORDS = 3
"""The longest name of a crop has three words."""


@dataclass(frozen=True, slots=True)
class Grown:
    """What the words left aside name.

    Parameters
    ----------
    crops : tuple of Crop
        Each once, in the order of the text.
    aside : tuple of str
        The words that say something else, or more than that.
    """

    crops: tuple[Crop, ...]
    aside: tuple[str, ...]


def grown(pieces: list[Piece]) -> Grown:
    """The crops that the pieces left aside name, and what is left of them.

    Only a whole name counts, and only where the words before it say nothing but that it grows:
    "for new plantings of raspberries", "on roses", "tomatoes:", and not "after beans".
    """
    crops: dict[str, Crop] = {}
    aside: list[str] = []
    before: Piece | None = None
    for piece in pieces:
        found, whole = _named(piece, before)
        crops.update((crop.id, crop) for crop in found)
        if not whole:
            aside.append(" ".join(word.text for word in piece.parts))
        before = piece
    return Grown(tuple(crops.values()), tuple(aside))


def _named(piece: Piece, before: Piece | None) -> tuple[list[Crop], bool]:
    """The crops of one piece, and whether it says nothing else."""
    first, *rest = piece.parts
    said = first.text.lower().split()
    if piece.kind in ("purpose", "on"):
        told = before is not None and before.kind == "note" and _touch(before.parts[-1], first)
        if said[-1] not in (words.GROWN_ON if told else words.GROWN_FOR):
            return [], False  # "toxic to beans"
        return _listed([mark for word in rest for mark in word.text.lower().split()], False)
    if piece.kind == "title" and not _touch(first, rest[0]):
        return [], False  # a way of giving it stands between: "garlic spray:"
    if piece.kind == "aside" and said[0] in words.GROWN_FOR:
        return _listed(said[1:], False)
    if piece.kind in ("note", "title", "aside"):
        return _listed(said, True)
    return [], False


def _touch(one: Word, other: Word) -> bool:
    """Whether nothing but a space stands between two words."""
    if one.spot is None or other.spot is None:
        return False
    return other.spot.start - one.spot.end <= 1


def _listed(said: list[str], only: bool) -> tuple[list[Crop], bool]:
    """The crops that words list, and whether they do nothing else.

    Parameters
    ----------
    said : list of str
    only : bool
        Whether words behind the list make it something else: they do where no "for" leads it.
    """
    found: list[Crop] = []
    at, next_one = 0, True
    while at < len(said):
        crop, size = _crop_at(said, at)
        around = words.GROWN_LEAD if next_one else words.GROWN
        if said[at] in around and not (crop is not None and next_one):
            at += 1
        elif crop is not None and next_one:
            found.append(crop)
            at, next_one = at + size, False
        elif crop is None and said[at] in ("and", ",", "&") and found and not next_one:
            at, next_one = at + 1, True
        else:
            break
    rest = said[at:]
    if not rest:
        return found, bool(found)
    if only or rest[0] in words.MADE_OF_CROPS or _crop_at(rest, 0)[0] is not None:
        return [], False  # "corn flour", "tea roses"
    return ([], False) if words.HARMS.intersection(rest) else (found, False)


def _crop_at(said: list[str], at: int) -> tuple[Crop | None, int]:
    """The crop of the longest name at a place, and how many words it has."""
    for size in range(MOST_WORDS, 0, -1):
        group = said[at : at + size]
        if len(group) == size and (crop := known_crop(" ".join(group))) is not None:
            return crop, size
    return None, 0
