"""The pieces of a text as rates: which amounts belong to which place, and nothing left over."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from dosecalc.catalog import lookup
from dosecalc.catalog.prose import words
from dosecalc.catalog.prose.grammar import Piece
from dosecalc.catalog.prose.sizes import Sized, Word
from dosecalc.errors import refuse

_HEAP = re.compile(r"\b(cubic|cu\.?|cuyd|cuft|yd3|ft3|bushels?|bu|pecks?)( |$)")
"""Measures of a heap: nobody sprays by the cubic yard."""
ROLES = {"length": "row length", "area": "area", "plant": "plant", "pot": "pot"}


@dataclass(slots=True)
class Item:
    """One amount and what it is of.

    Parameters
    ----------
    name : str
        The material as written, "" where none stood beside it.
    size : Sized or None
    strength : str
        "2 % v/v", "200 ppm" or "1:20" in place of an amount.
    nutrient : str
        The nutrient word that the amount counts, "" for the material itself.
    surely : bool
        Whether "actual" or "elemental" stood beside it.
    """

    name: str = ""
    size: Sized | None = None
    strength: str = ""
    nutrient: str = ""
    surely: bool = False


@dataclass(slots=True)
class Place:
    """What an amount is for.

    Parameters
    ----------
    role : str
        "row length", "area", "plant", "pot", "medium volume" or "liquid".
    size : Sized
    made_up : bool
        Whether the liquid is the whole, made up to that volume.
    into : bool
        Whether the liquid is one that the material is put into.
    """

    role: str
    size: Sized
    made_up: bool = False
    into: bool = False


@dataclass(slots=True)
class Rate:
    """Amounts and the places they are for.

    Parameters
    ----------
    items : list of Item
    places : list of Place
    water : list of Sized
    again : bool
        Whether brackets hold it: the rate before it in other words.
    """

    items: list[Item] = field(default_factory=list)
    places: list[Place] = field(default_factory=list)
    water: list[Sized] = field(default_factory=list)
    again: bool = False


@dataclass(slots=True)
class Draft:
    """A text taken apart.

    Parameters
    ----------
    rates : list of Rate
    bare : list of str
        Materials named without an amount.
    every, most : str
    copper_lime : str
        The three-number notation, "" where none was used.
    aside : list of str
        Words that were left aside.
    """

    rates: list[Rate] = field(default_factory=list)
    bare: list[str] = field(default_factory=list)
    sources: list[str] = field(default_factory=list)
    every: str = ""
    most: str = ""
    copper_lime: str = ""
    in_water: bool = False
    aside: list[str] = field(default_factory=list)


def draft(groups: list[list[Piece]]) -> Draft:
    """Put the pieces together.

    Raises
    ------
    DoseError
        For a word beside an amount that is no known material, and for a piece without a place.
    """
    made = Draft()
    for group in groups:
        for index, piece in enumerate(group):
            _take(made, piece, group[index + 1 :])
    _fold_names(made)
    return made


def _take(made: Draft, piece: Piece, rest: list[Piece]) -> None:
    first = piece.parts[0]
    if piece.kind in ("dose", "nutrient", "strength", "lone", "parts"):
        _rate_for(made, piece, rest).items.extend(_items(piece))
    elif piece.kind == "unknown":
        stray = piece.first("STRAY")
        assert stray is not None
        near = lookup.unknown_material(stray.text)
        if near.say.key != "material-unknown":
            raise near
        raise refuse("prose-material", text=f"{first.text} {stray.text}", name=stray.text)
    elif piece.kind == "water":
        size = _size(piece)
        _last(made).water.append(size)
    elif piece.kind == "link":
        _last(made).places.append(_place(piece))
    elif piece.kind == "alt":
        made.rates.append(Rate(items=[Item(size=_size(piece))], again=True))
        link = Piece("link", piece.parts[2:])
        made.rates[-1].places.append(_place(link))
    elif piece.kind == "bare":
        made.bare.append(first.text)
    elif piece.kind == "source":
        made.sources.append(piece.parts[-1].text)
    elif piece.kind == "every":
        if made.every:
            raise refuse("prose-two-every", text=f"{made.every}, {first.text}")
        made.every = first.text
    elif piece.kind == "most":
        made.most = first.text
    elif piece.kind == "copperlime":
        if made.copper_lime:
            raise refuse("prose-two", text=f"{made.copper_lime}, {first.text}")
        made.copper_lime = first.text
    elif piece.kind == "note":
        _check_note(first, rest)
        made.aside.append(first.text)
    else:
        made.in_water = (
            made.in_water
            or piece.kind == "bare_water"
            or (piece.kind == "on" and piece.first("WATER") is not None)
        )
        made.aside.append(" ".join(word.text for word in piece.parts))


def _check_note(first: Word, rest: list[Piece]) -> None:
    """Words before an amount could be the name of something: only words behind it are let go."""
    if first.text.partition(" ")[0].lower() in words.STARTERS:
        return
    said = ("dose", "nutrient", "strength", "lone", "parts", "link", "water", "alt", "bare")
    if any(piece.kind in said for piece in rest):
        raise refuse("prose-word", text=first.text)


def _last(made: Draft) -> Rate:
    if not made.rates:
        made.rates.append(Rate())
    return made.rates[-1]


def _rate_for(made: Draft, piece: Piece, rest: list[Piece]) -> Rate:
    """The rate that an amount belongs to: a new one once a place was said and another follows."""
    rate = _last(made)
    if not rate.places or not rate.items:
        return rate
    follows = next((p for p in rest if p.kind in ("link", "alt")), None)
    if follows is not None or piece.kind == "lone":
        made.rates.append(Rate())
    return made.rates[-1]


def _size(piece: Piece) -> Sized:
    word = piece.first("AMT")
    assert word is not None
    assert word.size is not None
    return word.size


def _items(piece: Piece) -> list[Item]:
    name = piece.first("MAT")
    nutrient = piece.first("NUTR")
    text = "" if name is None else name.text
    if piece.kind == "parts":
        one, other = (word.text for word in piece.parts if word.type == "PARTS")
        return [Item(text, None, f"{one}:{other} of water")]
    strength = piece.first("PCT", "PPM", "RATIO")
    if strength is not None:
        said = f"{strength.text} ppm" if strength.type == "PPM" else strength.text
        return [Item(text, None, said, "" if nutrient is None else nutrient.text, _surely(piece))]
    return [Item(text, _size(piece), "", "" if nutrient is None else nutrient.text, _surely(piece))]


def _surely(piece: Piece) -> bool:
    return piece.first("SURELY") is not None


def _place(piece: Piece) -> Place:
    size = _size(piece)
    nouns = {word.type for word in piece.parts[2:]}
    link = piece.parts[0]
    said = f"{link.text} {size.text}"
    if link.type == "UPTO" and size.kind != "volume":
        raise refuse("prose-upto", text=size.shown)
    if size.to is not None:
        raise refuse("prose-place-exact", text=f"{link.text} {size.shown}")
    if size.kind == "volume":
        if "POT" in nouns:
            return Place("pot", size)
        whole = link.type in ("UPTO", "PER") or "make" in link.text or "made" in link.text
        heap = "MEDIUM" in nouns or (_HEAP.search(size.text) and not nouns & {"WATER", "VESSEL"})
        into = link.text in ("in", "into", "with")
        return Place("medium volume" if heap else "liquid", size, whole, into)
    if "MEDIUM" in nouns or "WATER" in nouns or "POT" in nouns:
        raise refuse("prose-place-kind", text=said)
    if size.kind not in ROLES:
        raise refuse("prose-place-kind", text=said)
    if size.kind == "length" and nouns & {"GROUND", "VESSEL"}:
        raise refuse("prose-place-kind", text=f"{said} {piece.parts[-1].text}")
    return Place(ROLES[size.kind], size)


def _fold_names(made: Draft) -> None:
    """A material named once, its amount after it: "Borax, 100 g per 10 m2"; "... from urea"."""
    alone = [
        item
        for rate in made.rates[:1]
        for item in rate.items
        if not item.name and item.size is not None and not item.nutrient
    ]
    if len(made.bare) == 1 and len(alone) == 1 and not made.copper_lime:
        alone[0].name = made.bare.pop()
    unnamed = [item for rate in made.rates for item in rate.items if not item.name]
    counts = bool(unnamed) and all(item.strength or item.nutrient for item in unnamed)
    if len(made.bare) == 1 and not made.sources and counts and not made.copper_lime:
        made.sources.append(made.bare.pop())
    if len(made.sources) == 1:
        counted = [item for item in unnamed if item.nutrient or item.strength]
        if not counted:
            raise refuse("prose-grammar", text=f"from {made.sources[0]}")
        for item in counted:
            item.name = made.sources[0]
    elif made.sources:
        raise refuse("prose-two", text=" and ".join(made.sources))
    if made.bare and not made.copper_lime:
        raise refuse("prose-no-amount", name=made.bare[0])
