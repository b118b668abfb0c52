"""Finding a material, a recipe or a source by what a person calls it."""

from __future__ import annotations

import difflib
from dataclasses import dataclass, field
from functools import cache
from importlib.resources.abc import Traversable
from pathlib import Path

from dosecalc.catalog import build, files
from dosecalc.catalog.material import Material
from dosecalc.catalog.recipe import Recipe
from dosecalc.catalog.source import Source
from dosecalc.errors import DoseError, Problem, problems_text, refuse
from dosecalc.units.words import System


def _names(folder: Traversable) -> tuple[str, ...]:
    return tuple(
        sorted(entry.name[:-5] for entry in folder.iterdir() if entry.name.endswith(".toml"))
    )


@cache
def material_ids() -> tuple[str, ...]:
    """Ids of every shipped material."""
    return _names(files.data_root().joinpath("materials"))


@cache
def recipe_ids() -> tuple[str, ...]:
    """Ids of every recipe of the book."""
    return _names(files.shipped_recipes())


@cache
def material(id: str) -> Material:
    """The shipped material with exactly this id.

    Raises
    ------
    DoseError
        When there is none, with the nearest names.
    """
    if id not in material_ids():
        raise unknown_material(id)
    faults = build.Faults(f"{id}.toml")
    data = files.shipped(files.data_root().joinpath("materials", f"{id}.toml"))
    found = build.material(id, data, faults)
    if faults.problems:
        raise refuse("shipped-broken", file=faults.file, why="; ".join(map(str, faults.problems)))
    return found


@cache
def source(id: str) -> Source:
    """The source with exactly this id."""
    folder = files.data_root().joinpath("sources")
    entry = folder.joinpath(f"{id}.toml")
    if not entry.is_file():
        raise refuse("source-id", text=id)
    return build.source(id, files.shipped(entry))


@cache
def source_ids() -> tuple[str, ...]:
    """Ids of every source on file."""
    return _names(files.data_root().joinpath("sources"))


def _key(text: str) -> str:
    return " ".join(text.casefold().replace("-", " ").replace("sulph", "sulf").split())


@dataclass(frozen=True, slots=True)
class Names:
    """Every name of every material, folded; built once when a name is looked up."""

    ids: dict[str, str] = field(default_factory=dict)
    shown: dict[str, str] = field(default_factory=dict)


@cache
def names() -> Names:
    """Every name of every shipped material."""
    found = Names()
    folder = files.data_root().joinpath("materials")
    for id in material_ids():
        data = files.shipped(folder.joinpath(f"{id}.toml"))
        for name in (id, data["name"], *data.get("also", ())):
            found.ids.setdefault(_key(name), id)
            found.shown.setdefault(_key(name), name)
    return found


def plain_name(id: str) -> str:
    """A name of a material that is one run of words: its brackets and commas left to the id."""
    name = material(id).name
    return name if name.replace(" ", "").replace("-", "").isalnum() else id.replace("-", " ")


def find_material(text: str) -> Material:
    """The material a person means by `text`: an id, a name or an alias, exactly.

    Raises
    ------
    DoseError
        When the name is not known or stands for several things.
    """
    if text in material_ids():
        return material(text)
    id = names().ids.get(_key(text))
    if id is None:
        raise unknown_material(text)
    return material(id)


AMBIGUOUS = {
    "boron": "borax (11 % boron), boric acid (17 %) or disodium octaborate (21 %)",
    "soap": "soft soap, liquid soap or washing-up detergent",
    "oil": "vegetable oil, horticultural oil or neem oil",
    "lime": "ground limestone, dolomitic limestone, hydrated lime or quicklime",
    "limestone": "ground limestone or dolomitic limestone",
    "garden lime": "ground limestone, dolomitic limestone or hydrated lime",
    "pelletized lime": "ground limestone or dolomitic limestone",
    "iron chelate": "iron chelate EDTA or iron chelate EDDHA",
    "chelated iron": "iron chelate EDTA or iron chelate EDDHA",
    "seaweed": "kelp meal (a powder) or kelp extract (a liquid)",
    "copper": "copper sulfate pentahydrate, copper hydroxide or copper oxychloride",
    "manure": "cattle manure, horse manure, poultry manure or manure compost",
    "zinc sulfate": "zinc sulfate monohydrate or zinc sulfate heptahydrate",
    "magnesium sulfate": "Epsom salt (heptahydrate), kieserite or magnesium sulfate anhydrous",
    "calcium chloride": "calcium chloride dihydrate or calcium chloride flake",
    "sulfur": "wettable sulfur or elemental sulfur",
    "iron": "ferrous sulfate heptahydrate, iron chelate EDTA or iron chelate EDDHA",
    "zinc": "zinc sulfate monohydrate or zinc sulfate heptahydrate",
    "magnesium": "Epsom salt or kieserite",
    "potash": "potassium chloride or potassium sulfate",
}
"""Words that name several materials; each is refused with the ones it could mean."""


def unknown_material(text: str) -> DoseError:
    """The refusal for a name that is not known, with the nearest ones."""
    folded = _key(text)
    if folded in AMBIGUOUS:
        return refuse("material-several", text=text, which=AMBIGUOUS[folded])
    near = difflib.get_close_matches(folded, names().ids, n=3, cutoff=0.6)
    shown = [names().shown[key] for key in near]
    if shown:
        return refuse("material-near", text=text, near=" or ".join(f"'{n}'" for n in shown))
    return refuse("material-unknown", text=text)


def _known_material(id: str) -> Material | None:
    return material(id) if id in material_ids() else None


def _known_on(own: build.MaterialForms | None) -> build.MaterialForms:
    return _known_material if own is None else lambda id: own(id) or _known_material(id)


def load_recipe(
    id: str,
    raw: bytes,
    name: str,
    speak: System | None = None,
    own: build.MaterialForms | None = None,
) -> tuple[Recipe | None, list[Problem]]:
    """A recipe from a person's file, with every problem; see `build.recipe` for `speak`.

    `own` knows materials that the file may name as well.
    """
    data, problems = files.check_bytes(raw, "recipe", name)
    if problems:
        return None, problems
    faults = build.Faults(name)
    made = build.recipe(id, data, _known_on(own), faults, speak)
    for used in (*data.get("source", ()), data.get("repeat", {}).get("source")):
        if used is not None and not source_exists(used):
            faults.problems.append(
                Problem(name, "source", f"'{used}' is not a known source: use one that"
                        " `dosecalc materials sources` lists, or practice.")
            )  # fmt: skip
    return made, faults.problems


def source_exists(id: str) -> bool:
    """Whether a source of this id is on file."""
    return files.data_root().joinpath("sources", f"{id}.toml").is_file()


def recipe_from_path(
    path: Path, speak: System | None = None, own: build.MaterialForms | None = None
) -> tuple[Recipe | None, list[Problem]]:
    """A recipe file of a person's own, with every problem."""
    raw, problems = files.read_path(path)
    if problems:
        return None, problems
    return load_recipe(path.stem, raw, str(path), speak, own)


def find_recipe(
    text: str, speak: System | None = None, own: build.MaterialForms | None = None
) -> Recipe:
    """A recipe of the book by its id, or a file of one's own by its path.

    A file may name materials that `own` knows, too.

    Raises
    ------
    DoseError
        When there is none, or when it has problems (all are in the sentence).
    """
    found: Recipe | None
    if text in recipe_ids():
        faults = build.Faults(f"{text}.toml")
        data = files.shipped(files.shipped_recipes().joinpath(f"{text}.toml"))
        found = build.recipe(text, data, _known_material, faults, speak)
        problems = faults.problems
    elif text.endswith(".toml") or "/" in text:
        found, problems = recipe_from_path(Path(text), speak, own)
    else:
        near = difflib.get_close_matches(text, recipe_ids(), n=3, cutoff=0.4)
        hint = " or ".join(f"'{name}'" for name in near) or "one that `dosecalc recipes` lists"
        raise refuse("recipe-unknown", text=text[:80], near=hint)
    if found is None or problems:
        raise refuse("recipe-problems", problems=problems_text(problems))
    return found
