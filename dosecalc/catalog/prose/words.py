"""The closed lists of words that a written recipe may be made of, and what each is to it."""

from __future__ import annotations

import re
from typing import NamedTuple


class Way(NamedTuple):
    """How a recipe is carried out, and where it lands."""

    how: str
    placement: str


NUMERALS = {
    "one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7",
    "eight": "8", "nine": "9", "ten": "10", "eleven": "11", "twelve": "12", "fifteen": "15",
    "eighteen": "18", "twenty": "20", "thirty": "30", "forty": "40", "fifty": "50", "sixty": "60",
    "seventy": "70", "eighty": "80", "ninety": "90", "half": "1/2", "quarter": "1/4",
    "third": "1/3", "dozen": "12",
    "hundred": "100", "thousand": "1000",
}  # fmt: skip
PARTS_OF_ONE = {
    "half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "fourth": 4,
    "fifth": 5, "fifths": 5, "eighth": 8, "eighths": 8, "tenth": 10, "tenths": 10,
}  # fmt: skip

ABBREVIATIONS = frozenset(
    [
        "sq",
        "ft",
        "lb",
        "lbs",
        "oz",
        "tbsp",
        "tsp",
        "tbs",
        "tbl",
        "gal",
        "gals",
        "pt",
        "pts",
        "qt",
        "qts",
        "fl",
        "in",
        "yd",
        "cu",
        "imp",
        "approx",
        "gm",
        "gms",
        "no",
        "kg",
        "g",
        "ml",
        "l",
        "cm",
        "mm",
        "m",
        "ac",
        "wt",
        "mins",
        "hrs",
        "hr",
        "min",
        "wks",
        "wk",
        "yr",
        "mo",
    ]
)
"""A full stop behind these does not end a sentence."""

ABOUT = frozenset({
    "about", "approximately", "approx", "around", "roughly", "circa", "~", "almost",
    "nearly", "scant",
})  # fmt: skip
LEVEL = frozenset({"level", "measured", "flat"})
HEAPED = frozenset({"heaped", "heaping", "rounded", "heap"})
DROPPED = frozenset(
    [
        "of",
        "the",
        "clean",
        "fresh",
        "lukewarm",
        "warm",
        "cold",
        "plain",
        "some",
        "this",
        "your",
        "each",
        "please",
        "it",
        "them",
        "enough",
        "sufficient",
        "our",
        "my",
        "we",
        "you",
        "needed",
        "recommended",
        "suggested",
        "required",
    ]
)
"""Words that change nothing where they stand between an amount, a material and a place."""

LINKS: dict[str, str] = {
    "per": "PER", "/": "PER", "for every": "PER", "for each": "PER", "to every": "PER",
    "to each": "PER", "every": "PER", "each": "PER", "in": "IN", "into": "IN", "in each": "PER",
    "around each": "PER",
    "on each": "PER", "under each": "PER",
    "with each": "PER", "on every": "PER", "over every": "PER", "in every": "PER",
    "into each": "PER", "into every": "PER", "onto each": "PER",
    "using over": "OVER", "for using over": "OVER", "for use over": "OVER",
    "covers": "OVER", "cover": "OVER", "will cover": "OVER", "would cover": "OVER",
    "treats": "OVER", "to cover": "OVER", "to treat": "OVER",
    "over": "OVER", "on": "OVER", "along": "OVER", "across": "OVER", "onto": "OVER",
    "around": "OVER", "to": "OVER", "for": "OVER", "to make": "IN", "makes": "IN",
    "made up to": "IN", "make up to": "IN", "up to": "UPTO", "from": "FROM", "as": "FROM",
    "using": "FROM", "at": "AT", "over an area of": "OVER",
    "over an area": "OVER", "over each": "PER", "with": "AND",
    "and": "AND", "plus": "AND", "+": "AND", "&": "AND", "also": "AND", "or": "OR",
    "then": "THEN",
}  # fmt: skip

COVERS = re.compile(r"(will |would |should )?covers?\b|treats?\b")
"""Behind an amount: the ground that it is for."""

ROW = frozenset({"row", "rows", "furrow", "drill", "trench"})
GROUND = frozenset(
    [
        "bed",
        "beds",
        "plot",
        "plots",
        "garden",
        "gardens",
        "soil",
        "area",
        "ground",
        "lawn",
        "border",
        "surface",
        "land",
        "field",
        "patch",
        "grass",
        "turf",
        "orchard",
        "pasture",
    ]
)
VESSELS = frozenset(
    [
        "can",
        "sprayer",
        "tank",
        "bottle",
        "bucket",
        "pail",
        "barrel",
        "drum",
        "jug",
        "batch",
        "mixture",
        "solution",
        "spray",
        "tankful",
        "knapsack",
        "backpack",
    ]
)
MEDIUM = (
    "potting mix", "growing medium", "potting soil", "potting compost", "soilless mix",
    "container mix", "growing mix", "medium", "media", "mix", "potting mixture", "soil mix",
    "container medium", "compost mix",
)  # fmt: skip
PLANTS = {
    "plant": "plant", "plants": "plant", "hole": "hole", "holes": "hole", "planting hole": "hole",
    "bulb": "hole", "bulbs": "hole", "shrub": "plant", "shrubs": "plant", "bush": "plant",
    "bushes": "plant", "seedling": "plant", "seedlings": "plant", "transplant": "plant",
    "transplants": "plant", "rose": "plant", "tomato plant": "plant", "hill": "plant",
}  # fmt: skip
POTS = frozenset({"pot", "pots", "container", "containers", "planter", "planters"})
DEEP = frozenset({"deep", "thick", "in depth"})
LAYER = frozenset({"layer", "depth"})

DOUBTFUL_SIZES = {
    "handful": "handful", "handfuls": "handful", "palmful": "handful", "fistful": "handful",
    "capful": "cap", "capfuls": "cap", "cap": "cap", "pinch": "pinch", "pinches": "pinch",
    "dash": "pinch", "smidgen": "pinch", "sprinkle": "pinch", "drop": "drop", "drops": "drop",
    "bag": "vessel", "bags": "vessel", "scoop": "vessel", "scoops": "vessel", "shovel": "vessel",
    "shovels": "vessel", "shovelful": "vessel", "shovelfuls": "vessel", "spadeful": "vessel",
    "bucket": "vessel", "buckets": "vessel", "bucketful": "vessel", "can": "vessel",
    "cans": "vessel", "coffee can": "vessel", "wheelbarrow": "vessel", "barrow": "vessel",
    "barrowload": "vessel", "sack": "vessel", "sacks": "vessel", "sachet": "vessel",
    "packet": "vessel", "box": "vessel", "bottle": "vessel", "bottles": "vessel",
    "spray bottle": "vessel", "watering can": "vessel", "pail": "vessel", "barrel": "vessel",
    "half barrel": "vessel", "spoon": "spoon", "spoons": "spoon", "spoonful": "spoon",
    "spoonfuls": "spoon", "glass": "vessel", "jar": "vessel", "forkful": "vessel",
    "bale": "vessel", "bales": "vessel", "load": "vessel", "tank": "vessel", "sprayer": "vessel",
    "squirt": "pinch", "splash": "pinch",
}  # fmt: skip
"""Words that count something whose size nobody said: each is refused with how to measure it."""

DOUBTFUL_PLACES = {
    "tree": "tree", "trees": "tree", "vine": "tree", "vines": "tree", "bed": "bed", "beds": "bed",
    "plot": "bed", "garden": "bed", "row": "row", "rows": "row", "bale": "bed", "can": "vessel",
    "bucket": "vessel", "sprayer": "vessel", "tank": "vessel", "bottle": "vessel",
    "spray bottle": "vessel", "watering can": "vessel", "tankful": "vessel", "pail": "vessel",
    "batch": "vessel", "barrel": "vessel", "bag": "vessel", "application": "bed", "mu": "mu",
    "bigha": "mu",
}  # fmt: skip

WAYS: dict[str, Way] = {
    "drench": Way("drench", "drench"), "drenched": Way("drench", "drench"),
    "dribbled": Way("drench", "drench"), "dribble": Way("drench", "drench"),
    "pour": Way("drench", "drench"), "poured": Way("drench", "drench"),
    "water in": Way("drench", "drench"), "watered in": Way("drench", "drench"),
    "water on": Way("drench", "drench"), "watered on": Way("drench", "drench"),
    "watering": Way("drench", "drench"), "spray": Way("foliar spray", "foliar"),
    "sprayed": Way("foliar spray", "foliar"), "foliar spray": Way("foliar spray", "foliar"),
    "foliar": Way("foliar spray", "foliar"), "leaf spray": Way("foliar spray", "foliar"),
    "on the leaves": Way("foliar spray", "foliar"), "for foliage": Way("foliar spray", "foliar"),
    "dormant spray": Way("dormant spray", "dormant-spray"),
    "dormant": Way("dormant spray", "dormant-spray"),
    "side dress": Way("side-dress", "band"), "side-dress": Way("side-dress", "band"),
    "sidedress": Way("side-dress", "band"), "side-dressing": Way("side-dress", "band"),
    "side dressing": Way("side-dress", "band"), "sidedressing": Way("side-dress", "band"),
    "band": Way("band", "band"), "banded": Way("band", "band"), "in a band": Way("band", "band"),
    "seed row": Way("band", "seed-row"),
    "broadcast": Way("broadcast", "broadcast"), "spread": Way("broadcast", "broadcast"),
    "sprinkle": Way("broadcast", "broadcast"), "sprinkled": Way("broadcast", "broadcast"),
    "scatter": Way("broadcast", "broadcast"), "scattered": Way("broadcast", "broadcast"),
    "top dress": Way("broadcast", "broadcast"), "top-dress": Way("broadcast", "broadcast"),
    "top dressing": Way("broadcast", "broadcast"), "top-dressing": Way("broadcast", "broadcast"),
    "work in": Way("work in", "mixed-in"), "worked in": Way("work in", "mixed-in"),
    "worked into": Way("work in", "mixed-in"), "work into": Way("work in", "mixed-in"),
    "dig in": Way("work in", "mixed-in"), "dug in": Way("work in", "mixed-in"),
    "mixed in": Way("work in", "mixed-in"), "mix in": Way("work in", "mixed-in"),
    "mix into": Way("work in", "mixed-in"), "mixed into": Way("work in", "mixed-in"),
    "rake in": Way("work in", "mixed-in"), "raked in": Way("work in", "mixed-in"),
    "tilled in": Way("work in", "mixed-in"), "till in": Way("work in", "mixed-in"),
    "mulch with": Way("mulch", "mulch"), "as a mulch": Way("mulch", "mulch"),
    "as mulch": Way("mulch", "mulch"), "mulch": Way("mulch", "mulch"),
    "fertigation": Way("fertigation", "fertigation"),
    "through the injector": Way("fertigation", "fertigation"),
    "in the planting hole": Way("planting hole", "planting-hole"),
    "in the hole": Way("planting hole", "planting-hole"), "dust": Way("dust", "foliar"),
}  # fmt: skip

VERBS = frozenset(
    [
        "mix",
        "dissolve",
        "apply",
        "use",
        "add",
        "put",
        "give",
        "stir",
        "dilute",
        "combine",
        "take",
        "apply",
        "dissolved",
        "mixed",
        "applied",
        "used",
        "added",
        "given",
        "stirred",
        "diluted",
        "shake",
        "made",
        "makes",
        "make",
        "well",
        "up",
        "rate",
        "at",
        "recipe",
        "feed",
        "weekly-feed",
        "liquid-feed",
        "lightly",
        "evenly",
        "thoroughly",
        "gently",
        "carefully",
        "together",
        "first",
        "thing",
    ]
)
"""Words of the job that change no figure."""

STARTERS = frozenset({
    "before", "after", "when", "while", "during", "once", "against", "because", "as", "where",
    "since", "spring", "autumn", "fall",
})  # fmt: skip
"""Words that begin an aside and no name: the words behind them may stand before an amount."""

SIZES = frozenset({
    "large", "small", "big", "little", "closed", "open", "full", "generous", "good",
})  # fmt: skip
"""Words before a handful or a can that do not say how big it is."""

GROWN_ON = frozenset({"on", "onto", "in", "into"})
GROWN_FOR = GROWN_ON | {"for", "to", "over", "around", "along", "across"}
"""Links before a crop that say that the recipe is for it."""

GROWN = frozenset({
    "plant", "plants", "bed", "beds", "row", "rows", "tree", "trees", "bush", "bushes", "vine",
    "vines", "seedling", "seedlings", "transplant", "transplants", "crop", "crops", "field",
    "fields", "garden", "gardens", "plot", "plots", "patch", "orchard", "orchards",
})  # fmt: skip
"""Words around a crop's name that say no more than that it grows."""

GROWN_LEAD = GROWN | {
    "planting", "plantings", "of", "growing", "the", "a", "an", "all", "any", "my", "our", "your",
    "many", "most", "some", "new", "young", "old", "established", "mature", "bearing", "fruiting",
    "flowering", "bush", "pole", "climbing", "dwarf", "early", "late", "spring", "summer",
    "autumn", "fall", "winter", "outdoor", "indoor", "greenhouse", "potted", "container", "home",
    "feeding",
}  # fmt: skip
"""Words before a crop's name that leave it the crop that is meant."""

MADE_OF_CROPS = frozenset({
    "meal", "oil", "straw", "hulls", "husks", "flour", "gluten", "syrup", "starch", "juice",
    "extract", "pulp", "bran", "cake", "hay", "bark", "gravel", "vinegar", "mulch", "sugar",
    "stalks", "cobs", "ash", "peel", "skins", "leaves", "residue", "stubble",
})  # fmt: skip
"""Words behind a crop's name that make a stuff of it."""

HARMS = frozenset({
    "control", "kill", "kills", "killing", "killer", "removal", "removing", "weed", "weeds",
    "weedkiller", "eradication", "poison", "poisons", "poisonous", "toxic", "harm", "harms",
    "harmful", "hurts", "damage", "damages", "burns", "dangerous", "sensitive", "suffer", "die",
})  # fmt: skip
"""Words behind a crop's name that turn round what is meant for it."""

KINDS_OF_FEED = frozenset({
    "fertilizer", "fertiliser", "feed", "granules", "powder", "crystals", "solution", "granular",
    "soluble", "complete",
})  # fmt: skip
"""Words behind a material that name it once more."""

FORMS_OF_FEED = frozenset({
    "water soluble", "slow release", "controlled release", "time release", "all purpose",
})  # fmt: skip
"""What kind of a feed an analysis is, in two words: kept as words set aside."""

NOT_READ = frozenset({
    "not", "no", "never", "don't", "dont", "without", "unless", "instead", "except", "but", "if",
    "than", "less", "more", "least", "twice", "double", "triple", "halve", "again", "same",
    "extra", "only", "equal", "another", "other", "either", "neither", "per", "cannot", "avoid",
    "until", "total", "altogether",
})  # fmt: skip
"""Words that can turn a recipe round: a text with one of them left over is refused."""

TIMES = {
    "daily": "1 day", "weekly": "1 week", "fortnightly": "2 weeks", "biweekly": "",
    "monthly": "1 month",
    "every other week": "2 weeks", "every second week": "2 weeks", "once a week": "1 week",
    "once a month": "1 month", "a week apart": "1 week",
    "every week": "1 week", "every month": "1 month",
    "every day": "1 day", "every fortnight": "2 weeks",
}  # fmt: skip

NUTRIENT_WORDS = {
    "nitrogen": "N", "N": "N", "P2O5": "P2O5", "K2O": "K2O", "P": "P", "K": "K", "phosphorus": "P",
    "phosphorous": "P", "potassium": "K", "B": "B", "Ca": "Ca", "Mg": "Mg", "S": "S", "Fe": "Fe",
    "Mn": "Mn", "Zn": "Zn", "Cu": "Cu", "Mo": "Mo",
}  # fmt: skip
HELD = frozenset(NUTRIENT_WORDS) | {
    "boron", "calcium", "magnesium", "sulfur", "sulphur", "iron", "manganese", "zinc", "copper",
    "molybdenum", "phosphate", "potash", "nitrogen",
}  # fmt: skip
"""What a percentage behind a material can be of: it tells what the material holds."""
IS = frozenset({"is", "are", "be", "should", "can", "may", "must", "will"})
DONE = frozenset({
    "be", "needed", "required", "used", "applied", "added", "given", "mixed", "dissolved",
    "spread", "sprinkled", "recommended", "enough", "sufficient", "worked",
})  # fmt: skip
"""Behind a word of `IS`: it says that the rate is given, and no other figure."""
PURE = frozenset({"pure", "purity"})
SURELY = frozenset({"actual", "elemental", "element", "pure"})
