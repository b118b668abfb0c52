"""What a text claims of a material, held against the catalog: contents, weights, strengths."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog import lookup
from dosecalc.catalog.formula import element_of, oxide_words
from dosecalc.catalog.material import Content, Material
from dosecalc.catalog.prose.brings import wrong_needs
from dosecalc.catalog.prose.figures import Figures, Item, figures
from dosecalc.catalog.prose.senses import Sense, amount, difference, distance, number, senses
from dosecalc.catalog.prose.strengths import wrong_strengths
from dosecalc.catalog.prose.stuff import counts_oxides
from dosecalc.say import Say
from dosecalc.units.measure import GRAM, MASS, ML, VOLUME
from dosecalc.units.show import rounded
from dosecalc.units.spread import Factor
from dosecalc.units.words import System

_APART = Fraction(110, 100)
"""A claim within a tenth of the catalog's span, or of another claim, is left alone."""


def wrong_claims(text: str, system: System | None, region: str | None) -> tuple[Say, ...]:
    """Every claim of a tidy text that the catalog, or another claim beside it, contradicts.

    Parameters
    ----------
    text : str
        Tidy: "bone meal is 28 % phosphorus by weight", "2 % soap: 5 tbsp to 1 gallon".
    system : {"us", "imperial", "metric", "australian"} or None
        Whose gallon, cup and spoon the text speaks; where it is not told, a claim that holds in
        one system holds.
    region : str or None
        Settles whether a written analysis counts oxides.

    Returns
    -------
    tuple of Say
        What was read, what is on file, how far they lie apart. Empty where nothing is sure to
        be a claim, or each is near enough.
    """
    found = figures(text)
    taken = senses(system)
    said = [
        *_contents(found),
        *_weights(found, taken),
        *wrong_strengths(found, taken),
        *wrong_needs(found, taken, counts_oxides(system, region)),
    ]
    return tuple(dict.fromkeys(said))


# What a material holds: "bone meal is 28 % phosphorus".

_HOLDS = re.compile(r"(?P<x>X)A?[ih=:(][AU]{0,2}(?P<list>%O?U?e(?:,?C?%O?U?e)*)")
_SHARE = re.compile(r"(?P<p>%)O?U?(?P<e>e)")


def _contents(found: Figures) -> Iterator[Say]:
    for match in _HOLDS.finditer(found.letters):
        material = lookup.material(found.of(match, "x").text)
        for share in _SHARE.finditer(found.letters, *match.span("list")):
            after = found.text[found.items[share.end() - 1].end :].split()[:2]
            percent, word = found.of(share, "p"), found.of(share, "e").text
            content = material.content(element_of(word)[0])
            if content is None or content.basis != "w/w" or after == ["by", "volume"]:
                continue
            said = found.quote(match.start(), share.end())
            yield from _content(said, material, content, percent, word)


def _content(
    said: str, material: Material, content: Content, percent: Item, word: str
) -> Iterator[Say]:
    low, high = number(percent.text), number(percent.to or percent.text)
    if _held(content, low, high, word) or not low:
        return
    times = 100 / element_of(word)[1]
    factor = content.factor
    key = "claim-holds-pure" if content.kind == "formula" else "claim-holds"
    holds = Say.of(key, share=_span(factor, times), word=word)
    likely = factor.likely * times
    others = (content.element, *oxide_words(content.element))
    other = next((one for one in others if _held(content, low, high, one)), None)
    yield Say.of(
        "claim-content" if other is None else "claim-content-as",
        text=said,
        name=material.name,
        holds=holds,
        other=other,
        printed=percent.text if percent.to is None else f"{percent.text} to {percent.to}",
        off=difference(low if low > likely else high, likely),
    )


def _span(factor: Factor, times: Fraction = Fraction(1)) -> str:
    """Likely, and from low to high rounded outward."""
    likely = rounded(factor.likely * times)[0]
    if factor.low == factor.high:
        return likely
    low, high = rounded(factor.low * times, 3, "down"), rounded(factor.high * times, 3, "up")
    return f"{likely} ({low[0]} to {high[0]})"


def _held(content: Content, low: Fraction, high: Fraction, word: str) -> bool:
    """Whether a share, counted as `word`, lies within a tenth of what is on file."""
    share = element_of(word)[1] / 100
    return low * share <= content.factor.high * _APART and (
        high * share >= content.factor.low * (2 - _APART)
    )


# What a volume of it weighs: "1 pound (2 cups)", "a cup weighs 1/2 pound".

_WEIGHTS = tuple(
    re.compile(pattern)
    for pattern in (
        r"(?P<m>[mz])(?:O?(?P<x>[Xk]))?(?:P[slc])?\([R=]?(?P<v>v)(?:Ow?)?\)",
        r"(?P<v>v)(?:O?(?P<x>[Xk]))?(?:P[slc])?\([R=]?(?P<m>[mz])(?:Ow?)?\)",
        r"(?<![P/xOIf])(?P<v>v)(?:O?(?P<x>[XkW]))?(?:H|,?i|=|,?R)(?P<m>[mz])",
        r"(?<![P/xOIf])(?P<m>[mz])(?:O?(?P<x>[Xk]))?(?:,?i|=|,?R)(?P<v>v)",
        r"(?P<x>X)H(?P<m>[mz])P(?P<v>v)",
        r"(?P<m>[mz])(?P<slash>P)(?P<v>v)(?:/v)?O(?P<x>[Xk])",
        r"(?P<m>[mz])P(?P<a>[vsl])=(?P<v>v)P(?P<b>[vsl])",
        r"(?P<v>v)w(?P<rest>[^.;:(),=mvnz]{0,8})h(?P<m>[mz])",
    )
)
_OUT_OF_REACH = 10
_SAME_FLUID = Fraction(105, 100)


@dataclass(frozen=True, slots=True)
class _Weighed:
    """A weight and a volume of one material that a text says are the same.

    `by_sense` is the density in g/mL for each sense; `full` is False where a vessel is not
    filled to the top, so that its volume is only the most that it can be.
    """

    said: str
    material: Material
    by_sense: dict[Sense, Fraction]
    full: bool


def _weights(found: Figures, taken: tuple[Sense, ...]) -> Iterator[Say]:
    claims = [
        claim
        for pattern in _WEIGHTS
        for match in pattern.finditer(found.letters)
        if (claim := _weighed(found, match, taken)) is not None
    ]
    for claim in claims:
        yield from _against_catalog(claim)
    for id in dict.fromkeys(claim.material.id for claim in claims):
        yield from _against_each_other([one for one in claims if one.material.id == id])


def _weighed(found: Figures, match: re.Match[str], taken: tuple[Sense, ...]) -> _Weighed | None:
    mass, volume = found.of(match, "m"), found.of(match, "v")
    groups = match.re.groupindex
    id = _which(found, match)
    if id is None or mass.to is not None or volume.to is not None:
        return None
    material = lookup.material(id)
    if "slash" in groups:  # "2 lb/1 qt of ash" is no rate; "2 lb per quart of compost" is one
        written = found.of(match, "slash").text == "/" and not volume.bare
        if not written or material.loose or material.liquid:
            return None
    by_sense = {}
    for sense in taken:
        density = _density(found, match, sense)
        if density is not None:
            by_sense[sense] = density
        if mass.kind == "z" and _fluid(mass, volume, sense):
            return None
    known = material.density
    loose = not {"(", "="} & set(match[0])
    if known is not None and loose and _far(by_sense, known.likely):
        return None  # "1 lb or 2 gallons" are two amounts
    full = "rest" not in groups or "l" not in match["rest"]
    return _Weighed(found.said(match), material, by_sense, full) if by_sense else None


def _density(found: Figures, match: re.Match[str], sense: Sense) -> Fraction | None:
    weight, space = amount(found.of(match, "m"), sense), amount(found.of(match, "v"), sense)
    if weight is None or space is None or not weight.is_a(MASS) or not space.is_a(VOLUME):
        return None
    grams, volume = weight.amount_in(GRAM), space.amount_in(ML)
    if not grams or not volume:
        return None
    if "a" not in match.re.groupindex:
        return grams / volume
    mine, theirs = amount(found.of(match, "a"), sense), amount(found.of(match, "b"), sense)
    if mine is None or theirs is None or not mine.value or not theirs.value:
        return None
    if found.of(match, "a").kind != found.of(match, "b").kind:
        return None
    return grams / volume * theirs.amount_in(mine.unit) / mine.value


def _far(by_sense: dict[Sense, Fraction], likely: Fraction) -> bool:
    return all(distance(density, likely) > _OUT_OF_REACH for density in by_sense.values())


def _fluid(mass: Item, volume: Item, sense: Sense) -> bool:
    """Whether a bare ounce beside a volume is a fluid ounce: "1/2 oz (1 tbsp)"."""
    one, other = amount(mass, sense), amount(volume, sense)
    if one is None or other is None or not one.is_a(VOLUME) or not one.value or not other.value:
        return False
    return distance(one.amount_in(ML), other.amount_in(ML)) <= _SAME_FLUID


def _which(found: Figures, match: re.Match[str]) -> str | None:
    """The material of a claim: named in it, right behind it, the only one, or the one before."""
    behind = re.match(r"O.|[XkWY]", found.letters[match.end() : match.end() + 2])
    named = None
    if "x" in match.re.groupindex and match["x"]:
        named = _id(found.of(match, "x"))
        if behind is None:
            return named
    if behind is not None:
        id = _id(found.items[match.end() + behind.end() - 1])
        return id if named in (None, id) and id != "water" else None
    known = {_id(item) for item in found.items if item.kind in "XkY"}
    if len(known) == 1:
        return known.pop()
    for item in reversed(found.items[: match.start()]):
        if item.kind in ".;":
            return None
        if item.kind in "XkYW":
            return _id(item)
    return None


def _id(item: Item) -> str | None:
    """The id of a named material, None for an unknown word or one for several materials."""
    if item.kind == "k":
        return lookup.names().ids.get(item.text.replace("-", " "))
    return item.text if item.kind in "XW" else None


def _against_catalog(claim: _Weighed) -> Iterator[Say]:
    known = claim.material.density
    if known is None or not claim.full:
        return
    low, high = known.low * (2 - _APART), known.high * _APART
    if any(low <= density <= high for density in claim.by_sense.values()):
        return
    implied = min(claim.by_sense.values(), key=lambda density: distance(density, known.likely))
    yield Say.of(
        "claim-weight", text=claim.said, name=claim.material.name, implied=rounded(implied)[0],
        span=_span(known), off=difference(known.likely, implied),
    )  # fmt: skip


def _against_each_other(claims: list[_Weighed]) -> Iterator[Say]:
    """Two claims of what one material weighs."""
    pairs: list[tuple[Fraction, Sense, _Weighed, _Weighed]] = []
    for sense in claims[0].by_sense:
        known = [claim for claim in claims if sense in claim.by_sense]
        light = min(known, key=lambda claim: claim.by_sense[sense])
        heavy = max(known, key=lambda claim: claim.by_sense[sense])
        pairs.append((heavy.by_sense[sense] / light.by_sense[sense], sense, light, heavy))
    times, sense, light, heavy = min(pairs, key=lambda pair: pair[0])
    if times <= _APART:
        return
    key = "claim-weights" if light.full and heavy.full else "claim-weights-full"
    yield Say.of(
        key, one=light.said, light=rounded(light.by_sense[sense])[0], other=heavy.said,
        heavy=rounded(heavy.by_sense[sense])[0], times=rounded(times)[0],
        name=light.material.name,
    )  # fmt: skip
