"""A sentence for people as a key with arguments, so that a second language can follow."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Say:
    """One sentence: the key of a template and what fills it.

    Parameters
    ----------
    key : str
        A key of ``english.SENTENCES``.
    args : tuple of (str, str)
        Names and texts, in the order given.
    inside : tuple of (str, tuple of Say)
        The sentences that an argument is made of, for a face that speaks another language.
    """

    key: str
    args: tuple[tuple[str, str], ...] = ()
    inside: tuple[tuple[str, tuple[Say, ...]], ...] = ()

    @classmethod
    def of(cls, key: str, **args: object) -> Say:
        """Build from keyword arguments; each is turned into text once, here."""
        return cls(key, tuple((name, str(value)) for name, value in args.items()))

    @classmethod
    def around(cls, key: str, name: str, says: Iterable[Say], **args: object) -> Say:
        """Build with one argument that is made of sentences, commas between."""
        found = tuple(says)
        joined = ", ".join(say.english() for say in found)
        made = cls.of(key, **args, **{name: joined})
        return cls(key, made.args, ((name, found),))

    def english(self) -> str:
        """The English sentence."""
        from dosecalc.english import SENTENCES  # the words are only needed when shown

        return SENTENCES[self.key].format_map(dict(self.args))
