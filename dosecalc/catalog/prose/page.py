"""A pasted page: the several rates in it, each as the words it stands in, none of them chosen."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from dosecalc.catalog.prose import spans, words
from dosecalc.catalog.prose.compare import rate_ratio
from dosecalc.catalog.prose.defined import with_own_sizes
from dosecalc.catalog.prose.reading import Reading, read_text
from dosecalc.catalog.prose.sizes import unit_kind
from dosecalc.catalog.prose.spans import Tokens, tokens
from dosecalc.catalog.prose.tidy import tidy
from dosecalc.errors import DoseError, refuse
from dosecalc.say import Say
from dosecalc.units.words import System

MOST_TRIES = 1200
"""Spans that are tried before a page is given up: it is then cut down by the person."""
MOST_RATES = 12
_MOST_LONG = 60
_MOST_DOUBT = 8
_NO_RATE = frozenset({
    "weighs", "weigh", "takes", "makes", "equals", "as", "is", "are", "was", "covers", "holds",
    "container", "containers", "contains", "has", "gives", "give", "collected", "by", "costs",
    "than",
})  # fmt: skip
"""Words behind which an amount alone is no dose of what was named before."""
_PER = {"row length": " of row", "medium volume": " of growing medium", "spray volume": " of water"}
_POURED = re.compile(r"\b(per|each|every) (plant|pot|tree|hole|seedling|transplant)s?\b")
_ONTO = re.compile(r"\b(?:over|along|onto|on|to|treats?|covers?|for|per)\s+(?=\S)", re.IGNORECASE)
_LIQUID = re.compile(
    r"\b(?:this|the|it|solution|mixture|spray|liquid|drench|pour|dribble)\b", re.IGNORECASE
)
_BRACKETS = re.compile(r" ?\(([^()]*)\)")
_HEAD = re.compile(r"(\S.{0,60}?): (.+)", re.DOTALL)
_LENGTH = re.compile(
    r"(an? |[\d./ -]+)(foot|feet|ft|inch(es)?|in|yards?|yd|cm|mm|m|met(re|er)s?)\b"
)
_DOUBTS = re.compile(
    "prose-(several|percent|ratio|size-.*|place-(tree|growth|bed|row|vessel|mu)|oxide|foot-square|gr|ppm"
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
        What was taken from elsewhere on the page, "" for nothing.
    reading : Reading
    near : bool
        Whether only the material was taken from elsewhere, and the page names no other.
    dropped : tuple of str
        What stood in brackets inside it and was left out.
    """

    text: str
    quote: str
    given: str
    reading: Reading
    near: bool = False
    dropped: tuple[str, ...] = ()


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
        Pieces that no rate took and that hold a dose's figure or a material.
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
        """Whether it is one rate and words around it that make no other dose."""
        if len(self.parts) != 1 or self.unread:
            return False
        return not self.parts[0].given or self.parts[0].near


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
    reader = _Reader(system, region, spans.only_name(defined.text))
    for sentence in spans.sentences(defined.text):
        for choice in _choices(sentence):
            reader.sentence(choice)
    parts = tuple(reader.parts[:MOST_RATES])
    whole = defined.text if not defined.says else ""
    return Page(
        defined.says, parts, tuple(reader.unread), tuple(reader.aside), reader.placed(whole)
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


@dataclass(slots=True)
class _Reader:
    """Reads sentence by sentence, with what earlier ones named."""

    system: System | None
    region: str | None
    only: str
    parts: list[Part] = field(default_factory=list)
    unread: list[str] = field(default_factory=list)
    aside: list[str] = field(default_factory=list)
    doubt: DoseError | None = None
    doubted: str = ""
    together: DoseError | None = None
    subject: str = ""
    tries: int = 0

    def sentence(self, text: str) -> None:
        """Read one sentence."""
        self.subject = spans.subject(tokens(text).words)
        known = len(self.parts)
        self.span(text)
        if self.together is not None:  # two liquids that are poured together are no two rates
            del self.parts[known:]
            self.doubt, self.together = self.together, None
            self.unread.append(text)

    def span(self, text: str) -> None:
        """The longest rate of a piece, then what stands before and behind it."""
        found = self.longest(tokens(text))
        if found is None:
            self.left(text)
            return
        start, end, part = found
        self.around(text[:start])
        way = _way(text[end:])
        if way and not _way(part.text):
            reading = self.read(f"{part.text} {way}")
            if reading is not None:
                part = Part(f"{part.text} {way}", part.quote, part.given, reading, part.near,
                            part.dropped)  # fmt: skip
        self.parts.append(part)
        for inside in part.dropped:
            self.left(inside)
        self.around(text[end:])

    def around(self, text: str) -> None:
        """What a rate left over on one side of it."""
        rest = text.strip(" ,:;.()")
        if rest and any(spans.counts(word) for word in tokens(rest).words):
            self.span(rest)
        elif rest:
            self.left(rest)

    def left(self, text: str) -> None:
        """Words that are no rate: where the liquid before goes, or left aside, or not read."""
        found = tokens(text).words
        if not found or self.poured(text):
            return
        self.look_for_doubt(text)
        dose = spans.doses(text) or (spans.adds(text) and self.other_name(found))
        (self.unread if dose else self.aside).append(text)

    def look_for_doubt(self, text: str) -> None:
        """What the beginning of an amount could mean, where nothing around it can be read."""
        found = tokens(text)
        for start in spans.starts(found.words):
            for end in range(min(len(found.words), start + _MOST_DOUBT), start + 1, -1):
                if self.doubt is not None or self.parts or not spans.counts(found.words[start]):
                    break
                self.read(found.between(start, end))

    def other_name(self, found: tuple[str, ...]) -> bool:
        """Whether a piece names a material that no rate is of."""
        known = {item for part in self.parts for item in part.reading.materials}
        known.add(spans.id_of(self.only))
        return any(spans.id_of(" ".join(found[a:b])) not in known for a, b in spans.named(found))

    def poured(self, text: str) -> bool:
        """Whether a piece says where the liquid of the rate before it goes."""
        figures = [word for word in tokens(text).words if spans.counts(word)]
        if not self.parts or len(figures) > 1 or not _LIQUID.search(text):
            return False
        last = self.parts[-1]
        if _basis(last.reading) != "spray volume":
            return False
        for link in _ONTO.finditer(text):
            whole = f"{last.text} over {text[link.end() :]}"
            reading = self.read(whole)
            if reading is not None and reading.recipe.statements[0].water is not None:
                quote = f"{last.quote} ... {text}"
                self.parts[-1] = Part(whole, quote, last.given, reading, last.near, last.dropped)
                return True
        return False

    def longest(self, found: Tokens) -> tuple[int, int, Part] | None:
        """The longest span that is a whole rate by itself, else with what was named before."""
        tried = sorted(
            (
                (start, end)
                for start in spans.starts(found.words)
                for end in spans.ends(found.words, start)
                if end - start <= _MOST_LONG
            ),
            key=lambda span: (span[0] - span[1], span[0]),
        )
        for by_itself in (True, False):
            for start, end in tried:
                piece = found.between(start, end)
                make = self.alone(piece) if by_itself else self.given(piece, found, start, end)
                part = next((part for part in make if not _is_medium(part.reading)), None)
                if part is not None:
                    return found.at[start][0], found.at[end - 1][1], part
        return None

    def alone(self, piece: str) -> Iterator[Part]:
        """The piece as it stands, without what stands in brackets, or its place put behind it."""
        bare = _BRACKETS.sub("", piece)
        dropped = tuple(_BRACKETS.findall(piece)) if bare != piece else ()
        head = _HEAD.fullmatch(bare)
        wordings = [(piece, ()), (bare, dropped)] if dropped else [(piece, ())]
        if head:
            wordings.append((f"{head[2]} per {head[1]}", dropped))
        for wording, without in wordings:
            reading = self.read(wording)
            if reading is not None:
                yield Part(wording, piece, "", reading, False, without)

    def given(self, piece: str, found: Tokens, start: int, end: int) -> Iterator[Part]:
        """The piece with the material, the place, or both of what stands elsewhere."""
        own = found.words[start:end]
        name = self.name(found.words[:start])
        if not name or spans.named(own) or not any(map(spans.counts, own)) or _LENGTH.match(piece):
            return
        near = spans.id_of(name) == spans.id_of(self.only)
        last = self.parts[-1] if self.parts else None
        if last is not None and _basis(last.reading) == "spray volume" and _POURED.search(piece):
            again = _again(last.reading)
            yield from self.part(f"{again}, {piece}", piece, again, False)
            return
        way = _way(last.text) if last is not None and not _way(piece) else ""
        said = f"{name} {way}".strip()
        if last is not None and _basis(last.reading) == "medium volume":
            medium = " of growing medium"
            yield from self.part(f"{said}: {piece}{medium}", piece, f"{said},{medium}", False)
        yield from self.part(f"{said}: {piece}", piece, said, near)
        yield from self.part(f"{piece} from {name}", piece, said, near)
        if last is not None and self.may_take_place(found, start, end):
            place = _place(last.reading)
            yield from self.part(f"{said}: {piece} {place}", piece, f"{said}, {place}", False)

    def part(self, wording: str, quote: str, given: str, near: bool) -> Iterator[Part]:
        """One wording as a part, where it can be read."""
        reading = self.read(wording)
        if reading is not None:
            yield Part(wording, quote, given, reading, near)

    def name(self, before: tuple[str, ...]) -> str:
        """The material of a rate that names none: the sentence's, the last rate's, the page's."""
        if self.subject and " ".join(before).lower().find(self.subject.lower()) >= 0:
            return self.subject
        beside = spans.named(before)
        if beside and not self.only:
            return ""
        if self.parts:
            return _material(self.parts[-1].reading)
        return self.only or self.subject

    def may_take_place(self, found: Tokens, start: int, end: int) -> bool:
        """Whether a bare amount can be for the place of the rate before it."""
        lead = {word.lower() for word in spans.clause(found.words[:start])}
        behind = found.words[end] if end < len(found.words) else ","
        counts_nutrient = any(
            part.reading.recipe.statements[0].ingredients[0].nutrient for part in self.parts
        )
        return (
            behind in spans.STOPS
            and not lead & _NO_RATE
            and not any(unit_kind(word) or spans.counts(word) for word in lead)
            and not spans.named(found.words[end:])
            and not counts_nutrient
        )

    def read(self, text: str) -> Reading | None:
        """One wording read, None when it cannot be; the first doubt is kept."""
        self.tries += 1
        if self.tries > MOST_TRIES:
            raise refuse("prose-page-long")
        try:
            return read_text(text, self.system, self.region)
        except DoseError as err:
            shows = err.doubt is not None or _DOUBTS.fullmatch(err.say.key)
            if err.say.key == "prose-two-liquids":
                self.together = err
            if self.doubt is None and shows and not _nameless(err):
                self.doubt, self.doubted = err, text
            return None

    def placed(self, whole: str) -> DoseError | None:
        """The doubt, with its place on the page where the words that it is in stand there once."""
        once = whole.count(self.doubted) == 1 and tidy(self.doubted) == self.doubted
        at = whole.index(self.doubted) if self.doubt is not None and once else None
        return None if self.doubt is None else self.doubt.placed(at)


def _nameless(err: DoseError) -> bool:
    """Whether a % of nothing was asked about: it may be a purity, a share, a slope."""
    return err.say.key == "prose-percent" and ("name", "it") in err.say.args


def _choices(sentence: str) -> list[str]:
    """The sentence once for each of "calcium nitrate or calcium chloride"."""
    found = tokens(sentence)
    runs = spans.named(found.words)
    for index, (_, end) in enumerate(runs):
        group = [runs[index]]
        for start, after in runs[index + 1 :]:
            between = [word.lower() for word in found.words[group[-1][1] : start]]
            if between not in (["or"], [","], [",", "or"]):
                break
            group.append((start, after))
        joins = [word.lower() for word in found.words[end : group[-1][0]]]
        if 1 < len(group) <= MOST_RATES and "or" in joins:
            first, last = found.at[group[0][0]][0], found.at[group[-1][1] - 1][1]
            return [
                sentence[:first] + found.between(one, to) + sentence[last:] for one, to in group
            ]
    return [sentence]


def _material(reading: Reading) -> str:
    """The words that name a rate's only material again."""
    items = reading.recipe.statements[0].ingredients
    if len(items) != 1:
        return ""
    return reading.materials[items[0].material].name.removeprefix("Feed ")


def _is_medium(reading: Reading) -> bool:
    """Whether nothing but the growing medium itself was read."""
    statement = reading.recipe.statements[0]
    return statement.basis == "medium volume" and len(statement.ingredients) == 1 and (
        reading.materials[statement.ingredients[0].material].loose
        and statement.ingredients[0].amount == statement.per
    )  # fmt: skip


def _way(text: str) -> str:
    """The first word of a text that says how it is given, "" for none."""
    return next((t.lower() for t in re.findall(r"[A-Za-z-]+", text) if t.lower() in words.WAYS), "")


def _again(reading: Reading) -> str:
    """A rate of one material in the fewest words: what each place gets of it may follow."""
    item = reading.recipe.statements[0].ingredients[0]
    return f"{item.printed} of {_material(reading)} {_place(reading)}"


def _basis(reading: Reading) -> str:
    return reading.recipe.statements[0].basis


def _place(reading: Reading) -> str:
    statement = reading.recipe.statements[0]
    return f"per {statement.per_text}{_PER.get(statement.basis, '')}"
