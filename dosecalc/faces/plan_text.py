"""Plans as text and as JSON: what is needed, what brings it, bars that read without colour."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import Any

from dosecalc.catalog.credit import Credit
from dosecalc.dose.dump import quantity, source
from dosecalc.dose.feed.plan import SHOWN_PER, Line, given
from dosecalc.faces.plan import Dressing, Planned
from dosecalc.faces.wrap import section, wrap
from dosecalc.say import Say
from dosecalc.units.measure import VOLUME, Measure
from dosecalc.units.show import number_text, rounded, show, show_unit

NEED_AT = 30
WIDEST = 44
_HEAD = ("", "need", "credit", "products", "later", "more", "missing")
_ALWAYS = 4
"""Columns that stand even where they hold nothing."""


def lines_of(found: Planned) -> list[str]:
    """Everything that stands above the first pass, at most 92 columns wide."""
    blocks = []
    for number, one in enumerate(found.dressings, start=1):
        blocks += _dressing(one, number, len(found.dressings))
    blocks += [
        section("Credits", (_credit(c) for c in found.credits)),
        section("For an adviser to check", (say.english() for say in found.assumed)),
    ]
    return "\n\n".join("\n".join(block) for block in blocks if block).split("\n")


def _dressing(one: Dressing, number: int, of: int) -> list[list[str]]:
    return [
        [] if one.part is None else [_title(one, number, of)],
        section("Needs and limits clash", (say.english() for say in one.plan.clash)),
        wrap(Say.of("feed-nearest").english(), "", "") if one.plan.clash else [],
        section("Much more than needed", (say.english() for say in one.much)),
        _table(one),
        _bars(one),
        _amounts(one),
        section("Apart", (say.english() for say in _apart(one))),
    ]


def _title(one: Dressing, number: int, of: int) -> str:
    assert one.part is not None
    percent = rounded(one.part.share * 100)[0]
    title = Say.of("feed-dressing", number=number, of=of, percent=percent).english()
    if one.days:
        title += Say.of("feed-dressing-days", days=one.days).english()
    return title


def _table(one: Dressing) -> list[str]:
    """Need, credit, what the products bring, what is left over or missing, per basis."""
    rows = [list(_HEAD)]
    for line in one.plan.lines:
        cells = (line.need, line.credit, line.supply, line.later, line.more, line.missing)
        rows.append([line.word, *(_per(cell, one) for cell in cells)])
    keep = [
        at for at in range(len(_HEAD)) if at < _ALWAYS or any(row[at] != "-" for row in rows[1:])
    ]
    widths = {at: max(len(row[at]) for row in rows) for at in keep}
    title = Say.of("feed-table", unit=show_unit(SHOWN_PER[one.order.basis])).english()
    return [title, *("  " + "  ".join(_cell(row, at, widths) for at in keep) for row in rows)]


def _cell(row: list[str], at: int, widths: dict[int, int]) -> str:
    return row[at].ljust(widths[at]) if at == 0 else row[at].rjust(widths[at])


def _per(amount: Measure, one: Dressing) -> str:
    if amount.value == 0:
        return "-"
    return number_text(amount / one.plan.over, SHOWN_PER[one.order.basis]).split(" ")[0]


def bar(line: Line) -> str:
    """One nutrient as a bar: o credit, # products, + more than needed, . missing, | the need."""
    need, credit, supply = line.need.value, line.credit.value, line.supply.value
    if need == 0:
        return ""

    def place(amount: Fraction) -> int:
        return min(WIDEST, round(amount / need * NEED_AT))

    end = place(credit + supply)
    given = place(min(credit, need))
    cells = ["o" if at < given else "#" if at < end else "." for at in range(NEED_AT)]
    cut = ">" if credit + supply > need * WIDEST / NEED_AT else ""
    return "".join(cells) + "|" + "+" * (end - NEED_AT) + cut


def _bars(one: Dressing) -> list[str]:
    lines = [line for line in one.plan.lines if line.need.value]
    width = max((len(line.word) for line in lines), default=0)
    rows = [Say.of("feed-bars").english()]
    for line in lines:
        percent, _ = rounded((line.credit.value + line.supply.value) / line.need.value * 100, 3)
        rows.append(f"  {line.word:<{width}} {bar(line)} {percent} %")
    return rows if lines else []


def _credit(credit: Credit) -> str:
    unit = SHOWN_PER.get(credit.asked.basis)
    amount = credit.asked.amount
    text = show(amount).metric if unit is None else number_text(amount, unit)
    line = Say.of("feed-credit-line", word=credit.asked.word, amount=text, name=credit.name)
    if credit.up_to is None or unit is None:
        return line.english()
    high = Say.of("feed-credit-span", high=number_text(credit.up_to, unit))
    return line.english() + high.english()


def _amounts(one: Dressing) -> list[str]:
    """The products with their whole amounts, what they cost, and those that are not used."""
    rows = []
    width = max((len(h.offer.material.name) for h, _ in one.plan.amounts), default=0)
    for hand, amount in one.plan.amounts:
        text = f"{hand.offer.material.name:<{width}}  {show(amount).both()}"
        as_given = given(hand.offer, amount)
        if as_given.is_a(VOLUME) and not amount.is_a(VOLUME):
            volume = show(as_given, loose=True).both()
            text += Say.of("feed-as-volume", volume=volume).english()
        if hand.whole is not None:
            whole = show(Measure(hand.whole, hand.offer.unit)).metric
            text += Say.of("feed-of-whole", count=amount.value / hand.whole, whole=whole).english()
        if hand.cost is not None:
            text += Say.of("feed-costs", money=_money(amount.value * hand.cost)).english()
        rows += wrap(text)
    for hand in one.plan.unused:
        rows += wrap(Say.of("feed-unused", name=hand.offer.material.name).english())
    key = "feed-products" if one.plan.answer.proven else "feed-products-searched"
    return [Say.of(key).english(), *rows]


def _money(value: Fraction) -> str:
    cents = round(value * 100)
    return f"{cents // 100}.{cents % 100:02d}"


def _apart(one: Dressing) -> Iterable[Say]:
    return dict.fromkeys(why for pass_ in one.plan.passes for why in pass_.why)


def about_of(found: Planned) -> dict[str, Any]:
    """The plans as JSON-ready plain values; stands beside "mixes"."""
    return {
        "plan": {
            "dressings": [_about(one) for one in found.dressings],
            "credits": [
                {
                    "nutrient": c.asked.word, "amount": quantity(c.asked.amount), "from": c.name,
                    "source": None if c.source is None else c.source.id,
                }
                for c in found.credits
            ],
            "soil": [
                {
                    "nutrient": level.figure.nutrient, "printed": level.figure.printed,
                    "extractant": level.figure.extractant, "level": level.word,
                    "source": level.source.id,
                }
                for level in found.levels
            ],
            "to_check": [say.english() for say in found.assumed],
            "sources": [source(one) for one in found.sources],
        }
    }  # fmt: skip


def _about(one: Dressing) -> dict[str, Any]:
    plan = one.plan
    names = ("need", "credit", "supply", "later", "more", "missing")
    return {
        "basis": one.order.basis,
        "over": quantity(plan.over),
        "share_of_n": None if one.part is None else str(one.part.share),
        "days_after": one.days,
        "nutrients": [
            {
                "nutrient": line.word,
                **{name: quantity(getattr(line, name)) for name in names},
                "bar": bar(line),
            }
            for line in plan.lines
        ],
        "products": [
            {
                "product": hand.offer.id, "material": hand.offer.material.id,
                "name": hand.offer.material.name, "amount": quantity(amount),
                "as_given": quantity(given(hand.offer, amount)),
                "first_year": {key: str(value) for key, value in hand.counts.items()},
                "cost": None if hand.cost is None else _money(amount.value * hand.cost),
            }
            for hand, amount in plan.amounts
        ],
        "unused": [hand.offer.id for hand in plan.unused],
        "proven": plan.answer.proven,
        "clash": [
            {"kind": member.kind, "id": member.id, "say": say.english()}
            for member, say in zip(plan.answer.clash, plan.clash, strict=True)
        ],
        "much": [say.english() for say in one.much],
        "passes": [
            {
                "products": [offer.id for offer in pass_.offers], "days_after": pass_.days,
                "why": [say.english() for say in pass_.why],
            }
            for pass_ in plan.passes
        ],
    }  # fmt: skip
