"""A card's words in its language, each unit that could be misread written out."""

from __future__ import annotations

import gettext
import re
from collections.abc import Iterable
from functools import cache
from importlib.resources import files

from dosecalc.catalog.crops import crop_words
from dosecalc.english import sentence
from dosecalc.faces.card.languages.phrases import PHRASES
from dosecalc.say import Say

LANGUAGES = ("en", "es")
_UNITS = {
    "L": "L", "US tsp": "tsp", "US tbsp": "tbsp", "US fl oz": "floz", "US gal": "gal", "oz": "oz",
    "lb": "lb", "t": "t",
}  # fmt: skip
_AMOUNT = re.compile(
    r"(?P<number>(?<![\d/])\d+(?:\.\d+)?) (?P<unit>L|US tsp|US tbsp|US fl oz|US gal|oz|lb|t)"
    r"(?![\w/])"
)
_INCHES = re.compile(r"(?<=\d )in\b(?![\w ] *\d| a | one )")
"""The unit and not the word: what is "in 2 L" stands before the amount it is in."""

_PURE = re.compile(r"(.+) \(([\d.]+) % pure\)")
_EACH = re.compile(r"(?<=/)(?:plant|pot)\b")

_PRINTED = re.compile(r"(\(printed: (?:[^()]|\([^()]*\))*\))")
_AS_PRINTED = frozenset(
    ["source", "bed", "product", "number", "text", "quote", "words", "word", "one", "other",
     "first", "second", "left", "given", "to"]
)  # fmt: skip
"""What fills a sentence and is quoted, or named as its own source names it."""

_TEXTS = frozenset(["reason", "why", "how", "say", "condition", "as_of"])
"""Whole sentences of the catalog, each under the context ``text``."""


@cache
def _catalog(language: str) -> gettext.GNUTranslations:
    with files("dosecalc.faces.card.languages").joinpath(f"{language}.mo").open("rb") as stream:
        return gettext.GNUTranslations(stream)


class Words:
    """Renders sentences for one card.

    Parameters
    ----------
    language : {"en", "es"}
    decimal : {"point", "comma"}
        The mark of the place where the card is read; it is not the language's.
    names : iterable of str
        The materials of the card, as the catalog calls them.
    """

    def __init__(
        self, language: str = "en", decimal: str = "point", names: Iterable[str] = ()
    ) -> None:
        self.language = language
        self.comma = decimal == "comma"
        crops = crop_words()
        capital = {crop[:1].upper() + crop[1:] for crop in crops}
        known = sorted({*names, *PHRASES, *crops, *capital}, key=len, reverse=True)
        self._names = frozenset(names)
        self._known = re.compile(rf"(?<![\w/])(?:{'|'.join(map(re.escape, known))})(?![\w])")

    def __call__(self, key: str, **args: object) -> str:
        """The words of one key; the arguments are ready to print."""
        return self._template(key).format_map(args)

    def say(self, line: Say) -> str:
        """One sentence, with what fills it."""
        if self.language == "en":
            return self.marked(line.english())
        return self.marked(" ".join(self._filled(line).split()))

    def _filled(self, line: Say) -> str:
        args = {name: self._argument(name, text) for name, text in line.args}
        args |= {name: mark.join(map(self._filled, says)) for name, mark, says in line.inside}
        if line.key == "recipe-text":
            args = {"text": self._found("text", dict(line.args)["text"])}
        return self._template(line.key).format_map(args)

    def _argument(self, name: str, text: str) -> str:
        if name in _TEXTS:
            return self._found("text", text)
        if name == "region":
            return self._found("region", text)
        if name == "recipe":
            return self.name(text)
        if name in _AS_PRINTED:
            return self._cited(text)
        return self.phrase(text)

    def phrase(self, text: str) -> str:
        """Words that fill a sentence, one after the other; a quotation is kept as printed."""
        if self.language == "en":
            return text
        whole = self.name(text)
        if whole != text:
            return whole
        parts = _PRINTED.split(text)
        return "".join(self._quoted(p) if _PRINTED.match(p) else self._worded(p) for p in parts)

    def name(self, text: str) -> str:
        """The name of a material or of a recipe."""
        found = self._found("name", text)
        pure = _PURE.fullmatch(text)
        if found == text and pure and self._found("name", pure[1]) != pure[1]:
            found = f"{self.name(pure[1])} ({pure[2]} {self._found('word', '% pure')})"
        return self.marked(found)

    def marked(self, text: str) -> str:
        """`text` with the decimal mark of the place; never a mark between thousands."""
        return re.sub(r"(?<=\d)\.(?=\d)", ",", text) if self.comma else text

    def amount(self, text: str) -> str:
        """An amount with its unit in full: "2.8 litres", "1 teaspoon"."""
        return self.marked(_AMOUNT.sub(self._whole, text))

    def _template(self, key: str) -> str:
        english = sentence(key)
        if self.language == "en":
            return english
        found = _catalog(self.language).pgettext(key, english)
        return found if found.strip() else ""

    def _found(self, context: str, text: str) -> str:
        if self.language == "en":
            return text
        return _catalog(self.language).pgettext(context, text)

    def _worded(self, text: str) -> str:
        inches = _INCHES.sub(self._found("word", "inch"), text)
        each = _EACH.sub(lambda found: self._word(found.group()), inches)
        return self._known.sub(lambda found: self._word(found.group()), each)

    def _word(self, text: str) -> str:
        if text in self._names:
            return self.name(text)
        found = self._found("word", text)
        return found if found != text else self._found("word", text.lower())

    def _quoted(self, text: str) -> str:
        return text.replace("printed", self._found("word", "printed"), 1)

    def _cited(self, text: str) -> str:
        """Words as they are printed, but for a name; that there is no source is no quotation."""
        found = self.name(text)
        return found if found != text else self._found("word", text)

    def _whole(self, found: re.Match[str]) -> str:
        many = "one" if found["number"] == "1" else "many"
        unit = self(f"unit-{many}-{_UNITS[found['unit']]}")
        whose = self("card-whose", unit=unit) if found["unit"].startswith("US ") else unit
        return f"{found['number']} {whose}"
