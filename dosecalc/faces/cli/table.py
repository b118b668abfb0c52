"""Names and one-liners of the commands, readable without importing any of them."""

COMMANDS = {
    "mix": "Scale a recipe to your site: amounts, tankfuls, what it supplies.",
    "solution": "Feeding solutions: strengths, stocks for an injector, fertigation.",
    "plan": "From what the ground needs to how much of each product on hand.",
    "card": "Print it as a sheet for whoever mixes it; or a season's pack.",
    "check": "Judge what was already done, and what may be done now.",
    "log": "Write down what was given; list, correct, undo, export it.",
    "schedule": "Doses ahead: the whole plan judged before it starts; calendar, cards, shopping.",
    "stock": "What stands on the shelf: came in, counted, used by the record.",
    "label": "Type in what a product's label says.",
    "layer": "Compost, manure or mulch over ground: depth, bags, what comes along.",
    "fill": "Beds and pots filled with a medium by parts.",
    "tank": "Top up a tank that is not empty, or thin what is too strong.",
    "calibrate": "From what was caught or refilled to litres a hectare, or grams a square metre.",
    "lime": "Raise the pH of a soil by its report: lime, doses, waits.",
    "acidify": "Lower the pH of a soil by its report: sulfur, or why it is hopeless.",
    "gypsum": "Displace the sodium of a sodic soil with gypsum.",
    "setup": "Ask the way to a garden file: region, tools, sprayers, beds.",
    "recipes": "List, show or check recipes.",
    "materials": "List or show materials.",
    "convert": "Turn an amount into another unit, a weight or a nutrient.",
}
