"""A computed recipe as a file: read back as the same recipe, and never over what is there."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from dosecalc.catalog.lookup import find_recipe, recipe_ids
from dosecalc.catalog.recipe import Recipe
from dosecalc.errors import DoseError
from dosecalc.faces.recipe_file import save
from dosecalc.units.measure import GRAM, Measure


def _bare(recipe: Recipe) -> Recipe:
    """Without what only repeats the wording of the file it came from."""
    statements = tuple(
        replace(
            one, per_text="", measures=None,
            ingredients=tuple(replace(item, printed="") for item in one.ingredients),
        )
        for one in recipe.statements
    )  # fmt: skip
    return replace(recipe, statements=statements, id="")


@pytest.mark.parametrize("id", recipe_ids())
def test_every_recipe_of_the_book_is_read_back_as_the_same(id: str, tmp_path: Path) -> None:
    recipe = find_recipe(id)
    file = tmp_path / f"{id}.toml"
    save({file: recipe}, (), over=False)
    assert _bare(find_recipe(str(file))) == _bare(recipe)


def test_nothing_is_written_over_and_nothing_that_could_not_be_read(tmp_path: Path) -> None:
    recipe = find_recipe("boron-drench")
    one = recipe.statements[0]
    item = replace(one.ingredients[0], material="my-tub")
    own = replace(recipe, statements=(replace(one, ingredients=(item,)),))
    with pytest.raises(DoseError, match="my-tub"):
        save({tmp_path / "a.toml": recipe, tmp_path / "b.toml": own}, (), over=False)
    assert list(tmp_path.iterdir()) == []
    save({tmp_path / "b.toml": own}, ("my-tub",), over=False)
    before = (tmp_path / "b.toml").read_bytes()
    with pytest.raises(DoseError):
        save({tmp_path / "b.toml": recipe}, (), over=False)
    assert (tmp_path / "b.toml").read_bytes() == before
    with pytest.raises(DoseError, match=r"\.toml"):
        save({tmp_path / "b.txt": recipe}, (), over=False)


@pytest.mark.parametrize(
    ("value", "text"), [("78/5", "15.6 g"), ("1/3", "1/3 g"), ("5", "5 g"), ("1/1099511627776",
                                                                          "1/1099511627776 g")]
)  # fmt: skip
def test_amounts_are_decimals_where_they_end(value: str, text: str, tmp_path: Path) -> None:
    recipe = find_recipe("gypsum-garden")
    one = recipe.statements[0]
    item = replace(one.ingredients[0], amount=Measure(Fraction(value), GRAM))
    file = tmp_path / "a.toml"
    save({file: replace(recipe, statements=(replace(one, ingredients=(item,)),))}, (), over=False)
    assert f'amount = "{text}"' in file.read_text("utf-8")
    assert find_recipe(str(file)).statements[0].ingredients[0].amount == item.amount
