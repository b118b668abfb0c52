"""Strengths that a text names, worked out again from the amounts beside them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog import lookup
from dosecalc.catalog.material import Material
from dosecalc.catalog.prose.figures import Figures, Item
from dosecalc.catalog.prose.senses import Sense, amount, difference, distance, number
from dosecalc.say import Say
from dosecalc.units.measure import GRAM, MASS, ML, VOLUME
from dosecalc.units.show import listed, rounded

_TWIN = r"(?:\([^()]{1,3}\))?"
_STUFF = r"[OUXYkTw]{0,5}"
_WATER = r"(?:O?w?W)?"
_MIX = rf"[mvz]{_TWIN}{_STUFF}[IPf]T?v{_TWIN}(?![PI]v){_WATER}"
"""An amount in a volume: "2 fl oz (59 ml) of copperas in 3 gal (11 L) of water"."""
_ONE = re.compile(rf"(?P<a>[mvz]){_TWIN}(?P<stuff>{_STUFF})[IPf]T?(?P<b>v)(?![PI]v)")
_AFTER = re.compile(
    rf"(?P<mixes>{_MIX})(?:[:(=-]|,?I?[gif]|,?R|,(?=T?%S))T?(?P<p>%)"
    r"(?:[CR](?P<q>%))?(?=S|[).,;]|$)"
)
_BEFORE = re.compile(
    rf"(?P<p>%)S?{_STUFF}S?(?:[:(=i]|,?u)u?(?P<mixes>{_MIX}(?:,?R(?:{_MIX}|y{_STUFF}[IPf]v{_WATER}))*)"
)
_WITHIN = re.compile(r"(?P<p>%)S?[If]T?(?P<b>v)w{0,2}[:,=u]{1,2}(?P<a>[mvz])(?![xP/])")
_LIST = re.compile(
    r"(?P<p>%)w{0,2}S?:(?P<list>[mvzXYw,CTOk]{2,30}?)"
    r"(?:W(?P<b>v)|[,C]{1,2}(?P<late>v)O?W)(?=[.;,)]|$)"
)
_STOCK = re.compile(
    r"(?P<a>v)O?T?(?P<stock>%)[wXY]{0,3}[IP]T?(?P<b>v)" + _WATER
    + r"w{0,2},?I?g(?:(?P<c>v)O)?T?(?P<p>%)"
)  # fmt: skip
_NEAR = Fraction(5, 100)
_ABOUT = Fraction(10, 100)
_LEAST = 10
"""In mL: nobody mixes in less, and 1.68 g/cm3 is a density."""
_SPREAD = Fraction(110, 100)


@dataclass(frozen=True, slots=True)
class _Claim:
    """A strength as a text names it, in percent, and how far it may be off."""

    printed: str
    low: Fraction
    high: Fraction
    slack: Fraction

    def meets(self, low: Fraction, high: Fraction) -> bool:
        return low <= self.high + self.slack and high >= self.low - self.slack


@dataclass(frozen=True, slots=True)
class _Made:
    """A strength that amounts make, in percent, counted in one way."""

    key: str
    low: Fraction
    high: Fraction


def wrong_strengths(found: Figures, taken: tuple[Sense, ...]) -> Iterator[Say]:
    """Strengths that no way of counting the amounts beside them makes."""
    for pattern in (_AFTER, _BEFORE):
        for match in pattern.finditer(found.letters):
            if _of_a_stock(found, match):
                continue
            claim = _claim(found, match)
            mixes = list(_ONE.finditer(found.letters, *match.span("mixes")))
            yield from _mixed(found, found.said(match), claim, mixes, taken)
    for match in _WITHIN.finditer(found.letters):
        if _of_a_stock(found, match):
            continue
        made = [_ways(found.of(match, "a"), found.of(match, "b"), sense) for sense in taken]
        yield from _judged(found.said(match), _claim(found, match), made)
    for match in _LIST.finditer(found.letters):
        yield from _listed(found, match, taken)
    for match in _STOCK.finditer(found.letters):
        yield from _diluted(found, match, taken)


def _of_a_stock(found: Figures, match: re.Match[str]) -> bool:
    """Whether the sentence names another strength, of which this one may be a part."""
    start = max(found.letters.rfind(sign, 0, match.start()) for sign in ".;") + 1
    last = re.search(r"[.;]|$", found.letters[match.end() :])
    end = match.end() + (last.start() if last else 0)
    rest = f"{found.letters[start : match.start()]} {found.letters[match.end() : end]}"
    return "%" in rest or "mPv" in rest


def _claim(found: Figures, match: re.Match[str]) -> _Claim:
    first = found.of(match, "p")
    last = found.of(match, "q") if match.groupdict().get("q") else first
    low, high = number(first.text), number(last.to or last.text)
    behind = len(first.text.partition(".")[2])
    near = _ABOUT if any(item.about for item in found.items[slice(*match.span())]) else _NEAR
    slack = max(low * near, Fraction(1, 2 * 10**behind))
    printed = first.text if low == high else f"{first.text} to {last.to or last.text}"
    return _Claim(printed, low, high, slack)


def _mixed(
    found: Figures, said: str, claim: _Claim, mixes: list[re.Match[str]], taken: tuple[Sense, ...]
) -> Iterator[Say]:
    """Each of the mixes that a strength is named for, and the mixes beside each other."""
    wrong: list[Say] = []
    inside = {mix.start() for mix in mixes}
    others = [
        found.of(other, "b")
        for other in _ONE.finditer(found.letters)
        if other.start() not in inside
    ]
    for mix in mixes:
        ends, material = (found.of(mix, "a"), found.of(mix, "b")), _material(found, mix)
        if others and any(_pooled(*ends, others, claim, sense) for sense in taken):
            continue
        wrong += _judged(said, claim, [_ways(*ends, sense, material) for sense in taken])
    yield from wrong or _apart(found, said, claim, mixes, taken)


def _apart(
    found: Figures, said: str, claim: _Claim, mixes: list[re.Match[str]], taken: tuple[Sense, ...]
) -> Iterator[Say]:
    """Mixes that one strength is named for and that are not of one strength in any sense."""
    pairs = [(found.of(mix, "a"), found.of(mix, "b")) for mix in mixes]
    if len(pairs) < 2 or claim.low != claim.high or any(one.to or two.to for one, two in pairs):
        return
    spreads: list[tuple[Fraction, Fraction]] = []
    for sense in taken:
        shares = [_share(*pair, sense) for pair in pairs]
        known = [share for share in shares if share is not None]
        if len(known) == len(pairs):
            spreads.append((min(known), max(known)))
    low, high = min(spreads, key=lambda ends: ends[1] / ends[0], default=(Fraction(1), Fraction(1)))
    if high > low * _SPREAD:
        yield Say.of(
            "claim-strengths",
            text=said,
            low=rounded(low)[0],
            high=rounded(high)[0],
            printed=claim.printed,
            percent=rounded((high / low - 1) * 100, 2)[0],
        )


def _pooled(above: Item, below: Item, others: list[Item], claim: _Claim, sense: Sense) -> bool:
    """Whether the strength is that of all the liquids of the text together, poured into one."""
    volumes = [amount(item, sense) for item in (below, *others)]
    whole = sum((one.amount_in(ML) for one in volumes if one is not None), Fraction(0))
    one = amount(above, sense)
    if one is None or not whole or above.to is not None:
        return False
    share = one.amount_in(GRAM if one.is_a(MASS) else ML) / whole * 100
    return claim.meets(share, share)


def _material(found: Figures, mix: re.Match[str]) -> Material | None:
    items = found.items[mix.start("stuff") : mix.end("stuff")]
    return next((lookup.material(item.text) for item in items if item.kind == "X"), None)


def _share(above: Item, below: Item, sense: Sense) -> Fraction | None:
    """One volume in another, in percent."""
    one, other = amount(above, sense), amount(below, sense)
    if one is None or other is None or not one.is_a(VOLUME) or not one.value or not other.value:
        return None  # a weight, or nothing
    return one.amount_in(ML) / other.amount_in(ML) * 100


def _ways(above: Item, below: Item, sense: Sense, material: Material | None = None) -> list[_Made]:
    """Every way to count an amount in a volume; none where the volume is not one size."""
    ends = [amount(above, sense), amount(above, sense, upper=True)]
    water = amount(below, sense)
    if water is None or below.to is not None or not number(above.text):
        return []
    volume = water.amount_in(ML)
    if volume < _LEAST:
        return []
    density = None if material is None else material.density
    made: list[_Made] = []
    masses = [end.amount_in(GRAM) for end in ends if end is not None and end.is_a(MASS)]
    volumes = [end.amount_in(ML) for end in ends if end is not None and end.is_a(VOLUME)]
    if volumes:
        low, high = volumes
        made += [_made("volume", low, high, volume), _made("whole", low, high, volume)]
        if density is not None:
            made.append(_made("weight", low * density.low, high * density.high, volume))
    if masses:
        low, high = masses
        made += [_made("weight", low, high, volume), _made("weights", low, high, volume)]
        if density is not None and density.low and material is not None and material.liquid:
            made.append(_made("volume", low / density.high, high / density.low, volume))
    return made


def _made(key: str, low: Fraction, high: Fraction, volume: Fraction) -> _Made:
    """A strength in percent; of the whole where the key says so (a gram of water is a mL)."""
    if key in ("whole", "weights"):
        return _Made(key, low / (low + volume) * 100, high / (high + volume) * 100)
    return _Made(key, low / volume * 100, high / volume * 100)


def _judged(said: str, claim: _Claim, by_sense: list[list[_Made]]) -> list[Say]:
    """A line where no sense and no way of counting makes the strength that is named."""
    every = [made for ways in by_sense for made in ways]
    if not every or not claim.low or any(claim.meets(made.low, made.high) for made in every):
        return []
    shown = min((_first(ways) for ways in by_sense if ways), key=lambda ways: _off(claim, ways))
    nearest = min(shown, key=lambda made: distance(claim.low, made.low))
    return [
        Say.of(
            "claim-strength",
            text=said,
            made=listed([_words(made) for made in shown]),
            printed=claim.printed,
            off=difference(claim.low, nearest.low),
        )
    ]


def _first(ways: list[_Made]) -> list[_Made]:
    """Each way of counting once: of several amounts the first, which a strength is named for."""
    return [made for at, made in enumerate(ways) if made.key not in {w.key for w in ways[:at]}]


def _off(claim: _Claim, ways: list[_Made]) -> Fraction:
    return min(distance(claim.low, made.low) for made in ways)


def _words(made: _Made) -> str:
    low, high = rounded(made.low)[0], rounded(made.high)[0]
    share = low if low == high else f"{low} to {high}"
    return Say.of(f"claim-made-{made.key}", share=share).english()


def _listed(found: Figures, match: re.Match[str], taken: tuple[Sense, ...]) -> Iterator[Say]:
    """Such as "a 1 % mixture: copper sulfate 5 lb, lime 5 lb, water 50 gal": one, or all."""
    water = found.of(match, "b" if match["b"] else "late")
    items = [item for item in found.items[slice(*match.span("list"))] if item.kind in "mvz"]
    by_sense: list[list[_Made]] = []
    for sense in taken:
        each = [_ways(item, water, sense) for item in items]
        every = [made for ways in each for made in ways]
        for key in dict.fromkeys(made.key for made in every):
            like = [made for made in every if made.key == key]
            every.append(
                _Made(key, sum((m.low for m in like), Fraction(0)),
                      sum((m.high for m in like), Fraction(0)))
            )  # fmt: skip
        by_sense.append(every)
    yield from _judged(found.said(match), _claim(found, match), by_sense)


def _diluted(found: Figures, match: re.Match[str], taken: tuple[Sense, ...]) -> Iterator[Say]:
    """Such as "1 L of 70 % acid in 3.5 L of water makes 20 %"."""
    stock = found.of(match, "stock")
    parts = [found.of(match, group) for group in ("a", "b", "c") if match[group]]
    if any(item.to is not None for item in (stock, *parts)):
        return
    by_sense: list[list[_Made]] = []
    for sense in taken:
        volumes = [amount(item, sense) for item in parts]
        known = [one.amount_in(ML) for one in volumes if one is not None and one.value]
        if len(known) < len(parts):
            continue
        acid = known[0] * number(stock.text) / 100
        ways = [("volume", known[1]), ("volume", known[0] + known[1])]
        if len(known) == 3:
            ways = [("volume", known[2])]
        by_sense.append([_made(key, acid, acid, whole) for key, whole in ways])
    yield from _judged(found.said(match), _claim(found, match), by_sense)
