"""Amounts with their unit, times and strengths: the sizes in a written recipe."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from dosecalc.catalog.prose import doubt, words
from dosecalc.catalog.prose.scan import Mark, Number, number_at
from dosecalc.errors import DoseError, refuse
from dosecalc.units import engine, read
from dosecalc.units.engine import Unit
from dosecalc.units.measure import AREA, LENGTH, MASS, TIME, VOLUME, exact_text
from dosecalc.units.words import System

_KINDS: dict[Unit, str] = {
    MASS: "mass", VOLUME: "volume", LENGTH: "length", AREA: "area", TIME: "time",
    (("[plant]", 1),): "plant", (("[pot]", 1),): "pot",
}  # fmt: skip
_SAFE_CAPITALS = frozenset(["oz", "lb", "ft", "yd", "qt", "pt"])


@dataclass(frozen=True, slots=True)
class Sized:
    """An amount with its unit as written.

    Parameters
    ----------
    text : str
        For ``units.read``: "1 1/2 tbsp", "4 x 8 ft".
    to : str or None
        The upper end, with its unit.
    kind : str
        "mass", "volume", "length", "area", "time", "plant" or "pot".
    bare : bool
        Whether the number was left out ("per gallon").
    about, heaped : bool
    twin : Sized or None
        The same amount said once more.
    either : bool
        Whether "or" stood before the twin.
    """

    text: str
    to: str | None
    kind: str
    bare: bool = False
    about: bool = False
    heaped: bool = False
    twin: Sized | None = None
    either: bool = False

    @property
    def shown(self) -> str:
        """As it is printed back."""
        return self.text if self.to is None else f"{self.text} to {self.to}"


@dataclass(frozen=True, slots=True)
class Word:
    """One word of the grammar: its terminal, its text, and its amount where it is one."""

    type: str
    text: str
    size: Sized | None = None


@lru_cache(maxsize=2048)
def unit_kind(spelling: str) -> str | None:
    """What a unit measures, None when the spelling is no unit that an amount can have."""
    try:
        unit = read.quantity(f"1 {spelling}", "us", oz_is="weight").unit
    except DoseError:
        return None
    return _KINDS.get(engine.dimension(unit))


class SizeLexer:
    """The part of a pass over the marks that knows amounts."""

    def __init__(self, found: list[Mark], system: System | None) -> None:
        self.found = found
        self.system = system
        self.at = 0
        self.out: list[Word] = []
        self.each: Sized | None = None
        low = {mark.low for mark in found}
        self.copper = bool(low & {"copper", "bluestone", "bordeaux"}) and bool(
            low & {"lime", "quicklime", "bordeaux"}
        )

    def text(self, ahead: int = 0) -> str:
        """The mark at a place from here, in small letters; "" beyond the ends."""
        at = self.at + ahead
        return self.found[at].low if 0 <= at < len(self.found) else ""

    def last(self) -> str:
        """The kind of the word that was made last."""
        return self.out[-1].type if self.out else "SEP"

    def put(self, type: str, text: str, size: Sized | None = None, step: int = 0) -> None:
        """Make a word, and step on."""
        self.out.append(Word(type, text, size))
        self.at += step

    def add_twin(self, size: Sized, either: bool) -> None:
        """Keep a second wording with the amount before it."""
        place = next((at for at in range(len(self.out), 0, -1) if self.alike(at - 1, size)), None)
        if place is None:
            last = next(word.size for word in reversed(self.out) if word.size is not None)
            raise refuse("prose-twin-kind", text=size.shown, first=last.shown)
        main = self.out[place - 1]
        assert main.size is not None
        if main.size.twin is not None:
            raise refuse("prose-three", text=size.text)
        self.out[place - 1] = replace(main, size=replace(main.size, twin=size, either=either))

    def alike(self, at: int, size: Sized) -> bool:
        """Whether a word holds an amount that `size` can say once more."""
        main = self.out[at].size
        return main is not None and (
            main.kind == size.kind or {main.kind, size.kind} == {"mass", "volume"}
        )

    def only_size(self) -> Sized | None:
        """The amount that the whole of these marks is, None when they are something else."""
        if not self.found or not (self.number() or self.article_unit()):
            return None
        ends = self.at
        while ends < len(self.found) and self.found[ends].low in words.DROPPED | {"water", "row"}:
            ends += 1
        return self.out[-1].size if ends == len(self.found) and len(self.out) == 1 else None

    def near(self) -> str:
        """The words around this place, for a refusal."""
        return " ".join(mark.text for mark in self.found[max(0, self.at - 3) : self.at + 4])

    def repeated(self) -> bool:
        """How often, and how soon again."""
        for size in (3, 2, 1):
            phrase = " ".join(self.text(i) for i in range(size))
            if phrase in words.TIMES:
                if not words.TIMES[phrase]:
                    raise refuse("prose-biweekly", text=phrase)
                self.put("EVERY", words.TIMES[phrase], step=size)
                return True
        if self.text() in ("every", "repeat") or (
            self.text() == "again" and self.text(1) == "after"
        ):
            ahead = 1
            while self.text(ahead) in ("every", "after", "at", "intervals", "of", "in"):
                ahead += 1
            found = number_at(self.found, self.at + ahead)
            start = self.at + ahead if found is None else found.end
            unit = self.unit(start)
            if unit is not None and unit[1] == "time":
                low = "1" if found is None else found.text
                self.put("EVERY", f"{low} {unit[0]}")
                self.at = unit[2]
                return True
            if self.text() in ("repeat", "again"):
                self.at += 1
                return True
        return self.most()

    def most(self) -> bool:
        """Such as "at most 3 times", "no more than 3 times a season", "once a year"."""
        if self.text() in ("annually", "yearly"):
            self.put("MOST", "1 year", step=1)
            return True
        if self.text() in ("per", "a", "each", "every") and self.text(1) in ("year", "season"):
            self.put("MOST", f"1 {self.text(1)}", step=2)
            return True
        ahead = 0
        for lead in ("at most", "no more than", "not more than", "up to", "maximum", "maximum of",
                     "max"):  # fmt: skip
            parts = lead.split()
            if [self.text(i) for i in range(len(parts))] == parts:
                ahead = len(parts)
        word = self.text(ahead)
        once = {"once": 1, "twice": 2}.get(word)
        if once is not None and (ahead or self.text(1) in ("a", "per", "each", "in")):
            many, end = str(once), self.at + ahead + 1
        else:
            found = number_at(self.found, self.at + ahead)
            if found is None or found.to is not None or found.end >= len(self.found):
                return False
            if self.found[found.end].low not in ("times", "applications", "sprays", "treatments"):
                return False
            many, end = found.text, found.end + 1
        window = ""
        if end < len(self.found) and self.found[end].low in ("a", "per", "each", "in", "/"):
            after = end + 1
            if after < len(self.found) and self.found[after].low in ("a", "one"):
                after += 1
            if after < len(self.found) and self.found[after].low in ("season", "year", "crop"):
                window, end = self.found[after].low, after + 1
        if once is not None and not window and not ahead:
            return False
        if not ahead and not window and number_at(self.found, end) is not None:
            raise refuse("prose-times-what", text=f"{many} {word}", near=self.near())
        if not many.isdigit() or not 0 < int(many) <= 1000:
            raise refuse("prose-times", text=many)
        self.put("MOST", f"{many} {window}".strip())
        self.at = end
        return True

    def number(self) -> bool:
        """A number with what it counts."""
        if self.text() in ("a", "an") and self.article_unit():
            return True
        found = number_at(self.found, self.at)
        if found is not None:
            return self.counted(found)
        if self.text() in words.LEVEL | words.HEAPED:  # "heaped teaspoon"
            return self.counted(Number("1", None, False, self.at), bare=True)
        return False

    def article_unit(self) -> bool:
        """Such as "a gallon", "a level teaspoon": the number is one."""
        if self.text() not in ("a", "an"):
            return False
        if self.text(1) in words.PARTS_OF_ONE:
            return False
        for size in (2, 1):
            phrase = " ".join(self.text(1 + i) for i in range(size))
            doubt.size_word(phrase, f"a {phrase}", self.behind(self.at + 1 + size))
        return self.counted(Number("1", None, False, self.at + 1), bare=True)

    def behind(self, at: int) -> str:
        """The words behind a place, up to the next link, for a refusal."""
        out = []
        for mark in self.found[at : at + 5]:
            if mark.low == "of":
                continue
            if mark.kind == "sign" or mark.low in words.LINKS:
                break
            out.append(mark.text)
        return " ".join(out)

    def counted(self, found: Number, *, bare: bool = False) -> bool:
        """What a number counts: a unit, or something else."""
        at, heaped = found.end, False
        while at < len(self.found) and self.found[at].low in words.LEVEL | words.HEAPED:
            heaped = heaped or self.found[at].low in words.HEAPED
            at += 1
        unit = self.unit(at)
        if unit is None:
            return False if bare else self.other_count(found)
        spelling, kind, end = unit
        if bare:
            self.singular(spelling)
        if spelling.lower() in ("oz", "ounce", "ounces") and self.of_water(end):
            spelling, kind = "fl oz", "volume"
        if kind == "length" and self.dims(found, spelling, end):
            return True
        if kind == "length" and end < len(self.found) and self.found[end].low == "square":
            raise doubt.foot_square(found.text, spelling)
        text, to = f"{found.text} {spelling}", None
        if found.to is not None:
            to = f"{found.to} {spelling}"
        elif (second := self.smaller(end, kind)) is not None:
            text, end = f"{text} {second[0]}", second[1]
        elif (upper := self.to_same(end, kind)) is not None:
            to, end = upper
        if kind in ("mass", "volume") and self.vessel(end) and self.filled(end + 1):
            end += 1  # "a 40 lb bag of gypsum", "a 25 kg bag covers 100 m2"
        if kind == "volume" and not bare and "drop" in spelling:
            raise refuse("prose-sign", sign=spelling)
        size = Sized(text, to, kind, bare, found.about, heaped)
        self.each = None
        self.put("AMT", text, size)
        self.at = end
        self.said_again()
        return True

    def singular(self, spelling: str) -> None:
        """Refuse a unit of several without its number: a lost number is a lost dose."""
        low = spelling.lower()
        if "feet" in low or (low.endswith("s") and len(low) > 2):
            raise refuse("prose-how-many", text=spelling)

    def said_again(self) -> None:
        """A second wording behind "which is", "=" or "or"."""
        at = self.at + (self.text() == ",")
        either = False
        phrase = [self.found[i].low for i in range(at, min(at + 2, len(self.found)))]
        if phrase[:2] in (["which", "is"], ["that", "is"]):
            at += 2
        elif phrase[:1] in (["="], ["equals"]):
            at += 1
        elif phrase[:1] == ["or"]:
            at, either = at + 1, True
        else:
            return
        other = SizeLexer(self.found[at:], self.system)
        if number_at(self.found, at) is not None and other.number() and other.out[-1].size:
            self.add_twin(other.out[-1].size, either)
            self.at = at + other.at

    def smaller(self, at: int, kind: str) -> tuple[str, int] | None:
        """The second part of "5 lb 10 oz"."""
        if kind not in ("mass", "length") or at >= len(self.found):
            return None
        mark = self.found[at]
        if mark.kind != "num":
            return None
        unit = self.unit(at + 1)
        if unit is None or unit[1] != kind:
            return None
        return f"{mark.text} {unit[0]}", unit[2]

    def to_same(self, at: int, kind: str) -> tuple[str, int] | None:
        """The upper end of "1 tsp to 2 tsp"."""
        if at >= len(self.found) or self.found[at].low not in ("to", "-"):
            return None
        found = number_at(self.found, at + 1)
        if found is None or found.to is not None:
            return None
        unit = self.unit(found.end)
        if unit is None or unit[1] != kind or kind not in ("mass", "volume", "length"):
            return None
        near = self.out[-1].type if self.out else "SEP"
        if near in ("PER", "IN", "OVER", "MAT"):
            return None
        return f"{found.text} {unit[0]}", unit[2]

    def dims(self, found: Number, spelling: str, end: int) -> bool:
        """Such as "4 ft x 8 ft", "10 foot by 2 foot"."""
        if end >= len(self.found) or self.found[end].low not in ("x", "by"):
            return False
        other = number_at(self.found, end + 1)
        if other is None or other.to is not None or found.to is not None:
            raise refuse("prose-dims", text=self.near())
        unit = self.unit(other.end)
        if unit is None or unit[1] != "length":
            raise refuse("prose-dims", text=self.near())
        self.box(f"{found.text} {spelling} x {other.text} {unit[0]}", unit[2])
        return True

    def box(self, text: str, end: int) -> None:
        """An area by two lengths."""
        if end < len(self.found) and self.found[end].low in ("x", "by"):
            raise refuse("prose-dims", text=text)
        self.put("AMT", text, Sized(text, None, "area"))
        self.at = end

    def unit(self, at: int) -> tuple[str, str, int] | None:
        """The longest unit at a place: its spelling, its kind, the place behind it."""
        for size in (3, 2, 1):
            group = self.found[at : at + size]
            if len(group) < size or any(mark.kind != "word" for mark in group):
                continue
            spelling = " ".join(mark.text for mark in group)
            if spelling.lower() == "in" and self.not_inch(at):
                return None
            for one in _cases(spelling):
                kind = unit_kind(one)
                if kind is not None:
                    return one, kind, at + size
        if at < len(self.found) and self.found[at].low == "gr":
            raise refuse("prose-gr", text=self.found[at].text)
        return self.plant(at)

    def plant(self, at: int) -> tuple[str, str, int] | None:
        """Plants and pots by the words growers use."""
        for size in (2, 1):
            phrase = " ".join(mark.low for mark in self.found[at : at + size])
            if phrase in words.PLANTS and at + size <= len(self.found):
                if words.PLANTS[phrase] == "hole":
                    self.out.append(Word("WAY", "in the planting hole"))
                return "plant", "plant", at + size
            if phrase in words.POTS and at + size <= len(self.found):
                return "pot", "pot", at + size
        return None

    def not_inch(self, at: int) -> bool:
        """Whether "in" goes on to a place and is no inch: "... in 1 gallon", "... in a can"."""
        return number_at(self.found, at + 1) is not None or (
            at + 1 < len(self.found) and self.found[at + 1].low in ("a", "an", "each", "water")
        )

    def other_count(self, found: Number) -> bool:
        """A number that counts no unit: %, ppm, parts, a size nobody knows."""
        word = self.found[found.end].low if found.end < len(self.found) else ""
        whole = found.text if found.to is None else f"{found.text}-{found.to}"
        if word in ("x", "by"):
            other = number_at(self.found, found.end + 1)
            unit = None if other is None else self.unit(other.end)
            if other is None or unit is None or unit[1] != "length":
                raise refuse("prose-dims", text=self.near())
            self.box(f"{found.text} x {other.text} {unit[0]}", unit[2])
            return True
        if self.vessels(found):
            return True
        if word == "%":
            self.at = found.end + 1
            self.percent(whole)
            return True
        if word == "ppm":
            self.put("PPM", whole)
            self.at = found.end + 1
            return True
        if word in ("part", "parts"):
            self.put("PARTS", whole)
            self.at = found.end + 1
            return True
        at = found.end
        while at < len(self.found) and self.found[at].low in words.SIZES:
            at += 1
        for size in (2, 1):
            phrase = " ".join(mark.low for mark in self.found[at : at + size])
            said = f"{whole} {phrase}"
            doubt.size_word(phrase, said, self.behind(at + size))
            doubt.place_word(phrase, said)
        if found.to is not None and self.found[found.end - 2].low == "to" and self.ratio_words():
            raise doubt.ratio(f"{found.text}:{found.to}")
        raise refuse("prose-number", text=whole, near=self.near())

    def vessel(self, at: int) -> bool:
        """Whether a word names a vessel or a bag, whose size stands before it."""
        word = self.found[at].low if at < len(self.found) else ""
        return words.DOUBTFUL_SIZES.get(word) == "vessel"

    def of(self, at: int) -> bool:
        """Whether "of" goes on to what is in it."""
        return at < len(self.found) and self.found[at].low == "of"

    def of_water(self, at: int) -> bool:
        """Whether an ounce is one of water: a fluid ounce, 4 % more than the weight."""
        rest = [mark.low for mark in self.found[at : at + 4] if mark.low not in words.DROPPED]
        return rest[:1] == ["water"]

    def filled(self, at: int) -> bool:
        """Whether a bag's size is followed by what is in it, or by what it is for."""
        behind = " ".join(mark.low for mark in self.found[at : at + 2])
        return self.of(at) or words.COVERS.match(behind) is not None

    def vessels(self, found: Number) -> bool:
        """So many of a size: "two 50 lb bags of", "half of a 40 lb bag of"."""
        at = found.end + self.of(found.end)
        at += at < len(self.found) and self.found[at].low in ("a", "an")
        each = number_at(self.found, at)
        unit = None if each is None or found.to or each.to else self.unit(each.end)
        if each is None or unit is None or unit[1] not in ("mass", "volume"):
            return False
        if not (self.vessel(unit[2]) and self.of(unit[2] + 1)):
            return False
        size = read.quantity(f"{each.text} {unit[0]}", self.system, oz_is="weight")
        whole = exact_text(size * read.number(found.text, self.system))
        self.put("AMT", whole, Sized(whole, None, unit[1], about=found.about or each.about))
        self.at = unit[2] + 1
        return True

    def ratio_words(self) -> bool:
        """Whether the text speaks of a dilution."""
        return any(mark.low in ("ratio", "water", "dilute", "diluted") for mark in self.found)

    def percent(self, number: str) -> None:
        """% with its kind, if it is written: "w/v", "by volume", "by weight"."""
        kinds = {
            ("w", "/", "v"): "w/v", ("v", "/", "v"): "v/v", ("w", "/", "w"): "w/w",
            ("by", "volume"): "v/v", ("by", "weight"): "w/w",
        }  # fmt: skip
        bracket = self.text() == "("
        for marks_, kind in kinds.items():
            ahead = tuple(self.text(bracket + i) for i in range(len(marks_)))
            if ahead == marks_:
                self.at += len(marks_) + (2 if bracket else 0)
                self.put("PCT", f"{number} % {kind}")
                return
        self.put("PCT", f"{number} %")


def _cases(spelling: str) -> tuple[str, ...]:
    """The spelling, and in small letters where capitals cannot change the unit."""
    low = spelling.lower()
    if low == spelling or (len(low) < 3 and low not in _SAFE_CAPITALS):
        return (spelling,)
    if low in ("tbl", "tbls", "tblsp"):
        return ("tbsp",)
    return (spelling, low)
