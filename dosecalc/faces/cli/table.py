"""Names and one-liners of the commands, readable without importing any of them."""

COMMANDS = {
    "mix": "Scale a recipe to your site: amounts, tankfuls, what it supplies.",
    "recipes": "List, show or check recipes.",
    "materials": "List or show materials.",
    "convert": "Turn an amount into another unit, a weight or a nutrient.",
}
