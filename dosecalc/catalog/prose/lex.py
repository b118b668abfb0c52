"""Marks to the words of the grammar: amounts with their unit, materials, places, links."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from dosecalc.catalog.crops import known_crop
from dosecalc.catalog.lookup import AMBIGUOUS, names
from dosecalc.catalog.prose import doubt, words
from dosecalc.catalog.prose.scan import Mark, Spot, marks, number_at
from dosecalc.catalog.prose.sizes import Sized, SizeLexer, Word, unit_kind
from dosecalc.errors import refuse
from dosecalc.units.words import POWER_WORDS, System

MOST_WORDS = 6


def lex(text: str, system: System | None) -> list[Word]:
    """The words of the grammar in tidy text.

    Raises
    ------
    DoseError
        For a size, a place or a unit that cannot be known.
    """
    found = marks(text)
    doubt.neutralising(found)
    return _Lexer(found, system).run()


class _Lexer(SizeLexer):
    """One pass over the marks of one text."""

    def run(self) -> list[Word]:
        while self.at < len(self.found):
            mark = self.found[self.at]
            if mark.kind == "analysis":
                self.analysis(mark.text)
            elif mark.kind == "ratio":
                self.put("RATIO", mark.text.replace(" ", ""), step=1)
            elif mark.kind == "sign":
                self.sign(mark.text)
            elif not (
                self.repeated()
                or self.number()
                or self.way()
                or self.named()
                or self.linked()
                or self.place()
            ):
                self.plain(mark)
        self.shares()
        return self.out

    def shares(self) -> None:
        """Parts in percent: "40 % milk and 60 % water" are 40 parts and 60 parts."""
        for at in range(len(self.out) - 4):
            one, name, _, other, _ = self.out[at : at + 5]
            kinds = [word.type for word in self.out[at : at + 5]]
            if kinds != ["PCT", "MAT", "AND", "PCT", "WATER"]:
                continue
            numbers = [word.text.removesuffix(" %") for word in (one, other)]
            if not all(map(str.isdigit, numbers)) or sum(map(int, numbers)) != 100:
                raise refuse("prose-shares", text=f"{one.text} {name.text}, {other.text} water")
            self.out[at] = Word("PARTS", numbers[0])
            self.out[at + 3] = Word("PARTS", numbers[1])

    def analysis(self, text: str) -> None:
        parts = text.replace(":", "-").split("-")
        if self.copper and ":" not in text:
            self.put("COPPERLIME", text, step=1)
            return
        if sum(map(Fraction, parts)) > 100:
            raise refuse("prose-analysis-hundred", text=text)
        if self.last() == "MAT" and not any(map(str.isdigit, self.out[-1].text)):
            self.put("ASIDE", text, step=1)  # "ammonium sulfate 21-0-0"
            return
        self.put("MAT", "-".join(parts), step=1)

    def sign(self, sign: str) -> None:
        if sign == "(":
            self.bracket()
        elif sign == ")":
            self.put("RPAR", ")", step=1)
        elif sign in ".;!?\n":
            kind = "AND" if sign == "\n" and self.list_line() else "SEP"
            if self.last() != "SEP":
                self.put(kind, sign)
            self.at += 1
        elif sign == ",":
            self.put("COMMA", ",", step=1)
        elif sign == "-" and self.minus():
            raise refuse("prose-minus", text=self.near())
        elif sign in ":-":
            self.put("COLON", sign, step=1)
        elif sign == "/":
            self.put("PER", "/", step=1)
            self.bare_unit()
        elif sign in "+&":
            self.put("AND", sign, step=1)
        elif sign == "~" and number_at(self.found, self.at) is not None:
            self.number()
        else:
            raise refuse("prose-sign", sign=sign)

    def minus(self) -> bool:
        """Whether a dash stands before a number and behind none: "-5 g"."""
        after = self.found[self.at + 1 : self.at + 2]
        glued = bool(after) and after[0].kind == "num" and not after[0].spaced
        return glued and (self.at == 0 or self.found[self.at].spaced)

    def list_line(self) -> bool:
        """Whether a line break goes on with a list of materials."""
        return self.last() in ("MAT", "WATER", "AMT")

    def bracket(self) -> None:
        """A second wording in brackets, or words that may be left aside."""
        close = next(
            (i for i in range(self.at + 1, len(self.found)) if self.found[i].text in "()"), None
        )
        if close is None or self.found[close].text == "(":
            raise refuse("prose-bracket", text=self.near())
        inside = self.found[self.at + 1 : close]
        start = self.at
        if self.purity(inside, close):
            return
        if len(inside) > 2 and any(mark.low in ("per", "/", "in") for mark in inside[2:]):
            self.at += 1 + (inside[0].low == "or")
            self.put("LALT", "(")
            return
        if inside and inside[0].low in ("or", "="):
            inside = inside[1:]
        twin = _Lexer(inside, self.system)
        size = twin.only_size()
        if size is not None and any(self.alike(at, size) for at in range(len(self.out))):
            self.add_twin(size, False)
            self.at = close + 1
            return
        if self.content(inside):
            self.put("ASIDE", " ".join(mark.text for mark in inside), step=close + 1 - self.at)
            return
        if {"cup", "jug", "beaker"} & {mark.low for mark in inside}:
            self.measured_ounces()
        plain = all(mark.kind in ("word", "sign") for mark in inside)
        safe = not {mark.low for mark in inside} & (words.NOT_READ | set(words.NUMERALS))
        if not plain or not safe or size is not None:
            self.at = start
            raise refuse("prose-bracket", text=" ".join(mark.text for mark in inside))
        self.put("ASIDE", " ".join(mark.text for mark in inside), step=close + 1 - self.at)

    def purity(self, inside: list[Mark], close: int) -> bool:
        """A purity in brackets right behind a material, kept with its name."""
        share = [mark for mark in inside if mark.low not in words.PURE]
        found = number_at(share, 0)
        if self.last() != "MAT" or found is None or found.about:
            return False
        if [mark.low for mark in share[found.end :]] != ["%"]:
            return False
        pure = len(share) < len(inside)
        number = found.text if found.to is None else f"{found.text}-{found.to}"
        kept = self.out.pop()
        text = f"{kept.text} ({number} %{' pure' if pure else ''})"
        spot = None if kept.spot is None else Spot(kept.spot.start, self.found[close].end)
        self.out.append(Word("MAT", text, None, spot))
        self.at = close + 1
        return True

    def measured_ounces(self) -> None:
        """Refuse ounces that are measured in a cup: they can be fluid ounces of a powder."""
        for word in self.out:
            if word.size is not None and re.search(r"\b(oz|ounces?)$", word.size.text):
                raise refuse("prose-oz-cup", text=word.size.text)

    def content(self, inside: list[Mark]) -> bool:
        """Whether brackets behind a material say what is in it: "(31 % manganese)", "(21-0-0)"."""
        if self.last() != "MAT" or not inside:
            return False
        if len(inside) == 1 and inside[0].kind == "analysis":
            return not any(char.isdigit() for char in self.out[-1].text)
        held = {mark.text for mark in inside} | {mark.low for mark in inside}
        return "%" in held and bool(held & words.HELD)

    def named(self) -> bool:
        """A material, by the longest of its names."""
        if self.last() == "MAT" and f"{self.text()} {self.text(1)}" in words.FORMS_OF_FEED:
            self.put("FORM", f"{self.text()} {self.text(1)}", step=2)
            return True
        best: tuple[str, int] | None = None
        known = names().ids
        for size in range(MOST_WORDS, 0, -1):
            group = self.found[self.at : self.at + size]
            if len(group) < size or group[0].kind != "word" or _broken(group):
                continue
            key = _key(group)
            if key in known or key in AMBIGUOUS:
                best = key, size
                break
        if best is None:
            return False
        key, size = best
        if key == "mulch" or (key == "salt" and self.text(-1) == "a"):  # "a salt used at ..."
            return False
        if self.after_volume() and self.medium() is not None:
            return False
        shown = " ".join(mark.text for mark in self.found[self.at : self.at + size])
        if self.in_liquid() and known.get(key) != "water":
            raise refuse("prose-in-liquid", text=f"{self.out[-1].text} of {shown}", name=shown)
        if known.get(key) == "water":
            self.put("WATER", shown, step=size)
        elif key == "boron" and (self.out and self.out[-1].type == "SURELY"):
            self.put("NUTR", "B", step=size)
        else:
            if self.each is not None and self.last() in ("COMMA", "AND"):
                self.put("AMT", self.each.text, self.each)
            self.put("MAT", shown, step=size)
        return True

    def in_liquid(self) -> bool:
        """Whether "of" goes on from a volume that is a place: "in 2 gallons of urea"."""
        if len(self.out) < 2 or self.text(-1) != "of" or self.out[-1].size is None:
            return False
        links = ("PER", "IN", "OVER", "UPTO")
        return self.out[-1].size.kind == "volume" and self.out[-2].type in links

    def after_volume(self) -> bool:
        """Whether a volume stands before a medium's name: "per gallon of mix"."""
        kept = [word for word in self.out[-3:] if word.type != "VESSEL"]
        if len(kept) < 2 or kept[-1].size is None or kept[-1].size.kind != "volume":
            return False
        return kept[-2].type in ("PER", "IN", "OVER", "SEP", "COMMA")

    def medium(self) -> int | None:
        for size in (3, 2, 1):
            if " ".join(self.text(i) for i in range(size)) in words.MEDIUM:
                return size
        return None

    def way(self) -> bool:
        """A way of doing it in several words: "water in", "as a mulch"."""
        for size in (4, 3, 2):
            phrase = " ".join(self.text(i) for i in range(size))
            if phrase not in words.WAYS:
                continue
            if phrase.endswith((" in", " on", " with")) and number_at(self.found, self.at + size):
                return False
            self.put_way(phrase, size)
            return True
        return False

    def put_way(self, phrase: str, size: int) -> None:
        if self.last() == "FROM" and self.out[-1].text == "as":
            self.out.pop()
        self.put("WAY", phrase, step=size)

    def linked(self) -> bool:
        """Links, and ways of doing it."""
        for size in (4, 3, 2, 1):
            phrase = " ".join(self.text(i) for i in range(size))
            if len(phrase.split()) < size:
                continue
            if phrase in ("into the top", "in the top", "to a depth of", "top") and (
                found := number_at(self.found, self.at + size)
            ):
                unit = self.unit(found.end)
                if unit is not None and unit[1] == "length":
                    self.put("WAY", "work in")
                    self.at = unit[2]
                    return True
            if phrase in words.WAYS and not (phrase == "mulch" and self.last() == "OVER"):
                self.put_way(phrase, size)
                return True
            if phrase == "each" and self.last() == "AMT" and self.shared():
                return True
            if phrase in words.LINKS and not (size == 1 and self.medium_now()):
                self.put(words.LINKS[phrase], phrase, step=size)
                the = self.last() in ("OVER", "IN") and self.text() == "the"
                if self.last() == "PER" or (the and self.unit(self.at + 1) is not None):
                    self.bare_unit()
                return True
        return False

    def shared(self) -> bool:
        """An amount for each material of a list: "1 tbsp each of A, B and C"."""
        step = 2 if self.text(1) == "of" else 1
        known = names().ids
        behind = self.found[self.at + step : self.at + step + MOST_WORDS]
        if not any(_key(behind[:size]) in known for size in range(1, len(behind) + 1)):
            return False
        self.each = self.out[-1].size
        self.at += step
        return True

    def medium_now(self) -> bool:
        return self.after_volume() and self.medium() is not None

    def bare_unit(self) -> None:
        """The unit behind "per" whose number is one: "per gallon", "/A"."""
        while self.text() in words.DROPPED | {"a", "an"} and self.unit(self.at) is None:
            if self.text() == "a" and self.out[-1].text == "/":
                break
            self.at += 1
        if self.at >= len(self.found) or number_at(self.found, self.at) is not None:
            return
        if self.text() in ("a", "ac") and self.out[-1].text == "/":
            self.put("AMT", "1 acre", Sized("1 acre", None, "area", bare=True), step=1)
            return
        unit = self.unit(self.at)
        if unit is not None:
            doubt.growth(unit[0], [mark.low for mark in self.found[unit[2] : unit[2] + 3]])
            if (
                unit[1] == "length"
                and self.found[unit[2] : unit[2] + 1]
                and self.found[unit[2]].low == "square"
            ):
                raise doubt.foot_square("1", unit[0], self.spot(self.at, unit[2] + 1))
            self.singular(unit[0])
            size = Sized(f"1 {unit[0]}", None, unit[1], bare=True)
            self.put("AMT", size.text, size, step=unit[2] - self.at)
            self.said_again()
            return
        for size_ in (2, 1):
            phrase = " ".join(self.text(i) for i in range(size_))
            doubt.place_word(phrase, f"per {phrase}")

    def place(self) -> bool:
        """Nouns behind an amount: water, row, bed, can, mix, deep; nutrient words."""
        if self.after_volume() and (size := self.medium()) is not None:
            self.put("MEDIUM", " ".join(self.text(i) for i in range(size)), step=size)
            return True
        mark = self.found[self.at]
        named_again = self.last() in ("MAT", "FORM", "AMT") and mark.low in words.KINDS_OF_FEED
        if named_again or (self.last() == "WAY" and mark.low in words.GROUND):
            self.at += 1
            return True
        two = f"{self.text()} {self.text(1)}"
        if two in words.DEEP:
            self.put("DEEP", two, step=2)
            return True
        if two in words.DOUBTFUL_SIZES and self.last() != "AMT":
            doubt.size_word(two, two, "")
        for kind, group in (
            ("ROW", words.ROW), ("GROUND", words.GROUND), ("VESSEL", words.VESSELS),
            ("DEEP", words.DEEP), ("LAYER", words.LAYER), ("SURELY", words.SURELY),
        ):  # fmt: skip
            if mark.low in group:
                self.put(kind, mark.text, step=1)
                return True
        if mark.low in words.POTS and self.last() == "AMT":
            self.put("POT", mark.text, step=1)
            return True
        nutrient = words.NUTRIENT_WORDS.get(mark.text) or (
            words.NUTRIENT_WORDS.get(mark.low) if len(mark.text) > 2 else None
        )
        if nutrient is not None and self.last() in ("AMT", "PPM", "SURELY", "DROP"):
            self.nutrient(mark)
            return True
        return False

    def nutrient(self, mark: Mark) -> None:
        """A nutrient counts the amount, also where it stands behind the place: "150 mg/L N"."""
        self.put("NUTR", mark.text, step=1)
        said = 1 + (self.out[-2].type == "SURELY")
        if [one.type for one in self.out[-3 - said : -said]] == ["AMT", "PER", "AMT"]:
            self.out[-2 - said :] = [*self.out[-said:], *self.out[-2 - said : -said]]

    def measures(self, mark: Mark) -> bool:
        """Whether a word that would be left aside measures something: then it is not."""
        kind = None if mark.low == "are" else unit_kind(mark.text) or unit_kind(mark.low)
        return (
            kind in ("mass", "volume", "length", "area")
            or mark.low in words.ABOUT
            or mark.low in POWER_WORDS
            or mark.text in words.NUTRIENT_WORDS
            or mark.low in words.NUTRIENT_WORDS
        )

    def crop_again(self) -> bool:
        """Whether a crop goes on with a list of words that are left aside."""
        before = [word.type for word in self.out[-3:-1] if word.type != "COMMA"]
        if before[-1:] not in (["NOTE"], ["STRAY"]):
            return False
        names = (" ".join(self.text(i) for i in range(size)) for size in (3, 2, 1))
        return any(known_crop(name) is not None for name in names)

    def plain(self, mark: Mark) -> None:
        """A word that changes nothing is dropped; any other is kept for the grammar to judge."""
        if mark.low in words.DROPPED or mark.low in words.VERBS or mark.low in ("a", "an"):
            self.at += 1
            return
        if mark.low in words.IS and self.text(1) in words.DONE:
            self.at += 1
            return
        if self.measures(mark):
            raise refuse("prose-word", text=self.near())
        if mark.low in words.NOT_READ:
            raise refuse("prose-turns", text=mark.text, near=self.near())
        if mark.low in words.DOUBTFUL_SIZES:
            doubt.size_word(mark.low, mark.text, "")
        if [word.type for word in self.out[-3:]] == ["OVER", "STRAY", "AND"]:
            self.out.pop()  # "for beets and broccoli"
            self.out[-1] = replace(self.out[-1], text=f"{self.out[-1].text} and")
        if self.last() == "AND" and self.crop_again():
            self.out.pop()  # "beets, turnips and broccoli"
            if self.last() in ("NOTE", "STRAY"):
                self.out[-1] = replace(self.out[-1], text=f"{self.out[-1].text} and")
        if self.out and self.out[-1].type in ("NOTE", "STRAY"):
            kept = self.out[-1]
            spot = Spot(kept.spot.start if kept.spot else mark.start, mark.end)
            self.out[-1] = replace(kept, text=f"{kept.text} {mark.text}", spot=spot)
            self.at += 1
            return
        fresh = self.last() in ("SEP", "COMMA", "WAY") or mark.low in words.STARTERS
        self.put("NOTE" if fresh else "STRAY", mark.text, step=1)


def _broken(group: list[Mark]) -> bool:
    """Whether a sign ends the words inside, so that they are no one name."""
    return any(mark.kind not in ("word", "num", "analysis") and mark.text != "%" for mark in group)


def _key(group: list[Mark]) -> str:
    text = " ".join("percent" if mark.text == "%" else mark.low for mark in group)
    return text.replace("sulph", "sulf").replace("-", " ")
