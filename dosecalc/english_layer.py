"""The English sentences about layers and fillings. One key, one sentence."""

SENTENCES: dict[str, str] = {
    # refusals
    "layer-allowance": "an allowance of {text} is out of reach: write a share from 0 to 50 %.",
    "layer-share": "'{text}' is no share for {option}: write a percent like {example}.",
    "layer-no-nitrogen": "{material} is not known to hold nitrogen: give its own analysis with"
    " --holds, or a depth with --layer.",
    "layer-no-share": "how much of the nitrogen of {material} feeds the first crop is not on file:"
    ' add --first-year, like "10 %", from a source that you trust.',
    "layer-not-bulk": "{material} does not come as a heap, so a depth of {text} says little: give a"
    ' weight for the area with --rate, like "100 g/m2".',
    "layer-goals": "{count} of --layer, --rate, --have and --nitrogen were given: one of them says"
    " how much, so give exactly one.",
    "layer-settling-only": "--settling belongs to a depth that shall remain: add --layer, or leave"
    " it out.",
    "layer-rate": '\'{text}\' is no rate for an area: write it like "40 t/ha", "75 lb/100 sq ft"'
    ' or "10 L/m2".',
    "layer-have": '\'{text}\' is neither a volume nor a weight: write it like "2 m3" or "1 t".',
    "layer-nitrogen": "'{text}' is no nitrogen for an area: write it like \"100 kg/ha\".",
    "layer-placed": "'{text}' is not one of worked-in, on-top, mulch.",
    "layer-salt": "'{text}' is no conductivity: write it like \"4 mS/cm\" (the same as dS/m and"
    " mmho/cm).",
    "layer-own-alone": "--state, --moisture and --density say more about an analysis: add --holds,"
    ' like --holds "1.2 % N".',
    "layer-own-state": "whether that analysis is of dry matter or of the heap as it lies was not"
    " told: add --state dry with --moisture, or --state as-is.",
    "layer-own-state-word": "'{text}' is not one of dry, as-is.",
    "layer-own-moisture": "an analysis of dry matter needs the moisture of the heap too: add"
    ' --moisture "45 %".',
    "layer-own-product": "{name} is a product of the garden file and has its own analysis there:"
    " leave out --holds.",
    "fill-text": "'{text}': no parts that can be read: write them like \"2 parts compost, 1 part"
    ' peat, 1 part vermiculite" or "60 % screened topsoil, 40 % garden'
    ' compost".',
    "fill-mixed": "'{text}': some are parts and some are percent: write all of them one way.",
    "fill-percent": "'{text}' comes to {sum} %: make it 100 %, or write parts.",
    "fill-many": "'{text}' has {count} components: write at most {most}.",
    "fill-not-bulk": "{material} does not come as a heap: mix it in by weight with a recipe for a"
    " volume of growing medium, and leave it out of the parts.",
    "fill-twice": "{material} stands twice among the parts: write it once.",
    "fill-place": "what shall be filled was not told: add --medium-volume, --pots with --pot-size,"
    ' or a bed (--bed "1.2 m x 2.4 m" or --area) with its depth, --layer "30 cm".',
    "fill-two-places": "a bed and a volume of growing medium were both told: give one of them.",
    "fill-depth": 'a bed was told, but not how deep it shall be filled: add --layer "30 cm".',
    # sums of a layer
    "layer-wanted": "Wanted: a layer of {depth}.",
    "layer-settled": "Wanted: {remains} after it settled by {share} (as you typed), so {depth} is"
    " spread loose.",
    "layer-unsettled": "Settling is not counted: if that depth shall remain, add --settling with"
    " your own figure.",
    "layer-of-rate": "Wanted: {rate}{depth}.",
    "layer-of-have": "All of {have} is {rate}{depth}.",
    "layer-is-depth": ", {depth} deep",
    "layer-as-depth": ", {depth} deep by its likely density",
    "layer-goal": "Wanted from this alone: {goal} of nitrogen for the first crop. It holds"
    " {content} N, and {share} of that feeds the first crop ({source}).",
    "layer-goal-rate": "That takes {rate}{depth}.",
    "layer-goal-ends": "If it is rich and gives its nitrogen soon {low} will do; if it is poor and"
    " slow it takes {high}. Have it tested.",
    "layer-amount": "On a square metre {volume}{mass}; in all {total}.",
    "layer-bags": "Bags of {holds}: {count}; one covers {area}.",
    "layer-barrows": "Barrows of {holds}: {count}; one covers {area}.",
    "layer-loads": "Loads of {holds}: {count}; one covers {area}.",
    "layer-unknown-volume": "Its bulk density is not known, so volume and weight cannot be turned"
    " into each other: weigh a bucket of it and give --density.",
    "layer-feeds": "First crop: {share} of its nitrogen ({source}), {nitrogen}.",
    "layer-feeds-unknown": "How much of its nitrogen feeds the first crop is not on file"
    " (--first-year).",
    "layer-typed": "as you typed",
    "layer-share-note": "That share: {caveat}",
    "layer-later": "Later years: {printed} ({source}), {nitrogen} in such a year.",
    "layer-later-organic": "Later years: {printed} ({source}), at most {nitrogen} in that year.",
    "layer-matter": "Organic matter on a square metre: {mass}.",
    "layer-limit": "Limit, {rate} (printed: {printed}; {source}): {feeds}it brings {brings}.",
    "layer-figure": "No limit, {rate} (printed: {printed}; {source}): {feeds}it brings {brings}."
    " {reason}",
    "layer-feeding": "first crop {nitrogen} of nitrogen; ",
    "layer-limit-note": "That limit: {why} {caveat}",
    "layer-nothing": "no nutrient that is known",
    "layer-short": "The goal is not reached within that limit: this gives {percent} of it. Take the"
    " rest from something that brings no phosphorus.",
    "layer-reached": "The goal takes {percent} of that limit, if the nitrogen comes as likely.",
    "layer-salt-over": "{name} at {typed} is salty ({printed}; {source}). {why} {caveat}",
    "layer-salt-care": "It is salty by its own test: keep it off seedlings, beans and"
    " strawberries.",
    "layer-salt-told": "{name} at {typed} was held against: {printed} ({source}). {caveat}",
    "layer-salt-none": "{name}: nothing was found to hold {typed} against.",
    "layer-own-kept": "Not in your analysis and counted as on file for the material: {words}.",
    "layer-not-own": "Its analysis is a typical one on file, not of your heap, and whether it was"
    " dry or moist is not always known: --holds takes your own.",
    "layer-about": "{caveat}",
    "layer-setting": "Where it is was not told: the figures above are those of a garden (--setting"
    " says otherwise).",
    "layer-placed-worked-in": "Counted as worked in; --placed says otherwise (on-top, mulch).",
    "layer-placed-mulch": "Counted as a mulch; --placed says otherwise (worked-in, on-top).",
    # sums of a filling
    "fill-wanted": "Wanted: {whole} of medium.",
    "fill-bed": "Wanted: {depth} deep, {whole} in all.",
    "fill-allow": "With {allowances} (as you typed) the parts, measured loose and apart, come to"
    " {whole}.",
    "fill-settling": "{share} settling",
    "fill-shrinkage": "{share} lost in mixing",
    "fill-unsettled": "Settling is not counted: --settling takes your own figure.",
    "fill-unshrunk": "What the parts lose in volume when they are mixed is not counted: they may"
    " fill less than their sum. --shrinkage takes your own figure.",
    "fill-part": "{name}: {share} by volume, {volume}{weight}{vessels}.",
    "fill-vessel-bag": "; bags of {holds}: {count}",
    "fill-vessel-barrow": "; barrows of {holds}: {count}",
    "fill-vessel-load": "; loads of {holds}: {count}",
    "fill-new-bed": "A bed that is filled is judged as a new one (--phase establishing).",
    "fill-figure": "{name} alone comes to {depth}; printed, no limit: {printed} ({source}).",
    "fill-about": "{name}: {caveat}",
}
