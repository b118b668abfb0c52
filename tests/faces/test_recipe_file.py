"""A computed recipe as a file: read back as the same recipe, and never over what is there."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from dosecalc.catalog.lookup import find_recipe, recipe_ids
from dosecalc.catalog.recipe import Recipe
from dosecalc.errors import DoseError
from dosecalc.faces.recipe_file import save


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
