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
    "layer-own-product": "{name} is a product of the garden file and has its own analysis there:"
    " leave out --holds.",
    "fill-text": "'{text}': no parts that can be read: write them like \"2 parts compost, 1 part"
    ' peat, 1 part vermiculite" or "60 % topsoil, 40 % compost".',
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
    "layer-wanted": "{depth} of {name} over {ground}.",
    "layer-settled": "{remains} of {name} shall remain over {ground}. If it settles by {share} (as"
    " you typed), {depth} is spread loose.",
    "layer-unsettled": "Settling is not counted: if that depth shall remain, add --settling with"
    " your own figure.",
    "layer-of-rate": "{rate} of {name} over {ground}{depth}.",
    "layer-of-have": "{have} of {name} over {ground} is {rate}{depth}.",
    "layer-as-depth": ", {depth} deep by its likely density",
    "layer-goal": "{goal} of nitrogen for the first crop from {name} alone: it holds {content} N,"
    " and {share} of that feeds the first crop ({source}).",
    "layer-goal-rate": "That takes {rate}{depth} ({low} to {high}, from rich to poor).",
    "layer-amount": "On each square metre: {volume}{mass}.",
    "layer-total": "In all: {volume}.",
    "layer-bags": "{count} bags of {holds}; one covers {area}.",
    "layer-barrows": "{count} barrows of {holds}; one covers {area}.",
    "layer-loads": "{count} loads of {holds}; one covers {area}.",
    "layer-unknown-volume": "Its bulk density is not known, so bags and barrows cannot be counted:"
    " weigh a bucket of it and give --density.",
    "layer-feeds": "Of its nitrogen {share} feeds the first crop ({source}): {nitrogen}.",
    "layer-feeds-unknown": "How much of its nitrogen feeds the first crop is not on file"
    " (--first-year).",
    "layer-typed": "as you typed",
    "layer-share-note": "About that share: {caveat}",
    "layer-later": "Later: {printed} ({source}), so {nitrogen} in such a year.",
    "layer-later-organic": "Later: {printed} ({source}), so at most {nitrogen} in that year.",
    "layer-matter": "Organic matter: {rate}.",
    "layer-limit": "At the limit of {rate} (printed: {printed}; {scope}; {source}) it gives"
    " {feeds} of nitrogen to the first crop, and brings {brings}.",
    "layer-figure": "At {rate} (printed: {printed}; no limit: {reason} {source}) it gives {feeds}"
    " of nitrogen to the first crop, and brings {brings}.",
    "layer-limit-unfed": "At the limit of {rate} (printed: {printed}; {scope}; {source}) it brings"
    " {brings}.",
    "layer-figure-unfed": "At {rate} (printed: {printed}; no limit: {reason} {source}) it brings"
    " {brings}.",
    "layer-limit-note": "About that limit: {why} {caveat}",
    "layer-nothing": "no nutrient that is known",
    "layer-short": "The goal is not reached within that limit: it gives {percent} % of it. Take the"
    " rest from something that brings no phosphorus.",
    "layer-reached": "The goal takes {percent} % of that limit, if the nitrogen comes as likely.",
    "layer-salt-over": "{name}: {typed} lies above {above} mS/cm ({printed}; {source}). {why}"
    " {caveat}",
    "layer-salt-told": "{name}: {typed} was held against: {printed} ({source}). {caveat}",
    "layer-about": "{name}: {caveat}",
    "layer-placed-worked-in": "Counted as worked in; --placed says otherwise (on-top, mulch).",
    "layer-placed-mulch": "Counted as a mulch; --placed says otherwise (worked-in, on-top).",
    # sums of a filling
    "fill-pots": "{whole} of medium for {place}.",
    "fill-bed": "{depth} over {place}: {whole}.",
    "fill-allow": "With {allowances}, the parts measured loose and apart come to {whole}.",
    "fill-settling": "{share} settling",
    "fill-shrinkage": "{share} lost in mixing",
    "fill-unallowed": "Settling and the volume lost in mixing are not counted; the parts may fill"
    " less than their sum: --settling and --shrinkage take your own figures.",
    "fill-unsettled": "Settling is not counted (--settling).",
    "fill-unshrunk": "The volume lost in mixing is not counted (--shrinkage).",
    "fill-part": "{name}: {share} of it, {volume}{bags}.",
    "fill-part-bags": ", {count} bags of {holds}",
    "fill-part-barrows": ", {count} barrows of {holds}",
    "fill-part-loads": ", {count} loads of {holds}",
    "fill-new-bed": "A filled bed is judged as a new one (--phase establishing).",
}
