"""Seeds, plants and weights of seed into each other; inoculants; living things in packs.

A seed that is sown becomes a plant where it lives (germination) and where the living seed comes
up (emergence). A bag holds, by weight, pure seed, other matter and on some seed a coat. All of it
is exact: one rounding, at the count of packets, and that one is upward.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.tally import TallyRate
from dosecalc.errors import refuse
from dosecalc.units.measure import GRAM, Measure

THOUSAND = 1000
LEAST_SEED = Measure(Fraction(1, 1_000_000), GRAM)
MOST_SEED = Measure(Fraction(50), GRAM)
"""Dust of orchids weighs about a millionth of a gram; nothing sown in a row is above 50 g (from
memory). Beyond them a slip of the pen is likelier than a seed."""


@dataclass(frozen=True, slots=True)
class Lot:
    """One lot of seed as its tag describes it.

    Parameters
    ----------
    one : Measure
        The weight of one seed.
    coated : bool
        Whether that weight is of the seed in its coat.
    germination : Fraction
        Of 1: how many of the pure seeds live.
    emergence : Fraction
        Of 1: how many of the living seeds become plants.
    pure : Fraction
        Of 1: how much of the seed, its coat left out, is pure seed by weight.
    coating : Fraction
        Of 1: how much of the weight in the bag is coat.
    """

    one: Measure
    coated: bool = False
    germination: Fraction = Fraction(1)
    emergence: Fraction = Fraction(1)
    pure: Fraction = Fraction(1)
    coating: Fraction = Fraction(0)

    @property
    def stand_share(self) -> Fraction:
        """How many plants a seed makes."""
        return self.germination * self.emergence

    @property
    def live_share(self) -> Fraction:
        """Pure live seed in the bag, by weight, of 1."""
        return self.pure * (1 - self.coating) * self.germination

    @property
    def bag_per_seed(self) -> Measure:
        """What of the bag is weighed out for one pure seed."""
        share = self.pure if self.coated else self.pure * (1 - self.coating)
        return self.one / share


def checked(lot: Lot) -> Lot:
    """The lot; refuses shares that leave nothing to sow and seeds of no known size.

    Raises
    ------
    DoseError
    """
    for share, name in (
        (lot.germination, "germination"), (lot.emergence, "emergence"), (lot.pure, "purity"),
    ):  # fmt: skip
        if not 0 < share <= 1:
            raise refuse("sow-share-zero", name=name)
    if not 0 <= lot.coating < 1:
        raise refuse("sow-share-zero", name="coating")
    if lot.one < LEAST_SEED or lot.one > MOST_SEED:
        raise refuse("sow-size", text=f"{lot.one.amount_in(GRAM)} g")
    return lot


def pure_without_coat(of_bag: Fraction, coating: Fraction) -> Fraction:
    """The purity of the seed itself, from a purity that counts the coat as other matter.

    Raises
    ------
    DoseError
        When purity and coat together are more than the whole bag.
    """
    if of_bag + coating > 1:
        raise refuse("sow-purity-over")
    return of_bag / (1 - coating)


def seeds_for(plants: Fraction, lot: Lot) -> Fraction:
    """How many seeds are sown for so many plants."""
    return plants / lot.stand_share


def plants_from(seeds: Fraction, lot: Lot) -> Fraction:
    """How many plants so many seeds make."""
    return seeds * lot.stand_share


def weight_of(seeds: Fraction, lot: Lot) -> Measure:
    """What is weighed out of the bag for so many pure seeds."""
    return (lot.bag_per_seed * seeds).to(GRAM)


def seeds_in(weight: Measure, lot: Lot) -> Fraction:
    """How many pure seeds a weight from the bag holds."""
    return (weight / lot.bag_per_seed).amount_in(())


def bag_for(live: Measure, lot: Lot) -> Measure:
    """What of the bag holds a weight of pure live seed."""
    return live / lot.live_share


def live_in(bag: Measure, lot: Lot) -> Measure:
    """The pure live seed of a weight from the bag."""
    return bag * lot.live_share


def one_from_count(rate: TallyRate) -> Measure:
    """The weight of one seed, from seeds for each gram, ounce or pound."""
    return (rate.per / rate.tally.number).to(GRAM)


def packets(need: Fraction, holds: Fraction) -> int:
    """How many packs hold at least `need`; a pack is never split."""
    return int(-(-need // holds))


def living_on_seed(holds: TallyRate, inoculant: Measure, seeds: Fraction) -> Fraction:
    """How many living cells come with one seed.

    Parameters
    ----------
    holds : TallyRate
        Cells for each weight or volume of the inoculant.
    inoculant : Measure
        All of it, put on `seeds` seeds.
    seeds : Fraction
    """
    return holds.over(inoculant) / seeds


@dataclass(frozen=True, slots=True)
class Release:
    """One of several releases of living things.

    Parameters
    ----------
    need : Fraction
        How many are wanted.
    packs : int or None
        How many packs that opens; None where no pack was told.
    given : Fraction
        How many those packs hold.
    """

    need: Fraction
    packs: int | None
    given: Fraction


def release(need: Fraction, holds: Fraction | None) -> Release:
    """One release: what lives does not keep, so that each release opens packs of its own."""
    if holds is None:
        return Release(need, None, need)
    count = packets(need, holds)
    return Release(need, count, count * holds)
