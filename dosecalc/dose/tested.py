"""What the record's tests tell of the nutrients of a mix: shown, never interpreted."""

from __future__ import annotations

from dosecalc.catalog.told import Tested
from dosecalc.dose.result import Finding
from dosecalc.dose.scene import Scene
from dosecalc.dose.wording import ELEMENT_NAMES
from dosecalc.say import Say

_ONLY_WITH = frozenset({"Na", "Cl"})
"""What comes along with a nutrient and is tested for as salt, if at all."""


def tests_on_record(view: Scene) -> list[Finding]:
    """A note on the newest test of each nutrient, or that none is on record.

    Nothing where no record was read or the mix holds no nutrient. A figure depends on what the
    soil was shaken with, and laboratories read the same figure in different ways: so it is shown
    with its age, and no rate follows from it.
    """
    past = view.told.past
    elements = [e for e in ELEMENT_NAMES if e in view.nutrients and e not in _ONLY_WITH]
    if not past.place or not elements:
        return []
    found: list[Finding] = []
    without: list[str] = []
    for element in elements:
        soil = _newest(past.tests, "soil", element)
        if not soil:
            without.append(element)
        for test in (*soil, *_newest(past.tests, "leaf", element)):
            say = Say.of(
                f"tested-{test.matter}", bed=test.place, day=test.day, days=_ago(test.days),
                say=test.say,
            )  # fmt: skip
            found.append(Finding(f"tested-{test.matter}-{element}", "note", "tested", element, say))
    if without:
        names = ", ".join(ELEMENT_NAMES[element] for element in without)
        any_soil = any(test.matter == "soil" for test in past.tests)
        key = "tested-other" if any_soil else "tested-none"
        say = Say.of(key, bed=past.place, names=names)
        found.append(Finding("no-soil-test", "note", "no-soil-test", without[0], say))
    return found


def _newest(tests: tuple[Tested, ...], matter: str, element: str) -> list[Tested]:
    """Every figure of the newest day on which that was tested."""
    mine = [t for t in tests if t.matter == matter and t.element == element]
    last = max((t.day for t in mine), default="")
    return [t for t in mine if t.day == last]


def _ago(days: int) -> Say:
    if days == 0:
        return Say.of("tested-today")
    return Say.of("tested-ago-one") if days == 1 else Say.of("tested-ago", days=days)
