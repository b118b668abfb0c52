"""Asking back on a terminal: what a text can mean, as a question with numbered answers."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, NamedTuple

import click

from dosecalc.faces.cli.options import Command

if TYPE_CHECKING:
    from dosecalc.errors import Answer, DoseError
    from dosecalc.say import Say

MOST_ASKED = 8
"""A text with more doubts than this is refused after all."""
MOST_SLIPS = 3
"""So often a number may be typed that is none of the answers."""


class Wording(NamedTuple):
    """The words of a recipe, whose measures they speak, and which of several rates is meant."""

    text: str
    measures: str | None
    rate: str | None = None


Reader = Callable[[Wording], object]
"""Reads a wording or refuses it; what it returns is not looked at."""


def ask_option(function: Command) -> Command:
    """Add --ask."""
    return click.option(
        "--ask/--no-ask", "ask", default=None,
        help="ask back what the text can mean; where neither is given, on a terminal only",
    )(function)  # fmt: skip


def on_terminal() -> bool:
    """Whether there is a person to ask: what is typed and what is said are both a terminal."""
    return sys.stdin.isatty() and sys.stderr.isatty()


def settled(wording: Wording, read: Reader, ask: bool | None, *, as_json: bool = False) -> Wording:
    """The wording once every doubt in it was asked back; as it came where nobody is asked.

    Parameters
    ----------
    wording : Wording
    read : callable
        See `Reader`.
    ask : bool or None
        What --ask said; None asks on a terminal, and not for a result that a program reads.
    as_json : bool

    Raises
    ------
    DoseError
        For a doubt that was left open, and for what is refused without a choice.
    """
    if not ((on_terminal() and not as_json) if ask is None else ask):
        return wording
    settling = wording
    try:
        for _ in range(MOST_ASKED):
            refused = _refused(settling, read)
            if refused is None:
                break
            settling = _answered(settling, read, refused)
    finally:
        _say_how(wording, settling)
    return settling


def _refused(wording: Wording, read: Reader) -> DoseError | None:
    """Why a wording is refused, None where it is read."""
    from dosecalc.errors import DoseError

    try:
        read(wording)
    except DoseError as err:
        return err
    return None


def _answered(wording: Wording, read: Reader, refused: DoseError) -> Wording:
    """The wording after one question; the refusal where there is none, or no answer to it."""
    from dosecalc.errors import MOST_TYPED, printable
    from dosecalc.faces.page import SeveralRatesError
    from dosecalc.say import Say

    if isinstance(refused, SeveralRatesError):
        number = _number(str(refused), refused.count)
        after = [wording._replace(rate=str(one + 1)) for one in range(refused.count)]
    elif refused.doubt is not None:
        pairs = [(answer, _after(wording, answer)) for answer in refused.doubt.answers]
        pairs = [pair for pair in pairs if _leads_on(pair[1], read)]
        after = [changed for _, changed in pairs]
        question = Say.of("ask-which", text=printable(refused.doubt.text, MOST_TYPED)).english()
        rows = [f"  {n}  {a.label.english()}" for n, (a, _) in enumerate(pairs, start=1)]
        number = _number("\n".join([question, *rows]), len(pairs)) if pairs else None
    else:
        raise refused
    if number is None:
        raise refused
    return after[number]


def _after(wording: Wording, answer: Answer) -> Wording:
    """The wording with an answer in it."""
    from dosecalc.catalog.prose.tidy import tidy

    if answer.measures:
        return wording._replace(measures=answer.measures)
    text = tidy(wording.text)  # the answer's places are those of the tidied text
    return wording._replace(text=text[: answer.start] + answer.new + text[answer.end :])


def _leads_on(wording: Wording, read: Reader) -> bool:
    """Whether a wording is read, or can be asked about further."""
    from dosecalc.faces.page import SeveralRatesError

    refused = _refused(wording, read)
    return refused is None or refused.doubt is not None or isinstance(refused, SeveralRatesError)


def _number(question: str, count: int) -> int | None:
    """Which of the numbered lines of a question a person chose; None for none."""
    from dosecalc.errors import MOST_TYPED, printable
    from dosecalc.say import Say

    click.echo(question, err=True)
    numbers = {str(number): number - 1 for number in range(1, count + 1)}
    prompt = Say.of("ask-number", count=count).english()
    for _ in range(MOST_SLIPS):
        try:
            typed = click.prompt(prompt, default="", show_default=False, err=True).strip()
        except click.Abort:
            return None
        if not typed or typed in numbers:
            return numbers.get(typed)
        _echo(Say.of("ask-again", text=printable(typed, MOST_TYPED)))
    return None


def _say_how(before: Wording, after: Wording) -> None:
    """How to write it so that nothing is asked."""
    from dosecalc.say import Say

    if after.text != before.text:
        _echo(Say.of("ask-text", text=after.text))
    if after.measures != before.measures:
        _echo(Say.of("ask-measures", measures=after.measures))
    if after.rate != before.rate:
        _echo(Say.of("ask-rate", rate=after.rate))


def _echo(say: Say) -> None:
    click.echo(say.english(), err=True)
