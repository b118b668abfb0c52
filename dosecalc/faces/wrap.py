"""Lines of one width for every face that prints text."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable

WIDTH = 92


def wrap(text: str, first: str = "  ", then: str = "    ") -> list[str]:
    """The rows of `text`; a word or a hyphenated figure is never broken."""
    return textwrap.wrap(
        text, WIDTH, initial_indent=first, subsequent_indent=then,
        break_long_words=False, break_on_hyphens=False,
    )  # fmt: skip


def section(title: str, lines: Iterable[str]) -> list[str]:
    """A title and its indented lines; nothing at all where there is no line."""
    rows = [row for line in lines for row in wrap(line)]
    return [title, *rows] if rows else []
