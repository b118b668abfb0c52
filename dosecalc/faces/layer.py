"""``layer``: the sums above the `Mix` of one layer, and the job itself."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from dosecalc.catalog.availability import Share, read_salt_marks, shares_of, speaks_of
from dosecalc.catalog.formula import element_of
from dosecalc.catalog.limit import read_limits, terms_of
from dosecalc.catalog.lookup import source
from dosecalc.catalog.source import Source
from dosecalc.dose import dump, layer
from dosecalc.dose.layer_recipe import PLACED, layer_recipe
from dosecalc.faces.job import Job, Ready
from dosecalc.faces.layer_read import Asked, LayerText, read_layer
from dosecalc.faces.layer_text import (
    area_text,
    depth_text,
    nutrient_text,
    percent_text,
    plain_volume,
    rate_text,
    share_text,
    volume_text,
    weight_text,
)
from dosecalc.faces.wrap import section
from dosecalc.say import Say
from dosecalc.units.measure import LENGTH, LITER, SQUARE_METER, VOLUME, Measure
from dosecalc.units.show import listed
from dosecalc.units.spread import Span

_SQUARE_METER = Measure(Fraction(1), SQUARE_METER)
_WORD = re.compile(r"[A-Z][A-Za-z0-9]*$", re.ASCII)
_WORDS = ("N", "P", "P2O5", "K", "K2O", "Na", "Cl")
"""What comes along with a layer, in the words of both trades."""


@dataclass(frozen=True, slots=True)
class Made:
    """A job with its recipe, and how its amounts came about: as lines and for JSON."""

    job: Job
    lines: tuple[str, ...]
    about: dict[str, Any]


def made(text: LayerText, job: Job) -> Made:
    """Read one layer and turn it into a job.

    Parameters
    ----------
    text : LayerText
    job : Job
        With site, tools and what was told; no recipe yet.

    Raises
    ------
    DoseError
        As `read_layer`.
    """
    asked = read_layer(text, job)
    salt = tuple(_salt(asked))
    parts = {
        f"{asked.material.name} over {area_text(asked.ground)}": (*_asked(asked), *_spread(asked)),
        "Nitrogen for crops": tuple(_crops(asked)),
        "At published figures (likely)": tuple(_limits(asked)),
        "About it": (*_matter(asked), *salt, *_notes(asked)),
    }
    cited = tuple(one.id for one in _sources(asked))
    # On a card one plain sentence stands, without figures, so that it can be said in any language.
    over = any(say.key == "layer-salt-over" for say in salt)
    care = (Say.of("layer-salt-care").english(),) if over else ()
    recipe = layer_recipe(asked.name, asked.material, asked.rate, asked.placed, cited, care)
    ready = Ready(recipe, {asked.name: asked.material} if asked.own else {})
    lines = [
        row
        for title, says in parts.items()
        for row in section(title, [say.english() for say in says])
    ]
    says = [say for found in parts.values() for say in found]
    site = replace(asked.job.site, layer=None)
    return Made(
        replace(asked.job, site=site, recipe=recipe.id, ready=ready),
        tuple(lines),
        {"layer": _about(asked, says)},
    )


def _sources(asked: Asked) -> Iterator[Source]:
    """What the sums rest on; the limits are cited by the findings too."""
    if asked.material.content("N") is None or asked.share is None or asked.share.source is None:
        return
    found = [s.source for s in _later(asked) if s.source is not None]
    yield from dict.fromkeys((asked.share.source, *found))


def _later(asked: Asked) -> list[Share]:
    mine = shares_of(asked.material, "N", asked.shares)
    return [share for share in mine if share.from_year > 1]


def _asked(asked: Asked) -> Iterator[Say]:
    """How the rate came about."""
    material, rate = asked.material, asked.rate
    deep = _deep(asked)
    if asked.remains is not None and asked.settling is not None:
        yield Say.of("layer-settled", remains=depth_text(asked.remains),
                     share=percent_text(asked.settling), depth=depth_text(rate))  # fmt: skip
    elif asked.remains is not None:
        yield Say.of("layer-wanted", depth=depth_text(rate))
    elif asked.have is not None:
        volume = asked.have.is_a(VOLUME)
        have = volume_text(asked.have) if volume else weight_text(asked.have)
        yield Say.of("layer-of-have", have=have, rate=rate_text(rate), depth=deep)
    elif asked.goal is not None and asked.share is not None:
        content = material.content("N")
        assert content is not None
        factor, needed = content.factor, layer.rate_for(asked.goal, material, asked.share)
        low, likely, high = needed.measures()
        yield Say.of("layer-goal", goal=nutrient_text(Span.exact(asked.goal)),
                     content=percent_text(factor.likely, factor.low, factor.high),
                     share=share_text(asked.share), source=_whose(asked))  # fmt: skip
        yield Say.of("layer-goal-rate", rate=rate_text(likely), depth=deep)
        if needed.low < needed.high:
            yield Say.of("layer-goal-ends", low=_like(asked, low), high=_like(asked, high))
    else:
        yield Say.of("layer-of-rate", rate=rate_text(rate), depth=deep)


def _like(asked: Asked, weight: Measure) -> str:
    """A weight per area as a depth, where the layer is told by its depth."""
    depth = layer.depth_of(weight, asked.material) if asked.rate.is_a(LENGTH) else None
    return rate_text(weight) if depth is None else depth_text(depth)


def _deep(asked: Asked) -> str:
    depth = _depth(asked)
    if depth is None:
        return ""
    by_density = asked.goal is not None or not asked.rate.is_a(LENGTH)
    key = "layer-as-depth" if by_density else "layer-is-depth"
    return Say.of(key, depth=depth_text(depth)).english()


def _depth(asked: Asked) -> Measure | None:
    return layer.depth_of(asked.rate, asked.material) if asked.material.loose else None


def _spread(asked: Asked) -> Iterator[Say]:
    """What lies on a square metre and in all, in bags, barrows and loads."""
    depth = _depth(asked)
    if depth is None:
        if asked.vessels:
            yield Say.of("layer-unknown-volume")
        return
    mass = layer.mass_of(asked.rate, asked.material)
    weight = "" if mass is None else f", {weight_text(mass.span())}"
    one = (depth * _SQUARE_METER).to(LITER)
    volume = (depth * asked.ground).to(LITER)
    yield Say.of("layer-amount", volume=plain_volume(one), mass=weight, total=volume_text(volume))
    for key, holds in asked.vessels:
        yield Say.of(
            f"layer-{key}s", count=layer.fillings(volume, holds), holds=plain_volume(holds),
            area=area_text(layer.covers(holds, depth)),
        )  # fmt: skip
    if asked.remains is not None and asked.settling is None:
        yield Say.of("layer-unsettled")


def _whose(asked: Asked) -> str:
    share = asked.share
    if share is None or share.source is None:
        return Say.of("layer-typed").english()
    return _short(share.source)


def _short(found: Source) -> str:
    """The publisher alone: the whole citation stands under Sources."""
    weak = "" if found.strong else ", a weak source"
    return f"{found.publisher}{f' {found.year}' if found.year else ''}{weak}"


def _crops(asked: Asked) -> Iterator[Say]:
    """What of its nitrogen feeds this crop, and what later years get."""
    material, share = asked.material, asked.share
    if material.content("N") is None:
        return
    if share is None:
        yield Say.of("layer-feeds-unknown")
        return
    fed = layer.feeds(asked.rate, material, share)
    if fed is None:
        yield Say.of("layer-unknown-volume")
        return
    yield Say.of("layer-feeds", share=share_text(share), source=_whose(asked),
                 nitrogen=nutrient_text(fed))  # fmt: skip
    for later, span in layer.later(asked.rate, material, share, _later(asked)):
        key = "layer-later-organic" if later.share_of == "organic" else "layer-later"
        cited = "" if later.source is None else _short(later.source)
        yield Say.of(key, printed=later.printed, source=cited,
                     nitrogen=nutrient_text(span))  # fmt: skip
    if share.caveat:
        yield Say.of("layer-share-note", caveat=share.caveat)


def _limits(asked: Asked) -> Iterator[Say]:
    """What a layer at each published figure would give, and whether that reaches the goal."""
    for at in _figures(asked):
        limit = at.limit
        rate = depth_text(at.rate) if at.rate.is_a(LENGTH) else rate_text(at.rate)
        yield Say.of(
            "layer-limit" if limit.judges else "layer-figure", rate=rate, printed=limit.printed,
            source=_short(limit.source), reason=limit.not_judging,
            feeds="" if at.feeds is None else _feeding(at.feeds), brings=_brings(asked, at.rate),
        )  # fmt: skip
        if not limit.judges:
            continue
        if asked.goal is not None and at.feeds is not None:
            goal = asked.goal.amount_in(at.feeds.unit)
            reached = layer.reaches(at, asked.goal)
            share = goal / at.feeds.likely if reached else at.feeds.likely / goal
            yield Say.of("layer-reached" if reached else "layer-short", percent=percent_text(share))
        yield Say.of("layer-limit-note", why=limit.why, caveat=limit.caveat)


def _figures(asked: Asked) -> tuple[layer.AtLimit, ...]:
    found = layer.at_limits(
        read_limits(terms_of((), [asked.material]), source), asked.material, asked.share,
        PLACED[asked.placed][0], asked.setting,
    )  # fmt: skip
    phase = asked.job.told.phase
    return tuple(at for at in found if phase is None or at.limit.phase in ("any", phase))


def _feeding(fed: Span) -> str:
    return Say.of("layer-feeding", nitrogen=nutrient_text(fed)).english()


def _brings(asked: Asked, rate: Measure) -> str:
    """The likely figures of everything that a rate brings."""
    parts = []
    for word in _WORDS:
        found = layer.brings(rate, asked.material, word)
        if found is not None:
            parts.append(f"{nutrient_text(found, likely=True)} {word}")
    return ", ".join(parts) or Say.of("layer-nothing").english()


def _matter(asked: Asked) -> Iterator[Say]:
    """Organic matter, where the analysis tells it."""
    if asked.matter is None:
        return
    mass = layer.mass_of(asked.rate, asked.material)
    if mass is None:
        yield Say.of("layer-unknown-volume")
    else:
        yield Say.of("layer-matter", mass=weight_text(mass.by(asked.matter).span()))


def _salt(asked: Asked) -> Iterator[Say]:
    """What was told of its salt, held against what is published."""
    if asked.salts is None:
        return
    name, typed, marks = asked.material.name, asked.text.salts, read_salt_marks(source)
    over = layer.salty(asked.salts, asked.material, marks)
    spoken = [mark for mark in marks if speaks_of(mark.of, asked.material)]
    if over is not None:
        yield Say.of("layer-salt-over", name=name, typed=typed, printed=over.printed,
                     source=_short(over.source), why=over.why, caveat=over.caveat)  # fmt: skip
    for mark in spoken if over is None else ():
        yield Say.of("layer-salt-told", name=name, typed=typed, printed=mark.printed,
                     source=_short(mark.source), caveat=mark.caveat)  # fmt: skip
    if not spoken:
        yield Say.of("layer-salt-none", name=name, typed=typed)


def _notes(asked: Asked) -> Iterator[Say]:
    if asked.own and asked.text.holds:
        typed = _typed_words(asked)
        kept = [c.element for c in asked.material.contents if c.element not in typed]
        if kept:
            yield Say.of("layer-own-kept", words=listed(kept))
    on_file = asked.name == asked.material.id
    if on_file and asked.material.loose and asked.material.contents:
        yield Say.of("layer-not-own")
    if asked.material.caveat:
        yield Say.of("layer-about", caveat=" ".join(asked.material.caveat.split()))
    if asked.text.placed is None:
        yield Say.of(f"layer-placed-{asked.placed}")
    if asked.job.told.setting is None:
        yield Say.of("layer-setting")


def _typed_words(asked: Asked) -> set[str]:
    """The elements of the analysis that was typed; its nutrient words stand last."""
    found = (_WORD.search(text.strip()) for text in asked.text.holds)
    return {element_of(match[0])[0] for match in found if match is not None}


def _about(asked: Asked, says: list[Say]) -> dict[str, Any]:
    depth, share = _depth(asked), asked.share
    volume = None if depth is None else (depth * asked.ground).to(LITER)
    fed = None if share is None else layer.feeds(asked.rate, asked.material, share)
    return {
        "material": asked.material.id,
        "placed": asked.placed,
        "ground": dump.quantity(asked.ground),
        "rate": dump.quantity(asked.rate),
        "depth": dump.quantity(depth),
        "volume": dump.quantity(volume),
        "fillings": {
            key: layer.fillings(volume, holds) for key, holds in asked.vessels if volume is not None
        },
        "first_year": None if share is None else {
            "id": share.id, "source": None if share.source is None else share.source.id,
            "nitrogen": dump.span(fed),
        },
        "at_figures": [
            {"id": at.limit.id, "judges": at.limit.judges, "rate": dump.quantity(at.rate),
             "nitrogen": dump.span(at.feeds)}
            for at in _figures(asked)
        ],
        "says": [say.english() for say in says],
    }  # fmt: skip
