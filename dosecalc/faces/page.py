"""A pasted page with several rates: shown with what each would give, one taken when it is named."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from dosecalc.catalog.prose.claims import wrong_claims
from dosecalc.catalog.prose.page import Page, Part, apart, read_page
from dosecalc.catalog.prose.reading import Reading, read_text
from dosecalc.catalog.prose.sums import wrong_sums
from dosecalc.catalog.prose.tidy import tidy
from dosecalc.catalog.recipe import ONE_RATE
from dosecalc.dose.result import URGENT, Mix
from dosecalc.errors import DoseError, printable, refuse
from dosecalc.faces.wrap import wrap
from dosecalc.say import Say
from dosecalc.units.show import listed, rounded
from dosecalc.units.words import System

_QUOTE = 160


class SeveralRatesError(DoseError):
    """A text that holds more than one rate, or one among words that were not understood.

    Parameters
    ----------
    lines : tuple of Say
        The rates with their numbers, what each would give, and what was not read.
    count : int
        How many rates there are to choose from.
    """

    def __init__(self, say: Say, lines: tuple[Say, ...], count: int) -> None:
        super().__init__(say)
        self.lines = lines
        self.count = count

    def __str__(self) -> str:
        return "\n".join([self.say.english(), *(_row(line) for line in self.lines)])


Try = Callable[[Reading], Mix]


def read_one(
    text: str, system: System | None, region: str | None, rate: str | None, give: Try | None
) -> Reading:
    """The one rate of a text, or of a page with several the one that is named.

    Parameters
    ----------
    text : str
    system, region : str or None
    rate : str or None
        Which rate of the page, counted from 1, as typed.
    give : callable or None
        From a reading to the `Mix` on the grower's own ground, to show beside each rate.

    Raises
    ------
    SeveralRatesError
        When the text holds several and none was named.
    DoseError
        When nothing in it can be read, or there is no rate of that number.
    """
    clean = tidy(text)
    off = (*wrong_sums(clean, system), *wrong_claims(clean, system, region))
    try:
        found = read_text(text, system, region)
    except DoseError as err:
        page = read_page(text, system, region)
        if not page.parts:
            told = err if err.doubt is not None else page.doubt or err
            told.also = off
            raise told from None
    else:
        _place_of(rate, 1)
        return _warned(found, off)
    if rate is None and not page.plain:
        raise _several(page, off, give)
    at = _place_of(rate, len(page.parts))
    says = (*page.says, *(_aside(page) if page.plain else _chosen(page, at)))
    part = page.parts[at].reading
    return _warned(replace(part, says=(*says, *part.says)), off)


def _warned(reading: Reading, off: tuple[Say, ...]) -> Reading:
    """The reading with what the text gets wrong, each said once."""
    if any(say.key.startswith("prose-differ") for say in (*reading.says, *reading.warns)):
        off = tuple(say for say in off if say.key != "sum-is")
    return replace(reading, warns=(*reading.warns, *off))


def _place_of(rate: str | None, count: int) -> int:
    """The place of the rate that is named, counted from 0."""
    if rate is None:
        return 0
    if not (rate.isascii() and rate.isdigit() and len(rate) < 4 and 1 <= int(rate) <= count):
        raise refuse("page-rate", text=rate, count=count)
    return int(rate) - 1


def _row(line: Say) -> str:
    """One line of the list, wrapped under its number."""
    return "\n".join(wrap(line.english(), "  ", "     "))


def _quote(text: str) -> str:
    return printable(" ".join(text.split()), _QUOTE)


def _aside(page: Page) -> tuple[Say, ...]:
    return (Say.of("prose-aside", words="; ".join(map(_quote, page.aside))),) if page.aside else ()


def _unread(page: Page) -> tuple[Say, ...]:
    if not page.unread:
        return ()
    return (Say.of("page-unread", words="; ".join(f"'{_quote(t)}'" for t in page.unread)),)


def _chosen(page: Page, at: int) -> tuple[Say, ...]:
    """What the page says beside the rate that was taken."""
    part = page.parts[at]
    count = len(page.parts)
    says = [Say.of("page-chosen", number=at + 1, count=count, quote=_quote(part.quote))]
    if part.given:
        says.append(Say.of("page-given", given=part.given))
    for one, other, ratio in apart(page.parts):
        if at == other:
            says.append(_differs(page, one, 1 / ratio))
        elif at == one:
            says.append(_differs(page, other, ratio))
    return (*says, *_unread(page), *_aside(page))


def _differs(page: Page, other: int, ratio: Fraction) -> Say:
    """How the page's other rate of the same material compares with the one that was taken."""
    times = _times(ratio)
    quote = _quote(page.parts[other].quote)
    if not times:
        return Say.of("page-same", number=other + 1, quote=quote)
    return Say.of("page-differs", number=other + 1, quote=quote, times=times)


def _times(ratio: Fraction) -> str:
    """A ratio in words; "" within what is one rate printed twice."""
    if abs(ratio - 1) <= ONE_RATE:
        return ""
    return rounded(ratio, 2)[0]


def _several(page: Page, off: tuple[Say, ...], give: Try | None) -> SeveralRatesError:
    lines: list[Say] = []
    ratios = {other: (one, ratio) for one, other, ratio in apart(page.parts)}
    for at, part in enumerate(page.parts):
        lines.append(
            Say.of(
                "page-line", number=at + 1, quote=_quote(part.quote),
                given=f" [{part.given}, from the rest of the text]" if part.given else "",
                plainly=part.reading.says[0].english(), gives=_gives(part, give),
            )
        )  # fmt: skip
        lines += [Say.of("page-line-warns", warns=say.english()) for say in part.reading.warns]
        if at in ratios:
            one, ratio = ratios[at]
            times = _times(ratio)
            key = "page-line-times" if times else "page-line-same"
            lines.append(Say.of(key, times=times, other=one + 1))
    lines += [*page.says, *_unread(page), *off]
    count = len(page.parts)
    head = Say.of("page-several", count=count) if count > 1 else Say.of("page-one")
    return SeveralRatesError(head, tuple(lines), count)


def _gives(part: Part, give: Try | None) -> str:
    """What the rate comes to on the grower's ground, and its worst finding."""
    if give is None:
        return ""
    try:
        made = give(part.reading)
    except DoseError as err:
        return Say.of("page-cannot", why=str(err)).english()
    shown = ", ".join(f"{item.shown} {item.name}" for item in made.amounts)
    bad = [f"{f.level.upper()} ({f.about})" for f in made.findings if f.level in URGENT]
    judged = Say.of("page-judged", levels=listed(list(dict.fromkeys(bad)))).english() if bad else ""
    return f"{Say.of('page-gives', amounts=shown).english()}{judged}"
