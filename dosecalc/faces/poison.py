"""The poison line of each region, kept as data with its source."""

from __future__ import annotations

from dosecalc.catalog import files
from dosecalc.catalog.lookup import source
from dosecalc.say import Say


def poison_says(region: str | None) -> list[Say]:
    """First aid, then whom to call: of one region, or of all when none was told."""
    table = files.shipped(files.data_root().joinpath("poison.toml"))["line"]
    return [
        Say.of("poison-first"),
        *(
            Say.of(
                "poison-line", region=entry["region"], who=entry["who"],
                number=entry["number"], source=source(entry["source"]).cite(),
            )
            for entry in table
            if region in (None, entry["region"])
        ),
    ]  # fmt: skip


def poison_lines(region: str | None) -> list[str]:
    """The same in English."""
    return [line.english() for line in poison_says(region)]
