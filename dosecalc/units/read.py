"""The strict reader: what a grower writes for one quantity, or a refusal.

    text     = amount [("/" | " per ") amount-or-unit]...
    amount   = number [unit] [number unit]        "15 ft 6 in", "2 lb 4 oz"
    number   = mixed | fraction | decimal | glyph "1 1/2", "2\u00bd", "1/4", "0.5", "1,5"

What is not wholly understood is refused. Text never reaches pint.
"""

from __future__ import annotations

import difflib
import re
from fractions import Fraction
from typing import NamedTuple

from dosecalc.errors import Answer, DoseError, Doubt, refuse
from dosecalc.say import Say
from dosecalc.units import engine, words
from dosecalc.units.engine import Unit
from dosecalc.units.measure import LITER, Measure, kind_word, unit_product
from dosecalc.units.show import show
from dosecalc.units.words import System

MAX_TEXT = 200
MAX_DIGITS = 15
MAX_FRACTION_DIGITS = 120
LARGEST = Fraction(10**12)
SMALLEST = Fraction(1, 10**24)

_GLYPHS = {
    "\u00bd": (1, 2), "\u00bc": (1, 4), "\u00be": (3, 4), "\u2153": (1, 3), "\u2154": (2, 3),
    "\u2155": (1, 5), "\u2156": (2, 5), "\u2157": (3, 5), "\u2158": (4, 5), "\u2159": (1, 6),
    "\u215a": (5, 6), "\u215b": (1, 8), "\u215c": (3, 8), "\u215d": (5, 8), "\u215e": (7, 8),
}  # fmt: skip
_GLYPH = "[" + "".join(_GLYPHS) + "]"
_NUMBER = re.compile(
    rf"""
    (?P<mixed_whole>\d+)(?:[ ]+|-)(?P<mixed_above>\d+)/(?P<mixed_below>\d+)(?![\d/])
    | (?P<above>\d+)/(?P<below>\d+)(?![\d/])
    | (?:(?P<glyph_whole>\d+)[ ]?)?(?P<glyph>{_GLYPH})
    | (?P<grouped>\d{{1,3}}(?:,\d{{3}})+(?:\.\d+)?)(?![\d,])
    | (?P<comma>\d+,\d+)(?![\d,.])
    | (?P<plain>\d*\.\d+|\d+)(?![.,]?\d)
    """,
    re.ASCII | re.VERBOSE,
)
_RANGE = re.compile(r"\s*(?:-|\u2013|\bto\b)\s*")
_ANALYSIS = re.compile(r"\d+-\d+-\d+")
_LONE_DIGIT = re.compile(r"(?<![A-Za-z])\d", re.ASCII)
_SPACES = re.compile(r"[ \t\u00a0\u2009\u202f]+")


_SHARES: dict[Unit, Unit] = {
    (("[mass]", 1),): (("gram", 1), ("kg", -1)),
    (("[length]", 3),): (("liter", -1), ("mL", 1)),
    (("[length]", 1),): (("cm", 1), ("meter", -1)),
}
"""How a share of each kind is kept, so that weight in weight never meets volume in volume."""


_PERCENT = re.compile(r"% ?(w/v|v/v|w/w)")
_PERCENT_UNITS: dict[str, Unit] = {
    "w/v": (("gram", 1), ("liter", -1)),
    "v/v": (("liter", -1), ("mL", 1)),
    "w/w": (("gram", 1), ("kg", -1)),
}


def _percent(value: Fraction, kind: str) -> Measure:
    """A percentage of a stated kind: 1 % w/v is 10 g/L, v/v 10 mL/L, w/w 10 g/kg."""
    return Measure(value * 10, _PERCENT_UNITS[kind])


class Choice(NamedTuple):
    """A range in a recipe: the grower's choice, not a spread. `high` is None for one amount."""

    low: Measure
    high: Measure | None


def tidy(text: str, want: str, example: str) -> str:
    """One-line text with single spaces; refuses empty and over-long text."""
    if len(text) > MAX_TEXT:
        raise refuse("read-long", length=len(text), most=MAX_TEXT)
    clean = _SPACES.sub(" ", text).strip()
    if not clean:
        raise refuse("read-empty", want=want, example=example)
    return clean


def number(text: str, system: System | None = None, example: str = "1 1/2") -> Fraction:
    """The whole of `text` as one exact number."""
    clean = tidy(text, "a number", example)
    value, rest = _take_number(clean, clean, system, example)
    if rest:
        raise refuse("read-trailing", text=text, rest=rest, example=example)
    return value


def _take_number(rest: str, text: str, system: System | None, example: str) -> tuple[Fraction, str]:
    match = _NUMBER.match(rest)
    if match is None:
        raise refuse("read-number", text=text, example=example)
    found = match.group()
    digits = len("".join(char for char in found if char.isdigit()).lstrip("0"))
    if digits > (MAX_FRACTION_DIGITS if "/" in found else MAX_DIGITS):
        raise refuse("read-big", text=text)
    value = _number_value(match, text, system)
    if value > LARGEST or (value and value < SMALLEST):
        raise refuse("read-big", text=text)
    return value, rest[match.end() :].lstrip(" ")


def _number_value(match: re.Match[str], text: str, system: System | None) -> Fraction:
    group = match.groupdict()
    if group["mixed_whole"] is not None:
        part = _ratio(group["mixed_above"], group["mixed_below"], text)
        if part >= 1:
            raise refuse("read-number", text=text, example="1 1/2")
        return int(group["mixed_whole"]) + part
    if group["above"] is not None:
        return _ratio(group["above"], group["below"], text)
    if group["glyph"] is not None:
        return int(group["glyph_whole"] or 0) + Fraction(*_GLYPHS[group["glyph"]])
    if group["grouped"] is not None:
        return _grouped(group["grouped"], text, system)
    if group["comma"] is not None:
        return _comma(group["comma"], text)
    return Fraction(group["plain"])


def _ratio(above: str, below: str, text: str) -> Fraction:
    if int(below) == 0:
        raise refuse("read-zero-below", text=text)
    return Fraction(int(above), int(below))


def _comma(found: str, text: str) -> Fraction:
    """A decimal comma; three digits behind it could be a thousand unless a lone zero leads."""
    whole, _, part = found.partition(",")
    if len(part) == 3 and whole != "0":
        raise refuse("read-number", text=text, example="1.5")
    return Fraction(found.replace(",", "."))


def _grouped(found: str, text: str, system: System | None) -> Fraction:
    """1,500 is a thousand and a half where commas group thousands, else in doubt."""
    thousand = found.replace(",", "")
    if found.startswith("0,") and found.count(",") == 1 and "." not in found:
        return Fraction(found.replace(",", "."))
    if found.startswith("0"):
        raise refuse("read-number", text=text, example="1500")
    if system in ("us", "imperial", "australian") or "." in found or found.count(",") > 1:
        return Fraction(thousand)
    raise refuse("read-comma", text=text, decimal=found.replace(",", "."), thousand=thousand)


def quantity(
    text: str,
    system: System | None = None,
    *,
    want: str = "an amount",
    example: str = "5 mL",
    option: str = "--recipe-measures",
    oz_is: str | None = None,
) -> Measure:
    """Read one exact quantity with its unit.

    Parameters
    ----------
    text : str
        What was written: "1 1/2 tsp", "2 lb per 100 sq ft", "15 ft 6 in", "1 oz/gal".
    system : {"us", "imperial", "metric", "australian"} or None
        Whose gallon, cup, spoon and ton are meant; None when not told.
    want, example, option : str
        For the refusal: what is needed, how it is written, which option names the system.
    oz_is : {"weight", "fluid", "doubt"} or None
        What a bare `oz` means here. None refuses it with both readings when it stands alone
        or over a volume, where either could be meant; "doubt" (a liquid) refuses it anywhere.

    Raises
    ------
    DoseError
        For anything not wholly understood, ranges included.

    Examples
    --------
    >>> quantity("2 lb per 100 sq ft").value
    Fraction(1, 50)
    """
    low, high = choice(text, system, want=want, example=example, option=option, oz_is=oz_is)
    if high is not None:
        raise refuse("read-range", text=text)
    return low


def choice(
    text: str,
    system: System | None = None,
    *,
    want: str = "an amount",
    example: str = "5 mL",
    option: str = "--recipe-measures",
    oz_is: str | None = None,
) -> Choice:
    """Read a quantity that may be a range ("1-2 tbsp"); see `quantity`."""
    reader = _Reader(text, system, want, example, option, oz_is)
    return reader.read()


class _Reader:
    """One pass over one text; keeps what every refusal must repeat."""

    def __init__(
        self,
        text: str,
        system: System | None,
        want: str,
        example: str,
        option: str,
        oz_is: str | None,
    ) -> None:
        self.text = text
        self.system = system
        self.example = example
        self.option = option
        self.oz_is = oz_is
        self.clean = tidy(text, want, example)

    def read(self) -> Choice:
        value, rest = _take_number(self.clean, self.clean, self.system, self.example)
        top: Fraction | None = None
        if (dash := _RANGE.match(rest)) and (after := _NUMBER.match(rest, dash.end())) is not None:
            top, rest = _take_number(rest[after.start() :], self.clean, self.system, self.example)
            if top <= value:
                raise refuse("read-range-order", text=self.text)
        if not rest:
            raise refuse("read-no-unit", text=self.text, example=self.example)
        if rest.startswith(("/", "per ")):
            raise refuse("read-no-unit", text=self.text, example=self.example)
        if share := _PERCENT.fullmatch(rest):
            kind = share[1]
            return Choice(_percent(value, kind), None if top is None else _percent(top, kind))
        unit, rest = self.take_unit(rest)
        low = Measure(value, unit)
        high = None if top is None else Measure(top, unit)
        if high is None:
            low, rest = self.add_smaller(low, rest)
        below, rest = self.take_below(rest)
        if rest:
            raise refuse("read-trailing", text=self.text, rest=rest, example=self.example)
        if below is not None:
            low = low / below
            high = None if high is None else high / below
        low = self.keep_share(low, unit)
        high = None if high is None else self.keep_share(high, unit)
        self.settle_oz(low)
        return Choice(low, high)

    def read_leading(self) -> tuple[Measure, str]:
        """The first quantity, and the rest as it stands."""
        value, rest = _take_number(self.clean, self.clean, self.system, self.example)
        if (dash := _RANGE.match(rest)) and _NUMBER.match(rest, dash.end()):
            raise refuse("read-range", text=self.text)
        if not rest:
            raise refuse("read-no-unit", text=self.text, example=self.example)
        if share := _PERCENT.match(rest):
            return _percent(value, share[1]), rest[share.end() :].strip()
        unit, rest = self.take_unit(rest)
        low, rest = self.add_smaller(Measure(value, unit), rest)
        below, rest = self.take_below(rest)
        low = low if below is None else low / below
        self.settle_oz(low)
        return low, rest

    def add_smaller(self, low: Measure, rest: str) -> tuple[Measure, str]:
        """The second part of "15 ft 6 in" or "2 lb 4 oz": same kind, smaller unit."""
        if _NUMBER.match(rest) is None or _ANALYSIS.match(rest):
            return low, rest
        value, after = _take_number(rest, self.clean, self.system, self.example)
        if not after or after.startswith("/"):
            raise refuse("read-trailing", text=self.text, rest=rest, example=self.example)
        unit, after = self.take_unit(after)
        same_kind = engine.dimension(unit) == engine.dimension(low.unit)
        if not same_kind or value * engine.factor(unit, low.unit) >= 1:
            raise refuse("read-trailing", text=self.text, rest=rest, example=self.example)
        return low + Measure(value, unit), after

    def take_below(self, rest: str) -> tuple[Measure | None, str]:
        """Everything after "/" or "per", as one divisor."""
        below: Measure | None = None
        while rest.startswith(("/", "per ")):
            rest = rest[1:].lstrip() if rest.startswith("/") else rest[4:].lstrip()
            value = Fraction(1)
            if _NUMBER.match(rest):
                value, rest = _take_number(rest, self.clean, self.system, self.example)
                if value == 0:
                    raise refuse("read-zero-below", text=self.text)
            if not rest:
                raise refuse("read-no-unit", text=self.text, example=self.example)
            unit, rest = self.take_unit(rest)
            step = Measure(value, unit)
            below = step if below is None else below * step
        return below, rest

    def take_unit(self, rest: str) -> tuple[Unit, str]:
        """The longest known spelling at the start of `rest`."""
        tokens = rest.split(" ")
        for size in (3, 2, 1):
            head = " ".join(tokens[:size])
            if len(tokens) < size or "/" in " ".join(tokens[: size - 1]):
                continue
            head, slash, tail = head.partition("/")
            if (unit := self.unit_of(head.strip())) is not None:
                left = " ".join(tokens[size:])
                return unit, (slash + " ".join(part for part in (tail, left) if part)).strip()
        self.refuse_unit(tokens[0].partition("/")[0])
        raise AssertionError("refuse_unit always raises")

    def unit_of(self, spelling: str) -> Unit | None:
        """The unit of one whole spelling, None when it is no unit, a refusal when in doubt."""
        if spelling in words.SHORT_FORMS:
            return words.SHORT_FORMS[spelling]
        if spelling in ("oz", "oz.", "ounce", "ounces"):
            if self.oz_is == "fluid":
                return self.by_country("floz", self.system)
            return (("oz", 1),)
        if spelling in ("oz by weight", "ounces by weight", "ounce by weight"):
            self.oz_is = "weight"
            return (("oz", 1),)
        first, _, last = spelling.partition(" ")
        if last and first in words.POWER_WORDS:
            name = words.FIXED.get(last)
            if name in words.LENGTH_NAMES:
                return ((name, words.POWER_WORDS[first]),)
            return None
        if last and first in words.COUNTRY_WORDS:
            return self.by_country(_joined(last), words.COUNTRY_WORDS[first])
        joined = _joined(spelling)
        if joined in words.FIXED:
            return ((words.FIXED[joined], 1),)
        if joined in words.VARYING:
            return self.by_country(joined, self.system)
        if spelling and spelling[-1] in words.POWER_ENDINGS:
            name = words.FIXED.get(spelling[:-1])
            if name in words.LENGTH_NAMES:
                return ((name, words.POWER_ENDINGS[spelling[-1]]),)
        return None

    def by_country(self, word: str, system: System | None) -> Unit | None:
        sizes = words.VARYING.get(word)
        if sizes is None:
            return None
        if system is None:
            if sizes["us"] == "tsp_us":
                return ((words.TEASPOON_OF_NO_COUNTRY, 1),)
            raise refuse(
                "read-country",
                text=self.text,
                unit=_plain_word(word),
                readings=_readings(word, sizes),
                option=self.option,
            ).asking(_whose(self.text, sizes))
        if system not in sizes:
            raise refuse(
                "read-no-such",
                text=self.text,
                system=words.SYSTEM_WORD[system],
                unit=_plain_word(word),
                readings=_readings(word, sizes),
            )
        return ((sizes[system], 1),)

    def keep_share(self, found: Measure, above: Unit) -> Measure:
        """A unit over itself ("2 gal/100 gal") stays a share by volume, weight or length."""
        if found.unit != ():
            return found
        share = _SHARES.get(engine.dimension(above))
        if share is None:
            raise refuse("read-share", text=self.text)
        return Measure(found.value * engine.factor((), share), share)

    def settle_oz(self, low: Measure) -> None:
        """Refuse a bare oz where a fluid ounce could be meant."""
        powers = dict(low.unit)
        if self.oz_is in (None, "doubt") and "oz" in powers:
            over = tuple(pair for pair in low.unit if pair[0] != "oz")
            either = over == () or engine.dimension(over) == (("[length]", -3),)
            if either or self.oz_is == "doubt":
                floz = "29.57 mL US, 28.41 mL imperial"
                raise refuse("read-oz", text=self.text, floz=floz)

    def refuse_unit(self, word: str) -> None:
        if word.startswith("%") or word == "percent":
            raise refuse("read-percent", text=self.text)
        if word.lower() == "ppm":
            raise refuse("read-ppm", text=self.text)
        hint = _near(word) or f"it like {self.example}"
        raise refuse("read-unit", text=self.text, unit=word, near=hint)


_MICROGRAM = frozenset({"mcg", "\u00b5g", "\u03bcg"})
_LEAST_LETTERS = 4
"""Two- and three-letter units differ by one letter and a thousandfold: no guess among them."""


def _near(word: str) -> str:
    """What was likely meant: the same word in other capitals, else a long word nearly alike."""
    known = [*words.FIXED, *words.VARYING, "oz"]
    if word in _MICROGRAM:
        return "'ug'"
    same = [name for name in known if name.casefold() == word.casefold()]
    if same:
        return " or ".join(f"'{name}'" for name in same)
    if len(word) < _LEAST_LETTERS:
        return ""
    long = [name for name in known if len(name) >= _LEAST_LETTERS]
    near = difflib.get_close_matches(word.casefold(), long, n=3, cutoff=0.7)
    return " or ".join(f"'{name}'" for name in near)


def _joined(spelling: str) -> str:
    """Such as "fl oz" and "fluid ounce" are one word; nothing else is joined."""
    for spaced, one in (
        ("fl oz", "floz"), ("fl. oz", "floz"), ("fl. oz.", "floz"), ("fl oz.", "floz"),
        ("fluid oz", "floz"), ("fluid ounce", "fluidounce"), ("fluid ounces", "fluidounces"),
        ("dry qt", "dryqt"), ("dry pt", "drypt"),
    ):  # fmt: skip
        if spelling == spaced:
            return one
    return spelling


def _plain_word(word: str) -> str:
    return {"floz": "fl oz", "fl.oz.": "fl oz", "dryqt": "dry qt", "drypt": "dry pt"}.get(
        word, word
    )


def _size(name: str) -> Fraction:
    unit: Unit = ((name, 1),)
    return engine.factor(
        unit, LITER if engine.dimension(unit) != (("[mass]", 1),) else (("kg", 1),)
    )


def _readings(word: str, sizes: dict[System, str]) -> str:
    """Such as "US gal (3.785 L) or imperial gal (4.546 L)": every reading."""
    names: dict[Fraction, list[str]] = {}
    for system, name in sizes.items():
        names.setdefault(_size(name), []).append(
            f"'{words.SYSTEM_WORD[system]} {_plain_word(word)}'"
        )
    shown = []
    for size, spelled in names.items():
        litres = engine.dimension(((next(iter(sizes.values())), 1),)) != (("[mass]", 1),)
        if litres and size < 1:
            amount = f"{float(size * 1000):.4g} mL"
        else:
            amount = f"{float(size):.4g} {'L' if litres else 'kg'}"
        shown.append(f"{' or '.join(spelled)} ({amount})")
    return " or ".join(shown)


def _whose(text: str, sizes: dict[System, str]) -> Doubt:
    """The same words in the measures of each country that has such a unit."""
    answers = []
    for system in sizes:
        try:
            low, high = choice(text, system, oz_is="weight")
        except DoseError:
            continue
        amount = show(low).metric + ("" if high is None else f" to {show(high).metric}")
        label = Say.of("answer-measures", whose=words.SYSTEM_WORD[system], amount=amount)
        answers.append(Answer(label, measures=system))
    return Doubt(text, tuple(answers))


def positive(
    text: str,
    dim: Unit,
    system: System | None = None,
    *,
    want: str,
    example: str,
    option: str = "--recipe-measures",
    oz_is: str | None = None,
) -> Measure:
    """A quantity that must be of dimension `dim` and more than zero."""
    measure = quantity(text, system, want=want, example=example, option=option, oz_is=oz_is)
    plain = all(power > 0 for _, power in dim)
    rate = any(power < 0 for _, power in measure.unit)  # 5 L/ha has the dimension of a length
    if not measure.is_a(dim) or (plain and rate):
        raise refuse(
            "read-kind", text=text, is_kind=kind_word(measure.unit), want=want, example=example
        )
    if measure.value <= 0:
        raise refuse("read-positive", text=text, want=want, example=example)
    return measure


def leading(
    text: str, system: System | None = None, *, example: str, oz_is: str | None = None
) -> tuple[Measure, str]:
    """A quantity at the start of `text` and the words after it: "1 tbsp borax".

    Raises
    ------
    DoseError
        When `text` does not begin with a quantity.
    """
    reader = _Reader(text, system, "an amount", example, "--recipe-measures", oz_is)
    return reader.read_leading()


def unit(text: str, system: System | None = None, *, example: str = "g") -> Unit:
    """One unit without a number: "g/m2", "lb/100 sq ft" is refused, "US gal" is not."""
    clean = tidy(text, "a unit", example)
    found = quantity(f"1 {clean}", system, example=example, oz_is="weight")
    if found.value != 1 or _LONE_DIGIT.search(clean):
        raise refuse("read-unit", text=text, unit=text, near=f"it like {example}")
    return found.unit


_TEMPERATURE = re.compile(r"(-?)(.+?) ?(C|F|degC|degF|\u00b0C|\u00b0F|deg C|deg F)")


def temperature(text: str) -> Fraction:
    """A temperature reading in degrees Celsius: "20 C", "68 F", "-2 C"."""
    clean = tidy(text, "a temperature", "20 C")
    match = _TEMPERATURE.fullmatch(clean)
    if match is None:
        raise refuse("read-temperature", text=text)
    value = number(match[2], example="20 C") * (-1 if match[1] else 1)
    celsius = value if match[3][-1] == "C" else engine.convert_temperature(value, "degF", "degC")
    if not -60 <= celsius <= 120:
        raise refuse("read-temperature", text=text)
    return celsius


def dimensions(text: str, system: System | None = None) -> tuple[Measure, ...]:
    """Such as "4 x 8 ft", "1.2 m x 8 m": lengths joined by x, a shared unit standing last."""
    clean = tidy(text, "a size", "1.2 m x 8 m")
    parts = [part.strip() for part in re.split(r"\s[xX\u00d7]\s|(?<=\d)[xX\u00d7](?=\d)", clean)]
    sizes: list[Measure] = []
    unit: Unit | None = None
    for part in reversed(parts):
        if unit is not None and _NUMBER.fullmatch(part):
            sizes.append(Measure(number(part, system), unit))
            continue
        size = positive(part, (("[length]", 1),), system, want="a length", example="1.2 m x 8 m")
        unit = size.unit
        sizes.append(size)
    for size in sizes:
        if size.value <= 0:
            raise refuse("read-positive", text=text, want="a length", example="1.2 m x 8 m")
    return tuple(reversed(sizes))


_RATIO = re.compile(r"(.+?) ?(?::|\bto\b) ?(.+)")


def ratio(text: str) -> tuple[Fraction, Fraction]:
    """Such as "1:100" as its two numbers; what they are parts of is for the caller to fix."""
    clean = tidy(text, "a ratio", "1:100")
    match = _RATIO.fullmatch(clean)
    if match is None:
        raise refuse("read-ratio", text=text)
    left, right = number(match[1], example="1:100"), number(match[2], example="1:100")
    if left <= 0 or right <= 0:
        raise refuse("read-ratio", text=text)
    return left, right


_LABEL = re.compile(r"(?P<head>.+?) (?P<label>[A-Z][A-Za-z0-9]*)(?P<tail>(?: ?/.*| per .*)?)")


def labelled(
    text: str, labels: frozenset[str], system: System | None = None, example: str = "1.5 lb B/acre"
) -> tuple[Measure, str | None]:
    """Read "1.5 lb B/acre" as (1.5 lb/acre, "B") when "B" is one of the caller's `labels`."""
    clean = tidy(text, "an amount", example)
    match = _LABEL.fullmatch(clean)
    if match is not None and match["label"] in labels:
        plain = f"{match['head']}{match['tail']}"
        return quantity(plain, system, example=example, oz_is="weight"), match["label"]
    return quantity(clean, system, example=example), None


def per(unit: Unit, below: Unit) -> Unit:
    """The unit of `unit` for each `below`."""
    return unit_product(unit, below, -1)
