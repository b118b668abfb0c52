"""The English sentences about plans of products on hand. One key, one sentence."""

SENTENCES: dict[str, str] = {
    "feed-no-solver": "a plan is found by a solver that is not installed:"
    " pip install 'dosecalc[feed]'.",
    "feed-no-whole": "no whole numbers of these measures keep every need and every limit: leave"
    " --whole out, or take smaller measures.",
    # needs and credits
    "feed-two-words": "'{text}': '{word}' can mean several things: write {which}.",
    "feed-no-nutrient": "'{text}': no nutrient is named: write an amount and what it counts, like"
    ' "120 kg/ha N" or "60 kg/ha P2O5".',
    "feed-several": "'{text}': several nutrients are named: give each an option of its own, like"
    ' "120 kg/ha N".',
    "feed-amount-kind": "'{text}': an amount of a nutrient is a weight for each area, length of"
    ' row, plant, pot or volume of growing medium, or for the whole site: "120 kg/ha N",'
    ' "5 g/plant N", "200 g N".',
    "feed-nitrate": "'{text}' can count the nitrate or the nitrogen in it, 4.4 times apart: write"
    " '{number} NO3-N', or '{number} as NO3'.",
    "feed-water-holds": "'{text}' does not say how much nitrate the water holds: write it like"
    ' "9 mg/L NO3-N" or "40 mg/L as NO3".',
    "feed-water-depth": "'{text}' is no depth of water: write it like \"200 mm\".",
    "feed-credit": "'{text}' is no credit that is on file: write {near}, or an amount like"
    ' "30 kg/ha N from clover".',
    "feed-credit-spread": "{text}: how much was spread was not told: write it like"
    ' "{text}: 20 t/ha".',
    "feed-credit-plain": "{text} does not go by what was spread: leave out what stands behind the"
    " colon.",
    # a soil report
    "soil-problems": "{problems}",
    "soil-unit": "{nutrient}: '{text}' does not say what it counts: write it with its unit as the"
    " laboratory printed it ({known}; ppm is mg/kg).",
    "soil-extractant": "{nutrient}: {text} means nothing without what drew it from the soil: add"
    ' extractant = "Olsen", "Mehlich-3", "Bray-1" or what the report says.',
    "soil-depth": "{nutrient}: {text} counts the soil of an area down to a depth that was not told:"
    ' add depth = "15 cm" as the report has it.',
    "soil-ph": "'{text}' is no pH of a soil: check it.",
    "soil-ph-in": "pH {text}: what it was measured in was not told, and the figures lie up to one"
    ' apart: add ph_in = "water", "CaCl2" or "KCl". A buffer pH is no soil pH.',
    "soil-organic": "'{text}' is no share of organic matter: write it like \"3.2 %\".",
    "soil-twice": "{nutrient} stands twice in the report: keep one figure of it.",
    # what is on hand
    "feed-no-need": 'what is needed was not told: add --need "120 kg/ha N", once for each'
    " nutrient.",
    "feed-need-twice": "{nutrient} is asked for twice: keep one --need for it.",
    "feed-no-have": "what is on hand was not told: add --have urea, once for each product.",
    "feed-have-twice": "'{text}' stands twice among the products on hand: keep one.",
    "feed-not-on-hand": "{option} speaks of '{text}', which no --have names: {known}.",
    "feed-no-site": "a weight for the whole site needs the site: add --area, --bed, --row,"
    " --plants or"
    " --pots.",
    "feed-percent": "'{text}': write {option} as a share like \"{example}\".",
    "feed-pair": "'{text}': write {option} like \"{example}\".",
    "feed-counts": "{text} counts P2O5 and K2O on some countries' bags and P and K on others: add"
    " --counts oxide or --counts element, or a --region.",
    "feed-liquid": "{name} is a liquid, and a plan spreads dry products: scale it by its own recipe"
    " and give what it brings as a --credit.",
    "feed-holds-nothing": "{name}: nothing is on file of what it holds: give its own"
    " analysis in the"
    " garden file (docs/products.md).",
    "feed-first-year": "{name} must rot before it feeds, and how much of its nitrogen feeds"
    " this crop"
    ' was not told: add --first-year "{text}: 15 %" from its analysis or an adviser.',
    "feed-no-price": "--prefer cost needs a price of every product; none was told of {names}.",
    "feed-water-both": "nitrate in irrigation water needs both --watered and --water-holds.",
    # the result
    "feed-nearest": "What follows falls short of the needs by the least that can be; every limit is"
    " kept.",
    "feed-clash-need": "{word}: {asked} is needed on this site; while the others of this list hold,"
    " {reached} can be had.",
    "feed-clash-none": "{word}: {asked} is needed on this site; while the others of this list hold,"
    " none of it can be had from these products.",
    "feed-clash-stock": "{name}: {asked} is on hand; while the others of this list hold, it takes"
    " {reached}.",
    "feed-clash-limit": "{about}: {limit} ({scope}). While the others of this list hold, it"
    " comes to"
    " {times} that. {split}{reason} {source}.",
    "feed-clash-spent": "{about}: {limit} ({scope}), and nothing is left of it. {reason} {source}.",
    "feed-much": "{word}: {more} more than this crop needs. {why} ({source})",
    "feed-dressing": "DRESSING {number} OF {of}: {percent} % of the nitrogen",
    "feed-dressing-days": ", at least {days} days after the one before",
    "feed-products": "Products",
    "feed-products-searched": "Products (whole numbers as the solver found them, not proven)",
    "feed-split": "'{text}': write the split as shares of the nitrogen that add up to 100 %, each"
    ' later one with its wait if it is known: "40 %, 60 % after 28 days".',
    "feed-split-no-n": "--split shares out the nitrogen, and no nitrogen is needed: leave it out,"
    " or add --need.",
    "feed-split-advice": "Nitrogen to standing {crops}: {when} ({source}).",
    "feed-split-credits": "Credits of nitrogen are taken off before the rest is shared out.",
    "feed-split-untold": "When the later dressings are due was not told, and nothing is on file for"
    ' this crop: ask locally, and write "60 % after 28 days".',
    "feed-clash-split": "That limit counts a single application: {count} of them would hold it,"
    ' --split "{split}". ',
    "feed-nothing": "nothing can be given of these products, so there is nothing to print or save:"
    " run it without -o and --save to see why.",
    "feed-table": "Needed and brought, in {unit}",
    "feed-bars": "o credit, # products, + more than needed, . missing, | the need",
    "feed-credit-line": "{word}: {amount} from {name}",
    "feed-credit-span": "; published up to {high}, the low end counts",
    "feed-as-volume": ", {volume} of it as it lies",
    "feed-of-whole": ", {count} x {whole}",
    "feed-costs": ", costs {money}",
    "feed-unused": "{name}: not used",
    "feed-pass-days": "{one} first, {other} at least {days} days later: {why} {source}.",
    "feed-pass-apart": "{one} and {other} one after the other, never mixed in a bucket, as they"
    " must not share a tank: {why} {source}.",
    "feed-assume-needs": "The needs are as typed. Without a soil test nobody knows what the ground"
    " holds already.",
    "feed-assume-excess": "What is brought beyond the needs is kept down in this order: {order}.",
    "feed-assume-how": "How it is given was not told: {how} (--how).",
    "feed-assume-credit": "The credit from {name}: the low end of the published span counts;"
    " published for {scope}.",
    "feed-assume-scope": "The credit from {name} was published for {scope}.",
    "feed-assume-first": "{name}: {percent} % of its nitrogen is counted for this crop. The rest"
    " comes in later years and belongs among their credits.",
    "feed-assume-share": "{name}: {percent} % of its nitrogen is counted for this crop (published:"
    " {printed}. {source}). The rest comes in later years and belongs among their credits. What its"
    " own test says goes before: --first-year.",
    "feed-assume-all": "{name}: all its phosphorus and potassium is counted for this crop,"
    " and every"
    " limit is held against the whole of it.",
    "feed-assume-label": "An analysis from a label is a least content: a bag may hold more.",
    "feed-assume-near": "Up to {percent} % more or less than needed counts as met.",
    "feed-soil-level": "The report has {nutrient} at {figure} ({by}): {word}, by {scale}"
    " ({source})."
    " That is a level and no need; the needs are as typed.",
    "feed-soil-much": "The report has {nutrient} at {figure} ({by}): {word}, by {scale} ({source})."
    " Ask why any {nutrient} is needed there.",
    "feed-soil-silent": "The report has {nutrient} at {figure} ({by}): no scale on file speaks of"
    " that, so it is not read.",
}
