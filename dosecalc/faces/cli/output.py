"""Printing a `Mix` and the exit code that its worst finding asks for."""

from __future__ import annotations

import json

import click

from dosecalc.dose.result import URGENT, Mix
from dosecalc.errors import EXIT_OK, EXIT_STOPPED


def show_mix(found: Mix, *, as_json: bool, strict: bool) -> int:
    """Print and return the exit code: 3 for stop and over, with `strict` for a caution too."""
    if as_json:
        from dosecalc.dose.dump import dump

        click.echo(json.dumps(dump(found), indent=1, ensure_ascii=False))
    else:
        from dosecalc.faces.text import render

        click.echo(render(found))
    return worst_code([found], strict=strict)


def worst_code(mixes: list[Mix], *, strict: bool) -> int:
    """The exit code that the worst finding of all asks for."""
    bad = URGENT if strict else ("stop", "over")
    return EXIT_STOPPED if any(mix.worst in bad for mix in mixes) else EXIT_OK
