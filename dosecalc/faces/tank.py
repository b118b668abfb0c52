"""Topping up and thinning as text."""

from __future__ import annotations

from dosecalc.dose import tank
from dosecalc.say import Say
from dosecalc.units import read
from dosecalc.units.measure import VOLUME, Measure
from dosecalc.units.show import show


def _volume(text: str, option: str) -> Measure:
    return read.positive(
        text, VOLUME, want=f"a volume for {option}", example="15 L", oz_is="doubt",
        option="the country before the unit",
    )  # fmt: skip


def _strength(text: str) -> Measure:
    return read.quantity(
        text, want="a strength", example="4 g/L", option="the country before the unit"
    )


def top_up_text(left: str, holds: str, want: str, strength: str) -> str:
    """What to add to a rest; see ``dose.tank.top_up``."""
    found = tank.top_up(
        _volume(left, "--left"), _strength(holds), _volume(want, "--want"), _strength(strength)
    )
    return "\n".join(
        (
            Say.of("tank-add", add=show(found.add).both(), water=show(found.water).both(),
                   total=show(found.total).both()).english(),
            Say.of("tank-same").english(),
        )
    )  # fmt: skip


def thin_text(have: str, holds: str, wanted: str, size: str | None) -> str:
    """How far to make up a mix that is too strong; see ``dose.tank.thin``."""
    found = tank.thin(
        _volume(have, "--have"),
        _strength(holds),
        _strength(wanted),
        None if size is None else _volume(size, "--tank"),
    )
    lines = []
    if found.draw_off is not None:
        lines.append(Say.of("tank-draw-off", amount=show(found.draw_off).both()))
    lines.append(
        Say.of("tank-thin", total=show(found.total).both(), water=show(found.water).both())
    )
    lines.append(Say.of("tank-rest"))
    return "\n".join(line.english() for line in lines)
