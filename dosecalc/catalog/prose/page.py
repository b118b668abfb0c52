"""A pasted page: the several rates in it, each as the words it stands in, none of them chosen."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from dosecalc.catalog.lookup import AMBIGUOUS, names
from dosecalc.catalog.prose import words
from dosecalc.catalog.prose.compare import rate_ratio
from dosecalc.catalog.prose.defined import with_own_sizes
from dosecalc.catalog.prose.reading import Reading, read_text
from dosecalc.catalog.prose.sizes import unit_kind
from dosecalc.catalog.prose.tidy import tidy
from dosecalc.errors import DoseError, refuse
from dosecalc.say import Say
from dosecalc.units.words import System

MOST_TRIES = 1200
"""Spans that are tried before a page is given up: it is then cut down by the person."""
MOST_RATES = 12
_SPAN = 60
_NAME = 6

_WORD = re.compile(r"[\d.][\d.,/:-]*(?<![.,:-])|[(),:=;\n]|[^\s(),:=;\d][^\s(),:=;]*|\S")
_END = re.compile(r";|\n|(?<=[\w)%\"])\.(?=\s+[A-Z0-9(]|\s*$)")
_OPEN = frozenset("(,:\n")
_STOPS = frozenset("(),:=")
_PLACED = frozenset({"per", "/", "each", "every"})
_BEFORE = words.NOT_READ | {"over", "above", "below", "under", "exceeds", "exceed", "between"}
"""Words that a rate behind them is not free of: "no more than 5 g", "over 50 lb"."""
_AFTER = words.STARTERS | {
    "or", "then", "so", "for", "to", "but", "just", "mixed", "worked", "watered", "elsewhere",
    "weekly", "monthly", "daily", "every", "if", "until", "on", "into", "because", "which",
    "banded",
}  # fmt: skip
"""Words with which something else than the rate can begin, where no figure follows them."""
_NO_RATE = frozenset({
    "weighs", "weigh", "takes", "makes", "equals", "as", "is", "are", "was", "covers", "holds",
    "container", "containers", "contains", "has", "gives", "give", "collected", "by", "costs",
})  # fmt: skip
"""Words behind which an amount alone is no dose of what was named before."""
_PER = {"row length": " of row", "medium volume": " of growing medium", "spray volume": " of water"}
_DOUBTS = re.compile(
    "prose-(several|percent|ratio|size-.*|place-(tree|bed|row|vessel|mu)|oxide|foot-square|gr|ppm"
    "|nutrient|analysis|made-up|copper-.*|by-weight|t|heaped-range|biweekly)"
    "|material-several|read-country|read-oz"
)
"""Refusals that show what a text could mean: worth more than "not understood"."""


@dataclass(frozen=True, slots=True)
class Part:
    """One rate of a page.

    Parameters
    ----------
    text : str
        The words it was read from; what another sentence said first stands in them too.
    quote : str
        The words as they stand on the page.
    given : str
        What was taken from an earlier rate, "" for nothing.
    reading : Reading
    """

    text: str
    quote: str
    given: str
    reading: Reading


@dataclass(frozen=True, slots=True)
class Page:
    """What a page holds.

    Parameters
    ----------
    says : tuple of Say
        Sizes that the page gives to its own words.
    parts : tuple of Part
        In the order of the page.
    unread : tuple of str
        Pieces that no rate took and that hold a figure or a material.
    aside : tuple of str
        Pieces without either.
    doubt : DoseError or None
        What the first doubtful piece could mean.
    """

    says: tuple[Say, ...]
    parts: tuple[Part, ...]
    unread: tuple[str, ...]
    aside: tuple[str, ...]
    doubt: DoseError | None

    @property
    def plain(self) -> bool:
        """Whether it is one rate, whole as it stands, and words that change no figure."""
        return len(self.parts) == 1 and not self.unread and not self.parts[0].given


def read_page(text: str, system: System | None, region: str | None) -> Page:
    """Every rate of a text that is no single recipe.

    Parameters
    ----------
    text : str
    system : {"us", "imperial", "metric", "australian"} or None
    region : str or None

    Raises
    ------
    DoseError
        When the text is empty, too long, or would take too many trials.
    """
    defined = with_own_sizes(tidy(text), system)
    plain = defined.text
    reader = _Reader(system, region)
    for sentence in _sentences(plain):
        reader.sentence(sentence)
    return Page(
        defined.says,
        tuple(reader.parts[:MOST_RATES]),
        tuple(reader.unread),
        tuple(reader.aside),
        reader.doubt,
    )


def apart(parts: tuple[Part, ...]) -> tuple[tuple[int, int, Fraction], ...]:
    """Rates of one material for one kind of place that differ: (one, other, other / one).

    Each is held against the first that it can be held against.
    """
    found: list[tuple[int, int, Fraction]] = []
    for index, part in enumerate(parts):
        for earlier in range(index):
            ratio = _ratio(parts[earlier].reading, part.reading)
            if ratio is not None:
                found.append((earlier, index, ratio))
                break
    return tuple(found)


def _ratio(one: Reading, other: Reading) -> Fraction | None:
    mine, theirs = one.recipe.statements[0], other.recipe.statements[0]
    id = mine.ingredients[0].material
    if theirs.ingredients[0].material != id or one.materials[id].name != other.materials[id].name:
        return None
    if mine.ingredients[0].nutrient != theirs.ingredients[0].nutrient:
        return None
    return rate_ratio(mine, theirs, one.materials[id])


def _sentences(text: str) -> Iterator[str]:
    start = 0
    for match in _END.finditer(text):
        if match.group() == "." and _abbreviated(text, match.start()):
            continue
        yield text[start : match.start()].strip()
        start = match.end()
    yield text[start:].strip()


def _abbreviated(text: str, at: int) -> bool:
    """Whether a full stop only shortens a word: "2 lbs. N", "fl. Oz."."""
    before = re.search(r"[A-Za-z]+$", text[:at])
    after = re.match(r"\.\s+([A-Za-z]+)", text[at:])
    if before is None or before.group().lower() not in words.ABBREVIATIONS:
        return False
    if after is None:
        return re.match(r"\.\s+\d", text[at:]) is not None and before.group().lower() == "approx"
    word = after[1]
    return word in words.NUTRIENT_WORDS or unit_kind(word.lower()) is not None


@dataclass(slots=True)
class _Reader:
    """Reads sentence by sentence, with what earlier ones named."""

    system: System | None
    region: str | None
    parts: list[Part] = field(default_factory=list)
    unread: list[str] = field(default_factory=list)
    aside: list[str] = field(default_factory=list)
    doubt: DoseError | None = None
    named: str = ""
    tries: int = 0

    def sentence(self, text: str) -> None:
        if not text:
            return
        for choice in _choices(text):
            self.span(choice)

    def span(self, text: str) -> None:
        """The longest rate of a piece, then what stands before and behind it."""
        tokens = list(_WORD.finditer(text))
        found = self.longest(text, tokens)
        if found is None:
            self.left(text)
            return
        start, end, part = found
        self.before(text[:start], tokens)
        self.parts.append(part)
        self.named = _material(part.reading) or self.named
        self.before(text[end:], tokens)

    def before(self, text: str, tokens: list[re.Match[str]]) -> None:
        """What a rate left over on one side of it."""
        rest = text.strip(" ,:;.")
        if not rest:
            return
        if any(token.group()[0].isdigit() or _is_number(token.group()) for token in tokens):
            self.span(rest)
        else:
            self.left(rest)

    def left(self, text: str) -> None:
        tokens = [token.group() for token in _WORD.finditer(text)]
        self.named = _last_name(tokens) or self.named
        counts = any(t[0].isdigit() or _is_number(t) or t.lower() in words.NOT_READ for t in tokens)
        (self.unread if counts or _last_name(tokens) else self.aside).append(text)

    def longest(self, text: str, tokens: list[re.Match[str]]) -> tuple[int, int, Part] | None:
        """The longest span that is a whole rate by itself, else with what was named before."""
        spans = sorted(
            (
                (start, end)
                for start in _starts(tokens)
                for end in _ends(tokens, start)
                if end - start <= _SPAN
            ),
            key=lambda span: (span[0] - span[1], span[0]),
        )
        words_ = [token.group() for token in tokens]
        for given in (False, True):
            for start, end in spans:
                piece = text[tokens[start].start() : tokens[end - 1].end()]
                tried = self.given(piece, words_, start, end) if given else _alone(piece)
                for wording, from_ in tried:
                    reading = self.read(wording)
                    if reading is not None:
                        part = Part(wording, piece, from_, reading)
                        return tokens[start].start(), tokens[end - 1].end(), part
        return None

    def given(
        self, piece: str, all_words: list[str], start: int, end: int
    ) -> Iterator[tuple[str, str]]:
        """The piece with the material, the place, or both of what stands before it."""
        own = [word.lower() for word in all_words[start:end]]
        named = _last_name(all_words[:start]) or self.named
        if not named or _last_name(all_words[start:end]) or not any(map(_counts, own)):
            return
        if _LENGTH.match(piece):
            return
        last = self.parts[-1] if self.parts else None
        if last is not None and _basis(last.reading) == "spray volume" and _POURED.search(piece):
            yield f"{_again(last.reading)}, {piece}", _again(last.reading)
            return
        way = _way(last.text) if last is not None and not _way(piece) else ""
        if last is not None and _basis(last.reading) == "medium volume":
            yield f"{named}: {piece} of growing medium", f"{named}, of growing medium"
        yield f"{named} {way}: {piece}", f"{named} {way}".strip()
        lead = {word.lower() for word in _clause(all_words[:start])}
        behind = all_words[end].lower() if end < len(all_words) else ","
        if (
            last is None
            or behind not in _STOPS
            or lead & _NO_RATE
            or any(unit_kind(word) or _counts(word) for word in lead)
            or _last_name(all_words[end:])
            or any(part.reading.recipe.statements[0].ingredients[0].nutrient for part in self.parts)
        ):
            return
        place = _place(last.reading)
        yield f"{named} {way}: {piece} {place}", f"{named} {way}".strip() + f", {place}"

    def read(self, text: str) -> Reading | None:
        self.tries += 1
        if self.tries > MOST_TRIES:
            raise refuse("prose-page-long")
        try:
            return read_text(text, self.system, self.region)
        except DoseError as err:
            if self.doubt is None and _DOUBTS.fullmatch(err.say.key) and not _nameless(err):
                self.doubt = err
            return None


def _nameless(err: DoseError) -> bool:
    """Whether a % of nothing was asked about: it may be a purity, a share, a slope."""
    return err.say.key == "prose-percent" and ("name", "it") in err.say.args


def _is_number(word: str) -> bool:
    return word.lower() in words.NUMERALS


def _counts(token: str) -> bool:
    return token[0].isdigit() or (token[0] == "." and len(token) > 1) or _is_number(token)


def _starts(tokens: list[re.Match[str]]) -> Iterator[int]:
    """Where a rate can begin: at the start, at a number, at a material's name."""
    texts = [token.group() for token in tokens]
    depth = 0
    for at, text in enumerate(texts):
        depth += (text == "(") - (text == ")")
        before = texts[at - 1].lower() if at else ""
        if not at:
            yield at
        elif depth > 0 or _turned(texts, at) or _in_list(texts, at):
            continue  # and brackets only say once more what stands before them
        elif _counts(text) or text.lower() in ("a", "an"):
            inside = at > 1 and before in ("-", "to", "and", "or", "x", "/", "by", "a")
            if not _counts(before or "x") and not (inside and _counts(texts[at - 2])):
                yield at
        elif (before in _OPEN or before in words.VERBS | {"or"}) and _names(texts[at:]):
            yield at


def _turned(texts: list[str], at: int) -> bool:
    """Whether the word before a place makes another figure of what follows: "up to 5 g"."""
    last = [text.lower() for text in texts[max(0, at - 2) : at]]
    return last[-1] in _BEFORE or last == ["up", "to"]


def _in_list(texts: list[str], at: int) -> bool:
    """Whether a comma before a place joins it to an amount that has no place of its own."""
    if texts[at - 1] != ",":
        return False
    before = [text.lower() for text in _clause(texts[: at - 1])]
    return bool(before) and _counts(before[0]) and not _PLACED & set(before)


def _ends(tokens: list[re.Match[str]], start: int) -> Iterator[int]:
    """Where a rate can end: where something else can begin behind it."""
    depth = 0
    for at in range(start, len(tokens)):
        text = tokens[at].group()
        depth += (text == "(") - (text == ")")
        if depth < 0:
            return
        after = tokens[at + 1].group().lower() if at + 1 < len(tokens) else ""
        if depth:
            continue
        if after == "," and _goes_on(tokens, at + 2):
            continue
        if not after or after in _STOPS or (after in _AFTER and _no_figure(tokens, at + 1)):
            yield at + 1


def _goes_on(tokens: list[re.Match[str]], at: int) -> bool:
    """Whether a list goes on behind a comma: an amount without a place of its own."""
    rest = [token.group().lower() for token in tokens[at:]]
    clause = list(itertools.takewhile(lambda word: word not in _STOPS, rest))
    if not clause or not _counts(clause[0]) or _PLACED & set(clause):
        return False
    named = [word for word in clause if not _counts(word) and unit_kind(word) is None]
    return bool(named) and named[0] not in _AFTER


def _no_figure(tokens: list[re.Match[str]], at: int) -> bool:
    """Whether the words from here to the next mark hold no figure: "for beets", not "for 3"."""
    if tokens[at].group().lower() in ("or", "then", "so", "but", "elsewhere"):
        return True
    rest = itertools.takewhile(lambda token: token.group() not in _STOPS, tokens[at:])
    return not any(_counts(token.group()) for token in rest)


def _clause(texts: list[str]) -> list[str]:
    """The words behind the last mark."""
    for at in range(len(texts), 0, -1):
        if texts[at - 1] in _STOPS or texts[at - 1].lower() in ("or", "then"):
            return texts[at:]
    return texts


_BRACKETS = re.compile(r" ?\([^()]*\)")
_HEAD = re.compile(r"(\S.{0,60}?): (.+)", re.DOTALL)
_LENGTH = re.compile(r"an? (foot|inch|yard|metre|meter)\b|[\d./ ]+(foot|feet|ft|inch(es)?)\b")


def _alone(piece: str) -> Iterator[tuple[str, str]]:
    """The piece as it stands, without what stands in brackets, or its place put behind it."""
    yield piece, ""
    bare = _BRACKETS.sub("", piece)
    if bare != piece:
        yield bare, ""
    if head := _HEAD.fullmatch(bare):
        yield f"{head[2]} per {head[1]}", ""


def _names(texts: list[str]) -> int:
    """How many words from here are a material's name; 0 for none."""
    known = names().ids
    for size in range(min(_NAME, len(texts)), 0, -1):
        key = " ".join(texts[:size]).lower().replace("sulph", "sulf").replace("-", " ")
        if (key in known and known[key] != "water") or key in AMBIGUOUS or _analysis(texts[:size]):
            return size
    return 0


def _analysis(texts: list[str]) -> bool:
    return len(texts) == 1 and re.fullmatch(r"\d+(\.\d+)?(-\d+(\.\d+)?){2}", texts[0]) is not None


def _last_name(texts: list[str]) -> str:
    found, at = "", 0
    while at < len(texts):
        size = _names(texts[at:])
        if size:
            found = " ".join(texts[at : at + size])
        at += size or 1
    return found


def _choices(sentence: str) -> list[str]:
    """The sentence once for each of "calcium nitrate or calcium chloride"."""
    tokens = list(_WORD.finditer(sentence))
    texts = [token.group() for token in tokens]
    runs: list[tuple[int, int]] = []
    at = 0
    while at < len(texts):
        size = _names(texts[at:])
        if size:
            runs.append((at, at + size))
        at += size or 1
    for index, (_, end) in enumerate(runs):
        group = [runs[index]]
        for start, after in runs[index + 1 :]:
            between = [text.lower() for text in texts[group[-1][1] : start]]
            if between not in (["or"], [","], [",", "or"]):
                break
            group.append((start, after))
        joins = [t.lower() for t in texts[end : group[-1][0]]]
        if 1 < len(group) <= MOST_RATES and "or" in joins:
            first, last = tokens[group[0][0]].start(), tokens[group[-1][1] - 1].end()
            return [
                sentence[:first] + sentence[tokens[one].start() : tokens[to - 1].end()]
                + sentence[last:]
                for one, to in group
            ]  # fmt: skip
    return [sentence]


def _material(reading: Reading) -> str:
    """The words that name a rate's only material again."""
    items = reading.recipe.statements[0].ingredients
    if len(items) != 1:
        return ""
    name = reading.materials[items[0].material].name
    return name.removeprefix("Feed ") if name.startswith("Feed ") else name


def _way(text: str) -> str:
    """The first word of a text that says how it is given, "" for none."""
    return next((t.lower() for t in re.findall(r"[A-Za-z-]+", text) if t.lower() in words.WAYS), "")


_POURED = re.compile(r"\b(per|each|every) (plant|pot|tree|hole|seedling|transplant)s?\b")


def _again(reading: Reading) -> str:
    """A rate of one material in the fewest words: what each place gets of it may follow."""
    item = reading.recipe.statements[0].ingredients[0]
    return f"{item.printed} of {_material(reading)} {_place(reading)}"


def _basis(reading: Reading) -> str:
    return reading.recipe.statements[0].basis


def _place(reading: Reading) -> str:
    statement = reading.recipe.statements[0]
    return f"per {statement.per_text}{_PER.get(statement.basis, '')}"
