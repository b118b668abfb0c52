"""One root error. A refusal says what was read, what is wrong and what to write instead."""

from __future__ import annotations

from dataclasses import dataclass

from dosecalc.say import Say

EXIT_OK = 0
EXIT_REFUSED = 2
EXIT_STOPPED = 3


class DoseError(ValueError):
    """An input that was refused.

    Parameters
    ----------
    say : Say
        The sentence: what was read, what is wrong, what to write instead.
    where : str
        The place (file, table, option), empty where there is none.
    """

    exit_code = EXIT_REFUSED

    def __init__(self, say: Say, *, where: str = "") -> None:
        super().__init__(say.key)
        self.say = say
        self.where = where

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        return f"{place}{self.say.english()}"


def refuse(key: str, *, where: str = "", **args: object) -> DoseError:
    """Build the refusal of the catalogue sentence `key` (see ``say.SENTENCES``)."""
    return DoseError(Say.of(key, **args), where=where)


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
    """

    file: str
    place: str
    message: str

    def __str__(self) -> str:
        place = f", {self.place}" if self.place else ""
        return f"{self.file}{place}: {self.message}"
