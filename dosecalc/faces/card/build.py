"""From a `Mix` to the words of a card: every number on it was in the `Mix`."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from dosecalc.dose.result import Amount, Finding, Measured, Mix, Tankful
from dosecalc.faces.card.data import Band, Card, Drawing, Filling, Line, Section
from dosecalc.faces.card.words import Words
from dosecalc.faces.fillings import alike
from dosecalc.faces.poison import poison_says
from dosecalc.say import Say

_BANDS = ("stop", "over")
_SAYS = ("source", "sources", "waits")
_CITED = (*_SAYS, "scope")
"""Who says so, and where it holds: that stands on the back."""


@dataclass(frozen=True, slots=True)
class Told:
    """What a card says that a `Mix` does not hold.

    Parameters
    ----------
    place, date, who : str
        "" leaves a line to fill in.
    region : str or None
        Whose poison line is printed; None prints that of each.
    drawing : Drawing or None
    """

    place: str = ""
    date: str = ""
    who: str = ""
    region: str | None = None
    drawing: Drawing | None = None


def build(mix: Mix, told: Told, words: Words) -> Card:
    """The card of one `Mix`.

    Parameters
    ----------
    mix : Mix
    told : Told
    words : Words
    """
    weighed = {
        found.material for filling in mix.tankfuls for found in filling.measures if _weighed(found)
    }
    return Card(
        language=words.language,
        first=words("card-first"),
        title=words.name(mix.recipe_name),
        where=Line(words("card-where"), told.place),
        when=Line(words("card-when"), told.date),
        who=Line(words("card-who"), told.who),
        bands=tuple(_band(f, words) for f in mix.findings if f.level in _BANDS),
        boxed=tuple(_short(f, words) for f in mix.findings if f.level == "caution"),
        grey=_grey(mix.findings, words),
        need=tuple(_needed(item, item.material in weighed, words) for item in mix.amounts),
        need_title=words("card-need"),
        fillings=tuple(_filling(group, words) for group in alike(mix.tankfuls)),
        steps=Section(
            words("card-steps"), tuple(words.amount(words.say(line)) for line in mix.steps)
        ),
        care=_care(mix, told, words),
        drawing=told.drawing,
        back=_back(mix, words),
        record=Section(
            words("card-record"),
            tuple(
                words(f"card-record-{what}")
                for what in ("who", "weather", "used", "rest", "rinsed")
            ),
        ),
        small_print=words("card-small"),
    )


def _band(found: Finding, words: Words) -> Band:
    return Band(words(f"level-{found.level}"), _short(found, words))


def _short(found: Finding, words: Words) -> str:
    """A finding as one sentence: what, how much, how far over; the whole of it is on the back."""
    args = dict(found.say.args)
    if found.why.startswith("limit-over") and args.get("times"):
        kept = {name: args[name] for name in ("about", "figure", "basis", "times", "limit")}
        return words.say(Say.of("card-over", **kept))
    cited = _SAYS if found.why == "excluded" else _CITED  # none at all, but for which crop
    return _tidy(_off_screen(words.say(found.say.without(cited))))


def _tidy(text: str) -> str:
    """`text` without the marks and the word that only held its sources."""
    text = re.sub(r"\b\w+: *(?=\.|$)", "", text)
    text = re.sub(r"[;,]? *\)", ")", text).replace(" ()", "")
    return re.sub(r"\.[ .]*\.", ".", re.sub(r" +([.;:])", r"\1", text)).strip()


def _grey(findings: Iterable[Finding], words: Words) -> str:
    names = [words.name(dict(f.say.args)["name"]) for f in findings if f.why == "no-limit"]
    return words("card-grey", names=", ".join(names)) if names else ""


def _needed(item: Amount, weighed: bool, words: Words) -> Line:
    """One material of the whole job: by weight alone where it is weighed."""
    text, _, other = item.shown.partition(" (")
    if weighed and item.shown_other:
        text, _, other = item.shown_other.partition(" (")
        other = ""  # no spoon and no volume beside a weight
    small = words.amount(other.removesuffix(")"))
    return Line(words.name(item.name), words.phrase(words.amount(text)), small)


def _filling(group: Sequence[Tankful], words: Words) -> Filling:
    first, last = group[0], group[-1]
    volume = words.amount(first.shown_volume)
    if first.volume is None:
        title = words("card-measure")
    elif first.of == 1:
        title = words("card-filling-one", volume=volume)
    elif len(group) == 1:
        title = words("card-filling-part", number=first.number, count=first.of, volume=volume)
    else:
        title = words(
            "card-filling-more", first=first.number, last=last.number, count=first.of,
            volume=volume,
        )  # fmt: skip
    batch = first.batch
    return Filling(
        title=title,
        before=() if batch is None else (words.amount(words.say(batch.say)),),
        lines=tuple(_measured(found, words) for found in first.measures),
        after=() if batch is None else (words.amount(words.say(batch.say_rest)),),
        boxes=len(group),
    )


def _measured(found: Measured, words: Words) -> Line:
    text = words.amount(words.say(found.say))
    if text.endswith(")"):  # whose spoons, and how much that is
        text, _, beside = text.removesuffix(")").partition(" (")
    else:
        beside = words.amount(found.shown_other) if _weighed(found) else ""
    off = "" if found.off is None else words.say(found.off)
    small = words("card-other", other=beside, off=off) if beside and off else beside or off
    return Line(words.name(found.name), text[:1].upper() + text[1:], small)


def _weighed(found: Measured) -> bool:
    return found.say.key.startswith("do-weigh")


def _care(mix: Mix, told: Told, words: Words) -> tuple[Section, ...]:
    wear = [line for line in mix.cautions if line.key != "caution-label"]
    found = (
        ("card-rescue", mix.rescue),
        ("card-wear", wear),
        ("card-not", mix.when_not),
        ("card-wait", mix.waits),
        ("card-poison", _poison(told.region)),
    )
    return tuple(
        Section(words(key), tuple(words.amount(words.say(line)) for line in lines))
        for key, lines in found
        if lines
    )


def _poison(region: str | None) -> list[Say]:
    """First aid and one number: six numbers on a card are none."""
    if region is None:
        return [poison_says(None)[0], Say.of("card-poison-none")]
    return poison_says(region)


def _back(mix: Mix, words: Words) -> tuple[Section, ...]:
    supplies = [
        words.marked(words.phrase(f"{s.nutrient}: {', '.join(s.shown)}")) for s in mix.supplies
    ]
    held = [_held(found, words) for found in mix.findings if found.why != "no-limit"]
    assumed = [
        words.say(Say.of("card-up-to", name=item.name, amount=item.shown_up_to))
        for item in mix.amounts
        if item.shown_up_to
    ]
    assumed += [
        _off_screen(
            f"{words.say(a.what)}: {words.marked(words.phrase(a.value)).removesuffix('.')}."
            f" {words.say(a.instead)}"
        )
        for a in mix.assumed
    ]
    sources = [f"{s.cite()} {s.url or ''}".strip() for s in mix.sources]
    found = (
        ("card-read", [words.say(line) for line in (*mix.read_as, *mix.said)]),
        ("card-supplies", supplies),
        ("card-held", held),
        ("card-assumed", assumed),
        ("card-not-told", [_off_screen(words.say(line)) for line in mix.not_told]),
        ("card-sources", sources),
    )
    return tuple(Section(words(key), tuple(lines)) for key, lines in found if lines)


def _off_screen(text: str) -> str:
    """`text` without the clauses that tell what to type: paper takes no options."""
    text = re.sub(r"; [^;.]*--[^;.]*", "", text)
    kept = [part for part in re.split(r"(?<=[.!?]) ", text) if "--" not in part]
    return " ".join(kept) if kept else f"{text.partition(':')[0]}."


def _held(found: Finding, words: Words) -> str:
    return f"{words(f'level-{found.level}')}: {_off_screen(words.say(found.say))}"
