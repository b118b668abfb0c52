"""The figures of a text that need not be a recipe, each as one letter, to find sums among them.

The reader refuses what it does not understand; here it is passed over, so that what surrounds a
sum cannot hide it. A pattern of letters says where a sum may stand: "v=v" is a volume that
equals a volume.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from dosecalc.catalog import lookup
from dosecalc.catalog.formula import NUTRIENTS
from dosecalc.catalog.prose import words
from dosecalc.catalog.prose.scan import Mark, Number, number_at
from dosecalc.catalog.prose.sizes import SizeLexer
from dosecalc.errors import DoseError, printable
from dosecalc.units import read

AMOUNTS = "mvslz"
"""Letters of a weight, a volume, an area, a length, and an ounce that can be either."""

_AMOUNT = {"mass": "m", "volume": "v", "area": "s", "length": "l", "time": "t"}
_TOKEN = re.compile(
    r"""
    (?P<analysis>\d+(?:\.\d+)?(?:-\d+(?:\.\d+)?){2}(?![\d/-]))
    | (?P<ratio>\d+(?:\.\d+)?(?::\d+(?:\.\d+)?)+)
    | (?P<num>\d+[ -]\d+/\d+(?![\d/]|[.,]\d) | \d+/\d+(?![\d/]|[.,]\d)
        | \d[\d,]*(?<!,)(?:\.\d+)? | \.\d+)
    | (?P<word>[A-Za-z][A-Za-z0-9']*)
    | (?P<space>\ +)
    | (?P<sign>->|.)
    """,
    re.VERBOSE | re.ASCII | re.DOTALL,
)
_ORDINAL = re.compile(r"(?<=\d/\d)(\d*)(?:ths?|rds?|nds?|st)\b")
_QUOTES = "\"'"
_SIGNS = {"->": "=", "@": "F", "\n": ";", "\u00f7": "/", "*": "x"}
_LETTERS: dict[str, str] = {
    word: letter
    for letter, said in (
        ("O", "of"), ("P", "per"), ("I", "in into to with"), ("f", "for"),
        ("F", "from as using at"), ("i", "is are"), ("h", "has have contains contain holds hold"),
        ("H", "weighs weigh"), ("K", "covers cover"),
        ("g", "makes make gives give supplies supply provides provide"),
        ("=", "equals equal"), ("R", "or"), ("C", "and but"), ("T", "a an the each every"),
        ("x", "x times"), ("+", "plus"), ("U", "actual elemental element pure available total"),
        ("S", "solution mixture spray strength dilution emulsion suspension drench"),
        ("u", "use mix add dissolve put stir take apply needs need takes requires require"),
        ("A", "about approximately typically usually normally generally often only"),
    )
    for word in said.split()
}  # fmt: skip
_PHRASES = {
    ("shown", "as"): "=", ("equal", "to"): "=", ("which", "is"): "i", ("that", "is"): "i",
    ("divided", "by"): "/", ("multiplied", "by"): "x", ("by", "mixing"): "u",
    ("by", "adding"): "u",
}  # fmt: skip
_BY = {("w", "/", "v"), ("v", "/", "v"), ("w", "/", "w")}
_MODAL = frozenset({"would", "will", "should", "may", "might"})
_LOOSE = words.HEAPED | {"heavy", "scant", "generous"}
_ELEMENTS = {word: word for word in NUTRIENTS} | words.NUTRIENT_WORDS | {
    "boron": "B", "calcium": "Ca", "magnesium": "Mg", "sulfur": "S", "sulphur": "S", "iron": "Fe",
    "manganese": "Mn", "zinc": "Zn", "copper": "Cu", "molybdenum": "Mo", "phosphate": "P2O5",
    "potash": "K2O", "sodium": "Na", "chlorine": "Cl", "chloride": "Cl", "CaO": "CaO",
    "MgO": "MgO", "SO3": "SO3",
}  # fmt: skip
_OXIDES = {
    ("P", "pentoxide"): "P2O5", ("K", "oxide"): "K2O", ("Ca", "oxide"): "CaO",
    ("Mg", "oxide"): "MgO", ("S", "trioxide"): "SO3",
}  # fmt: skip
_COMPOUNDS = frozenset({
    "acid", "acetate", "borate", "carbonate", "chelate", "chloride", "hydroxide", "nitrate",
    "oxide", "oxychloride", "pentoxide", "phosphate", "sulfate", "sulphate", "sulfide", "sulphide",
})  # fmt: skip
_ASH = frozenset({"ash", "ashes"})  # a garden text means ash of wood
_ANOTHER = frozenset({
    "aged", "brown", "coarse", "coated", "concentrated", "condensed", "crushed", "damp", "dilute",
    "diluted", "dried", "dry", "fine", "flake", "flaked", "fresh", "icing", "instant", "kosher",
    "liquid", "moist", "nonfat", "pelleted", "pelletized", "powdered", "rock", "sea", "wet",
})  # fmt: skip
"""Words that make another stuff of a known one: dry milk, coarse salt."""


@dataclass(frozen=True, slots=True)
class Item:
    """One figure, name, word or sign of a text.

    Parameters
    ----------
    kind : str
        Its letter: one of `AMOUNTS`; "n" a number, "%" a share, "k" an analysis, "e" a nutrient,
        "X" a material, "Y" a word for several, "W" water; a sign, or the letter of a word.
    start, end : int
        Where it stands in the text.
    text : str
        The number as written; a material's id, a nutrient, or the word itself.
    to : str or None
        The upper end of a range.
    unit : str
        As written.
    more : tuple of (str, str) or None
        Number and unit of the second part of "2 lb 4 oz".
    about : bool
        Whether "about" stood before it.
    bare : bool
        Whether the number was left out ("per gallon").
    """

    kind: str
    start: int
    end: int
    text: str
    to: str | None = None
    unit: str = ""
    more: tuple[str, str] | None = None
    about: bool = False
    bare: bool = False


@dataclass(frozen=True, slots=True)
class Figures:
    """A text as its items.

    Parameters
    ----------
    text : str
        Tidy.
    items : tuple of Item
    letters : str
        The kind of each item, one letter for one item.
    """

    text: str
    items: tuple[Item, ...]
    letters: str

    def quote(self, start: int, end: int) -> str:
        """The words of the items from `start` to before `end`, as they are printed back.

        The other half of a bracket beside them is one of them.
        """
        if end <= start:
            return ""
        open_ = self.letters.count("(", start, end) - self.letters.count(")", start, end)
        end += open_ > 0 and self.letters[end : end + 1] == ")"
        start -= open_ < 0 and self.letters[start - 1 : start] == "("
        said = self.text[self.items[start].start : self.items[end - 1].end]
        return printable(" ".join(said.split()), 160)

    def of(self, match: re.Match[str], group: str) -> Item:
        """The item that a group of one letter stands for."""
        return self.items[match.start(group)]

    def said(self, match: re.Match[str]) -> str:
        """The words of a match."""
        return self.quote(*match.span())


def figures(text: str) -> Figures:
    """The items of a tidy text; nothing is refused."""
    found = _joined(list(_Scan(text).run()))
    return Figures(text, tuple(found), "".join(item.kind for item in found))


class _Scan:
    """One pass over a text."""

    def __init__(self, text: str) -> None:
        self.marks: list[Mark] = []
        self.spans: list[tuple[int, int]] = []
        self.split(text)
        self.sizes = SizeLexer(self.marks, None)

    def split(self, text: str) -> None:
        """Into marks with their places; an ordinal's ending belongs to its number."""
        plain = _ORDINAL.sub(lambda end: end[1] + " " * (len(end[0]) - len(end[1])), text)
        for match in _TOKEN.finditer(plain):
            kind, said = str(match.lastgroup), match.group()
            if (
                kind == "space"
                or said.lower() in _MODAL
                or self.holds_together(said, plain, match.end())
            ):
                continue
            self.marks.append(Mark(kind, said, match.start()))
            self.spans.append(match.span())

    def holds_together(self, said: str, text: str, end: int) -> bool:
        """A sign that ends nothing: the stop of "sq. ft.", the dash of "cubic-foot"."""
        if said in _QUOTES:
            return True
        if said == "*":  # a footnote's star, unless it multiplies
            return re.match(r" ?[\d(.]", text[end : end + 2]) is None
        last = self.marks[-1] if self.marks else None
        if last is None or last.kind != "word":
            return False
        if said == ".":
            small = re.match(r" ?[a-z(/]", text[end : end + 2])
            return last.low in words.ABBREVIATIONS or small is not None
        return said == "-" and text[end : end + 1].isalpha()

    def low(self, at: int) -> str:
        return self.marks[at].low if at < len(self.marks) else ""

    def item(self, kind: str, at: int, end: int, text: str) -> Item:
        return Item(kind, self.spans[at][0], self.spans[end - 1][1], text)

    def run(self) -> Iterator[Item]:
        at, last = 0, ""
        while at < len(self.marks):
            one = self.bare(at) if last in ("P", "/") else None
            made, at = one or self.next(at)
            last = made.kind
            yield made

    def next(self, at: int) -> tuple[Item, int]:
        mark = self.marks[at]
        if mark.kind == "analysis":
            share = sum(map(Fraction, mark.text.split("-")))
            return self.item("k" if share <= 100 else "?", at, at + 1, mark.text), at + 1
        if mark.kind == "ratio":
            return self.item("?", at, at + 1, mark.text), at + 1
        found = number_at(self.marks, at)
        if found is not None:
            return self.counted(found, at)
        if mark.kind == "sign":
            sign = _SIGNS.get(mark.text, mark.text)
            known = sign if sign in "()=+/x.,:;-F" else "." if sign in "!?" else "?"
            return self.item(known, at, at + 1, mark.text), at + 1
        return self.named(at) or self.word(at)

    def unit(self, at: int) -> tuple[str, str, int] | None:
        if at >= len(self.marks) or self.low(at) in ("are", "count"):
            return None
        try:
            return self.sizes.unit(at)
        except DoseError:
            return None

    def counted(self, found: Number, at: int) -> tuple[Item, int]:
        """A number and what it counts."""
        end = found.end
        if unknown(found.text) or (found.to is not None and unknown(found.to)):
            return self.item("?", at, end, ""), end
        made = replace(self.item("n", at, end, found.text), to=found.to, about=found.about)
        if self.low(end) == "%":
            by = tuple(self.low(end + ahead) for ahead in (1, 2, 3))
            end += 4 if by in _BY else 1
            return replace(made, kind="%", end=self.spans[end - 1][1]), end
        loose, behind = False, end
        while self.low(behind) in words.LEVEL | _LOOSE:
            loose = loose or self.low(behind) in _LOOSE
            behind += 1
        unit = self.unit(behind)
        if unit is None:
            return made, end
        spelling, kind, end = unit
        more = None if found.to is not None else self.smaller(spelling, end)
        if more is not None:
            made, end = replace(made, more=more[:2]), more[2]
        letter = "y" if loose else self.letter(spelling, kind)
        return replace(made, kind=letter, unit=spelling, end=self.spans[end - 1][1]), end

    def letter(self, spelling: str, kind: str) -> str:
        if spelling.lower().rstrip(".") in ("oz", "ounce", "ounces"):
            return "z"
        return _AMOUNT.get(kind, "c")

    def smaller(self, spelling: str, at: int) -> tuple[str, str, int] | None:
        """The second part of "2 lb 4 oz"."""
        if at >= len(self.marks) or self.marks[at].kind != "num":
            return None
        other = self.unit(at + 1)
        if other is None or not _small(self.marks[at].text):
            return None
        pair = (spelling.lower(), other[0].lower())
        return (self.marks[at].text, other[0], other[2]) if pair in _SMALLER else None

    def named(self, at: int) -> tuple[Item, int] | None:
        """A material by the longest of its names, or a nutrient."""
        for size in range(6, 0, -1):
            group = self.marks[at : at + size]
            if len(group) < size or any(mark.kind == "sign" and mark.text != "%" for mark in group):
                continue
            key = " ".join("percent" if mark.text == "%" else mark.low for mark in group)
            key = key.replace("sulph", "sulf")
            id = "wood-ash" if key in _ASH else lookup.names().ids.get(key)
            letters = lookup.names().shown.get(key, "")
            if letters.isupper() and group[0].text != letters:
                continue  # "tsp" is a spoon, TSP a feed
            if id is not None:
                kind = "W" if id == "water" else "X"
                if at > 0 and self.low(at - 1) in _ANOTHER:
                    kind = "Y"
                return self.item(kind, at, at + size, id), at + size
            if key in lookup.AMBIGUOUS and size > 1:
                return self.item("Y", at, at + size, key), at + size
        return self.nutrient(at)

    def nutrient(self, at: int) -> tuple[Item, int] | None:
        mark = self.marks[at]
        word = _ELEMENTS.get(mark.text) or (_ELEMENTS.get(mark.low) if len(mark.text) > 2 else None)
        after = self.low(at + 1)
        if word is not None and (word, after) in _OXIDES:
            return self.item("e", at, at + 2, _OXIDES[word, after]), at + 2
        if word is not None and after not in _COMPOUNDS:
            return self.item("e", at, at + 1, word), at + 1
        if mark.low in lookup.AMBIGUOUS:
            return self.item("Y", at, at + 1, mark.low), at + 1
        return None

    def word(self, at: int) -> tuple[Item, int]:
        """A word by its letter; "per gallon" and "a gallon" are amounts of one."""
        low = self.low(at)
        phrase = (low, self.low(at + 1))
        if phrase in _PHRASES:
            return self.item(_PHRASES[phrase], at, at + 2, low), at + 2
        if low in ("is", "are") and (self.low(at + 1), self.low(at + 2)) == ("equal", "to"):
            return self.item("=", at, at + 3, low), at + 3
        kind = _LETTERS.get(low, "w")
        if kind == "T" and (one := self.bare(at + 1)) is not None:
            return replace(one[0], start=self.spans[at][0]), one[1]
        return self.item(kind, at, at + 1, low), at + 1

    def bare(self, at: int) -> tuple[Item, int] | None:
        """A unit whose number, left out, is one."""
        unit = self.unit(at)
        if unit is None or (len(unit[0]) > 2 and unit[0].endswith("s")):
            return None
        spelling, kind, end = unit
        made = self.item(self.letter(spelling, kind), at, end, "1")
        return replace(made, unit=spelling, bare=True), end


_SMALLER = {
    (large, small)
    for larges, smalls in (
        ("lb lb. lbs lbs. pound pounds", "oz oz. ounce ounces"),
        ("ft ft. foot feet", "in in. inch inches"),
    )
    for large in larges.split()
    for small in smalls.split()
}


def unknown(text: str) -> bool:
    """Whether the reader refuses a number: a bare zero below, or digits without end."""
    try:
        read.number(text, "us")
    except DoseError:
        return True
    return False


def _small(text: str) -> bool:
    """Whether a number is plain and small, as the second part of an amount is."""
    return text.isdigit() and len(text) < 3


def _joined(found: list[Item]) -> list[Item]:
    """What a sign or a word is that its neighbours decide: "lb/acre", "8 ft by 18 ft"."""
    made: list[Item] = []
    for at, item in enumerate(found):
        last = made[-1] if made else None
        after = found[at + 1] if at + 1 < len(found) else None
        before, behind = (last.kind if last else ""), (after.kind if after else "")
        per = after is not None and behind in "vslc" and (after.bare or before != behind)
        if item.kind == "/" and last is not None and before in AMOUNTS and per:
            item = replace(item, kind="P")
        elif item.text == "by" and before in "ln" and behind in "ln":
            item = replace(item, kind="x")
        elif item.kind == "x" and (before not in f"{AMOUNTS}n%)" or behind not in f"{AMOUNTS}n%("):
            item = replace(item, kind="?")
        made.append(item)
    return made
