"""The closed list of spellings: which words name which unit, and whose measure they are.

A word whose size differs by country (gallon, cup, tablespoon, ton ...) has a unit only
within a measure system or with its country written beside it. A spelling that is not
here does not exist: nothing is stripped, guessed or corrected.
"""

from __future__ import annotations

from typing import Literal, get_args

from dosecalc.units.engine import Unit

System = Literal["us", "imperial", "metric", "australian"]
SYSTEMS: tuple[System, ...] = get_args(System)

SYSTEM_WORD: dict[System, str] = {
    "us": "US", "imperial": "imperial", "metric": "metric", "australian": "Australian",
}  # fmt: skip

_SAME_EVERYWHERE: dict[str, str] = {
    "um": "um", "mm": "mm millimetre millimetres millimeter millimeters",
    "cm": "cm centimetre centimetres centimeter centimeters",
    "meter": "m metre metres meter meters", "km": "km kilometre kilometres kilometer kilometers",
    "inch": "in in. inch inches", "foot": "ft ft. foot feet", "yard": "yd yd. yard yards",
    "rod": "rod rods", "chain": "chain chains", "mile": "mi mile miles",
    "are": "are ares", "hectare": "ha hectare hectares", "acre": "acre acres ac",
    "uL": "uL", "mL": "mL ml mls cc millilitre millilitres milliliter milliliters cm3",
    "cL": "cL cl", "dL": "dL dl", "hL": "hL hl hectolitre hectolitres hectoliter hectoliters",
    "liter": "L l litre litres liter liters",
    "ug": "ug", "mg": "mg milligram milligrams", "gram": "g gram grams gm gms gramme grammes",
    "kg": "kg kgs kilo kilos kilogram kilograms", "tonne": "t tonne tonnes",
    "lb": "lb lb. lbs lbs. pound pounds", "second": "s sec second seconds",
    "minute": "min minute minutes", "hour": "h hr hour hours", "day": "day days",
    "week": "week weeks", "month": "month months", "year": "year years yr",
    "plant": "plant plants", "pot": "pot pots", "count": "count counts",
}  # fmt: skip

_BY_SYSTEM: dict[str, dict[System, str]] = {
    "gal gal. gals gallon gallons": {
        "us": "gal_us", "imperial": "gal_imp", "australian": "gal_imp"},
    "qt qt. qts quart quarts": {"us": "qt_us", "imperial": "qt_imp", "australian": "qt_imp"},
    "pt pt. pts pint pints": {"us": "pt_us", "imperial": "pt_imp", "australian": "pt_imp"},
    "floz fl.oz. fluidounce fluidounces": {
        "us": "floz_us", "imperial": "floz_imp", "australian": "floz_imp"},
    "cup cups cupful cupfuls": {
        "us": "cup_us", "imperial": "cup_imp", "metric": "cup_metric", "australian": "cup_au"},
    "tbsp tbsp. tbsps tbs tbs. Tbs Tbs. Tbsp Tbsp. Tbl T tablespoon tablespoons tablespoonful"
    " tablespoonfuls tablespoonsful": {
        "us": "tbsp_us", "imperial": "tbsp_imp", "metric": "tbsp_metric",
        "australian": "tbsp_au"},
    "tsp tsp. tsps Tsp teaspoon teaspoons teaspoonful teaspoonfuls teaspoonsful": {
        "us": "tsp_us", "imperial": "tsp_imp", "metric": "tsp_metric", "australian": "tsp_au"},
    "bushel bushels bu": {"us": "bushel_us", "imperial": "bushel_imp"},
    "peck pecks": {"us": "peck_us"},
    "dryqt": {"us": "dryqt_us"},
    "drypt": {"us": "drypt_us"},
    "ton tons": {"us": "ton_us", "imperial": "ton_imp"},
    "cwt": {"us": "cwt_us", "imperial": "cwt_imp", "australian": "cwt_imp"},
}  # fmt: skip

COUNTRY_WORDS: dict[str, System] = {
    "US": "us", "U.S.": "us", "American": "us", "imp": "imperial", "imp.": "imperial",
    "imperial": "imperial", "Imperial": "imperial", "UK": "imperial", "British": "imperial",
    "metric": "metric", "AU": "australian", "Australian": "australian",
}  # fmt: skip

POWER_WORDS = {"sq": 2, "sq.": 2, "square": 2, "cu": 3, "cu.": 3, "cubic": 3}
"""Words before a length that make it an area or a volume: "sq ft", "cubic yard"."""

POWER_ENDINGS = {"2": 2, "3": 3, "\N{SUPERSCRIPT TWO}": 2, "\N{SUPERSCRIPT THREE}": 3}
"""Endings glued to a length: "m2", "ft3"."""

SHORT_FORMS: dict[str, Unit] = {
    "sqft": (("foot", 2),), "sqyd": (("yard", 2),), "sqm": (("meter", 2),),
    "cuft": (("foot", 3),), "cuyd": (("yard", 3),), "mph": (("hour", -1), ("mile", 1)),
}  # fmt: skip

FIXED: dict[str, str] = {
    word: name for name, words in _SAME_EVERYWHERE.items() for word in words.split()
}
VARYING: dict[str, dict[System, str]] = {
    word: sizes for words, sizes in _BY_SYSTEM.items() for word in words.split()
}
LENGTH_NAMES = frozenset(
    {"um", "mm", "cm", "meter", "km", "inch", "foot", "yard", "rod", "chain", "mile"}
)

TEASPOON_OF_NO_COUNTRY = "tsp_metric"
"""Teaspoons agree within 1.5 percent everywhere today, so one without a country is 5 mL."""
