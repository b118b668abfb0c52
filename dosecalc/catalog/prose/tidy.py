"""What stands between a pasted text and the grammar: signs made plain, nothing else changed."""

from __future__ import annotations

import re
import unicodedata

from dosecalc.errors import refuse

MOST = 2000
"""A recipe is a few lines; a whole page is not read."""

_DASHES = dict.fromkeys(map(ord, "\u2010\u2011\u2012\u2013\u2014\u2212"), "-")
_QUOTES = dict.fromkeys(map(ord, "\u2019\u2032\u2018"), "'") | dict.fromkeys(
    map(ord, "\u201c\u201d\u2033\u201e"), '"'
)
_SPACES = dict.fromkeys(map(ord, "\t\u00a0\u2009\u202f\u2003\u2002"), " ")
_SIGNS = _DASHES | _QUOTES | _SPACES | {ord("\u00d7"): "x", ord("\u2044"): "/", ord("\r"): "\n"}
_MARKS = (
    (re.compile(r"(?:\. ?){3,}"), ": "),  # dots that lead the eye to a figure are no decimal point
    (re.compile(r"(?<=[A-Za-z]) \.(?=\s|$)"), "."),
    (re.compile(r"\b(?:an?|one) ([a-z]+) and a half(?= of\b|[,.;]|$)", re.IGNORECASE), r"1 1/2 \1"),
    (re.compile(r"\brow[- ](feet|foot|ft|met(?:re|er)s?|m)\b", re.IGNORECASE), r"\1 of row"),
    (
        re.compile(
            r"\b(?:and|then|to) water (?=\d[\d.,]* ?(?:feet|foot|ft|m|met|yards?|plants?|sq))"
        ),
        "over ",
    ),
    (re.compile(r"\bfor us(?:e|ing) (?=over|on|in)", re.IGNORECASE), ""),
    (
        re.compile(
            r"(?<=water) in (?:an?|one|another|the other|a second|a separate)(?: [a-z-]+)?"
            r" (?:bucket|container|pail|jug|bowl|vessel|tub)\b",
            re.IGNORECASE,
        ),
        "",
    ),
    (re.compile(r"(?<=\d) ?\"(?![A-Za-z])"), " in "),  # 3" is three inches
    (re.compile(r"(?<=\d) ?'(?!\w)"), " ft "),
    (re.compile(r"(?<=\d)\u00b7(?=\d)"), "."),  # the raised dot of older British print
    (re.compile(r"\bper ?cents?\b\.?|\bpercent\b", re.IGNORECASE), "%"),
    (re.compile(r"\bsq ?/ ?(?=ft|yd|m\b)", re.IGNORECASE), "sq "),
    (re.compile(r"\b(oz|ounces?)\.? (?:wt|weight)\b\.?", re.IGNORECASE), "oz by weight"),
    (re.compile(r"\u00b2"), "2"),
    (re.compile(r"\u00b3"), "3"),
    (re.compile(r"(?<=[\d ])[xX] ?(?=\d)"), " x "),
    (re.compile(r"(?<=\d)-(?=[A-Za-z])"), " "),  # "100-foot row"
    (re.compile(r"(\d)[ ]*#(?=\s|$)"), r"\1 lb"),
)


def tidy(text: str) -> str:
    """`text` in plain signs: fractions as 1/2, one kind of dash and quote, feet and inches named.

    Raises
    ------
    DoseError
        When it is empty, longer than a recipe is, or holds signs that cannot be seen.
    """
    if len(text) > MOST:
        raise refuse("prose-long", length=len(text), most=MOST)
    for char in text:
        if char not in "\n\r\t" and unicodedata.category(char) in ("Cc", "Cf", "Cs", "Co", "Cn"):
            raise refuse("prose-sign", sign=ascii(char)[1:-1])
    plain = _fractions(text).translate(_SIGNS)
    for pattern, to in _MARKS:
        plain = pattern.sub(to, plain)
    plain = re.sub(r" +", " ", plain).strip()
    if not plain:
        raise refuse("prose-empty")
    return plain


def _fractions(text: str) -> str:
    """Such as "2\u00bd" as "2 1/2"; other numerals are left to be refused."""
    made: list[str] = []
    for char in text:
        spelled = unicodedata.normalize("NFKC", char)
        if "\u2044" not in spelled:
            made.append(char)
            continue
        before = made[-1] if made else ""
        made.append(("" if not before or before.isspace() else " ") + spelled)
    return "".join(made)
