"""A draft as the table of a recipe file, with what was taken as read along the way."""

from __future__ import annotations

import re
from fractions import Fraction

from dosecalc.catalog import lookup
from dosecalc.catalog.prose.draft import Draft, Place, Rate
from dosecalc.catalog.prose.entries import Entries, Made, Table, wording
from dosecalc.catalog.prose.sizes import Sized
from dosecalc.catalog.prose.stuff import stuff
from dosecalc.errors import DoseError, refuse
from dosecalc.units import read
from dosecalc.units.measure import LITER, SQUARE_METER, Measure, exact_text
from dosecalc.units.show import show
from dosecalc.units.words import COUNTRY_WORDS, VARYING

_METRIC = frozenset(
    [
        "mL",
        "cL",
        "dL",
        "hL",
        "liter",
        "uL",
        "gram",
        "mg",
        "ug",
        "kg",
        "tonne",
        "meter",
        "cm",
        "mm",
        "km",
        "hectare",
        "are",
    ]
)
_MUCH = Fraction(5, 100)
"""A share of liquid from which the difference matters: 5 % (common practice, no source)."""


class Builder(Entries):
    """Turns rates into statements, in the measures of one system.

    Parameters
    ----------
    system : System or None
    region : str or None
        Whose law: it settles whether an analysis counts oxides.
    """

    def build(self, draft: Draft) -> Made:
        """Every statement of the draft.

        Raises
        ------
        DoseError
            When a rate is not whole, or two rates do not belong together.
        """
        if draft.copper_lime:
            self.copper_lime(draft)
            return self.made
        rates = _merged(draft.rates)
        if not rates or not any(rate.items for rate in rates):
            raise refuse("prose-nothing")
        first, *others = rates
        basis, per, water = self.where(first)
        for rate in rates:
            for place in rate.places:
                if place.size.about:
                    self.say("prose-about", text=place.size.shown)
        flow = None
        if len(others) == 1 and basis == "spray volume":
            flow = self.flow(others[0])
        if flow is not None:
            self.poured(first, per, *flow)
            return self.made
        self.statement(first, basis, per, water)
        if others:
            self.second(first, others, basis)
        return self.made

    def second(self, first: Rate, others: list[Rate], basis: str) -> None:
        """A second wording of the only material's rate: the amount and its place once more."""
        rate = others[0]
        same = rate.again and len(others) == 1 and len(rate.items) == 1 and len(first.items) == 1
        if not same or rate.items[0].name or first.items[0].strength or rate.items[0].strength:
            shown = rate.items[0] if rate.items else None
            text = "" if shown is None or shown.size is None else f"{shown.size.shown} {shown.name}"
            raise refuse("prose-two", text=text.strip() or "a second rate")
        rate.items[0].name = first.items[0].name
        other, per, water = self.where(rate)
        if other != basis:
            raise refuse("prose-two", text=f"{rate.items[0].size and rate.items[0].size.shown}")
        self.statement(rate, other, per, water)
        for table in self.made.tables:
            self.whose(table, True)

    def where(self, rate: Rate) -> tuple[str, Sized, Sized | None]:
        """The basis of a rate, how much of it, and the water that goes with it."""
        liquids = [place.size for place in rate.places if place.role == "liquid"] + rate.water
        grounds = [place for place in rate.places if place.role != "liquid"]
        grounds = self.without_doubles(grounds)
        if len(liquids) > 1:
            raise refuse("prose-two-waters", text=" and ".join(size.text for size in liquids))
        if len(grounds) > 1:
            said = " and ".join(place.size.text for place in grounds)
            raise refuse("prose-two-places", text=said)
        water = liquids[0] if liquids else None
        if any(item.size is not None and item.size.kind == "length" for item in rate.items):
            if water is not None or (grounds and grounds[0].role != "area"):
                raise refuse("prose-layer")
            return "layer", grounds[0].size if grounds else Sized("1 m2", None, "area"), None
        if grounds:
            place = grounds[0]
            if place.role == "pot" and place.size.kind == "volume":
                self.say("prose-pot", size=place.size.text)
                return "pot", Sized("1 pot", None, "pot"), water
            if place.role == "medium volume":
                self.say("prose-medium", size=place.size.text)
            if place.role == "row length":
                self.say("prose-row", size=place.size.text)
            return place.role, place.size, water
        if water is not None:
            self.check_whole(rate, water)
            return "spray volume", water, None
        if any(item.strength for item in rate.items):
            return "spray volume", Sized("1 L", None, "volume"), None
        return self.bulk(rate)

    def check_whole(self, rate: Rate, water: Sized) -> None:
        """Much liquid in little water: made up to it, or added to it, are two strengths."""
        if any(place.made_up for place in rate.places):
            return
        volume = self.measure(water)
        for item in rate.items:
            if not item.name or item.size is None or item.size.kind != "volume":
                continue
            found = stuff(item.name, item.size.text, self.system, self.region).material
            if not found.liquid:
                continue
            size = self.measure(item.size)
            if size.amount_in(LITER) >= _MUCH * volume.amount_in(LITER):
                raise refuse(
                    "prose-made-up", text=f"{item.size.text} {item.name}", water=water.text,
                    whole=show(volume).metric, added=show(volume + size).metric,
                )  # fmt: skip

    def without_doubles(self, grounds: list[Place]) -> list[Place]:
        """One place where it was only said twice in the same words."""
        kept: dict[tuple[str, str], Place] = {}
        for place in grounds:
            kept.setdefault((place.role, place.size.text), place)
        return list(kept.values())

    def bulk(self, rate: Rate) -> tuple[str, Sized, None]:
        """A growing mix: the loose materials given by volume make up the volume it is for."""
        total: Measure | None = None
        for item in rate.items:
            if item.size is None or item.size.kind != "volume" or not item.name:
                continue
            found = stuff(item.name, item.size.text, self.system, self.region).material
            if found.loose:
                volume = self.measure(item.size)
                total = volume if total is None else total + volume
        if total is None:
            first = rate.items[0]
            said = first.strength if first.size is None else first.size.shown
            raise refuse("prose-per-what", text=f"{said} {first.name}".strip())
        self.say("prose-bulk", total=show(total).metric)
        return "medium volume", Sized(exact_text(total), None, "volume"), None

    def flow(self, rate: Rate) -> tuple[str, Sized, Sized] | None:
        """How much of the made-up liquid a plant, row or area gets; None when it says no such."""
        if len(rate.items) != 1 or rate.items[0].name or rate.water:
            return None
        size = rate.items[0].size
        if size is None or size.kind != "volume" or len(rate.places) != 1:
            return None
        place = rate.places[0]
        if place.role in ("liquid", "medium volume") or size.to is not None:
            return None
        return place.role, place.size, size

    def poured(self, rate: Rate, per: Sized, basis: str, place: Sized, size: Sized) -> None:
        """A strength and how much of it goes where, as one rate of that place."""
        share = self.measure(size) / self.measure(per)
        factor = share.amount_in(())
        table = self.frame(basis, place, 0)
        table["water"] = {"amount": self.fixed(size), "need": "strength"}
        for item in rate.items:
            entry = self.entry(item, per, 0)
            for key in ("amount", "to"):
                if key in entry:
                    measure = read.quantity(entry[key], self.system, oz_is=self.oz(entry))
                    entry[key] = exact_text(measure * factor)
            table["ingredient"].append(entry)
        self.roles(table)
        self.whose(table, False)
        self.say("prose-flow", size=size.text, place=place.text)
        self.made.tables.append(table)

    def oz(self, entry: Table) -> str:
        """What a bare ounce of an entry's material can be."""
        return "doubt" if self.made.materials[entry["material"]].liquid else "weight"

    def statement(self, rate: Rate, basis: str, per: Sized, water: Sized | None) -> None:
        """One statement, and a second where amounts were said twice."""
        sizes = [item.size for item in rate.items if item.size is not None]
        twice = any(s.twin is not None for s in (*sizes, per, *([water] if water else [])))
        for variant in range(1 + twice):
            table = self.frame(basis, per, variant)
            for item in rate.items:
                table["ingredient"].append(self.entry(item, per, variant))
            if water is not None:
                need = "strength" if basis in ("plant", "pot") else "vehicle"
                table["water"] = {"amount": self.fixed(wording(water, variant)), "need": need}
                if not variant:
                    self.say(f"prose-water-{need}", size=water.text)
            self.roles(table)
            self.whose(table, twice)
            self.made.tables.append(table)

    def frame(self, basis: str, per: Sized, variant: int) -> Table:
        """A statement still without its materials."""
        return {"basis": basis, "per": self.fixed(wording(per, variant)), "ingredient": []}

    def roles(self, table: Table) -> None:
        """The first material is what the recipe is about; soap and oil beside it only help."""
        for index, entry in enumerate(table["ingredient"]):
            traits = set(self.made.materials[entry["material"]].traits)
            helper = index and traits & {"soap", "detergent", "oil"}
            entry["role"] = "adjuvant" if helper else "active"
        seen = [entry["material"] for entry in table["ingredient"]]
        for id in seen:
            if seen.count(id) > 1:
                raise refuse("prose-twice", name=self.made.materials[id].name)

    def whose(self, table: Table, twice: bool) -> None:
        """Whose measures a statement speaks, where one of its words differs by country."""
        texts = [
            table["per"],
            *(e[k] for e in table["ingredient"] for k in ("amount", "to") if k in e),
        ]
        if "water" in table:
            texts.append(table["water"]["amount"])
        if self.system is not None and any(_varies(text) for text in texts):
            table["measures"] = self.system
        elif twice and all(_metric(text) for text in texts):
            table["measures"] = "metric"

    def copper_lime(self, draft: Draft) -> None:
        """The old notation: pounds of copper sulfate, pounds of lime, gallons of water."""
        copper, lime, gallons = draft.copper_lime.split("-")
        kinds = [
            stuff(name, None, self.system, self.region).material
            for name in draft.bare
            if name.lower() not in ("copper", "lime")
        ]
        limes = [m for m in kinds if m.id in ("hydrated-lime", "quicklime")]
        if any(rate.items or rate.places or rate.water for rate in draft.rates):
            raise refuse("prose-two", text=draft.copper_lime)
        if self.system is None:
            raise refuse("prose-copper-gallon", text=draft.copper_lime, gallons=gallons)
        if len(limes) != 1:
            raise refuse("prose-copper-lime", text=draft.copper_lime)
        bluestone = lookup.material("copper-sulfate-pentahydrate")
        self.made.materials = {bluestone.id: bluestone, limes[0].id: limes[0]}
        table: Table = {
            "basis": "spray volume", "per": f"{gallons} gal", "measures": self.system,
            "ingredient": [
                {"material": bluestone.id, "amount": f"{copper} lb", "role": "active"},
                {"material": limes[0].id, "amount": f"{lime} lb", "role": "adjuvant"},
            ],
        }  # fmt: skip
        self.say("prose-copper-read", text=draft.copper_lime, lime=limes[0].name)
        self.made.tables.append(table)


def _merged(rates: list[Rate]) -> list[Rate]:
    """Rates of the same place in the same words are one: "35 g/m2 urea and 20 g/m2 kieserite"."""
    kept: list[Rate] = []
    for rate in rates:
        places = [(place.role, place.size.text) for place in rate.places]
        named = all(item.name for item in rate.items)
        twin = next((r for r in kept if [(p.role, p.size.text) for p in r.places] == places), None)
        if twin is not None and named and rate.items:
            if any(place.into for place in rate.places):
                raise refuse("prose-two-liquids", text=rate.places[0].size.text)
            twin.items += rate.items
            twin.water += rate.water
        elif kept and not rate.places and named and rate.items:
            kept[-1].items += rate.items
            kept[-1].water += rate.water
        else:
            kept.append(rate)
    return kept


def _varies(text: str) -> bool:
    words_ = text.replace("/", " ").replace("fl oz", "floz").replace("fluid ", "fluid").split()
    if re.search(r"\d,\d{3}", text):  # whose comma it is, the system says
        return True
    return any(word in VARYING for word in words_) and not any(w in COUNTRY_WORDS for w in words_)


def _metric(text: str) -> bool:
    try:
        unit = read.quantity(text, "us", oz_is="weight").unit
    except DoseError:
        return False
    return all(name in _METRIC for name, _ in unit) or unit == SQUARE_METER
