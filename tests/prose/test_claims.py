"""What a page claims of a material is held against the catalog and against its own words."""

from __future__ import annotations

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dosecalc.catalog import lookup
from dosecalc.catalog.prose.claims import wrong_claims
from dosecalc.catalog.prose.tidy import tidy
from dosecalc.say import Say
from dosecalc.units.show import rounded
from dosecalc.units.words import System


def said(text: str, system: System | None = None, region: str | None = None) -> tuple[Say, ...]:
    return wrong_claims(tidy(text), system, region)


# The sentence, and what must stand in it; the page stands above its claim.
WRONG = [
    # Should I use bone meal when planting bulbs? (UNH Extension)
    # https://extension.unh.edu/blog/2018/04/should-i-use-bone-meal-when-planting-my-spring-flowering-bulbs
    ("bone meal is 28 percent phosphorus by weight", None, None, "claim-content-as",
     ("9.6 (6.54 to 11.8) % P", "too much by a factor of 2.92", "28 % would be right for P2O5")),
    # synthetic: contents of a formula and of an analysis
    ("borax contains 17 % boron", None, None, "claim-content",
     ("11.3 % B when pure", "50 % too much")),
    ("Epsom salt holds about 16% magnesium", None, None, "claim-content-as",
     ("9.86 % Mg when pure", "62 % too much", "16 % would be right for MgO")),
    ("gypsum is 23 % calcium and 32 % sulfur", None, None, "claim-content",
     ("'gypsum is 23 % calcium and 32 % sulfur'", "18.6 % S when pure", "72 % too much")),
    ("urea (34 % N)", None, None, "claim-content", ("46 (45 to 46) % N", "26 % too little")),
    ("triple superphosphate is 20 % P2O5", None, None, "claim-content-as",
     ("46 (45 to 46) % P2O5", "too little by a factor of 2.3", "20 % would be right for P")),
    # Wood ash (garden page), and an extension note on the same subject
    # http://gardengrapevine.com/WoodAsh.html
    # http://sunsite.unc.edu/london/agriculture/general/1/msg00108.html
    ("the stove leaves 2-pounds/1-Quart of ash; a 10 qt. pail to within 2\" of the top holds about"
     " 5 lb.", "us", None, "claim-weights-full",
     ("0.24 g/mL", "0.959 g/mL", "4 times as much", "counted as full")),
    # synthetic: the cup of one feed used for another, an ounce for a spoon
    ("a cup of urea weighs 1/2 pound", "us", None, "claim-weight",
     ("0.959 g/mL", "0.75 (0.65 to 0.833) g/mL", "22 % too little")),
    ("1 lb 4 oz (2 cups) of urea", "us", None, "claim-weight", ("1.2 g/mL", "37 % too little")),
    ("bone meal: 1 oz (1 tablespoon) per plant", "us", None, "claim-weight",
     ("1.92 g/mL", "0.88 (0.8 to 0.96) g/mL", "too little by a factor of 2.18")),
    ("1 pound of bone meal = 1 quart", "us", None, "claim-weight",
     ("0.479 g/mL", "84 % too much")),
    ("wettable sulfur: 3 lb per 100 gal = 3/4 tbsp per gallon", "us", None, "claim-weight",
     ("1.23 g/mL", "0.58 (0.32 to 0.96) g/mL", "too little by a factor of 2.12")),
    ("urea weighs 23 ounces per pint", "us", None, "claim-weight", ("1.38 g/mL",)),
    ("a tablespoon of borax weighs 12 g and a cup of borax weighs 215 g", "us", None,
     "claim-weights", ("0.812 g/mL", "0.909 g/mL", "1.12 times as much")),
    # Ginseng and other medicinal plants: Bordeaux formulas (book page)
    # https://bitlit.ru/page/en/a-r-harding/ginseng-and-other-medicinal-plants-a-book-of-valuable-information-for-growers-as-well-as-collectors-of-medicinal-roots-barks-leaves-etc/46
    ("a 1.6 per cent mixture: copper sulfate 6 pounds, quick-lime 4 pounds, water 50 gallons",
     "us", None, "claim-strength", ("1.44 % w/v", "1.6 % is 11 % too much")),
    ("a 1.6 % mixture: 6 lb copper sulfate, 4 lb lime and 50 gallons of water", "imperial", None,
     "claim-strength", ("1.2 % w/v", "1.6 % is 34 % too much")),
    # Theory on the leaf burn (blog, 2015)
    # https://jt420grow.wordpress.com/2015/08/20/theory-on-the-leaf-burn/
    ("2% soap: 5 tablespoons to 1 gallon, or 1 heavy tablespoon to 1 quart, or 3.75 ml to 1 cup of"
     " water", "us", None, "claim-strengths", ("1.59 to 1.95 % by volume", "23 % apart")),
    # Folk remedy for weeds (web article, 2023)
    # https://wisdomoflife.top/2023/01/27/an-effective-folk-remedy-for-weeds-in-your-garden-forget-about-store-bought-products/
    ("1 liter of 70% acid in 3.5 liters of water makes 4.5 liters of 20% acid", None, None,
     "claim-strength", ("15.6 % by volume", "20 % is 29 % too much")),
    # synthetic: strengths, before and behind the amounts
    ("a 5 % solution: 1 fl oz of neem oil in 1 gallon of water", "us", None, "claim-strength",
     ("0.781 % by volume", "0.775 % of the whole", "5 % is too much by a factor of 6.4")),
    ("20 g of soft soap in 1 L of water makes a 0.2 % solution", None, None, "claim-strength",
     ("2 % w/v", "1.96 % of the whole by weight", "0.2 % is too little by a factor of 9.8")),
    ("for a 1 % spray in a 2 gallon tank use 25 fl oz", "us", None, "claim-strength",
     ("9.77 % by volume", "1 % is too little by a factor of 8.9")),
    ("2 cups of 6 % vinegar in 6 cups of water gives 3 %", "us", None, "claim-strength",
     ("2 % by volume", "3 % is 50 % too much")),
    # Calculating the appropriate amount of fertilizer (web article)
    # https://www.zdwords.com/how-can-i-calculate-the-appropriate-amount-of-fertilizer-to-use-139743.htm
    ("10,000 pounds of a 10% N fertilizer for 1 pound N per 1,000 sq ft", None, None,
     "claim-needs", ("it takes 10 lb to bring 1 pound of N", "too much by a factor of 1000")),
    # Fertilizing vegetables, part 2 (reprint of University of Maryland Extension); digits changed
    # https://www.worldtomatosociety.com/article/fertilizing-vegetables-2/
    ("3.2 ounces of N per 100 sq. ft. from 15-0-0: 213 ounces", None, None, "claim-needs",
     ("21.33 oz", "too much by a factor of 9.98")),
    ("2 lbs. N as 43.5 lbs. of 46-0-0", None, None, "claim-needs", ("4.348 lb", "factor of 10")),
    ("4.35 lbs. of 46-0-0 equals 3.33 lbs. of 6-2-1", None, None, "claim-same",
     ("33.35 lb of 6-2-1", "too little by a factor of 10")),
    # Another page's bag, beside: Farm measurement equivalents for the home gardener
    # https://cropideas.net/gardenmeasure.html
    # https://guidedreview.com/?p=42578
    ("a 50-pound bag of 10-10-10 has 5 pounds of phosphorus", "us", None, "claim-slip",
     ("right for P2O5", "2.182 lb", "too much by a factor of 2.29")),
    ("1 lb of P from 0-45-0: 2.22 lb", None, "UK", "claim-slip",
     ("right for P2O5", "5.092 lb", "too little by a factor of 2.29")),
    ("1 kg of K2O from 0-0-50: 2.0 kg", None, "AU", "claim-slip",
     ("right for K, which the label counts", "1.66 kg", "20 % too much")),
]  # fmt: skip


@pytest.mark.parametrize(("text", "system", "region", "key", "parts"), WRONG)
def test_a_wrong_claim_is_said_with_both_figures(
    text: str, system: System | None, region: str | None, key: str, parts: tuple[str, ...]
) -> None:
    says = said(text, system, region)
    assert [one.key for one in says] == [key]
    sentence = says[0].english()
    assert [part for part in parts if part not in sentence] == []


RIGHT = [
    # synthetic: contents near enough, of another element, of a solution, by volume, not claimed
    ("borax contains 11 % boron; Epsom salt is 10 % magnesium and 13 % sulfur", None, None),
    ("urea has 46 % nitrogen; bone meal is 22 percent phosphorus pentoxide", None, None),
    ("bone meal is 28 % phosphoric acid; gypsum is 18 % sulfur, borax is 10 % potassium", None,
     None),
    ("borax is not 17 % boron; borax holds less than 17 % boron", None, None),
    ("copper sulphate (98 per cent) 2 lb., boron 3 %", None, None),
    ("fish emulsion is 9 % nitrogen by volume", None, None),
    # How do you apply ammonium/aluminum sulfate to hydrangeas? (web article)
    # https://laughingfrogfarm.net/cultivation/how-do-you-apply-ammonium-sulfate-to-hydrangeas.html
    ("aluminum sulfate: 1/2 ounce (1 tablespoon) per gallon; 1 lb (2 cups) per 5 gallons", "us",
     None),
    # Clay and gypsum (iris mailing list, 1998)
    # https://www.hort.net/lists/iris/nov98/msg00142.html
    ("1 pound of gypsum per square foot (about 2 cups)", "us", None),
    # Garden math: applying 10-10-10 fertilizer (blog, 2017)
    # http://sammela.com/index.php/2017/05/01/garden-math-applying-10-10-10-fertilizer/
    ("10-10-10: a cup weighs approximately 1/2 pound", "us", None),
    # Corn fertilizer measurements (gardening Q and A)
    # https://www.walterreeves.com/food-gardening/corn-fertilizer-measurments/
    ("three cups of 10-10-10 would weigh approximately 1 1/2 pounds", "us", None),
    # Fertilizer conversion table for small area (LSU AgCenter)
    # https://www.lsuagcenter.com/portals/our_offices/departments/spess/servicelabs/soil_testing_lab/faq/fertilizer-conversion-table-for-small-area
    ("sodium nitrate weighs 23 ounces per pint; a pint of water weighs 1 pound", "us", None),
    # synthetic: no weight of a volume, or not of the material
    ("borax: 1 quart (32 oz); 1 cup (8 oz) per bed", "us", None),
    ("2 oz of borax per gallon is 4 tablespoons per 2 gallons", "us", None),
    ("one gallon of water holds two pounds of copper sulfate", "us", None),
    ("dry milk weighs 68 g per cup; coarse salt weighs 2.8 g per teaspoon", "us", None),
    ("a cup weighs 1 pound", "us", None),
    ("write tsp: T is a teaspoon or a tonne; use 1 lb of urea or 3 gallons per bed", "us", None),
    ("urea and borax. A cup weighs 2 pounds", "us", None),
    ("urea, and 2 cups (2 lb) of lime, and 2 cups (3 lb) of zeolite", "us", None),
    ("4 oz/1 gallon of compost; 1 lb or 2 gallons of water per bed of urea", "us", None),
    # How to give plants iron (how-to)
    # https://wapozavr.com/how-to/how-to-give-plants-iron-81060
    ("2 fluid ounces (59 ml) of copperas in 3 US gal (11 L) of water: a 0.5% solution", "us", None),
    # Insecticidal soap spray (garden page)
    # http://knot2worry.us/Insecticidal_Soap_Spray.html
    ("1 to 2 tablespoons of liquid soap in 1 quart of water: 1.5% and 3.0%", "us", None),
    # Insecticidal soaps (farm page)
    # https://sundownfarms.com/garden-advice/plant-problems/insecticidal-soaps/
    ("Make a 2% soap by mixing 5 tablespoons of soap in 1 gallon of water", "us", None),
    ("For a 1 percent solution, mix 2 1/2 tablespoons in 1 gallon of water", "us", None),
    # How much product to add in handheld sprayers? (Illinois bulletin, 2006)
    # http://bulletin.ipm.illinois.edu/article.php?id=539
    ("a 0.5% solution in a 2-gallon sprayer: 256 fluid ounces x 0.005 = 1.28 fluid ounces", "us",
     None),
    # Preparing Bordeaux liquid (web article): two vessels, poured together
    # http://howded.com/en/pages/274089
    ("To make a 1.0% solution dissolve 100 grams of copper sulphate in 5 litres of water and 100"
     " grams of lime in 5 litres of water in another bucket", None, None),
    # Spray table by active ingredient (Missouri extension)
    # https://extension.missouri.edu./publications/g7510
    ("a 5 lb/gal liquid at 0.125 percent needs 1 3/4 pints per 100 gallons", "us", None),
    # synthetic: shares that are no strength of the mix
    ("one teaspoon (5 ml) of 3% hydrogen peroxide per gallon", "us", None),
    ("3% peroxide: 1 cup in 1 gallon of water (0.2%)", "us", None),
    ("85 % acid of 1.6845 g/cm3, an 85 % solution", None, None),
    ("1 L of 70% acid in 2.5 L of water makes 20% acid", None, None),
    ("2 tbsp per gallon, 20 % nitrogen; 1 % is 10 g per litre", "us", None),
    # Fertilizing vegetables, part 2 (reprint of University of Maryland Extension)
    # https://www.worldtomatosociety.com/article/fertilizing-vegetables-2/
    ("3.2 ounces of N per 100 sq. ft. from 15-0-0: 21.33 ounces (1.33 lbs.)", None, None),
    ("2 lbs. N as 4.35 lbs. of 46-0-0 equals 33.3 lbs. of 6-2-1", None, None),
    # synthetic: nutrients
    ("10 pounds of a 10% N fertilizer for 1 pound N per 1,000 sq ft", None, None),
    ("40 lb of a 10% N fertilizer for 1 lb N per 1,000 sq ft on 4,000 sq ft", None, None),
    ("2 lb N from 2 lb of 46-0-0 and 10 lb of 10-10-10", None, None),
    ("a 50-pound bag of 10-10-10 has 5 pounds of phosphorus", None, None),
    ("a 50-pound bag of 10-10-10 has 5 pounds of phosphorus", "us", "AU"),
    ("a 50-pound bag of 10-10-10 has 2.18 pounds of phosphorus", "us", None),
    ("a 50-pound bag of 10-10-10 has 5 pounds of P2O5", None, "US"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "system", "region"), RIGHT)
def test_a_claim_that_is_near_enough_or_none_passes_in_silence(
    text: str, system: System | None, region: str | None
) -> None:
    assert [one.english() for one in said(text, system, region)] == []


def test_a_claim_that_holds_in_some_measures_is_silent_until_they_are_told() -> None:
    text = "1/2 cup of lime in 5 gallons of water: a 0.625 % mixture"
    assert said(text) == said(text, "us") == ()
    assert len(said(text, "australian")) == 1


CONTENTS = [
    (id, content.element)
    for id in lookup.material_ids()
    for content in lookup.material(id).contents
    if content.basis == "w/w" and content.factor.low > 0
]


@given(st.sampled_from(CONTENTS))
def test_every_content_of_the_catalog_holds_and_eleven_percent_beyond_its_span_does_not(
    held: tuple[str, str],
) -> None:
    id, element = held
    material = lookup.material(id)
    content = material.content(element)
    assert content is not None
    factor = content.factor
    for share in (factor.low, factor.likely, factor.high):
        assert said(f"{id.replace('-', ' ')} is {rounded(share * 100, 5)[0]} % {element}") == ()
    for share in (factor.low * 88 / 100, factor.high * 112 / 100):
        says = said(f"{id.replace('-', ' ')} is {rounded(share * 100, 5)[0]} % {element}")
        assert [one.key.removesuffix("-as") for one in says] == ["claim-content"]
        assert material.name in says[0].english()


DENSE = [
    id
    for id in lookup.material_ids()
    if lookup.material(id).density is not None and id not in ("water", "calcium-chloride-flake")
]


@given(st.sampled_from(DENSE))
def test_every_density_of_the_catalog_holds_and_eleven_percent_beyond_its_span_does_not(
    id: str,
) -> None:
    density = lookup.material(id).density
    assert density is not None
    name = id.replace("-", " ")
    for weight in (density.low, density.likely, density.high):
        assert said(f"a litre of {name} weighs {rounded(weight * 1000, 5)[0]} g") == ()
    for weight in (density.low * 88 / 100, density.high * 112 / 100):
        says = said(f"a litre of {name} weighs {rounded(weight * 1000, 5)[0]} g")
        assert [one.key for one in says] == ["claim-weight"]


PIECES = [
    "1", "0", "0.5", "1/2", "1-2", "(", ")", "=", "%", "2 %", "28 %", ":", ",", ";", ".", "\n",
    "per", "is", "or", "about", "makes", "gal", "1 tsp", "1 lb", "3 oz", "1 cup", "0 cup", "0 lb",
    "0-2 ml", "1 L", "1 acre", "in", "to", "of", "a", "10-10-10", "0-0-0", "99-99-99", "N", "P",
    "P2O5", "phosphorus", "borax", "bone meal", "vinegar", "ash", "lime", "water", "solution",
    "mixture", "use", "from", "as", "at", "has", "for", "weighs", "pail", "holds", "makes", "/",
    "w/v", "5 tablespoons to 1 gallon", "fertilizer", "2 lb 4 oz", "heaped", "1e9", "\u20ac",
]  # fmt: skip


@settings(deadline=None)
@given(
    parts=st.lists(st.sampled_from(PIECES), max_size=60),
    system=st.sampled_from([None, "us"]),
    region=st.sampled_from([None, "US", "AU"]),
)
def test_no_text_is_refused_and_every_line_can_be_read(
    parts: list[str], system: System | None, region: str | None
) -> None:
    for text in (" ".join(parts), "".join(parts)):
        for one in wrong_claims(text, system, region):
            assert one.english()


@settings(deadline=None)
@given(text=st.text(max_size=200))
def test_no_signs_at_all_are_refused(text: str) -> None:
    assert isinstance(wrong_claims(text, None, None), tuple)


@pytest.mark.parametrize(
    "piece",
    [
        "1% soap: 1 ml to 1 l. ", "1% soap: 1 ml to 1 l, or 1 ml to 1 l, ", "borax is 1 % B ",
        "1 lb (2 cups) of borax, ", "1 l of 1% x in 1 l makes 1%. ", "1 ml a a a a a in ",
        "1 lb N from 10-10-10: 1 lb ", "1 cup a b c d holds ", "1% : ", "(", "1 ml(",
    ],
)  # fmt: skip
def test_a_hostile_text_of_full_length_takes_no_time(piece: str) -> None:
    text = (piece * 2000)[:2000]
    start = time.perf_counter()
    wrong_claims(text, None, None)
    assert time.perf_counter() - start < 3
