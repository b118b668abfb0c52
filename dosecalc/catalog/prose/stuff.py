"""Which material a name in a text is: of the catalog, or of the analysis that is written."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from dosecalc.catalog import lookup
from dosecalc.catalog.formula import ANALYSIS, OXIDE_REGIONS, element_of
from dosecalc.catalog.formula import contents as formula_contents
from dosecalc.catalog.material import Content, Material, exact_factor
from dosecalc.catalog.prose import doubt
from dosecalc.catalog.prose.scan import Spot
from dosecalc.errors import refuse
from dosecalc.say import Say
from dosecalc.units import read
from dosecalc.units.show import rounded
from dosecalc.units.words import System

_PURITY = re.compile(r"(?P<name>.+) \((?P<number>[\d.,-]+) %(?P<pure> pure)?\)")
_LEAST_PURE = Fraction(70, 100)
"""A smaller share in brackets is as likely what the mix or a nutrient comes to: up to 63 % K2O in
potassium chloride (from its formula). Where the line lies is common practice, no source."""
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


def stuff(
    text: str,
    amount: str | None,
    system: System | None,
    region: str | None,
    spot: Spot | None = None,
    whole: Spot | None = None,
) -> Stuff:
    """The material of a name.

    Parameters
    ----------
    text : str
        The name, with a purity in brackets as "copper sulfate (98 %)".
    amount : str or None
        For the refusal; None for a strength.
    system, region : str or None
    spot : Spot or None
        Where the name stands.
    whole : Spot or None
        Where name and amount stand together; see `doubt.several`.

    Raises
    ------
    DoseError
        For a word that several materials answer to, with what each would give; for an analysis
        whose P and K could be oxides or elements.
    """
    if ANALYSIS.fullmatch(text):
        return _analysis(text, system, region)
    written = _PURITY.fullmatch(text)
    name = text if written is None else written["name"]
    tail = text[len(name) :]
    if written is not None and (known := _known(f"{name} {written['number']} %")) is not None:
        return Stuff(known)  # a name in trade: "calcium chloride (80 %)"
    share = None if written is None else _share(written, text)
    found = _known(name)
    if found is None and ANALYSIS.fullmatch(name) is None:
        both = None if tail else whole
        raise doubt.several(name, amount, system, spot, tail=tail, whole=both)
    if share is None and found is not None:
        return Stuff(found)
    if share is None or found is None:
        raise refuse("prose-purity-unused", text=text, name=name)
    return _pure(found, share, text)


def _known(name: str) -> Material | None:
    """The material that has this name in the catalog."""
    plain = " ".join(name.replace("%", " percent").split())
    id = lookup.names().ids.get(plain.lower().replace("sulph", "sulf").replace("-", " "))
    return None if id is None else lookup.material(id)


def _share(written: re.Match[str], text: str) -> Fraction:
    """A written purity as a share of one; refused where it can be no purity."""
    if "-" in written["number"]:
        raise refuse("prose-purity-range", text=text)
    share = read.number(written["number"], "us") / 100
    if not 0 < share <= 1:
        raise refuse("prose-purity-none", text=text)
    if share < _LEAST_PURE and not written["pure"]:
        raise refuse("prose-purity-low", text=text, number=written["number"], name=written["name"])
    return share


def _pure(base: Material, share: Fraction, text: str) -> Stuff:
    """The material with what it holds at a written purity."""
    whole = formula_contents(base.formula) if base.formula else {}
    contents = tuple(
        replace(content, factor=exact_factor(content.factor.key, whole[content.element] * share,
                                             "label"))
        if content.kind == "formula" else content
        for content in base.contents
    )  # fmt: skip
    if not whole:
        contents = _within(base, share)
    if not contents:
        raise refuse("prose-purity-unused", text=text, name=base.name)
    percent = rounded(share * 100, 6)[0]
    made = replace(base, name=f"{base.name} ({percent} % pure)", contents=contents)
    return Stuff(made, True, (Say.of("prose-purity-read", name=base.name, percent=percent),))


def _within(base: Material, share: Fraction) -> tuple[Content, ...]:
    """The one content of a material that has no formula, where the share lies in its span."""
    if len(base.contents) != 1 or base.contents[0].basis != "w/w":
        return ()
    only = base.contents[0]
    if not only.factor.low <= share <= only.factor.high:
        return ()
    return (replace(only, factor=exact_factor(only.factor.key, share, "label")),)


def counts_oxides(system: System | None, region: str | None) -> bool | None:
    """Whether a written analysis counts P2O5 and K2O; None where that was not told."""
    if region is not None:
        return region in OXIDE_REGIONS
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
