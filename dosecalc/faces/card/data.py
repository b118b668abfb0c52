"""What a mix card holds, in words: a face draws it and computes nothing."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Band:
    """A warning that no card may be printed without.

    Parameters
    ----------
    level : str
        The word in capitals: "STOP" or "OVER".
    text : str
        With the figure and the limit.
    """

    level: str
    text: str


@dataclass(frozen=True, slots=True)
class Line:
    """One amount: a name, what to do, and the same small in the other measures.

    Parameters
    ----------
    name : str
    text : str
        One action in the units of the tool in hand.
    small : str
        The other system, and how far the tool comes off; "" for neither.
    """

    name: str
    text: str
    small: str = ""


@dataclass(frozen=True, slots=True)
class Filling:
    """One filling, or several that are alike.

    Parameters
    ----------
    title : str
    before, after : tuple of str
        A bigger batch to make first, and what becomes of the rest.
    lines : tuple of Line
    boxes : int
        Boxes to tick, one for each filling.
    """

    title: str
    before: tuple[str, ...]
    lines: tuple[Line, ...]
    after: tuple[str, ...]
    boxes: int


@dataclass(frozen=True, slots=True)
class Shape:
    """One rectangle of the drawing of the site, in metres from its upper left corner.

    Parameters
    ----------
    x, y, width, height : float
        m
    kind : str
        "treated", "other" (a path, ground between rows) or "dot" (a plant, a pot).
    """

    x: float
    y: float
    width: float
    height: float
    kind: str


@dataclass(frozen=True, slots=True)
class Drawing:
    """The site to scale, the treated part marked.

    Parameters
    ----------
    width, height : float
        m
    shapes : tuple of Shape
    captions : tuple of str
        The lengths that are drawn, in words.
    bar : float
        Length of the scale bar, m; 0 where nothing is to scale.
    bar_text : str
    treated : str
        What the marked part is called.
    """

    width: float
    height: float
    shapes: tuple[Shape, ...]
    captions: tuple[str, ...]
    bar: float
    bar_text: str
    treated: str


@dataclass(frozen=True, slots=True)
class Section:
    """A heading and its lines."""

    title: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Card:
    """Front and back of one card, every word ready to print.

    Parameters
    ----------
    language : str
        "en" or "es".
    first : str
        That the product label and local rules come first.
    title : str
        What is made, for what.
    where, when, who : Line
        The place, the date and the person; an empty text is a line to fill in.
    bands : tuple of Band
    boxed : tuple of str
        Cautions about materials with little room between enough and too much, and others.
    grey : str
        Names what has no published limit; "" for none.
    need : Section
        The whole amounts: what to fetch.
    fillings : tuple of Filling
    steps : Section
        In mixing order, each with a box to tick.
    care : tuple of Section
        What to wear and watch, when not to, waits, when it may be repeated.
    drawing : Drawing or None
    back : tuple of Section
        What it supplies, what was assumed, sources.
    record : Section
        Lines to fill in, with pen.
    small_print : str
        What the back belongs to.
    """

    language: str
    first: str
    title: str
    where: Line
    when: Line
    who: Line
    bands: tuple[Band, ...]
    boxed: tuple[str, ...]
    grey: str
    need: tuple[Line, ...]
    need_title: str
    fillings: tuple[Filling, ...]
    steps: Section
    care: tuple[Section, ...]
    drawing: Drawing | None
    back: tuple[Section, ...]
    record: Section
    small_print: str
