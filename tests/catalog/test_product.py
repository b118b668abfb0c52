"""Products on hand: their own analysis, and every way in which a label can be read twice."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from dosecalc.catalog.garden import DEFAULT_FILE, Garden, read_garden
from dosecalc.catalog.product import read_product
from dosecalc.catalog.site import SiteText
from dosecalc.catalog.tools import ToolsText
from dosecalc.errors import DoseError
from dosecalc.faces.done import Done
from dosecalc.faces.done import run as check
from dosecalc.faces.job import Job, run

P_IN_P2O5 = Fraction("61.948") / Fraction("141.943")
"""2 P in P2O5 by the IUPAC abridged weights: P 30.974, O 15.999."""


def held(table: dict[str, Any], region: str | None = "UK") -> dict[str, tuple[Fraction, str]]:
    """Element to content and basis."""
    made = read_product("mine", table, region).material
    return {c.element: (c.factor.likely, c.basis) for c in made.contents}


def test_oxides_and_elements_are_told_apart() -> None:
    bag = {"analysis": "5-10-10", "form": "granules"}
    assert held(bag)["P"] == (Fraction(1, 10) * P_IN_P2O5, "w/w")
    assert held({**bag, "counts": "element"})["P"] == (Fraction(1, 10), "w/w")
    assert held(bag, "NZ")["P"] == (Fraction(1, 10), "w/w")
    assert held({**bag, "counts": "oxide"}, "NZ")["P"] == (Fraction(1, 10) * P_IN_P2O5, "w/w")
    with pytest.raises(DoseError, match="oxide"):
        held(bag, None)
    assert held({"analysis": "21-0-0", "form": "granules"}, None)["N"][0] == Fraction(21, 100)


def test_dry_matter_and_as_it_lies_are_told_apart() -> None:
    heap = {"like": "garden-compost", "holds": ["1.2 % N"]}
    assert held({**heap, "state": "as-is"})["N"][0] == Fraction(12, 1000)
    assert held({**heap, "state": "dry", "moisture": "40 %"})["N"][0] == Fraction(72, 10000)
    assert held({**heap, "state": "dry", "moisture": "0 %"})["N"][0] == Fraction(12, 1000)
    for wrong in (
        {},
        {"moisture": "40 %"},
        {"state": "dry"},
        {"state": "dry", "moisture": "100 %"},
    ):
        with pytest.raises(DoseError):
            held({**heap, **wrong})


def test_weight_and_volume_are_told_apart() -> None:
    bottle = {"analysis": "5-1-1", "form": "liquid"}
    assert held({**bottle, "basis": "w/w"})["N"] == (Fraction(5, 100), "w/w")
    assert held({**bottle, "basis": "w/v"})["N"] == (Fraction(5, 100), "w/v")
    assert held({"form": "liquid", "holds": ["60 g/L K2O"]})["K"][1] == "w/v"
    with pytest.raises(DoseError, match="100 mL"):
        held(bottle)
    with pytest.raises(DoseError, match="only a liquid"):
        held({"analysis": "5-1-1", "form": "granules", "basis": "w/v"})


@pytest.mark.parametrize(
    "table",
    [
        {"analysis": "5-10", "form": "granules"},
        {"analysis": "60-60-60", "form": "granules"},
        {"analysis": "5-10-10", "holds": ["2 % P"], "form": "granules"},
        {"holds": ["2 % Xx"], "form": "powder"},
        {"holds": ["0 % N"], "form": "powder"},
        {"holds": ["2 kg N"], "form": "powder"},
        {"holds": ["-2 % N"], "form": "powder"},
        {"form": "powder"},
        {"analysis": "5-10-10"},
        {"like": "no-such-thing"},
        {"analysis": "5-5-5", "form": "granules", "pack": "3 m"},
        {"analysis": "5-5-5", "form": "granules", "density": "2 kg"},
        {"analysis": "5-5-5", "form": "granules", "price": "-1"},
        {"analysis": "5-5-5", "form": "granules", "first_year": "140 %"},
    ],
)
def test_what_cannot_be_is_refused(table: dict[str, Any]) -> None:
    with pytest.raises(DoseError):
        read_product("mine", table, "UK")


def test_a_product_is_held_against_the_limits_of_what_it_is_like(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / DEFAULT_FILE).write_text(
        '[product.tub]\nname = "Tub of borax"\nlike = "borax"\nholds = ["10 % B"]\n'
        '[product.broken]\nanalysis = "5-10-10"\n',
        encoding="utf-8",
    )
    site = SiteText(row="40 m", row_spacing="45 cm")
    tub = check(Done(("100 g tub",), site, ToolsText()))
    assert [(a.material, a.name) for a in tub.amounts] == [("borax", "Tub of borax")]
    boron = next(s for s in tub.supplies if s.nutrient == "B")
    assert boron.mass.likely == 10
    assert tub.worst in ("over", "stop")
    with pytest.raises(DoseError, match="broken"):
        check(Done(("100 g broken",), site, ToolsText()))


def test_a_recipe_file_may_name_a_product_and_two_alike_are_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / DEFAULT_FILE).write_text(
        '[product.heap]\nlike = "garden-compost"\nholds = ["1 % N"]\nstate = "as-is"\n'
        '[product.pile]\nlike = "garden-compost"\nholds = ["2 % N"]\nstate = "as-is"\n',
        encoding="utf-8",
    )
    head = 'name = "Heap"\npurpose = "Feed"\nhow = "broadcast"\nplacement = "broadcast"\n'
    head += 'practice = "common practice, no source"\n[[statement]]\nbasis = "area"\nper = "1 m2"\n'
    one = '[[statement.ingredient]]\nmaterial = "heap"\namount = "2 kg"\nrole = "feed"\n'
    Path("one.toml").write_text(head + one, encoding="utf-8")
    Path("two.toml").write_text(head + one + one.replace("heap", "pile"), encoding="utf-8")
    made = run(Job("./one.toml", SiteText(area="10 m2"), ToolsText()))
    nitrogen = next(s for s in made.supplies if s.nutrient == "N")
    assert nitrogen.mass.likely == 200
    with pytest.raises(DoseError, match="heap and pile"):
        run(Job("./two.toml", SiteText(area="10 m2"), ToolsText()))


def test_the_garden_file_keeps_its_products_by_name() -> None:
    garden = Garden(data={"product": {"tub": {"like": "borax"}}, "region": "UK"})
    assert list(garden.products()) == ["tub"]
    assert garden.material("tub").name == "tub"
    assert garden.material("borax").name == "Borax"
    assert read_garden(None).products().material("tub") is None
