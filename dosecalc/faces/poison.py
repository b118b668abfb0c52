"""The poison line of each region, kept as data with its source."""

from __future__ import annotations

from dosecalc.catalog import files
from dosecalc.catalog.lookup import source
from dosecalc.say import Say


def poison_lines(region: str | None) -> list[str]:
    """First aid in two lines, then whom to call: of one region, or of all when none was told."""
    table = files.shipped(files.data_root().joinpath("poison.toml"))["line"]
    lines = [Say.of("poison-first").english()]
    for entry in table:
        if region in (None, entry["region"]):
            lines.append(
                Say.of(
                    "poison-line", region=entry["region"], who=entry["who"],
                    number=entry["number"], source=source(entry["source"]).cite(),
                ).english()
            )  # fmt: skip
    return lines
