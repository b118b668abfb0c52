"""Sizes that a text gives to its own words: "1 capful is 10 ml", then "2 capfuls in 5 L"."""

from __future__ import annotations

import re
from dataclasses import dataclass

from dosecalc.catalog.prose import words
from dosecalc.errors import DoseError
from dosecalc.say import Say
from dosecalc.units import read
from dosecalc.units.measure import MASS, VOLUME, Measure, exact_text
from dosecalc.units.words import System

_WORDS = "|".join(sorted({w for w in words.DOUBTFUL_SIZES if w != "spoon"}, key=len, reverse=True))
_NUMBER = r"\d[\d./ ]*"
_SAYS = re.compile(
    rf"\b(?:1|an?|one|the|my|each) (?P<word>{_WORDS})(?: of [a-z -]{{1,30}}?)? "
    r"(?:is|holds|weighs|contains|equals|=|approx\.?|about|of)(?: about| approx\.?| roughly)? "
    rf"(?P<number>{_NUMBER}) ?(?P<unit>[A-Za-z]+(?: oz| ounces?)?)\b[ .;,]*",
    re.IGNORECASE,
)
_USED = r"\b(?P<number>\d[\d./]*(?: \d+/\d+)?|an?|one|two|three|four|half an?|half) (?:{word})\b"
_COUNT = {
    "a": "1", "an": "1", "one": "1", "two": "2", "three": "3", "four": "4", "half": "1/2",
    "half a": "1/2", "half an": "1/2",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Defined:
    """A text whose own words were put in measures, and what was put for what."""

    text: str
    says: tuple[Say, ...]


def with_own_sizes(text: str, system: System | None) -> Defined:
    """`text` with each "2 capfuls" as the volume or weight that the text gives to a capful.

    Parameters
    ----------
    text : str
        Tidy text.
    system : System or None
        Whose fluid ounce a size may be written in.
    """
    sizes: dict[str, tuple[str, Measure]] = {}
    for match in _SAYS.finditer(text):
        word, size = match["word"].lower(), f"{match['number'].strip()} {match['unit']}"
        try:
            measure = read.quantity(size, system, oz_is="weight")
        except DoseError:
            continue
        if not (measure.is_a(MASS) or measure.is_a(VOLUME)) or measure.value <= 0:
            continue
        if sizes.setdefault(word, (size, measure))[0] != size:
            return Defined(text, ())  # two sizes for one word: neither is taken
    rest = _SAYS.sub(lambda found: "" if found["word"].lower() in sizes else found.group(), text)
    says: list[Say] = []
    for word, (size, measure) in sizes.items():
        changed = _put(rest, word, measure, system)
        if changed != rest:
            rest = changed
            says.append(Say.of("prose-own-size", word=word, size=size))
    return Defined(rest.strip() if says else text, tuple(says))


def _put(text: str, word: str, size: Measure, system: System | None) -> str:
    """`text` with each count of a word as that many times its size."""

    def sized(match: re.Match[str]) -> str:
        count = _COUNT.get(match["number"].lower(), match["number"])
        return exact_text(size * read.number(count, system))

    return re.sub(_USED.format(word=_forms(word)), sized, text, flags=re.IGNORECASE)


def _forms(word: str) -> str:
    """A word and its plural."""
    return f"{re.escape(word)}s?" if not word.endswith("s") else re.escape(word)
