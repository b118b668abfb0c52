"""Plain signs to raw marks: numbers, words, signs; and the numbers that people write in words."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from dosecalc.catalog.prose import words
from dosecalc.errors import refuse

_MARK = re.compile(
    r"""
    (?P<analysis>\d+(?:\.\d+)?(?:[-:]\d+(?:\.\d+)?){2}(?![\d/]))
    | (?P<ratio>\d+(?:\.\d+)?\ ?:\ ?\d+(?:\.\d+)?(?![\d:/]))
    | (?P<num>\d+[ -]\d+/\d+(?![\d/]) | \d+/\d+(?![\d/]) | \d[\d,]*(?<!,)(?:\.\d+)? | \.\d+)
    | (?P<word>[A-Za-z][A-Za-z0-9']*)
    | (?P<sign>[-(),;:./+&%=~\n!?"'*\[\]])
    | (?P<space>\ +)
    """,
    re.VERBOSE | re.ASCII,
)


class Spot(NamedTuple):
    """Where something stands in tidy text."""

    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Mark:
    """One word, number or sign of the text.

    Parameters
    ----------
    kind : str
        "analysis", "ratio", "num", "word" or "sign".
    text : str
        As written.
    start : int
        Its place in the tidy text.
    spaced : bool
        Whether a space stood before it.
    """

    kind: str
    text: str
    start: int
    spaced: bool = True

    @property
    def low(self) -> str:
        """The text in small letters."""
        return self.text.lower()

    @property
    def end(self) -> int:
        """The place behind it."""
        return self.start + len(self.text)


def marks(text: str) -> list[Mark]:
    """Split tidy text; a sign that has no place in a recipe is refused."""
    found: list[Mark] = []
    spaced, at = True, 0
    while at < len(text):
        match = _MARK.match(text, at)
        if match is None:
            raise refuse("prose-sign", sign=text[at])
        at = match.end()
        kind = str(match.lastgroup)
        if kind == "space":
            spaced = True
            continue
        if _silent(match.group(), found, text, at):
            spaced = spaced or match.group() == "-"
            continue
        found.append(Mark(kind, match.group(), match.start(), spaced))
        spaced = False
    return found


def _silent(sign: str, found: list[Mark], text: str, at: int) -> bool:
    """Signs that only hold a word together: "sq.", "side-dress", a closing mark of a sentence."""
    last = found[-1] if found else None
    after = text[at : at + 1]
    if sign in ("*", '"', "'", "!", "?", "[", "]"):
        return sign not in "!?"
    if last is None:
        return sign in ".\n" or (sign == "-" and not after.isdigit())
    if sign == "." and last.kind == "word":
        return last.low in words.ABBREVIATIONS and after not in ("\n", "")
    if sign == "-":
        return last.kind == "word" and after.isalpha()
    return False


@dataclass(frozen=True, slots=True)
class Number:
    """A number as it stands in a text.

    Parameters
    ----------
    text : str
        In figures, a range as "1-2".
    to : str or None
        The upper end of a range.
    about : bool
        Whether "about" or the like stood before it.
    end : int
        The place of the first mark behind it.
    """

    text: str
    to: str | None
    about: bool
    end: int


def number_at(found: list[Mark], at: int) -> Number | None:
    """The number that begins at a place: "1 1/2", "two and a half", "half a", "1 to 2"."""
    about = False
    while at < len(found) and found[at].low in words.ABOUT:
        about, at = True, at + 1
    one = _single(found, at)
    if one is None:
        return None
    text, end = one
    joined = found[end].low if end < len(found) else ""
    if joined in ("-", "to") and (other := _single(found, end + 1)) is not None:
        return Number(text, other[0], about, other[1])
    return Number(text, None, about, end)


def _text(found: list[Mark], at: int) -> str:
    return found[at].low if 0 <= at < len(found) else ""


def _single(found: list[Mark], at: int) -> tuple[str, int] | None:
    if at >= len(found):
        return None
    if _text(found, at) in ("a", "an") and _text(found, at + 1) in words.PARTS_OF_ONE:
        at += 1
    mark = found[at]
    if mark.kind == "num":
        return _with_part(found, at + 1, mark.text)
    if mark.low not in words.NUMERALS:
        return None
    if mark.low in words.PARTS_OF_ONE:  # "half a", "half of a", "quarter"
        return words.NUMERALS[mark.low], _past_article(found, at + 1)
    below = words.PARTS_OF_ONE.get(_text(found, at + 1))
    if below is not None:  # "two thirds of a"
        share = Fraction(int(words.NUMERALS[mark.low]), below)
        return str(share), _past_article(found, at + 2)
    if _text(found, at + 1) in ("hundred", "thousand", "dozen"):
        times = int(words.NUMERALS[_text(found, at + 1)])
        return str(int(words.NUMERALS[mark.low]) * times), at + 2
    return _with_part(found, at + 1, words.NUMERALS[mark.low])


def _with_part(found: list[Mark], at: int, whole: str) -> tuple[str, int]:
    """A part that "and" adds: "1 and 1/2", "3 and a half"."""
    if _text(found, at) == "and" and "/" not in whole and "." not in whole:
        after = at + 1
        if _text(found, after) == "a":
            after += 1
        word = _text(found, after)
        if word in words.PARTS_OF_ONE:
            return f"{whole} 1/{words.PARTS_OF_ONE[word]}", _past_article(found, after + 1)
        if after < len(found) and re.fullmatch(r"1/\d+|[2-9]/\d+", word) and after == at + 1:
            return f"{whole} {word}", _past_article(found, after + 1)
    return whole, _past_article(found, at) if "/" in whole else at


def _past_article(found: list[Mark], at: int) -> int:
    """Behind the "a" or "of a" of "1/3 of a level teaspoon"."""
    if _text(found, at) == "of" and _text(found, at + 1) in ("a", "an"):
        return at + 2
    return at + 1 if _text(found, at) in ("a", "an") else at
