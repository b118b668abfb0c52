"""The English sentences of feeding solutions. One key, one sentence; arguments in braces."""

SENTENCES: dict[str, str] = {
    # refusals
    "solution-open": "{salts} products and {wants} wanted strengths do not fix the amounts: write"
    " a --want for each product, or leave products out.",
    "solution-many": "{count} products are more than are solved here (at most {most}): leave some"
    " out.",
    "solution-want-twice": "{element} is wanted twice (an oxide counts the same element): write one"
    " --want for it.",
    "solution-water-over": "the water already holds more {word} than is wanted: leave that --want"
    " out, or use other water.",
    "solution-water-all": "the water already holds all that is wanted: nothing is to be added.",
    "solution-want-none": "none of the products is known to hold {word} ({names}): add a --from"
    " that does.",
    "solution-salt-idle": "{name} holds none of what is wanted ({words}): leave it out, or write a"
    " --want for what it holds.",
    "solution-missed": "these products cannot meet it exactly: with {amounts} in the"
    " feed {met}, but {misses}. Change a --want, or add a --from and leave another out.",
    "solution-miss": "{word} comes to {got} mg/L, {by} mg/L {way} than the {want} wanted",
    "solution-met": "{words} would be as wanted",
    "solution-want": "'{text}' is not a wanted strength: write a number, a unit and one nutrient,"
    ' like "200 ppm N", "60 mg/L P2O5" or "20 kg N/ha".',
    "solution-want-form": "'{text}': one form of nitrogen cannot be asked for alone: write N, and"
    " choose the salt.",
    "solution-want-zero": "'{text}': a wanted strength must be more than zero.",
    "solution-want-depth": "'{text}' is an amount on the ground: say how much water carries it,"
    ' with --irrigation "10 mm" or with --feed and the ground (--area).',
    "solution-held": "'{text}' is not a figure of a water analysis: write it like \"50 mg/L NO3\","
    ' "11 mg/L NO3-N", "80 mg/L Ca" or "200 mg/L HCO3".',
    "solution-nitrate": "'{text}': laboratories count nitrate in two ways, 4.43 times apart: write"
    " NO3 for the nitrate itself, NO3-N for the nitrogen in it.",
    "solution-held-twice": "the water's {element} is given twice ({words}): write it once.",
    "solution-injector": "'{text}' is not an injector's setting: write it like \"1:100\","
    ' "1 to 128" or "1 %", the stock first.',
    "solution-injector-order": "an injector's setting has the smaller number first, for the stock:"
    ' write it like "1:100".',
    "solution-injector-water": "'{text}': a percentage counts the finished feed: leave --to-water"
    " out, or write the parts, like 1:100.",
    "solution-injector-full": "at this setting {tanks} stock tanks would leave no room for water:"
    " choose a weaker setting.",
    "solution-to-water": "--to-water says how an injector's parts are counted: add --injector.",
    "solution-irrigation": "'{text}' is not an irrigation: write a depth or a volume, like"
    ' "10 mm", "20000 L/ha" or "5000 L".',
    "solution-irrigation-twice": "--feed and --irrigation both tell how much feed is given: write"
    " one of them.",
    "solution-volume": "how much is made up was not told: add --in (the tank, or with --injector"
    " the stock tank), --feed, or --irrigation with the ground.",
    "solution-spray-volume": "--spray-volume does not belong here: write --in or --feed.",
    "solution-nothing": 'nothing to dissolve: write amounts, like "100 g 20-20-20", or --want and'
    " --from.",
    "solution-both": "amounts and --want do not go together: give the amounts to see what they come"
    " to, or --want and --from to have the amounts.",
    "solution-from": "--want needs --from, the product that is to bring it, and --from needs"
    " --want.",
    "solution-amount": "'{text}': write a weight, a volume or a strength and then the product, like"
    ' "100 g 20-20-20" or "0.6 g/L potassium nitrate".',
    "solution-amount-in": "'{text}': the tank it goes into was not told: add --in, or write a"
    " strength like 1 g/L.",
    "solution-twice": "{name} is given twice: write it once.",
    "solution-basis": "'{text}': is its analysis by weight or by volume? {word} {percent} is"
    " {weight} mg in a millilitre by weight (w/w), {volume} mg by volume (w/v). Write '{text} w/w'"
    " or '{text} w/v', as its label counts.",
    "solution-basis-solid": "'{text}': w/w and w/v are for liquid feeds whose label prints"
    " percentages: leave it out.",
    "solution-bulk": "{name} is a heap, not something that is dissolved: choose a salt, a soluble"
    " powder or a liquid.",
    # names, and what the recipe says
    "solution-tank-name": "Stock with {names}",
    "solution-feed-name": "Feed with {names}",
    "solution-purpose": "Worked out for {feed} of feed",
    # above the table
    "solution-title": "What the finished feed holds",
    "solution-ppm": "ppm is read as mg in a litre of the finished feed.",
    "solution-element": "{word} is counted as the element: {mg} mg/L {word} is {oxide} mg/L"
    " {other}.",
    "solution-in-feed": "The injector's {ratio} is read as {part} part of stock in {whole} parts of"
    " the finished feed, as extension services count (UMass Extension, Cornell). Counted as"
    " {part} to {whole} parts of water the same stock gives a feed {percent} % weaker: --to-water.",
    "solution-in-water": "The injector's {ratio} is read as {part} part of stock to {whole} parts"
    " of water, as told. Extension services count parts of the finished feed; then the same stock"
    " gives a feed {percent} % stronger.",
    "solution-in-percent": "The injector's {ratio} is a share of the finished feed.",
    "solution-stock": "Each stock is {times} times as strong as the feed: {stock} of stock makes"
    " {feed} of feed.",
    "solution-tanks": "{count} stock tanks, each {stock}, drawn at the same setting into the same"
    " water: {pairs} must not meet in a stock.",
    "solution-pair": "{one} with {other}",
    "solution-fillings": "Made in fillings of the tank of {vessel}.",
    "solution-depth": "{feed} of feed on the ground is {depth} of irrigation.",
    "solution-load": "Product in the feed: {grams} g in a litre. Its EC is out of reach: it depends"
    " on each product, and only its bag says it; measure it, and take the water's own EC off.",
    "solution-load-unknown": "The weight of product in a litre is out of reach, since a density is"
    " not known; so is the EC: measure it.",
    "solution-forms": "Of the nitrogen: {forms}.",
    "solution-form": "{mg} mg/L {form}",
    "solution-form-untold": "{mg} mg/L whose form the data do not tell (read the bag)",
    "solution-credit": "The water's own {words} counted in.",
    "solution-hard": "The water's {word}, {got} mg/L, is above {most}: carbonate may drop out"
    " unless it is acidified (a fertiliser maker's page; not a strong source).",
    "solution-alkalinity": "Alkalinity is not corrected here: how much acid a water takes needs its"
    " titration and a source for the acid, and neither is at hand. Ask a laboratory.",
    "solution-none-of": "None of {name} is needed.",
    "solution-read-basis": "{name}: its percentages are read {basis}, as told.",
}
