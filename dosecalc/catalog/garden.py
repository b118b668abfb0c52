"""`Garden`: the grower's own file of beds, tools, sprayers and region, as defaults for options."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from pathlib import Path
from typing import Any, TypeVar

from dosecalc.catalog import files
from dosecalc.catalog.lookup import find_material
from dosecalc.catalog.material import Material
from dosecalc.catalog.product import Shelf
from dosecalc.catalog.site import SiteText
from dosecalc.catalog.told import ToldText
from dosecalc.catalog.tools import ToolsText
from dosecalc.errors import problems_text, refuse

DEFAULT_FILE = "garden.toml"
Typed = TypeVar("Typed", SiteText, ToldText, ToolsText)


@dataclass(frozen=True, slots=True)
class Garden:
    """One garden file, checked.

    Parameters
    ----------
    path : Path or None
        None for no garden file at all.
    data : mapping
        In the shape of ``catalog.schema.GardenFile``.
    """

    path: Path | None = None
    data: Mapping[str, Any] = field(default_factory=dict)

    def bed(self, name: str) -> Mapping[str, Any]:
        """One bed by its name; refuses an unknown one with those that are there."""
        return self._named("bed", name, "--at")

    def sprayer(self, name: str) -> Mapping[str, Any] | None:
        """One sprayer by its name, None when the file has none of that name."""
        found = self.data.get("sprayer", {}).get(name)
        return None if found is None else dict(found)

    def _named(self, kind: str, name: str, option: str) -> Mapping[str, Any]:
        found = self.data.get(kind, {})
        if name not in found:
            known = ", ".join(sorted(found)) or "none"
            raise refuse("garden-no-such", kind=kind, text=name, option=option, known=known)
        return dict(found[name])

    def products(self) -> Shelf:
        """The products on hand, by their name in the file."""
        return Shelf(self.data.get("product", {}), self.data.get("region"))

    def material(self, name: str) -> Material:
        """A product on hand by its name in the file, else a material of the catalog.

        Raises
        ------
        DoseError
            When neither knows the name.
        """
        return self.products().material(name) or find_material(name)

    def labels(self) -> tuple[str, ...]:
        """The label files it names, beside itself."""
        folder = Path() if self.path is None else self.path.parent
        return tuple(str(folder / name) for name in self.data.get("label", ()))

    def tools(self, typed: ToolsText) -> ToolsText:
        """The file's tools where nothing was typed."""
        return _filled(typed, self.data.get("tools", {}))

    def site(self, typed: SiteText, at: str | None) -> SiteText:
        """The named bed's measures where nothing was typed."""
        return typed if at is None else _filled(typed, self.bed(at))

    def told(self, typed: ToldText, at: str | None) -> ToldText:
        """Region, and the named bed's crop, setting and phase, where nothing was typed."""
        known = {key: self.data[key] for key in ("region", "organic") if key in self.data}
        return _filled(typed, {**known, **({} if at is None else self.bed(at))})


def _filled(typed: Typed, known: Mapping[str, Any]) -> Typed:
    """`typed` with its empty fields taken from `known`."""
    missing = {
        item.name: _as_typed(known[item.name])
        for item in fields(typed)
        if item.name in known and getattr(typed, item.name) in (None, (), False)
    }
    return replace(typed, **missing)


def _as_typed(value: Any) -> Any:
    if isinstance(value, bool):
        return value
    return tuple(value) if isinstance(value, list | tuple) else str(value)


def read_garden(path: Path | None) -> Garden:
    """The garden file that was named, else the one in the current folder, else none.

    Raises
    ------
    DoseError
        With every problem of the file.
    """
    named = path is not None
    path = path or Path(DEFAULT_FILE)
    if not named and not path.is_file():
        return Garden()
    data, problems = files.read_checked(path, "garden")
    if problems:
        raise refuse("garden-problems", problems=problems_text(problems))
    return Garden(path, data)
