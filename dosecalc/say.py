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
        A key of ``english.every``.
    args : tuple of (str, str)
        Names and texts, in the order given.
    inside : tuple of (str, str, tuple of Say)
        An argument that is made of sentences, what stands between them and the sentences, for a
        face that speaks another language.
    """

    key: str
    args: tuple[tuple[str, str], ...] = ()
    inside: tuple[tuple[str, str, tuple[Say, ...]], ...] = ()

    @classmethod
    def of(cls, key: str, **args: object) -> Say:
        """Build from keyword arguments; each is turned into text once, here.

        An argument that is itself a sentence is kept beside its English.
        """
        inside = tuple((n, "", (v,)) for n, v in args.items() if isinstance(v, Say))
        return cls(key, tuple((name, str(value)) for name, value in args.items()), inside)

    @classmethod
    def around(
        cls, key: str, name: str, says: Iterable[Say], between: str = ", ", /, **args: object
    ) -> Say:
        """Build with one argument that is made of sentences, `between` them a mark."""
        found = tuple(says)
        made = cls.of(key, **args, **{name: between.join(map(str, found))})
        return cls(key, made.args, (*made.inside, (name, between, found)))

    def without(self, names: Iterable[str]) -> Say:
        """The same sentence with these arguments left empty."""
        out = frozenset(names)
        return Say(
            self.key,
            tuple((name, "" if name in out else text) for name, text in self.args),
            tuple(part for part in self.inside if part[0] not in out),
        )

    def __str__(self) -> str:
        return self.english()

    def english(self) -> str:
        """The English sentence."""
        from dosecalc.english import sentence  # the words are only needed when shown

        return sentence(self.key).format_map(dict(self.args))
