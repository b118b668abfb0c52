"""Where a rate can begin and end among the words of a page, and which words name a material."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from dataclasses import dataclass

from dosecalc.catalog.lookup import AMBIGUOUS, names
from dosecalc.catalog.prose import words
from dosecalc.catalog.prose.sizes import unit_kind

_WORD = re.compile(r"[\d.][\d.,/:-]*(?<![.,:-])|[(),:=;\n]|[^\s(),:=;\d][^\s(),:=;]*|\S")
_END = re.compile(
    r";|\n| - (?=[A-Z][a-z])|(?<=[\w)%\"])\.(?=\s+[A-Z0-9(]|\s*$)|(?<=\w)[!?](?=\s|$)"
)
_ANALYSIS = re.compile(r"\d+(\.\d+)?(-\d+(\.\d+)?){2}")
_MOST_WORDS = 6
_OPEN = frozenset("(,:\n")
STOPS = frozenset("(),:=")
_PLACED = frozenset({"per", "/", "each", "every"})
_TURNS = words.NOT_READ | {"over", "above", "below", "under", "exceeds", "exceed", "between"}
"""Words that a rate behind them is not free of: "no more than 5 g", "over 50 lb"."""
_AFTER = words.STARTERS | {
    "or", "then", "so", "for", "to", "but", "just", "mixed", "worked", "watered", "elsewhere",
    "weekly", "monthly", "daily", "every", "if", "until", "on", "into", "because", "which",
    "banded", "is", "are", "was", "were", "should", "works",
}  # fmt: skip
"""Words with which something else than the rate can begin, where no figure follows them."""
_NEW = frozenset({"or", "then", "so", "but", "elsewhere"})
_ADDS = frozenset({"add", "adding", "added", "plus", "with", "mix", "mixed", "include", "put"})
_NO_NAME = frozenset({"salt", "sand", "sugar", "water"})
"""Names that are also plain words: they are no material for a rate that names none."""
_NUTRIENTS = frozenset(word.lower() for word in words.HELD)
_COARSE = frozenset({"in", "inch", "inches", "cm", "mm"})


@dataclass(frozen=True, slots=True)
class Tokens:
    """The words and signs of a piece of text, and where they stand in it.

    Parameters
    ----------
    text : str
    words : tuple of str
    at : tuple of (int, int)
    """

    text: str
    words: tuple[str, ...]
    at: tuple[tuple[int, int], ...]

    def between(self, start: int, end: int) -> str:
        """The text from the word `start` to the one before `end`."""
        return self.text[self.at[start][0] : self.at[end - 1][1]]


def tokens(text: str) -> Tokens:
    """The words and signs of `text`."""
    found = list(_WORD.finditer(text))
    return Tokens(text, tuple(m.group() for m in found), tuple(m.span() for m in found))


def sentences(text: str) -> Iterator[str]:
    """The sentences of `text`, in order; a full stop that shortens a word ends none."""
    start = 0
    for match in _END.finditer(text):
        if match.group() == "." and _abbreviated(text, match.start()):
            continue
        yield text[start : match.start()].strip()
        start = match.end()
    yield text[start:].strip()


def _abbreviated(text: str, at: int) -> bool:
    """Whether a full stop only shortens a word: "2 lbs. N", "fl. Oz.", "1oz. to 4 gallons"."""
    before = re.search(r"[A-Za-z]+$", text[:at])
    after = re.match(r"\.\s+([A-Za-z]+)", text[at:])
    if before is None or before.group().lower() not in words.ABBREVIATIONS:
        return False
    if after is None:
        return re.match(r"\.\s+\d", text[at:]) is not None and before.group().lower() == "approx"
    return after[1] in words.NUTRIENT_WORDS or unit_kind(after[1].lower()) is not None


def counts(word: str) -> bool:
    """Whether a word is a number, in figures or in words."""
    return word[0].isdigit() or (word[0] == "." and len(word) > 1) or word.lower() in words.NUMERALS


def starts(all_words: tuple[str, ...]) -> Iterator[int]:
    """Where a rate can begin: at the start, at a number, at a place, at a material's name."""
    depth = 0
    for at, word in enumerate(all_words):
        depth += (word == "(") - (word == ")")
        if not at:
            yield at
        elif depth > 0 or _turned(all_words, at) or _in_list(all_words, at):
            continue  # and brackets only say once more what stands before them
        elif counts(word) or word.lower() in ("a", "an"):
            if _new_number(all_words, at):
                yield at
        elif _new_place(all_words[at : at + 4]) or _new_name(all_words, at):
            yield at


def _new_number(all_words: tuple[str, ...], at: int) -> bool:
    """Whether a number begins here and does not go on: not the 2 of "1-2" or of "1 1/2"."""
    before = all_words[at - 1].lower()
    inside = at > 1 and before in ("-", "to", "and", "or", "x", "/", "by", "a")
    return not counts(before) and not (inside and counts(all_words[at - 2]))


def _new_place(some: tuple[str, ...]) -> bool:
    """Whether a place begins here, its number right behind: "for our 400 sq ft border"."""
    rest = itertools.dropwhile(lambda word: word.lower() in words.DROPPED, some[1:])
    return some[0].lower() in ("for", "per", "over") and counts(next(rest, "x"))


def _new_name(all_words: tuple[str, ...], at: int) -> bool:
    before = all_words[at - 1].lower()
    return (before in _OPEN or before in words.VERBS | {"or"}) and name_at(all_words[at:]) > 0


def _turned(all_words: tuple[str, ...], at: int) -> bool:
    """Whether the word before a place makes another figure of what follows: "up to 5 g"."""
    last = [word.lower() for word in all_words[max(0, at - 2) : at]]
    return last[-1] in _TURNS or last == ["up", "to"]


def _in_list(all_words: tuple[str, ...], at: int) -> bool:
    """Whether a comma before a place joins it to an amount that has no place of its own."""
    if all_words[at - 1] != ",":
        return False
    before = [word.lower() for word in clause(all_words[: at - 1])]
    return bool(before) and counts(before[0]) and not _PLACED & set(before)


def ends(all_words: tuple[str, ...], start: int) -> Iterator[int]:
    """Where a rate that begins at `start` can end: where something else can begin behind it."""
    depth = 0
    for at in range(start, len(all_words)):
        depth += (all_words[at] == "(") - (all_words[at] == ")")
        if depth < 0:
            return
        after = all_words[at + 1].lower() if at + 1 < len(all_words) else ""
        if depth or (after == "," and _goes_on(all_words[at + 2 :])):
            continue
        if after == "(" and _list_behind_bracket(all_words[at + 1 :]):
            continue
        if not after or after in STOPS or _begins(all_words[at + 1 :]):
            yield at + 1


def _goes_on(rest: tuple[str, ...]) -> bool:
    """Whether a list goes on behind a comma: an amount without a place of its own."""
    one = [w.lower() for w in itertools.takewhile(lambda w: w not in STOPS, rest)]
    if not one or not counts(one[0]) or _PLACED & set(one):
        return False
    named = [word for word in one if not counts(word) and unit_kind(word) is None]
    return bool(named) and named[0] not in _AFTER


def _list_behind_bracket(rest: tuple[str, ...]) -> bool:
    """Whether an amount follows the bracket that begins here: "0.6 oz x (17 g) 0.4 oz y"."""
    close = rest.index(")") if ")" in rest else len(rest)
    return close + 1 < len(rest) and counts(rest[close + 1])


def _begins(rest: tuple[str, ...]) -> bool:
    """Whether something else begins here: "for beets" does, "for 3 plants" does not."""
    low = [word.lower() for word in rest]
    if low[0] == "and":
        doing = low[1:2] and (low[1] in words.VERBS or low[1] in words.WAYS)
        return bool(doing) and _no_figure(rest)
    return low[0] in _AFTER and (low[0] in _NEW or _no_figure(rest))


def _no_figure(rest: tuple[str, ...]) -> bool:
    return not any(counts(w) for w in itertools.takewhile(lambda w: w not in STOPS, rest))


def clause(all_words: tuple[str, ...]) -> tuple[str, ...]:
    """The words behind the last sign or "or"."""
    for at in range(len(all_words), 0, -1):
        if all_words[at - 1] in STOPS or all_words[at - 1].lower() in ("or", "then"):
            return all_words[at:]
    return all_words


def name_at(all_words: tuple[str, ...]) -> int:
    """How many words from here are a material's name; 0 for none."""
    known = names().ids
    for size in range(min(_MOST_WORDS, len(all_words)), 0, -1):
        key = fold(" ".join(all_words[:size]))
        if (key in known and known[key] != "water") or key in AMBIGUOUS:
            return size
    return int(bool(all_words) and _ANALYSIS.fullmatch(all_words[0]) is not None)


def fold(name: str) -> str:
    """A name as the catalog's index holds it."""
    return name.lower().replace("sulph", "sulf").replace("-", " ")


def id_of(name: str) -> str:
    """The id of the material of that name, else the name itself as the index would hold it."""
    return names().ids.get(fold(name), fold(name))


def named(all_words: tuple[str, ...]) -> list[tuple[int, int]]:
    """Where materials are named: the first word of each and the one behind it."""
    found: list[tuple[int, int]] = []
    at = 0
    while at < len(all_words):
        size = name_at(all_words[at:])
        if size and not (size == 1 and all_words[at].lower() in _NO_NAME):
            found.append((at, at + size))
        at += size or 1
    return found


def subject(all_words: tuple[str, ...]) -> str:
    """The material that a sentence begins with: "Gypsum should be applied at ..."; "" for none."""
    skipped = words.DROPPED | words.VERBS | {"for", "a", "an", "of", "and", "also"}
    at = 0
    while at < len(all_words) and all_words[at].lower() in skipped:
        at += 1
    size = name_at(all_words[at:])
    if not size or (size == 1 and all_words[at].lower() in _NO_NAME):
        return ""
    return " ".join(all_words[at : at + size])


def adds(text: str) -> bool:
    """Whether a piece without figures puts something in: "add soap as a sticker"."""
    found = tokens(text).words
    return bool(named(found)) and any(word.lower() in _ADDS for word in found)


def only_name(text: str) -> str:
    """The one material that a whole text names, "" where it names none or several."""
    found = tokens(text).words
    said = {fold(" ".join(found[a:b])): " ".join(found[a:b]) for a, b in named(found)}.values()
    plain = [name for name in said if not _ANALYSIS.fullmatch(name)] or list(said)
    ids = {id_of(name): name for name in plain}
    whole = [
        id
        for id, name in ids.items()
        if not any(fold(name) in fold(other) and name != other for other in plain)
    ]
    return ids[whole[0]] if len(whole) == 1 else ""


def doses(text: str) -> bool:
    """Whether a piece holds a figure that a dose is made of: not a time, a temperature, a pH."""
    found = [word.lower() for word in tokens(text).words]
    for at, word in enumerate(found):
        if word in ("half", "double", "twice", "triple", "quarter"):
            return True
        if not counts(word):
            continue
        behind = found[at + 1 : at + 4]
        if not behind or _content(behind):
            continue
        if ":" in word or behind[0] in ("%", "ppm", "part", "parts") or _sized(behind):
            return True
    return False


def _content(behind: list[str]) -> bool:
    """Whether a % is of a nutrient: what a material holds is no dose of it."""
    return behind[0] == "%" and len(behind) > 1 and behind[1] in _NUTRIENTS


def _sized(behind: list[str]) -> bool:
    for size in (3, 2, 1):
        spelling = " ".join(behind[:size]).rstrip(".")
        if spelling in _COARSE:
            return False
        if unit_kind(spelling) in ("mass", "volume", "area", "length", "plant", "pot"):
            return True
    return behind[0] in words.PLANTS or behind[0] in words.DOUBTFUL_SIZES
