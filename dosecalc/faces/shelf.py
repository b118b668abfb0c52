"""Stock as it is typed and shown: events from text, lines for people."""

from __future__ import annotations

import datetime
import re
from collections.abc import Mapping

from dosecalc.catalog.garden import Garden
from dosecalc.errors import printable, refuse
from dosecalc.faces.written import event_of
from dosecalc.say import Say
from dosecalc.season.events import Event
from dosecalc.season.stock import BOUGHT, COUNTED, Stock
from dosecalc.units import read
from dosecalc.units.measure import MASS, VOLUME, Measure, exact_text
from dosecalc.units.show import show

_WORD = r"[^\W\d_]{1,12}|[$\u20ac\u00a3]"
_PRICE = re.compile(
    rf"(?:(?P<before>{_WORD}) ?)?(?P<price>[0-9]{{1,9}}(?:[.,][0-9]{{1,2}})?)"
    rf"(?(before)| ?(?P<behind>{_WORD})?)"
)


def came_in(
    name: str, text: str, garden: Garden, day: datetime.date, more: Mapping[str, str]
) -> Event:
    """A purchase.

    Parameters
    ----------
    name, text : str
        The product and how much of it, as typed.
    garden : Garden
        Its own products are known by their names.
    day : date
    more : mapping of str to str
        pack, cost, registration, note; "" where it was not typed.

    Raises
    ------
    DoseError
        For a product that is not known, and for what is no amount, pack or price.
    """
    amount = amount_typed(text)
    details = {"amount": exact_text(amount)}
    if more.get("pack"):
        pack = amount_typed(more["pack"])
        if pack.is_a(MASS) != amount.is_a(MASS):
            raise refuse("stock-pack", pack=more["pack"], amount=text)
        details["pack"] = exact_text(pack)
    if more.get("cost"):
        price, currency = price_typed(more["cost"])
        details |= {"pack": details["amount"], **details, "cost": price}
        details |= {"currency": currency} if currency else {}
    details |= {key: more[key] for key in ("registration", "note") if more.get(key)}
    return _event(BOUGHT, name, garden, day, details)


def counted(name: str, text: str, garden: Garden, day: datetime.date) -> Event:
    """A count of what is there; nothing at all ("0 g") is a count too.

    Raises
    ------
    DoseError
        For a product that is not known, and for what is no amount.
    """
    amount = amount_typed(text, least=False)
    return _event(COUNTED, name, garden, day, {"amount": exact_text(amount)})


def amount_typed(text: str, *, least: bool = True) -> Measure:
    """A weight or a volume, more than zero unless `least` is False.

    Raises
    ------
    DoseError
    """
    found = read.quantity(text, want="an amount", example="500 g", oz_is="doubt")
    if not (found.is_a(MASS) or found.is_a(VOLUME)) or found.value < 0:
        raise refuse("stock-amount", text=text)
    if least and not found.value:
        raise refuse("stock-amount", text=text)
    return found


def price_typed(text: str) -> tuple[str, str]:
    """A price as a decimal and the word of its currency: "4.20", "4,20 EUR", "EUR 4.20".

    Raises
    ------
    DoseError
    """
    match = _PRICE.fullmatch(text.strip())
    if match is None:
        raise refuse("stock-cost", text=text)
    return match["price"].replace(",", "."), match["before"] or match["behind"] or ""


def same_kind(event: Event, mass: bool | None) -> None:
    """Refuse an amount of another kind than the product is kept by.

    Raises
    ------
    DoseError
    """
    amount = read.quantity(event.details["amount"])
    if mass is not None and amount.is_a(MASS) != mass:
        kept, like = ("weight", "grams") if mass else ("volume", "millilitres")
        name = event.details["name"]
        raise refuse("stock-kind", name=name, kept=kept, kept_as=like)


def short_line(stock: Stock) -> str:
    """That the record used more than came in, in one line; "" where it did not."""
    if stock.left.value >= 0:
        return ""
    over = show(stock.left * -1, direction="up").both()
    return Say.of("stock-short", name=printable(stock.name), over=over).english()


def stock_lines(stock: Stock) -> list[str]:
    """What is left of one product, in words."""
    name = printable(stock.name)
    bought, used = _amount(stock.bought), _used(stock)
    if stock.counted is None:
        how = Say.of("stock-how-bought", bought=bought, day=stock.day, used=used)
    else:
        counted = _amount(stock.counted)
        how = Say.of("stock-how-counted", counted=counted, day=stock.day, bought=bought, used=used)
    left = stock.left
    if left.value < 0:
        lines = [short_line(stock)]
    else:
        shown = show(left, direction="down").both() if left.value else _amount(left)
        lines = [Say.of("stock-left", name=name, left=shown, how=how).english()]
    if stock.unknown:
        key = "stock-unknown-one" if stock.unknown == 1 else "stock-unknown"
        kept, told = ("weight", "volume") if left.is_a(MASS) else ("volume", "weight")
        say = Say.of(key, name=name, count=stock.unknown, kept=kept, told=told)
        lines.append(say.english())
    if stock.strange:
        lines.append(Say.of("stock-strange", name=name, count=stock.strange).english())
    return lines


def event_line(event: Event) -> str:
    """A purchase or a count with its id, in one line."""
    told = event.details
    amount = _amount(read.quantity(told["amount"]))
    more = [f"{key} {printable(told[key])}" for key in ("registration", "note") if key in told]
    if "cost" in told:
        pack = show(read.quantity(told.get("pack", told["amount"]))).metric
        cost = f"{told['cost']} {told.get('currency', '')}".rstrip()
        more.insert(0, Say.of("stock-price", cost=cost, pack=pack).english())
    key = "stock-row-in" if event.kind == BOUGHT else "stock-row-count"
    return Say.of(
        key, id=event.id, day=event.day, amount=amount, more="".join(f", {m}" for m in more)
    ).english()  # fmt: skip


def _used(stock: Stock) -> Say | str:
    """What was used, and whether that is as measured or as asked."""
    used = _amount(stock.used)
    if not stock.used.value:
        return used
    if not stock.asked.value:
        return Say.of("stock-used-measured", used=used)
    if stock.asked == stock.used:
        return Say.of("stock-used-asked", used=used)
    return Say.of("stock-used-both", used=used, asked=_amount(stock.asked))


def _amount(measure: Measure) -> str:
    return show(measure).metric if measure.value else "nothing"


def _event(
    kind: str, name: str, garden: Garden, day: datetime.date, details: Mapping[str, str]
) -> Event:
    material = garden.material(name.strip())
    return event_of(kind, material.id, day, {"name": material.name, **details})
