"""Draw the pictures of docs/card.md: ``python docs/pictures.py`` (``--check`` only compares).

What is compared is what goes in, the words and the template: another release of the typesetter
may place a letter elsewhere, and the picture is still the same card.
"""

from __future__ import annotations

import hashlib
import json
import shlex
import sys
import tempfile
from dataclasses import asdict
from pathlib import Path

from click.testing import CliRunner

from dosecalc.faces import card
from dosecalc.faces.card import make
from dosecalc.faces.cli import group

HERE = Path(__file__).parent
NOTE = HERE / "pictures.json"
PICTURES = {
    "card-boron": 'boron-drench --row "40 m" --row-spacing "45 cm" --crop beetroot --region US'
    ' --place "Saltmarsh Lane, north" --date 2027-05-02',
    "card-spray": 'leaf-spray-oil --sprayer "2 L" --my-spoons us --crop cucumber --region US'
    ' --place "Saltmarsh Lane, glasshouse" --date 2027-06-11',
    "card-beds": 'gypsum-garden --bed "1.2 m x 8 m" --beds 3 --path "45 cm" --region US'
    ' --place "Saltmarsh Lane, middle beds" --paper letter',
}


def main() -> int:
    """Draw every picture, or say which is not current."""
    known = json.loads(NOTE.read_text("utf-8")) if NOTE.exists() else {}
    found = {name: _hash(words) for name, words in PICTURES.items()}
    stale = [name for name in PICTURES if known.get(name) != found[name]]
    if "--check" in sys.argv:
        print(f"not current: {', '.join(stale)}" if stale else f"{len(found)} pictures current")
        return bool(stale)
    for name in stale:
        (HERE / f"{name}.png").write_bytes(_drawn(PICTURES[name]))
    NOTE.write_text(json.dumps(found, indent=1) + "\n", "utf-8")
    print(f"{len(found)} pictures, {len(stale)} drawn")
    return 0


def _hash(words: str) -> str:
    """Of the words of the card, of its paper and of the template."""
    cards: list[str] = []
    pages = make.pages

    def keep(some: list[make.Card], form: str, asked: make.Asked) -> list[bytes]:
        cards.extend(json.dumps([asdict(one), asdict(asked)]) for one in some)
        return pages(some, "txt", asked)

    make.pages = keep  # type: ignore[assignment]
    try:
        _run(words, "x.txt")
    finally:
        make.pages = pages
    template = Path(card.__file__).parent / "card.typ"
    whole = "".join(cards).encode() + template.read_bytes()
    return hashlib.sha256(whole).hexdigest()


def _drawn(words: str) -> bytes:
    return _run(words, "x.png")


def _run(words: str, name: str) -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / name
        CliRunner().invoke(
            group, ["card", *shlex.split(words), "-o", str(file)], standalone_mode=False,
            catch_exceptions=False,
        )  # fmt: skip
        return file.read_bytes()


if __name__ == "__main__":
    sys.exit(main())
