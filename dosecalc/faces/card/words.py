"""A card's words in its language, each unit that could be misread written out."""

from __future__ import annotations

import re

from dosecalc.say import Say

LANGUAGES = ("en",)
_UNITS = {
    "L": "L", "US tsp": "tsp", "US tbsp": "tbsp", "US fl oz": "floz", "US gal": "gal", "oz": "oz",
    "lb": "lb", "t": "t",
}  # fmt: skip
_AMOUNT = re.compile(
    r"(?P<number>(?<![\d/])\d+(?:\.\d+)?) (?P<unit>L|US tsp|US tbsp|US fl oz|US gal|oz|lb|t)"
    r"(?![\w/])"
)


class Words:
    """Renders sentences for one card.

    Parameters
    ----------
    language : {"en"}
    decimal : {"point", "comma"}
        The mark of the place where the card is read; it is not the language's.
    """

    def __init__(self, language: str = "en", decimal: str = "point") -> None:
        self.language = language
        self.comma = decimal == "comma"

    def __call__(self, key: str, **args: object) -> str:
        """The words of one key."""
        return self.say(Say.of(key, **args))

    def say(self, line: Say) -> str:
        """One sentence."""
        return self.marked(line.english())

    def marked(self, text: str) -> str:
        """`text` with the decimal mark of the place; never a mark between thousands."""
        return re.sub(r"(?<=\d)\.(?=\d)", ",", text) if self.comma else text

    def amount(self, text: str) -> str:
        """An amount with its unit in full: "2.8 litres", "1 teaspoon"."""
        return self.marked(_AMOUNT.sub(self._whole, text))

    def _whole(self, found: re.Match[str]) -> str:
        many = "one" if found["number"] == "1" else "many"
        unit = Say.of(f"unit-{many}-{_UNITS[found['unit']]}").english()
        whose = "US " if found["unit"].startswith("US ") else ""
        return f"{found['number']} {whose}{unit}"
