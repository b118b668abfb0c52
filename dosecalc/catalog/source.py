"""Where a fact was read, and how far it may be trusted."""

from __future__ import annotations

from dataclasses import dataclass

STRONG_GRADES = frozenset({"label", "regulator", "standard", "journal", "extension"})
"""Grades that may judge a dose alone; all others give a caution at most. A label comes first."""

WITHOUT_SOURCE = {
    "practice": "common practice, no source",
    "memory": "from memory",
}


@dataclass(frozen=True, slots=True)
class Source:
    """A published source, or the mark that there is none.

    Parameters
    ----------
    id, title, publisher, grade : str
    year : int or None
        None where the page carries none.
    url : str or None
    """

    id: str
    title: str
    publisher: str
    grade: str
    year: int | None
    url: str | None

    @property
    def strong(self) -> bool:
        """Whether it may judge a dose alone."""
        return self.grade in STRONG_GRADES

    def cite(self) -> str:
        """Such as "Publisher (2013): Title", or the mark that there is no source."""
        if self.grade in WITHOUT_SOURCE:
            return WITHOUT_SOURCE[self.grade]
        year = f" ({self.year})" if self.year else ""
        return f"{self.publisher}{year}: {self.title}"
