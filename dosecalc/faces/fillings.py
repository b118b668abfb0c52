"""Fillings that are measured alike, told once for every face."""

from __future__ import annotations

from collections.abc import Iterable

from dosecalc.dose.result import Tankful


def alike(fillings: Iterable[Tankful]) -> list[list[Tankful]]:
    """Neighbouring fillings with the same measuring, together."""
    groups: list[list[Tankful]] = []
    for filling in fillings:
        if groups and _same(groups[-1][0], filling):
            groups[-1].append(filling)
        else:
            groups.append([filling])
    return groups


def _same(one: Tankful, other: Tankful) -> bool:
    return one.measures == other.measures and one.batch == other.batch
