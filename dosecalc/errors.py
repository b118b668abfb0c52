"""One root error. A refusal says what was read, what is wrong and what to write instead."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from dosecalc.say import Say

EXIT_OK = 0
EXIT_REFUSED = 2
EXIT_STOPPED = 3


@dataclass(frozen=True, slots=True)
class Answer:
    """One of the readings of what can be read in several ways, and what makes a text say it.

    Parameters
    ----------
    label : Say
        What it means, and what it would give.
    new : str
        What is to stand in the text in place of what stands from `start` to `end`.
    start, end : int
        Places in the text as it was read, tidied; the same where `new` only goes in between.
    measures : str
        The measure system to read the text in instead; nothing is put in then. "" for none.
    """

    label: Say
    new: str = ""
    start: int = 0
    end: int = 0
    measures: str = ""


@dataclass(frozen=True, slots=True)
class Doubt:
    """Words that can be read in several ways, for a face that can ask.

    Parameters
    ----------
    text : str
        The words.
    answers : tuple of Answer
    """

    text: str
    answers: tuple[Answer, ...]


class DoseError(ValueError):
    """An input that was refused.

    Parameters
    ----------
    say : Say
        The sentence: what was read, what is wrong, what to write instead.
    where : str
        The place (file, table, option), empty where there is none.

    Attributes
    ----------
    doubt : Doubt or None
        The readings that a face can let a person choose from; see `asking`.
    also : tuple of Say
        What else is wrong with the same input, a line each.
    """

    exit_code = EXIT_REFUSED

    def __init__(self, say: Say, *, where: str = "") -> None:
        super().__init__(say.key)
        self.say = say
        self.where = where
        self.doubt: Doubt | None = None
        self.also: tuple[Say, ...] = ()

    def asking(self, doubt: Doubt | None) -> DoseError:
        """The same refusal with the readings that a face can let a person choose from."""
        self.doubt = doubt
        return self

    def placed(self, at: int | None) -> DoseError:
        """The same refusal for a longer text, in which what was read begins at a place.

        None where it does not stand in it word for word: then only whose measures it speaks can
        still be answered.
        """
        if self.doubt is None or all(answer.measures for answer in self.doubt.answers):
            return self
        if at is None:
            return self.asking(None)
        moved = [replace(a, start=a.start + at, end=a.end + at) for a in self.doubt.answers]
        return self.asking(Doubt(self.doubt.text, tuple(moved)))

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        return "\n  ".join([f"{place}{self.say.english()}", *(s.english() for s in self.also)])


MOST_SHOWN = 1500
MOST_TYPED = 80


def printable(text: str, most: int = MOST_SHOWN) -> str:
    """A person's text as it may be shown: one line, no control or direction marks, not long."""
    shown = text if len(text) <= most else f"{text[:most]}..."
    if shown.isprintable():
        return shown
    return "".join(c if c.isprintable() else ascii(c)[1:-1] for c in shown)


def refuse(key: str, *, where: str = "", **args: object) -> DoseError:
    """Build the refusal of the catalogue sentence `key` (see ``english.every``)."""
    shown = {
        name: printable(str(value), MOST_TYPED if name == "text" else MOST_SHOWN)
        for name, value in args.items()
    }
    return DoseError(Say.of(key, **shown), where=where)


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault found while loading a file: collected, not raised.

    Parameters
    ----------
    file : str
        The file as it was named.
    place : str
        Where in the file ("statement 1, ingredient 2, amount").
    message : str
        What is wrong and what to write instead.
    doubt : Doubt or None
        As in `DoseError`.
    """

    file: str
    place: str
    message: str
    doubt: Doubt | None = None

    def __str__(self) -> str:
        place = f", {self.place}" if self.place else ""
        return printable(f"{self.file}{place}: {self.message}")


_MOST_PROBLEMS = 8


def problems_text(problems: Sequence[Problem]) -> str:
    """The first problems in one line, and how many more there are."""
    shown = "; ".join(str(problem).rstrip(".") for problem in problems[:_MOST_PROBLEMS])
    more = len(problems) - _MOST_PROBLEMS
    return f"{shown}; and {more} problems more." if more > 0 else f"{shown}."
