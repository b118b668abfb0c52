"""``sow``: the sums above the `Mix` of one sowing, and the job itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from dosecalc.catalog.lookup import source
from dosecalc.catalog.recipe import Recipe
from dosecalc.catalog.sowing import read_published
from dosecalc.dose import dump, sowing
from dosecalc.dose.sowing_recipe import DRY, EVENLY, IN_FURROW, ON_SEED, sowing_recipe
from dosecalc.faces.job import Job, Ready
from dosecalc.faces.layer_text import area_text, percent_text
from dosecalc.faces.sow_read import MASS_PER_LENGTH, Asked, SowText, read_sowing
from dosecalc.faces.sow_text import count_text, short, times_text
from dosecalc.faces.wrap import section
from dosecalc.say import Say
from dosecalc.units.measure import METER, SQUARE_METER, Measure
from dosecalc.units.show import listed, show, twelve_digits

TREATED = (
    "Treated seed: wear the gloves that the tag names, breathe no dust, wash afterwards.",
    "Treated seed is poison: never eat it, feed it or let it into grain.",
    "Treated seed: cover every grain and clean up spills; fill and empty away from open flowers.",
)
"""Stand on the card too, in any language."""
NOT_TOLD = (
    "Whether the seed is treated was not told: coloured seed mostly is. Read its tag, and wear"
    " gloves until you know."
)
_TREATED_SOURCES = ("minnesota-treated-seed", "kentucky-treated-seed-bees")


@dataclass(frozen=True, slots=True)
class Made:
    """The jobs of a command, and how their amounts came about: as lines and for JSON."""

    jobs: tuple[Job, ...]
    lines: tuple[str, ...]
    about: dict[str, Any]


def made(text: SowText, job: Job) -> Made:
    """Read one sowing and turn it into a job.

    Raises
    ------
    DoseError
        As `read_sowing`.
    """
    asked = read_sowing(text, job)
    title = Say.of("sow-title", name=asked.name, ground=_ground(asked)).english()
    parts = {
        title: (*_wanted(asked), *_sown(asked)),
        "Inoculant": tuple(_inoculated(asked)),
        "About it": (*_published(asked), *_notes(asked)),
    }
    says = [say for found in parts.values() for say in found]
    lines = [
        row
        for head, found in parts.items()
        for row in section(head, [say.english() for say in found])
    ]
    recipe = _recipe(asked)
    site = replace(asked.job.site, layer=None)
    ready = replace(asked.job, site=site, recipe=recipe.id, ready=Ready(recipe, {}))
    return Made((ready,), tuple(lines), {"sow": _about(asked, says)})


def _recipe(asked: Asked) -> Recipe:
    text, found = asked.text, asked.inoculant
    amounts = [("treated-seed" if text.treated else "seed", asked.bag)]
    order: tuple[str, ...] = (EVENLY,)
    if found is not None:
        amounts.append((found.material, found.amount))
        order = (EVENLY, IN_FURROW) if found.on_row else (ON_SEED, DRY, EVENLY)
    sources = []
    if asked.kind is not None and text.thousand is None and text.seed_count is None:
        sources.append(asked.kind.counts[0].source.id)
    if text.treated:
        sources += _TREATED_SOURCES
    return sowing_recipe(
        f"{asked.name} seed", asked.basis, asked.times, amounts, order,
        TREATED if text.treated else () if text.untreated else (NOT_TOLD,), tuple(sources),
    )  # fmt: skip


def _ground(asked: Asked) -> str:
    """The site as the sums count it: "40 m of row", "10 m2", "12 plants"."""
    if asked.site.row_length is not None:
        return f"{show(asked.site.row_length).both()} of row"
    if asked.site.ground is not None:
        return area_text(asked.site.ground)
    return f"{asked.site.plants} plants"


def _wanted(asked: Asked) -> Iterator[Say]:
    """How the amount came about."""
    text, lot = asked.text, asked.lot
    if asked.stand is not None and asked.wanted is not None:
        yield Say.of("sow-wanted", rate=text.stand, plants=count_text(asked.wanted, "up"),
                     ground=_ground(asked))  # fmt: skip
    elif asked.rate is not None and text.rate_is == "live":
        yield Say.of("sow-wanted-live", rate=show(asked.rate).both(),
                     share=percent_text(lot.live_share),
                     bag=show(sowing.bag_for(asked.rate, lot)).both())  # fmt: skip
    elif asked.rate is not None:
        yield Say.of("sow-wanted-rate", rate=show(asked.rate).both())
    elif text.rate is not None:
        yield Say.of("sow-wanted-count", rate=text.rate)
    elif text.have is not None:
        yield Say.of("sow-from-have", have=text.have, ground=_ground(asked))
    elif asked.wanted is not None:
        yield Say.of("sow-wanted-plants", plants=count_text(asked.wanted))


def _sown(asked: Asked) -> Iterator[Say]:
    """Seeds, weight, packets and the stand to expect."""
    text, lot, seeds = asked.text, asked.lot, asked.seeds
    forward = asked.wanted is not None
    shown = count_text(seeds, "up" if forward else "nearest")
    if lot.stand_share == 1:
        yield Say.of("sow-seeds", seeds=shown)
    else:
        how = ""
        if text.establishment is None:
            how = Say.of("sow-seeds-how", germination=percent_text(lot.germination),
                         emergence=percent_text(lot.emergence)).english()  # fmt: skip
        yield Say.of("sow-seeds-for", seeds=shown, share=percent_text(lot.stand_share), how=how)
    if asked.site.row_length is not None:
        yield Say.of("sow-spacing", apart=show(asked.site.row_length / seeds).both())
    yield Say.of("sow-weight", weight=show(asked.bag).both(), whose=_whose(asked),
                 thousand=show(lot.one * sowing.THOUSAND).both())  # fmt: skip
    in_bag = (lot.one * seeds).value / asked.bag.value
    if in_bag != 1:
        coat = ""
        if lot.coating and not lot.coated:
            coat = Say.of("sow-weight-coat", coating=percent_text(lot.coating)).english()
        yield Say.of("sow-weight-of-bag", pure=percent_text(in_bag), coat=coat)
    if text.germination is not None:
        yield Say.of("sow-live", weight=show(sowing.live_in(asked.bag, lot)).both(),
                     share=percent_text(lot.live_share))  # fmt: skip
    if not forward:
        plants = sowing.plants_from(seeds, lot)
        yield Say.of("sow-stand-comes", plants=count_text(plants, "down"),
                     where=_where(asked, plants))  # fmt: skip
    if asked.packet is not None:
        yield Say.of("sow-packets", holds=text.packet, count=packet_count(asked))
    missing = _not_told(asked)
    if missing:
        yield Say.of("sow-not-told", names=listed(missing))


def packet_count(asked: Asked) -> int:
    """How many packets are opened; by weight, or by seeds."""
    if isinstance(asked.packet, Measure):
        return sowing.packets((asked.bag / asked.packet).amount_in(()), Fraction(1))
    assert asked.packet is not None
    return sowing.packets(asked.seeds, asked.packet)


def _where(asked: Asked, plants: Fraction) -> str:
    """Plants per square metre and per metre of row, as far as the site tells them."""
    parts = []
    if asked.site.ground is not None:
        each = plants / asked.site.ground.amount_in(SQUARE_METER)
        parts.append(f"{count_text(each)} per m2")
    if asked.site.row_length is not None:
        each = plants / asked.site.row_length.amount_in(METER)
        parts.append(f"{count_text(each)} per m of row")
    return "".join(f", {part}" for part in parts)


def _not_told(asked: Asked) -> list[str]:
    text = asked.text
    names = []
    if text.establishment is None:
        names += [n for n in ("germination", "emergence") if getattr(text, n) is None]
    return names + (["purity"] if text.purity is None else [])


def _whose(asked: Asked) -> str:
    if asked.text.thousand is not None or asked.text.seed_count is not None or asked.kind is None:
        return Say.of("sow-typed").english()
    seen = asked.kind.counts[0]
    return Say.of("sow-whose", printed=seen.printed, source=short(seen.source)).english()


def _inoculated(asked: Asked) -> Iterator[Say]:
    found, text = asked.inoculant, asked.text
    if found is None:
        return
    amount = show(found.amount).both()
    if found.on_row:
        row = "" if asked.site.row_length is None else show(asked.site.row_length).both()
        yield Say.of("sow-inoculant-row", amount=amount, row=row, rate=text.inoculant)
    else:
        yield Say.of("sow-inoculant-on", amount=amount, seed=show(asked.bag).both(),
                     rate=text.inoculant)  # fmt: skip
    if found.holds is not None:
        each = sowing.living_on_seed(found.holds, found.amount, asked.seeds)
        yield Say.of("sow-living-on", each=count_text(each),
                     all=count_text(found.holds.over(found.amount)))  # fmt: skip
    for rate in read_published(source):
        if rate.of == "inoculant" or (rate.of == "living" and found.holds is not None):
            yield Say.of("sow-published", printed=rate.printed, source=short(rate.source),
                         caveat=f" {rate.caveat}" if rate.caveat else "")  # fmt: skip


def _published(asked: Asked) -> Iterator[Say]:
    """What is printed for a length of row, beside what comes to this one."""
    if asked.kind is None or asked.site.row_length is None:
        return
    mine = asked.bag / asked.site.row_length
    assert mine.is_a(MASS_PER_LENGTH)
    for rate in asked.kind.rates:
        times = mine.amount_in(rate.rate.unit) / rate.rate.value
        yield Say.of("sow-published-row", printed=rate.printed, source=short(rate.source),
                     times=times_text(times))  # fmt: skip


def _notes(asked: Asked) -> Iterator[Say]:
    text = asked.text
    if asked.kind is not None and text.thousand is None and text.seed_count is None:
        for seen in asked.kind.counts[1:]:
            yield Say.of("sow-other-count", printed=seen.printed, source=short(seen.source))
        yield Say.of("sow-own-count")
    if asked.kind is not None and asked.kind.caveat:
        yield Say.of("sow-about", caveat=asked.kind.caveat)
    if not text.treated and not text.untreated:
        yield Say.of("sow-treated-not-told")
    if text.treated:
        yield Say.of("sow-treated", source=short(source(_TREATED_SOURCES[0])))


def _about(asked: Asked, says: list[Say]) -> dict[str, Any]:
    lot, found = asked.lot, asked.inoculant
    plants = sowing.plants_from(asked.seeds, lot)
    known = asked.text.germination is not None
    living = None
    if found is not None and found.holds is not None:
        living = twelve_digits(sowing.living_on_seed(found.holds, found.amount, asked.seeds))
    return {
        "seed": asked.name,
        "plants": twelve_digits(plants),
        "seeds": twelve_digits(asked.seeds),
        "weight": dump.quantity(asked.bag),
        "thousand": dump.quantity(lot.one * sowing.THOUSAND),
        "live": dump.quantity(sowing.live_in(asked.bag, lot)) if known else None,
        "packets": None if asked.packet is None else packet_count(asked),
        "not_told": _not_told(asked),
        "inoculant": None if found is None else dump.quantity(found.amount),
        "living_on_seed": living,
        "says": [say.english() for say in says],
    }
