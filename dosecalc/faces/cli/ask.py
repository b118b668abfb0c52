"""Asking back on a terminal: what a text can mean, as a question with numbered answers."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, NamedTuple

import click

from dosecalc.faces.cli.options import Command

if TYPE_CHECKING:
    from dosecalc.errors import Answer, DoseError, Doubt
    from dosecalc.say import Say

MOST_ASKED = 8
"""A text with more doubts than this is refused after all."""
MOST_SLIPS = 3
"""So often a number may be typed that is none of the answers."""


class Wording(NamedTuple):
    """The words of a recipe, and whose measures they speak where that was said."""

    text: str
    measures: str | None


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
    for _ in range(MOST_ASKED):
        refused = _doubtful(settling, read)
        if refused is None:
            break
        settling = _answered(settling, read, refused)
    if settling != wording:
        _say_how(wording, settling)
    return settling


def _doubtful(wording: Wording, read: Reader) -> DoseError | None:
    """The refusal that a person can do something about; any other goes its way."""
    from dosecalc.errors import DoseError

    try:
        read(wording)
    except DoseError as err:
        if err.doubt is None:
            raise
        return err
    return None


def _answered(wording: Wording, read: Reader, refused: DoseError) -> Wording:
    """The wording after one question."""
    assert refused.doubt is not None
    led = [
        (answer, after)
        for answer in refused.doubt.answers
        if _leads_on(after := _after(wording, answer), read)
    ]
    number = _choice(refused.doubt, [answer for answer, _ in led]) if led else None
    if number is None:
        raise refused
    return led[number][1]


def _after(wording: Wording, answer: Answer) -> Wording:
    """The wording with an answer in it."""
    from dosecalc.catalog.prose.tidy import tidy

    if answer.measures:
        return wording._replace(measures=answer.measures)
    text = tidy(wording.text)  # the answer's places are those of the tidied text
    return wording._replace(text=text[: answer.start] + answer.new + text[answer.end :])


def _leads_on(wording: Wording, read: Reader) -> bool:
    """Whether a wording is read, or can be asked about further."""
    from dosecalc.errors import DoseError

    try:
        read(wording)
    except DoseError as err:
        return err.doubt is not None
    return True


def _choice(doubt: Doubt, answers: list[Answer]) -> int | None:
    """Which answer a person chose; None for none."""
    from dosecalc.errors import MOST_TYPED, printable
    from dosecalc.say import Say

    _echo(Say.of("ask-which", text=printable(doubt.text, MOST_TYPED)))
    numbers = {str(number): number - 1 for number in range(1, len(answers) + 1)}
    for number, answer in zip(numbers, answers, strict=True):
        click.echo(f"  {number}  {answer.label.english()}", err=True)
    question = Say.of("ask-number", count=len(answers)).english()
    for _ in range(MOST_SLIPS):
        try:
            typed = click.prompt(question, default="", show_default=False, err=True).strip()
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


def _echo(say: Say) -> None:
    click.echo(say.english(), err=True)
