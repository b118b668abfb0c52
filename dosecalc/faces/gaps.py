"""What a record lacks of what the rules of the place ask for, in a few lines; words for notes."""

from __future__ import annotations

from collections.abc import Iterable

from dosecalc.catalog.garden import Garden
from dosecalc.catalog.lookup import source
from dosecalc.catalog.records import also_words, record_rules
from dosecalc.catalog.rules import read_rules
from dosecalc.errors import refuse
from dosecalc.say import Say
from dosecalc.season.entries import Entry
from dosecalc.season.gaps import Gap, Held, hold, rules_of

OPTIONS = {"crop": "--crop", "who": "--who", "registration": "--registration",
           "stage number": "--stage"}  # fmt: skip
"""The option of `dosecalc log` that fills what answers a field, where there is one."""


def note_of(note: str, also: Iterable[str]) -> str:
    """The note with what --also told behind it, a line each: "start: 06:30".

    Raises
    ------
    DoseError
        For a word that no rule asks for, one told twice, and for what has no word.
    """
    lines: dict[str, str] = {}
    for item in also:
        word, equals, text = item.partition("=")
        word, text = " ".join(word.casefold().split()), " ".join(text.split())
        if not equals or not word or not text:
            raise refuse("also-form", text=item)
        if word not in also_words():
            raise refuse("also-word", text=word, known=", ".join(also_words()))
        if word in lines:
            raise refuse("also-twice", text=word)
        lines[word] = text
    return "\n".join([*([note] if note else []), *(f"{w}: {t}" for w, t in lines.items())])


def gap_lines(entries: Iterable[Entry], garden: Garden, named: tuple[str, ...]) -> list[str]:
    """What the entries lack, a rule after the other; one line where no rule is in force.

    Parameters
    ----------
    entries : iterable of Entry
        Those that count.
    garden : Garden
        Its region and way of growing say which rules are in force where none is named.
    named : tuple of str
        Ids of rules.

    Raises
    ------
    DoseError
        For a name that is no rule.
    """
    rules = record_rules()
    ids = [rule.id for rule in rules]
    for name in named:
        if name not in ids:
            raise refuse("gaps-rule", text=name, known=", ".join(ids))
    region = garden.data.get("region")
    if not named and region is None:
        return [_say("gaps-no-region", known=", ".join(ids))]
    if not named and not any(rule.region == region for rule in rules):
        return [_say("gaps-no-rule", region=region)]
    law = read_rules(None, source)
    found = list(entries)
    lines: list[str] = []
    mine = rules_of(rules, region, organic=bool(garden.data.get("organic")), named=named)
    for rule in mine:
        lines += _lines(hold(rule, found, law.law, law.waits))
    others = [rule.id for rule in rules if rule.region == region and rule not in mine]
    if others and not named:
        lines.append(_say("gaps-others", known=", ".join(others)))
    return lines


def _lines(held: Held) -> list[str]:
    rule = held.rule
    if not held.about:
        head = _say("gaps-none-about", rule=rule.name, id=rule.id, who=rule.who)
        return [head, *_unknown(held)]
    rows = [_missing(gap, held.about) for gap in held.gaps] or [_say("gaps-no-gap")]
    nothing = [field.name for field in rule.fields if not field.held]
    if nothing:
        rows.append(_say("gaps-nothing", names=", ".join(nothing)))
    head = _say("gaps-held", rule=rule.name, id=rule.id, who=rule.who, about=held.about, of=held.of)
    return [head, *(f"  {row}" for row in rows), *_unknown(held)]


def _missing(gap: Gap, of: int) -> str:
    field = gap.field
    how = " or ".join(
        [*(OPTIONS[answer] for answer in field.answers if answer in OPTIONS),
         *([f'--also "{field.also}=..."'] if field.also else [])]
    )  # fmt: skip
    return _say(
        "gaps-missing", name=field.name, count=gap.count, of=of,
        when=_say("gaps-when", when=field.when) if field.when else "",
        how=_say("gaps-how", how=how) if how else "",
    )  # fmt: skip


def _unknown(held: Held) -> list[str]:
    return [f"  {_say('gaps-unknown', count=held.unknown)}"] if held.unknown else []


def _say(key: str, **args: object) -> str:
    return Say.of(key, **args).english()
