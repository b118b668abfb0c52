"""Which material a name in a text is: of the catalog, or of the analysis that is written."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from dosecalc.catalog import lookup
from dosecalc.catalog.formula import element_of
from dosecalc.catalog.material import Content, Material, exact_factor
from dosecalc.catalog.prose import doubt
from dosecalc.errors import refuse
from dosecalc.say import Say
from dosecalc.units import read
from dosecalc.units.words import System

_ANALYSIS = re.compile(r"\d+(\.\d+)?(-\d+(\.\d+)?){2}")
_OXIDE_REGIONS = ("US", "EU", "UK", "CA")
STRAIGHT: dict[str, str] = {
    "46-0-0": "urea", "45-0-0": "urea", "21-0-0": "ammonium-sulfate",
    "34-0-0": "ammonium-nitrate", "33-0-0": "ammonium-nitrate", "0-46-0": "triple-superphosphate",
    "0-45-0": "triple-superphosphate", "0-0-60": "potassium-chloride",
    "0-0-50": "potassium-sulfate", "15.5-0-0": "calcium-nitrate-fertiliser",
    "16-0-0": "sodium-nitrate", "13-0-44": "potassium-nitrate", "13-0-46": "potassium-nitrate",
    "18-46-0": "diammonium-phosphate", "11-52-0": "monoammonium-phosphate",
}  # fmt: skip
"""Analyses that one straight feed alone has in trade: its rules and limits speak of them too."""


@dataclass(frozen=True, slots=True)
class Stuff:
    """A material, and what was assumed in finding it.

    Parameters
    ----------
    material : Material
    own : bool
        True where the catalog's own entry does not hold: the analysis is the one written.
    says : tuple of Say
    """

    material: Material
    own: bool = False
    says: tuple[Say, ...] = ()


def stuff(text: str, amount: str | None, system: System | None, region: str | None) -> Stuff:
    """The material of a name.

    Raises
    ------
    DoseError
        For a word that several materials answer to, with what each would give; for an analysis
        whose P and K could be oxides or elements.
    """
    if _ANALYSIS.fullmatch(text):
        return _analysis(text, system, region)
    text = " ".join(text.replace("%", " percent").split())
    folded = text.lower().replace("sulph", "sulf").replace("-", " ")
    if folded not in lookup.names().ids:
        raise doubt.several(text, amount, system)
    return Stuff(lookup.material(lookup.names().ids[folded]))


def counts_oxides(system: System | None, region: str | None) -> bool | None:
    """Whether a written analysis counts P2O5 and K2O; None where that was not told."""
    if region is not None:
        return region in _OXIDE_REGIONS
    return True if system == "us" else None


def _analysis(text: str, system: System | None, region: str | None) -> Stuff:
    known = lookup.names().ids.get(text.replace("-", " "))
    if known is not None:
        return Stuff(lookup.material(known))
    percents = [read.number(part, "us") for part in text.split("-")]
    if not any(percents):
        raise refuse("prose-analysis-empty", text=text)
    oxides = counts_oxides(system, region)
    says: tuple[Say, ...] = ()
    if any(percents[1:]):
        if oxides is None:
            raise _either(text, percents)
        key = "prose-oxides" if oxides else "prose-elements"
        says = (Say.of(key, text=text, where=region or "US"),)
    nutrients = ("N", "P2O5", "K2O") if oxides else ("N", "P", "K")
    straight = STRAIGHT.get(text)
    id = straight or f"feed-{text.replace('.', '-')}"
    contents = tuple(
        _content(id, word, percent)
        for word, percent in zip(nutrients, percents, strict=True)
        if percent
    )
    if straight is not None:
        base = lookup.material(straight)
        kept = tuple(c for c in base.contents if c.element not in ("N", "P", "K"))
        made = replace(base, name=f"{base.name} {text}", contents=(*contents, *kept))
        return Stuff(made, True, (*says, Say.of("prose-straight", text=text, name=base.name)))
    made = Material(
        id=id, name=f"Feed {text}", also=(), form="granules", traits=("complete-feed",),
        contents=contents, uncounted=(), by_weight=False, density=None, density_how="",
        solubility=(), insoluble="may dissolve only in part: keep it moving",
        hazards=(), caveat="", formula="", sources=(),
    )  # fmt: skip
    return Stuff(made, True, says)


def _content(id: str, word: str, percent: Fraction) -> Content:
    element, share = element_of(word)
    factor = exact_factor(f"content:{id}:{element}", percent / 100 * share, "label")
    return Content(element, factor, "w/w", "minimum", "")


def _either(text: str, percents: list[Fraction]) -> Exception:
    shown = []
    for word, element, percent in zip(("P2O5", "K2O"), ("P", "K"), percents[1:], strict=True):
        if percent:
            share = float(percent * element_of(word)[1])
            shown.append(f"{float(percent):g} % {word} ({share:.3g} % {element})")
    return refuse("prose-analysis", text=text, oxides=" and ".join(shown))
