"""The English sentences about recipes as people write them. One key, one sentence."""

SENTENCES: dict[str, str] = {
    # what cannot be read
    "prose-long": "the text is {length} characters long, and a recipe is at most {most}: give the"
    " lines of the recipe alone.",
    "prose-empty": "the text is empty: write a recipe like '1 tbsp borax per 100 ft of row'.",
    "prose-sign": "'{sign}' is no sign that a recipe is written with: leave it out.",
    "prose-grammar": "'{text}' was not understood: write an amount, a material and what it is"
    " per, like '1 tbsp borax in 1 quart of water over 100 ft of row'.",
    "prose-word": "'{text}' was not understood where it stands: it could be the name of something,"
    " so leave it out or write what it is.",
    "prose-turns": "'{near}': the word '{text}' can turn a recipe round: write the recipe without"
    " it, one rate at a time.",
    "prose-bracket": "'({text})' was not understood: in brackets write the same amount once more,"
    " like 5 ml (1 teaspoon), or leave it out.",
    "prose-number": "'{near}': what {text} counts was not understood: write the unit beside it,"
    " like {text} g.",
    "prose-minus": "'{text}': a dash before a number can be a minus: write the number alone.",
    "prose-times-what": "'{near}': {text} can be how often, or how much: write 'at most {text}', or"
    " the whole amount.",
    "prose-t": "'{text}' can be a teaspoon or a tonne: write tsp, or tonne.",
    "prose-how-many": "how many {text} was not said: write the number, like 1 or 100.",
    "prose-dims": "'{text}': write a bed as two lengths with their unit, like 4 x 8 ft, and a depth"
    " apart, like 3 inches deep.",
    "prose-nothing": "no amount of a material was found: write a recipe like '1 tbsp borax per"
    " 100 ft of row'.",
    "prose-cannot": "the text cannot be used: {why}",
    "prose-three": "'{text}' states one amount a third time: give two wordings at most.",
    "prose-twin-kind": "'{text}' cannot say '{first}' once more: they measure different things.",
    "prose-or": "'{text}' leaves a choice between two things: write the one that you will use.",
    "prose-two": "'{text}' begins a second rate: read one rate at a time, each with its own"
    " amount, material and what it is per.",
    "prose-twice": "{name} stands in the recipe twice: add the two amounts up, or read one rate at"
    " a time.",
    "prose-two-every": "'{text}' are two intervals: write one, like 'every 14 days'.",
    "prose-two-waters": "'{text}' are two amounts of liquid: write the one that the materials go"
    " into.",
    "prose-two-places": "'{text}' are two places for one rate: write the one that the rate counts.",
    "prose-two-ways": "'{text}' are two ways of giving it, on the leaves and on the ground: write"
    " one.",
    "prose-times": "'{text}' is no number of times: write it like 'at most 3 times'.",
    "prose-biweekly": "'{text}' can mean twice a week or every two weeks: write 'every 14 days' or"
    " 'every 3 days'.",
    "prose-layer": "a depth of a material covers an area and takes no water: write it like"
    " '2 inches of compost over 100 sq ft'.",
    "prose-place-exact": "'{text}': what a rate is per must be one exact size: write one number.",
    "prose-place-kind": "'{text}' was not understood as a place: write a length of row, an area, a"
    " volume of water or of growing medium, plants or pots.",
    "prose-no-amount": "how much {name} was not said: write its amount beside it, like '1 tbsp"
    " {name}'.",
    "prose-of-what": "'{text}': of what was not said: write the material behind the amount, like"
    " '{text} borax'.",
    "prose-material": "'{text}': '{name}' is not a known material, and a brand says nothing about"
    " what is in it: write the trade name of the stuff, or its analysis like 5-10-10, and use the"
    " label with --label.",
    "prose-per-what": "'{text}': what it is per was not said: write 'per gallon of water', 'per"
    " 100 sq ft', 'per 10 m of row' or 'per plant' behind it.",
    # what can be read in two ways
    "prose-several": "'{text}' can be several things: write {which}{itself}.",
    "prose-percent": "'{text}' of {name}: % is not known without its kind: write '{number} % v/v'"
    " ({volume} made up to 1 L) or '{number} % w/v' ({mass} made up to 1 L).",
    "prose-by-weight": "'{text}': a share by weight says nothing of a volume: write"
    " '{number} % w/v' (grams in 100 mL).",
    "prose-ratio": "'{text}' can mean {one} part to {other} parts of water ({added} in 1 L of mix),"
    " {one} part in {other} of the whole ({whole} in 1 L), or the parts the other way round"
    " ({turned} in 1 L): name the parts, like '{one} part neem oil to {other} parts water'.",
    "prose-made-up": "'{text}' in {water} can be made up to {whole} in all, or added to that"
    " and make {added}: write 'made up to {water}', or name the parts, like 1 part milk to"
    " 9 parts water.",
    "prose-in-liquid": "'{text}' as what it goes into was not understood: write the amount and"
    " {name} together, then the volume of water.",
    "prose-upto": "'up to {text}' can be any amount below it: write the amount that you will use.",
    "prose-parts": "'{text}' of {name}: parts of a solid can be by weight or by volume: write"
    " grams or spoons in a volume of water.",
    "prose-shares": "'{text}' do not make 100 %: write the parts by name, like 4 parts milk to"
    " 6 parts water.",
    "prose-oz-cup": "'{text}' measured in a cup can be a weight or a fluid ounce: write 'oz by"
    " weight' or 'fl oz'.",
    "prose-two-liquids": "'{text}' is written for each of two materials: it can be one liquid, or"
    " two that are poured together: write the materials together and the whole water once.",
    "prose-parts-range": "'{text}': write one number of parts.",
    "prose-ppm": "'{text}' of {name}: of what was not said: write '{text} N' (mg of nitrogen in"
    " 1 L), or mg/L of the material itself.",
    "prose-oxide": "'{text}' can be the element or its oxide: write '{mass} of actual {element}'"
    " (that is {times} times as much {oxide}) or '{mass} {oxide}'.",
    "prose-nutrient": "'{text}' counts a nutrient, and which material brings it was not said: write"
    " '{text} from {example}', or another that holds {nutrient}.",
    "prose-analysis": "'{text}': whether its numbers are oxides, {oxides}, or the elements"
    " themselves differs by country: tell where the bag was bought with --region, or read US"
    " measures.",
    "prose-analysis-hundred": "'{text}' adds up to more than 100, so it is no analysis: for the old"
    " copper-lime-water notation write 'copper sulfate and hydrated lime {text}'.",
    "prose-analysis-empty": "'{text}' holds no nutrient: write what the stuff is, like ground"
    " limestone.",
    "prose-copper-gallon": "'{text}' is pounds of copper sulfate, pounds of lime and {gallons}"
    " gallons, which differ by country: add --recipe-measures us (3.785 L) or imperial (4.546 L).",
    "prose-copper-lime": "'{text}': which lime was not said: write 'copper sulfate and hydrated"
    " lime {text}', or quicklime, which is stronger by a third.",
    "prose-foot-square": "'{text}' can be an area of {number} square {unit} ({area}) or a square of"
    " {number} {unit} each way ({square}, {times} times as much): write '{number} sq {unit}' or"
    " '{number} x {number} {unit}'.",
    "prose-gr": "'{text}' can be a gram or a grain (0.065 g): write g, or the weight in grams.",
    # 30 to 115 g: an allotment association's page on handfuls of granules, read 2026-11-24.
    "prose-size-handful": "'{text}': one handful of granules is 30 g in a small closed hand and 115"
    " g in a large open one: weigh yours and write the grams.",
    "prose-size-cap": "'{text}': caps differ in size: fill yours with water, measure that and"
    " write the mL.",
    "prose-size-pinch": "'{text}': a {word} has no size: weigh it, or write a part of a teaspoon.",
    "prose-size-drop": "'{text}': drops differ (one page has 60 to a teaspoon,"
    " 0.08 mL each; 20 to a mL is common, 0.05 mL): count how many"
    " make 1 mL and write the mL.",
    "prose-size-vessel": "'{text}': how much a {word} holds was not said: write its volume or"
    " weight, like 2 L or 50 lb.",
    "prose-size-spoon": "'{text}': which spoon was not said: write teaspoon (5 mL) or tablespoon"
    " (15 to 20 mL, by country).",
    "prose-place-tree": "'{text}': trees differ in size: write 'per plant' and"
    " tell --plants where every tree gets the same, or the area under the crown.",
    "prose-place-growth": "'{text}': this rate goes by the size or the age of a plant, which was"
    " not told: work out the amount for yours and write it 'per plant'.",
    "prose-place-bed": "'{text}': how big the {word} is was not said: write its size, like per"
    " 4 x 8 ft or per 100 sq ft.",
    "prose-place-row": "'{text}': how long the row is was not said: write its length, like per"
    " 100 ft of row.",
    "prose-place-vessel": "'{text}': how much the {word} holds was not said: write its volume, like"
    " per 2 gallons.",
    "prose-place-mu": "'{text}': a {word} is not the same everywhere (one mu is 667 m2, and is"
    " often mistaken for an acre of 4047 m2): write the area in m2 or ha.",
    "prose-heaped-range": "'{text}': a range of heaped spoons is two doubts at once: level them and"
    " write the number.",
    "prose-purity-range": "'{text}': a purity in brackets must be one number: write it alone.",
    "prose-purity-none": "'{text}': a purity is more than 0 and at most 100 %: write that of the"
    " bag, or leave it out.",
    "prose-purity-low": "'{text}' can be how pure {name} is, what it holds of a nutrient, or how"
    " strong the mix is: write '({number} % pure)', or leave it out and write the amount alone.",
    "prose-purity-unused": "'{text}': what a purity would change in {name} is not known: leave the"
    " brackets out.",
    "prose-cce": "'{text}': whether the amount counts pure lime or the lime as it is was not said:"
    " for pure lime write the amount x 100 / {number} ({times} times as much), for the lime as it"
    " is leave the neutralising value out.",
    "prose-cce-what": "'{text}': a neutralising value was not understood: leave it out, and where"
    " the amount counts pure lime write the amount x 100 / that value.",
    # the answers to choose from
    "answer-measures": "{whose} measures: {amount}",
    "answer-area": "an area of {area}",
    "answer-square": "a square of {number} {unit} each way: {area}",
    "answer-percent-volume": "by volume: {volume} made up to 1 L",
    "answer-percent-mass": "by weight in the volume: {mass} made up to 1 L",
    "answer-ratio-added": "{one} to {other} of water: {volume} in 1 L of mix",
    "answer-ratio-whole": "{one} in {other} of the whole: {volume} in 1 L of mix",
    "answer-ratio-turned": "the other way round, {one} to {other} of water: {volume} in 1 L of mix",
    "answer-material": "{name}",
    "answer-amount": "{amount} of {name}",
    "answer-gives": "{amount} of {name}: {gives} of {element}",
    "answer-itself": "{amount} of {nutrient} itself, from {name}: {mass} of that",
    "answer-nutrient": "{mass} of {nutrient}, which is {as_mass} of {as_nutrient}",
    "answer-weight": "a weight: {amount}",
    "answer-fluid": "{whose} fluid ounces: {amount}",
    "ask-which": "'{text}' can be read in several ways:",
    "ask-number": "Which one is meant (1 to {count}; nothing to stop)",
    "ask-again": "'{text}' is none of them.",
    "ask-text": "The same without a question: {text}",
    "ask-measures": "Whose measures, without a question: --recipe-measures {measures}",
    "ask-rate": "Which rate, without a question: --rate {rate}",
    # how it was read
    "prose-own-size": "The text says how much a {word} holds: {size}.",
    "prose-purity-read": "{name} is taken as {percent} % pure, as written.",
    "prose-crop": "Crop from the text: {names}.",
    "prose-crops": "Crops from the text: {names}.",
    "prose-plainly": "That is {what} for each {per}.",
    "prose-about": "'About' was left out: {text} is read as it stands.",
    "prose-heaped": "A heaped {text} holds one to two level ones: read as {text} to {to}, level;"
    " better level it.",
    "prose-row": "Read {size} as a length of row.",
    "prose-medium": "Read {size} as a volume of growing medium.",
    "prose-box": "Read {text} as {area} of ground.",
    "prose-pot": "Read as one pot of {size}: tell only pots of that size.",
    "prose-water-vehicle": "The {size} of water only carries it: more or less will do.",
    "prose-water-strength": "The strength in {size} of water is kept.",
    "prose-flow": "Read as {size} of the made-up liquid for each {place}.",
    "prose-bulk": "The loose materials together make the growing mix: {total}, before it settles.",
    "prose-share": "Read as {one} part {name} to {other} parts water by volume, poured together.",
    "prose-copper-read": "Read {text} as pounds of copper sulfate pentahydrate, pounds of {lime},"
    " gallons of water.",
    "prose-element": "Read {word} as the element, not its oxide.",
    "prose-oxides": "Read {text} as a {where} label: P2O5 and K2O, not P and K.",
    "prose-elements": "Read {text} as a label of {where}: P and K themselves, not their oxides.",
    "prose-straight": "Read {text} as {name}, with the analysis that is written.",
    "prose-way": "How it is given was not said: read as {way} ({placement}).",
    "prose-way-told": "Given as {way} ({placement}).",
    "prose-repeat": "Repeat: not again within {interval}; times at most: {most}.",
    "prose-window": "At most {count} times: read as in one season.",
    "prose-aside": "Left aside: {words}.",
    "prose-agree": "Its two wordings agree within 2 %: {first}; {second}.",
    "prose-differ": "Its two wordings differ: {second} is {percent} % more than {first}. One whole"
    " wording is used, the smaller unless --recipe-measures chooses.",
    "prose-differ-density": "Its two wordings differ: through the likely density of {name},"
    " {second} is {percent} % more than {first}. One whole wording is used, the smaller unless"
    " --recipe-measures chooses.",
    "prose-two-apart": "Its two wordings, {first} and {second}, cannot be held together: the"
    " density is not known.",
    # a page with several rates
    "page-several": "the text holds {count} rates. Add --rate 1 (or another number) to use one of"
    " them, or give that one alone:",
    "page-one": "one rate in the text can be read, and more that cannot. Add --rate 1 to use it and"
    " leave the rest aside, or give it alone:",
    "page-line": "{number}. '{quote}'{given}: {plainly}{gives}",
    "page-line-times": "   That is {times} times rate {other}.",
    "page-line-warns": "   {warns}",
    "page-line-same": "   That is the same as rate {other}.",
    "page-gives": " Here: {amounts}.",
    "page-judged": " Judged: {levels}.",
    "page-cannot": " Here: {why}",
    "page-unread": "Not read: {words}.",
    "page-chosen": "Rate {number} of {count} in the text: '{quote}'.",
    "page-given": "Taken from the rest of the text: {given}.",
    "page-differs": "The text also has rate {number}, '{quote}': {times} times the one used here.",
    "page-same": "The text has the same once more as rate {number}, '{quote}'.",
    "page-rate": "'{text}' is no rate of this text: it holds {count}, counted from 1.",
    "page-no-text": "--rate chooses among the rates of a --text: leave it out for a recipe.",
    "prose-page-long": "the text holds more than can be told apart: give the lines of one rate.",
    "prose-both": "give either a recipe or --text, not both.",
    "prose-none": "give a recipe (an id of the book or a .toml file), or --text with the words of"
    " one.",
    "prose-file": "{path} cannot be read ({why}): name a text file, or - for standard input.",
    "prose-own-analysis": "'{name}' is known by the analysis that is written alone, and a recipe"
    " file names materials of the catalog: use --text with `dosecalc mix`.",
    # sums and claims that do not hold
    "sum-more": "{percent} % too much",
    "sum-less": "{percent} % too little",
    "sum-times": "too much by a factor of {times}",
    "sum-part": "too little by a factor of {times}",
    "sum-is": "'{text}' does not hold: {left} is {right}, so the figure is {off}.",
    "sum-comes": "'{text}' does not hold: {left} comes to {right}, so the figure is {off}.",
    "sum-row": "'{text}': the others are one proportion, and by it '{odd}' would be {right}: that"
    " figure is {off}.",
    "sum-covers": "'{text}' does not hold: {depth} deep, {heap} covers {right}, so the figure is"
    " {off}.",
    "sum-holds": "'{text}' does not hold: with {feed}, {amount} hold {right} of {nutrient}, so"
    " the figure is {off}.",
    "claim-needs": "'{text}' does not hold: with {feed} it takes {right} to bring {amount} of"
    " {nutrient}, so the figure is {off}.",
    "claim-slip": "'{text}' is right for {label}, which the label counts, and not for {nutrient}"
    " itself: that would be {right}, so the figure is {off}.",
    "claim-same": "'{text}' does not hold: it takes {right} of {feed} to bring the same, so the"
    " figure is {off}.",
    "claim-content": "'{text}': by the catalog {name} holds {holds}, so the figure is {off}.",
    "claim-content-as": "'{text}': by the catalog {name} holds {holds}, so the figure is {off};"
    " {printed} % would be right for {other}.",
    "claim-holds": "{share} % {word}",
    "claim-holds-pure": "{share} % {word} when pure",
    "claim-weight": "'{text}' makes {name} weigh {implied} g/mL, and the catalog has {span} g/mL:"
    " measured by that volume and not by that weight, the dose is {off}.",
    "claim-weights": "'{one}' makes {name} weigh {light} g/mL and '{other}' {heavy} g/mL, {times}"
    " times as much: weigh a measured volume of your own.",
    "claim-weights-full": "'{one}' makes {name} weigh {light} g/mL and '{other}' {heavy} g/mL,"
    " {times} times as much (a vessel counted as full): weigh a measured volume of your own.",
    "claim-strength": "'{text}': the amounts make {made}, so {printed} % is {off}.",
    "claim-strengths": "'{text}': {printed} % is said of amounts that make {low} to {high} % by"
    " volume, {percent} % apart.",
    "claim-made-volume": "{share} % by volume",
    "claim-made-whole": "{share} % of the whole",
    "claim-made-weight": "{share} % w/v",
    "claim-made-weights": "{share} % of the whole by weight",
}
