"""The closed list of words that fill the sentences of a card: figures, spoons, places, crops."""

from __future__ import annotations

PHRASES = (
    "National Poisons Centre", "Poison Help", "Poisons Information Centre", "US", "US wording",
    "a tomato", "along the row", "and", "any", "apple", "application", "area", "as a layer",
    "at least", "at most", "australian", "bean", "beetroot", "below", "blueberry", "boron",
    "broccoli", "brussels sprout", "bulb", "bulbs", "by its likely density", "cabbage", "calcium",
    "calendar year", "carrot", "cauliflower", "celery", "cherry", "chloride",
    "common practice, no source", "copper", "corn", "crop", "crops", "cucumber", "day", "days",
    "drought", "edible part touches the soil", "eight", "eleven",
    "emergency number, which passes you to the poison centre", "fertiliser", "fertilizer", "five",
    "for each plant", "four", "from memory", "frost", "general field vegetables", "grape",
    "hours", "hours to dry", "hours to rain", "houseplant", "humidity", "imperial", "in",
    "in an emergency", "in bloom", "in number", "in the growing medium", "in the mixed liquid",
    "in the solution", "in the water", "iron", "just above", "kale", "lawn", "layer", "less",
    "lettuce", "level", "level tablespoon", "level tablespoons", "level teaspoon",
    "level teaspoons", "lifetime", "magnesium", "make up to", "manganese", "medium volume",
    "melon", "metric", "metric wording", "molybdenum", "month", "months", "more", "nine",
    "nitrogen", "no", "no country's", "none at all", "of", "of it", "of water", "once", "one",
    "one eighth", "one half", "one quarter", "one third", "onion", "or", "organic production",
    "otherwise", "over the treated band", "over the whole ground", "pea", "peach", "pear",
    "pecan", "pepper", "per", "phosphate", "phosphorus", "plant", "plant protection",
    "poison centre", "pot", "potash", "potassium", "potato", "printed", "radish", "rolling years",
    "rose", "row length", "season", "seven", "shrub", "six", "sodium", "soybean", "spinach",
    "spoon", "spoons", "spray volume", "squash", "strawberry", "sulfur", "sun", "swede",
    "sweet corn", "tablespoon", "tablespoons", "teaspoon", "teaspoons", "temperature", "ten",
    "three", "three quarters", "times", "to", "together", "tomato", "turnip", "twelve", "twice",
    "two", "two thirds", "week", "weeks", "whole site", "wind", "year", "zinc",
)  # fmt: skip
"""As they stand in English; each has an entry under the context ``word`` in every language."""
