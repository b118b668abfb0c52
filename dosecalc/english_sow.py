"""The English sentences about seed, inoculants and live controls. One key, one sentence."""

SENTENCES: dict[str, str] = {
    # refusals
    "tally-form": "'{text}' is no count: write a number and what is counted, like \"{example}\".",
    "tally-per": "'{text}': for each of what was not told, or not by area, length of row, weight,"
    ' volume or plant: write it like "{example}".',
    "tally-thing": "'{text}': {word} is not what is counted here, and a count is no weight and no"
    ' volume: write it like "{example}".',
    "tally-size": "'{text}' is no count that can be meant: write a number above zero like"
    ' "{example}".',
    "tally-whole": "'{text}' is no whole number: living things are counted whole, like"
    ' "{example}".',
    "tally-dot": "'{text}': the point could stand before thousands or before decimals: write"
    " thousands without it, like 1500, or decimals with a zero behind, like 1.5000.",
    "sow-share": "'{text}' is no share for {option}: write a percent above 0 like {example}.",
    "sow-share-zero": "a {name} that leaves no seed to come up cannot be sown: check that percent.",
    "sow-size": "a seed of {text} is out of reach: check the weight of a thousand, or the count.",
    "sow-unknown": "the weight of '{text}' seed is not on file: did you mean {near}? Else give"
    ' --thousand "1.2 g" (a thousand seeds) or --seed-count "850/g".',
    "sow-two-sizes": "--thousand and --seed-count both say how heavy a seed is: give one of them.",
    "sow-thousand": "'{text}' is no weight of a thousand seeds: write it like \"1.2 g\"; seeds for"
    ' each gram go with --seed-count "850/g".',
    "sow-seed-count": "'{text}' does not say how many seeds a weight holds: write it like"
    ' "850 seeds/g" or "25000/oz"; a weight of a thousand goes with --thousand.',
    "sow-goals": "{count} of --stand, --rate, --have and a number of plants (--plants, or"
    " --plant-spacing with rows) were given: one of them says how much, so give exactly one.",
    "sow-dense": "{count} seeds on a metre of row, a square metre or a plant's place cannot be"
    " meant: check the digits and the unit.",
    "sow-stand": '\'{text}\' is no stand: write it like "25 plants/m2" or "8 plants per m of row".',
    "sow-rate": "'{text}' is no weight of seed for an area or a row and counts no seeds: write it"
    ' like "20 lb/acre", "1 oz/100 ft" or "6 seeds/ft".',
    "sow-rate-is": "a rate of {text} can be of the seed as it lies in the bag or of pure live"
    " seed{both}: add --rate-is bag or --rate-is live.",
    "sow-rate-is-word": "'{text}' is not one of bag, live.",
    "sow-rate-is-count": "--rate-is belongs to a rate by weight: leave it out where seeds are"
    " counted.",
    "sow-rate-is-alone": "--rate-is says more about a --rate: add one, or leave it out.",
    "sow-live-needs": "a rate of pure live seed needs what the tag says: add --germination"
    ' "90 %" and --purity "98 %".',
    "sow-have": "'{text}' is neither a weight nor a number of seeds: write it like \"50 g\" or"
    ' "500 seeds".',
    "sow-twice": "--establishment counts germination and emergence together: leave out"
    " --germination and --emergence, or leave out --establishment.",
    "sow-live-establishment": "--establishment does not tell how many seeds live, so pure live seed"
    " is not known: give --germination and --emergence instead.",
    "sow-counted": "with a coat it matters whether the weight of the seeds was taken with it: add"
    " --counted coated or --counted bare.",
    "sow-counted-word": "'{text}' is not one of bare, coated.",
    "sow-counted-alone": "--counted says whether seeds were weighed in their coat: add --coating"
    ' "34 %", or leave it out.',
    "sow-purity-of": "a purity of {purity} with a coat of {coating} can count the coat as other"
    " matter or leave it out: add --purity-of bag (the tag counts the whole bag) or --purity-of"
    " seed.",
    "sow-purity-of-word": "'{text}' is not one of bag, seed.",
    "sow-purity-of-alone": "--purity-of needs both --purity and --coating: add them, or leave it"
    " out.",
    "sow-purity-over": "purity and coat together are more than the whole bag: that purity is of"
    " the seed without its coat, so write --purity-of seed.",
    "sow-packet": "'{text}' is not what one packet holds: write it like \"{example}\".",
    "sow-inoculant": "'{text}' is no rate for an inoculant: write it for a weight of seed, like"
    ' "4 g/kg" or "2 oz/25 lb", or for a length of row, like "1 US fl oz/1000 ft".',
    "sow-living": "'{text}' does not say how many living cells the inoculant holds: write it like"
    ' "2 billion CFU/g" or "1e9 CFU/mL", as its inoculant is measured.',
    "sow-living-alone": "--living says what an inoculant holds: add --inoculant, or leave it out.",
    "sow-treated-both": "--treated and --untreated were both given: write what the tag says.",
    "sow-mixed": "{options} does not go with {other}: seed is sown, living things are let out; give"
    " the options of one.",
    "sow-release": "how many {name} shall be let out was not told: add --release, like"
    ' "{example}"{printed}.',
    "sow-release-form": '\'{text}\' is no release: write it like "50/m2", "10 per plant" or'
    ' "1 million/100 m2".',
    "sow-releases": "'{text}' is no number of releases: write a whole number from 1 to 52.",
    "sow-every": "'{text}' is no time between releases: write it like \"2 weeks\".",
    "sow-every-alone": "--every stands between several releases: add --releases 2 or more.",
    "sow-no-mix": "living things in counted packs are not weighed, so there is nothing for"
    " {option} to hold: leave it out, or for nematodes tell packs and water with --packet and"
    " --spray-volume.",
    # sums of seed
    "sow-title": "{name}: seed for {ground}",
    "sow-wanted": "Wanted: {rate}, so {plants} plants on {ground}.",
    "sow-wanted-plants": "Wanted: {plants} plants.",
    "sow-wanted-rate": "Wanted: {rate} of seed as it lies in the bag.",
    "sow-wanted-count": "Wanted: {rate}.",
    "sow-wanted-live": "Wanted: {rate} of pure live seed; this bag is {share} pure live seed, so"
    " {bag} of it.",
    "sow-from-have": "All of {have} goes on {ground}.",
    "sow-seeds": "Seeds to sow: {seeds}.",
    "sow-seeds-for": "Seeds to sow: {seeds}, for {share} of them become plants{how}.",
    "sow-seeds-how": " ({germination} germinate, {emergence} of those come up)",
    "sow-weight": "Weight from the bag: {weight}; a thousand seeds weigh {thousand}{whose}.",
    "sow-weight-of-bag": "Of that weight {pure} is pure seed{coat}.",
    "sow-weight-coat": ", the coat of {coating} counted out",
    "sow-whose": " ({printed}; {source})",
    "sow-typed": " (as you typed)",
    "sow-live": "Pure live seed in it: {weight} ({share} of the bag by weight).",
    "sow-stand-comes": "Stand to expect: {plants} plants{where}.",
    "sow-packets": "Packets of {holds}: {count}.",
    "sow-spacing": "Along the row that is one seed every {apart}.",
    "sow-not-told": "Not told, and counted as 100 %: {names}. Fewer come up in the ground than by"
    " the tag: that is the least seed and the most plants.",
    "sow-inoculant-on": "Inoculant: {amount} on {seed} of seed ({rate}, as you typed).",
    "sow-inoculant-row": "Inoculant: {amount} in {row} of furrow ({rate}, as you typed).",
    "sow-living-on": "Living cells: {each} on each seed; {all} in all.",
    "sow-published": "Published, no limit: {printed} ({source}).{caveat}",
    "sow-published-row": "Published, no limit: {printed} ({source}); yours is {times} that.",
    "sow-other-count": "Another source counts {printed} ({source}).",
    "sow-own-count": "Seed differs from lot to lot: weigh a hundred of yours and give --thousand.",
    "sow-about": "{caveat}",
    "sow-treated-not-told": "Whether the seed is treated was not told: see its tag, and add"
    " --treated or --untreated.",
    "sow-treated": "Treated seed: its tag comes first ({source}).",
    # sums of a release
    "sow-release-title": "{name}: {releases} on {ground}",
    "sow-release-one": "1 release",
    "sow-release-many": "{count} releases",
    "sow-release-every": "{count} releases, {every} apart",
    "sow-release-need": "Wanted: {rate}, so {need} in each release.",
    "sow-release-packs": "Packs of {holds}: {packs} for each release, {all} in all; {given} are let"
    " out, {times} what is wanted.",
    "sow-release-much": "The packs hold more than twice what is wanted: a smaller pack, or a"
    " neighbour who shares it, wastes fewer lives.",
    "sow-release-water": "Water: {water} for each release{cans}.",
    "sow-release-can": ", one filling of {can}",
    "sow-release-cans": ", {count} fillings of {can}, {each} in each",
    "sow-release-can-and-last": ", one filling of {can} with {each} and one of {last} with {rest}",
    "sow-release-cans-and-last": ", {count} fillings of {can} with {each} in each and one of {last}"
    " with {rest}",
    "sow-release-stir": "Keep stirring: they sink.",
    "sow-release-first": "Stir the packs into {first} first; what of that goes into each filling"
    " stands below.",
    "sow-release-when": "Moist soil, out of the sun, in the evening; soil from 4 to 35 C, best from"
    " 20 to 30 C ({source}).",
    "sow-release-use": "Alive and short-lived: let them out on the day they come, and keep sprays"
    " off them.",
    "sow-release-law": "Ask first whether this kind may be let out where you are: some need a"
    " permit (common practice, no source).",
    "sow-release-label": "What the pack says of number, water and time comes first.",
}
