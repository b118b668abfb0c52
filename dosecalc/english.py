"""The English sentences. One key, one sentence; arguments in braces."""

from functools import cache

SENTENCES: dict[str, str] = {
    # reading
    "read-empty": "Nothing was written where {want} belongs: write it like {example}.",
    "read-long": "The text is {length} characters long: write at most {most}.",
    "read-number": "'{text}': no number that can be read without doubt: write it like {example}.",
    "read-big": "'{text}': the number is out of any reach: check the digits and the unit.",
    "read-comma": "'{text}': the comma can mean {decimal} or {thousand}: write it without"
    " the comma, as one or the other.",
    "read-zero-below": "'{text}': the number below the line is zero: write a fraction like 1/2.",
    "read-no-unit": "'{text}': a number without a unit: write the unit, like {example}.",
    "read-unit": "'{text}': the unit '{unit}' is not known: write {near}.",
    "read-country": "'{text}': a {unit} differs by country: write {readings}, or say whose"
    " measures the text speaks with {option}.",
    "read-no-such": "'{text}': there is no {system} {unit}: write whose it is, {readings}.",
    "read-oz": "'{text}': oz can be a weight (28.35 g) or a fluid ounce ({floz}): write 'oz by"
    " weight' or 'fl oz'.",
    "read-kind": "'{text}' is {is_kind}, but {want} is needed: write it like {example}.",
    "read-range": "'{text}' is a range, but one amount is needed: write one number.",
    "read-range-order": "'{text}': the range runs backwards: write the smaller number first.",
    "read-positive": "'{text}': {want} must be more than zero: write it like {example}.",
    "read-trailing": "'{text}': '{rest}' was not understood: leave it out, or write it like"
    " {example}.",
    "read-percent": "'{text}': % is not known without its kind: write % w/v (grams in 100 mL),"
    " % v/v (mL in 100 mL) or % w/w (grams in 100 g).",
    "read-ppm": "'{text}': ppm is not known without its kind: write mg/L for a solution or"
    " mg/kg for a solid.",
    "read-share": "'{text}' has the same unit above and below: write a bare number.",
    "read-temperature": "'{text}': write a temperature like 20 C or 68 F.",
    "read-ratio": "'{text}': write a ratio like 1:100.",
    "wrong-kind": "'{text}' is {is_kind}, but {want_kind} is needed: write an amount of that kind.",
    # catalog
    "formula": "'{text}' is not a chemical formula of known elements: write it like CuSO4.5H2O.",
    "no-density": "'{text}' of {material}: its bulk density is not known, so volume and weight"
    " cannot be turned into each other: weigh ten level spoons of it and give the weight, or"
    " use an amount by weight.",
    "analysis-number": "the analysis of {nutrient} has no number: give percent, or low and high.",
    "analysis-span": "the analysis of {nutrient} does not run low, likely, high between 0 and"
    " 100 %: put the numbers in order.",
    "span-order": "the {what} does not run low, likely, high: put the numbers in order.",
    "material-id": "'{text}' is not the id of a known material: see `dosecalc materials`.",
    "material-several": "'{text}' can mean several materials: write {which}.",
    "material-near": "'{text}' is not a known material: did you mean {near}?",
    "material-unknown": "'{text}' is not a known material: `dosecalc materials` lists the known"
    " ones; write the common trade name, without a brand.",
    "layer-depth": "'{text}': a layer takes a depth: write it like 5 cm.",
    "amount-kind": "'{text}' is {is_kind}: an amount of a material is a weight or a volume.",
    "nutrient-mass": "'{text}': an amount of {nutrient} must be a weight: write it like 1.5 lb.",
    "strength-basis": "'{text}': a percentage needs a volume it is part of: use basis"
    ' "spray volume".',
    "shipped-broken": "the shipped file {file} is damaged ({why}): install dosecalc again.",
    "source-id": "'{text}' is not a known source.",
    "recipe-unknown": "'{text}' is not a recipe of the book: did you mean {near}? A file of your"
    " own is named with its .toml ending.",
    "recipe-problems": "the recipe cannot be used: {problems}",
    "no-content": "{material} is not known to hold {nutrient}: choose a material that does, or"
    " give its analysis.",
    "convert-needs-material": "to count {nutrient} a material is needed: write it after the"
    " amount, like '15 mL borax'.",
    "check-empty": "{path} holds no .toml file: name a recipe file or a folder of them.",
    "measures": "'{text}' is not a measure system: write one of {known}.",
    # the site
    "site-rows": "{rows} rows x {one} = {total} of row",
    "site-rows-length": '--rows needs the length of one row: add --row, like --row "40 m".',
    "site-row-and-bed": "both --row and a bed with --rows-per-bed tell the length of row: give one"
    " of them.",
    "site-pots": "{pots} pots x {size} = {total} of growing medium",
    "site-plants": "{plants} plants at {spacing} along the row, counted down to whole plants",
    "site-plant-spacing": "--plant-spacing needs rows: add --row, or --area with --row-spacing.",
    "site-no-plant": "a plant spacing of {spacing} leaves no plant on this site: check it.",
    "site-bed": "{beds} of {width} x {length}: {top} of bed top, {gross} with paths",
    "site-bed-alone": "{beds} of {width} x {length}: {top}",
    "site-bed-rows": "{rows} rows x {one} = {total} of row",
    "site-shape": "{shape} = {area}",
    "site-shape-form": "'{text}' is not a shape that can be read: write {example}.",
    "site-polygon": "'{text}': a polygon needs 3 to 100 corners in order, and no two sides may"
    " cross: list the corners as you walk round the edge.",
    "site-bed-form": "'{text}': write a bed as width x length, like 75 cm x 30 m.",
    "site-two-areas": "{first} and {second} both tell the ground: give one of them.",
    "site-needs-bed": "--path, --rows-per-bed and --beds belong to a bed: add --bed, like"
    ' --bed "75 cm x 30 m".',
    "site-absurd": "{text} is beyond anything this tool is for (at most {most}): check the digits"
    " and the unit.",
    "site-band-wide": "a band of {band} is wider than the row spacing of {spacing}: check both.",
    "site-count": "'{text}': {option} takes a whole number from 1 to {most}, like {example}.",
    "site-spray": "'{text}': write the spray for the whole site (2 L) or per area (400 L/ha).",
    "tools-spoons": "'{text}' are not spoons that are known: write one of {known}.",
    "tools-nothing": "there is nothing to measure with: tell a scale, spoons, a syringe or a jug.",
    "tools-none-fits": "none of your tools can measure {amount} of {name}: tell a scale (--scale),"
    " other spoons (--spoons) or a jug (--jug).",
    "tools-scale": "'{text}': a scale that carries less than it can be trusted from ({least}):"
    " check both.",
    "tools-weighed": "'{text}': write your weighed spoons like {example}.",
    "tools-weighed-few": "'{text}': weigh {least} to {most} level spoons together: fewer say"
    " little.",
    "tools-many-spoons": "'{text}': more than {most} spoons: name the ones you would use.",
    "tools-tank": "'{text}' is no size of a sprayer or can: write 1 mL to {most}.",
    "tools-weighed-name": "'{text}': write the material, a colon and what the spoons weigh, like"
    " borax: {example}.",
    "too-many-tankfuls": "{count} fillings of {tank} are more than anyone makes (at most {most}):"
    " check the size of the sprayer with --sprayer.",
    # what the recipe needs of the site
    "need-row": 'this recipe goes by length of row: tell it with --row "40 m" (and --rows 3).',
    "need-rows-in-bed": "this recipe goes by length of row: tell how many rows the bed has with"
    " --rows-per-bed 3, or give --row.",
    "need-area": 'this recipe goes by area: tell it with --area "18 m2" or --bed "1.2 m x 8 m".',
    "need-row-spacing": "this recipe goes by area and only a length of row was told: add"
    ' --row-spacing "45 cm", or give --area.',
    "need-plants": "this recipe goes by plant: tell how many with --plants 12, or with --row and"
    " --plant-spacing.",
    "need-pots": "this recipe goes by pot: tell how many with --pots 12.",
    "need-medium": "this recipe goes by volume of growing medium: tell it with --medium-volume"
    ' "60 L", or with --pots and --pot-size.',
    "need-spray": 'this recipe makes a spray: tell how much with --spray-volume "2 L", or how'
    ' big the sprayer is with --sprayer "2 L".',
    "need-spray-volume": "how much spray this site takes was not told: add --spray-volume"
    ' ("2 L" or "400 L/ha"), or leave the site out to make up one sprayer full.',
    "need-spray-ground": "a spray volume of {text} needs the ground: add --area, --bed, or --row"
    " with --row-spacing.",
    "water-strength": "{text} of water: this recipe's strength must be kept, so its water cannot"
    " be changed: leave out --water.",
    "water-none": "{text} of water: this recipe takes no water of its own: leave out --water.",
    # what was assumed
    "assume-statement": "Of two wordings the one with less active material was used",
    "instead-statement": "Choose with --recipe-measures.",
    "assume-measures": "Measures that the recipe says it speaks",
    "assume-measures-asked": "The recipe's words read in other measures than it says it speaks,"
    " as you asked",
    "instead-measures": "Other measures: --recipe-measures.",
    "assume-spoons": "Your own spoons, level, 5 % either way",
    "instead-spoons": "Other spoons: --my-spoons.",
    "assume-scale": "A scale that reads to",
    "instead-scale": "Your own scale: --scale.",
    "assume-density": "Density of {name}",
    "instead-density": "Better: weigh it.",
    "assume-one-tank": "No ground was told, so one filling is made up",
    "instead-one-tank": "Tell the spray with --spray-volume.",
    "assume-calibrated": "The sprayer's calibrated output",
    "assume-band": "Only the band along each row is sprayed",
    "assume-bed-top": "Only the bed top is treated, not the paths",
    "instead-bed-top": "Other ground: --area.",
    "assume-bed-spacing": "Each row's share of the ground, from bed and path",
    "instead-row-spacing": "Your own: --row-spacing.",
    "assume-wide-row": "For figures per area a row's share counts as at most",
    "instead-wide-row": "A lone row is not thinned by the bare ground beside it.",
    "not-told-spacing": "Figures per area: the row spacing was not told. Add --row-spacing"
    ' "45 cm".',
    # reading back, comparing
    "read-as": "Read as: {what}, per {per} ({basis}; {measures} measures).",
    "two-wordings": "The recipe's {other} wording differs from its {used} one per {basis}:"
    " {differences}. The {used} wording was used whole.",
    "recipe-text": "{text}",
    "water": "{amount}",
    "water-up-to": "make up to {amount}",
    "off-less": "{percent} % less than asked",
    "off-more": "{percent} % more than asked",
    "assume-placement": "How it was given was not told; judged as",
    "instead-placement": "Otherwise: --placement.",
    # measuring
    "done": "used already",
    "do-weigh": "weigh {amount}",
    "do-weigh-too-fine": "weigh {amount}, too little for a scale that reads to {step} (it can be"
    " trusted from {least})",
    "do-weigh-lots": "weigh {amount} in {lots} equal lots",
    "do-syringe": "{amount} with the {size} syringe",
    "do-stock": "make a stock: {measure}, dissolve it and fill up to {volume} with water; take"
    " {take} of it, and label the rest with name, strength and date",
    "do-stock-second": "make a stock: {measure}, dissolve it and fill up to {volume} with water;"
    " make a tenth of that strength (100 mL of it filled up to 1 L) and take {take}; label the"
    " rest with name, strength and date",
    "batch": "Make {make} of the mix and use {use} of it:",
    "batch-rest": "The rest, {rest}: not a second time on this ground. Use it today on other ground"
    " that is due it, or spread it thin where nothing grows, away from water.",
    "do-spoon": "{spoons} ({whose} spoons, {amount})",
    "do-jug": "{amount} in a measuring jug",
    "do-spread": "spread {amount} loose",
    # steps
    "step-half-fill": "Half fill with water.",
    "step-dissolve": "Stir in {name} until nothing is left to see.",
    "step-add-suspend": "Mix {name} to a thin paste with a little water, then stir it in; keep it"
    " moving.",
    "step-add": "Add {name}.",
    "step-add-oil": "Add {name}, shaken up with the soap if there is one; keep it moving.",
    "step-fill-up": "Fill up with water to the mark and stir.",
    "caution-stock-up-to": "Make the stock up to {volume}: the salts take room of their own, so"
    " adding them to that much water makes it too weak.",
    "caution-stock-label": "Write on the tank what it holds, its strength and the date; a letter"
    " is not enough, for makers letter such tanks differently.",
    "caution-stock-night": "A stock near its limit in the warm drops crystals when the water"
    " cools: look before each use.",
    "caution-stock-share": "Salts that share a part (two nitrates, two potassium salts) dissolve"
    " less together than each alone, and the figures are for each alone: look for what stays"
    " undissolved.",
    "step-keep-stock": "Label and cover it; before each use stir, and look for what has settled.",
    "step-use-today": "Use it today; keep nothing made up.",
    "step-measure": "Measure out {name}.",
    "step-spread": "Spread it evenly over the treated ground, half one way and half across.",
    # cautions
    "caution-label": "The product label and local rules come first; where the law asks for a"
    " licence, a licensed person decides and applies.",
    "caution-spray": "Do not spray in wind, in strong sun or on open flowers where bees fly; try a"
    " few leaves first and wait two days.",
    "caution-water": "Keep it out of drains, ditches, ponds and wells, and the rest too.",
    "hazard-eye-damage": "{name} can damage eyes for good: wear goggles.",
    "hazard-eye-irritation": "{name} irritates eyes: wear glasses.",
    "hazard-skin-irritation": "{name} irritates skin: wear gloves.",
    "hazard-skin-burns": "{name} burns skin: wear gloves, long sleeves and goggles.",
    "hazard-caustic": "{name} is caustic and burns skin and eyes: wear gloves and goggles.",
    "hazard-dust": "{name} makes dust: do not breathe it; wear a dust mask, work out of the wind.",
    "hazard-swallowing": "{name} is harmful if swallowed: use no kitchen vessel again for food.",
    "hazard-fertility": "{name} may harm fertility or the unborn child: wear gloves, breathe no"
    " dust; not for anyone who is pregnant.",
    "hazard-aquatic": "{name} is toxic to water life: none may reach drains or water.",
    "hazard-bees": "{name} can harm bees: never on open flowers or while bees fly.",
    "hazard-oxidiser": "{name} feeds fire: keep it dry and away from fuel, sawdust and sulfur.",
    "hazard-pathogens": "{name} can carry germs: wear gloves, wash hands, keep it off what is"
    " eaten raw.",
    "hazard-mould-spores": "{name} can carry moulds and bacteria: wet it, wear a mask when it is"
    " dusty.",
    "hazard-slippery": "{name} is slippery when spilt: wipe it up.",
    "hazard-ammonia-gas": "{name} can give off ammonia: keep it from lime and wood ash, and air"
    " the room.",
    "hazard-copper-livestock": "{name} is toxic to sheep: keep animals off treated ground.",
    "hazard-corrosive-metal": "{name} eats metal: use plastic, rinse sprayer and tools.",
    "hazard-plant-burn": "{name} can burn leaves: try a few first.",
    "hazard-children": "Keep it from children and animals, in its own closed and labelled vessel.",
    # judging
    "crop-unknown": "'{text}' is not a known crop: did you mean {near}?",
    "one-of": "'{text}' is not known for {option}: write one of {known}.",
    "after-form": "'{text}': write what was applied and how long ago, like"
    ' --after "horticultural oil 20 days".',
    "label-rate": "'{text}' ({what}): write a rate per something, like 2 g/L, 1 kg/ha or"
    " 5 mL/plant.",
    "label-problems": "the label cannot be used: {problems}",
    "limit-over": "{about}, {figure} {basis}: {times} the limit of {limit}. {scope}. {source}."
    " {reason}{edge}",
    "limit-edge-none": " What was given before reaches it by itself.",
    "limit-edge-left": " With what was given before, the limit itself is reached at {amount} today:"
    " that is where harm may begin, not a dose.",
    "limit-edge": " The limit itself is reached at {amount}: that is where harm may begin, not a"
    " dose.",
    "scope": "{parts}",
    "scope-crops": "{crops}",
    "scope-settings": "{settings}",
    "scope-setting": "{setting}",
    "scope-establishing": "new beds",
    "scope-yearly": "given every year",
    "scope-window": "per {window}",
    "scope-region": "{region}",
    "scope-law": "{region} law",
    "limit-brief": "also {about}: {times} the limit of {limit}. {scope}. {source}.",
    "limit-over-weak": "{about}, {figure} {basis}: {times} the figure of {limit}, which no strong"
    " source gives. {scope}. {source}. {reason}",
    "limit-over-phase": "{about}, {figure} {basis}: {times} the limit of {limit}, if this is"
    " given that way; say which with --phase. {scope}. {source}.",
    "limit-maybe-spooned": "{about}, likely {figure} {basis} but up to {high}: may be over the"
    " limit of {limit} if spooned, so weigh it. {scope}. {source}.",
    "limit-maybe": "{about}, likely {figure} {basis} but up to {high}: may be over the limit of"
    " {limit}, as the material is not known more closely. {scope}. {source}.",
    "limit-maybe-weak": "{about}, likely {figure} {basis} but up to {high}: the high end passes"
    " {limit}, a figure that does not judge alone. {scope}. {source}.",
    "limit-close": "{about}, {figure} {basis}: close to the limit of {limit}, and the step from"
    " enough to harm is small. {scope}. {source}.",
    "limit-within": "{about}, {figure} {basis}, held against {limit} and inside it ({share})."
    " {scope}. {source}.",
    "below-useful": "{about}, {figure} {basis}: below the lowest useful rate, {limit}. {scope}."
    " {source}.",
    "excluded": "{about}: none at all for {scope}. {source}. {reason}",
    "no-limit": "{name}: no published limit was found for this use. It was held against none, which"
    " says nothing for it.",
    "far-above": "{about}, {figure} {basis}: {times} the highest rate on file, {rate}. {scope}."
    " {source}. {reason} No limit on file forbids it; look first for a slip in the text, in a"
    " unit, an area or a volume.",
    "season-at-once": "{about}, {figure} {basis}: {times} the highest rate on file for a whole"
    " {window}, {rate}, in one dose. {scope}. {source}. {reason} Give no more of it this {window}.",
    "untold-field": "{about} could not be held against {limit} ({scope}; {source}): the ground was"
    " not told. Add --row-spacing, --area or --bed.",
    "untold-row": "{about} could not be held against {limit} ({scope}; {source}): the length of"
    " row was not told. Add --row.",
    "untold-band": "{about} could not be held against {limit} ({scope}; {source}): the band was"
    " not told. Add --row and --band.",
    "untold-plant": "{about} could not be held against {limit} ({scope}; {source}): the number of"
    " plants was not told. Add --plants.",
    "untold-medium": "{about} could not be held against {limit} ({scope}; {source}): the growing"
    " medium was not told. Add --medium-volume.",
    "untold-solution": "{about} could not be held against {limit} ({scope}; {source}): there is no"
    " liquid in this recipe.",
    "untold-feed": "{about} could not be held against {limit} ({scope}; {source}): how strong the"
    " feed is that this stock is thinned to was not told (`dosecalc solution --injector` holds"
    " it).",
    "untold-density": "{about} could not be held against {limit} ({scope}; {source}): its density"
    " is not known. Weigh it.",
    "will-not-dissolve": "{name} will not dissolve: {strength} is wanted and {most} dissolves at"
    " {celsius} C{outside}. This much needs {water}.",
    "may-not-dissolve": "{name} may not dissolve wholly: up to {high} and {most} dissolves at"
    " {celsius} C{outside}. Warm the water or weigh the material. This much needs {water}.",
    "outside-measured": " (outside the measured temperatures)",
    "water-needed": "{need} (single figures: {figures})",
    "water-figure": "{water} at {celsius} C by {source}",
    "water-figure-unused": "{water} at {celsius} C by {source}, not used",
    "suspends": "{name} in water: {how}.",
    "settles": "{name} in water: {how}. What does not dissolve settles: it is poured unevenly, and"
    " the true strength is not known. Put it on the soil instead.{unless}",
    "settles-in-spray": "{name} in a spray: {how}. What does not dissolve settles and blocks the"
    " nozzle, and the true strength is not known. Put it on the soil instead.{unless}",
    "settles-unless": " A feed that its bag calls wholly soluble in water is another matter.",
    "solubility-unknown": "{name} could not be held against what dissolves: no solubility is on"
    " file. Try a little in a glass first.",
    "untold-dissolving": "{name} could not be held against what dissolves: its density is not"
    " known. Weigh it.",
    "upper-end": "At the upper end of the recipe's range: {what}",
    "cold-not-measured": "{name} may not dissolve wholly at {celsius} C: {strength} is wanted, and"
    " only warmer water was measured ({most}). Warm the water. {water}.",
    "cannot-measure": "{name}: your scale cannot be trusted with so little. Take a finer one, or"
    " make more at once.",
    "measured-off": "{name}: your tools come no closer than {percent} % {side} than asked. Take a"
    " finer spoon, a syringe or a scale.",
    "garden-no-such": "the garden file has no {kind} called '{text}': for {option} it knows"
    " {known}.",
    "setup-twice": "'{text}' is given twice: give every sprayer, row and bed a name of its own, and"
    " each word once.",
    "setup-odd": "the answers hold a sign that no garden file takes: write plain letters and"
    " digits.",
    "calibrate-save-name": "--save needs the sprayer's name in small letters: add --sprayer-name,"
    " like --sprayer-name hand.",
    "calibrate-save-nothing": "there is no output to keep in this result: leave out --save.",
    "calibrate-save-size": "the garden file does not know the sprayer '{text}' yet: add its size"
    ' with --tank, like --tank "2 L".',
    "setup-name": "'{text}': write a name in small letters, a colon and the size, like {example}.",
    "setup-word": "'{text}': after the size write words and measures, commas between; known words"
    " are {known}.",
    "tank-strength": "a strength is a weight or a volume per volume of liquid: write it like 4 g/L"
    " or 5 mL/L, both strengths alike.",
    "tank-too-full": "{left} are in the tank and {want} are wanted: use some up first.",
    "tank-too-strong": "what is left is too strong to be thinned within {want}: at that strength it"
    " makes {least}. Make up to that, or use some up first.",
    "tank-no-room": "{add} of product leave no room for water: check the strengths.",
    "tank-not-strong": "it is not stronger than wanted: nothing is to be thinned.",
    "tank-add": "Add {add} of product and {water} of water: {total} in all.",
    "tank-same": "Only onto a rest of the same product, made up today; otherwise use the rest up or"
    " get rid of it as its label says, and rinse.",
    "tank-thin": "Make it up to {total}: add {water} of plain water.",
    "tank-draw-off": "Draw off {amount} of it first into a clean, labelled vessel, or the tank runs"
    " over; thin that the same way.",
    "tank-rest": "Use it only on ground that is due it. What is left over is spread thin where its"
    " label allows, away from drains and water; none is poured away.",
    "garden-problems": "the garden file cannot be used: {problems}",
    "meeting-tank": "{one} and {other} must not meet in one tank. {why}{unless} {sources}.",
    "meeting-tank-caution": "{one} and {other} in one tank can go wrong. {why}{unless} {sources}.",
    "meeting-ground": "{one} and {other} must not go on the same ground together. {why}{unless}"
    " {sources}.",
    "meeting-ground-caution": "{one} and {other} on the same ground lose by it. {why}{unless}"
    " {sources}.",
    "unless": " Unless {why}.",
    "wait-days": "{days} days by {source}",
    "wait-days-over": "{days} days by {source} (over)",
    "wait-by": "{wait} by {who}",
    "by-label": "label of {product}",
    "by-source": "{source}",
    "by-recipe": "the recipe",
    "too-soon": "{now}, {days} days after {before}: the wait is not over, {longest} days are the"
    " longest. {why}{unless} {waits}.",
    "again-too-soon": "{name} again after {days} days: too soon, {longest} days are the longest"
    " wait. {waits}.",
    "sprayer-herbicide": "The sprayer last held weedkiller: traces kill the crop. Use another one,"
    " or rinse it as the weedkiller's label says first.",
    "weather-broken": "{names}: not now ({quantity}{shown}). {why} Sources: {sources}.",
    "weather-by": "{rule} by {source}",
    "rule-yes": "not when {quantity}",
    "rule-at least": "not at {figure} or above",
    "rule-at most": "not at {figure} or below",
    "rule-above": "not above {figure}",
    "rule-below": "not below {figure}",
    "where": " where {condition}",
    "when-not": "{names}: {rules}.",
    "weather-temperature-high": "not above {value}",
    "weather-temperature-low": "not below {value}",
    "weather-humidity-high": "not in air damper than {value}",
    "weather-humidity-low": "not in air drier than {value}",
    "weather-wind-high": "not in wind above {value}",
    "weather-hours to rain-low": "not with rain due within {value}",
    "weather-hours to dry-high": "not where leaves stay wet longer than {value}",
    "weather-in bloom-yes": "not on open flowers",
    "weather-frost-yes": "not with frost about",
    "weather-sun-yes": "not in strong sun",
    "weather-drought-yes": "not on plants short of water",
    "count-most": "{names}: at most {most} in a {window} ({source}).",
    "wait-re-entry": "{names}: keep people out for {wait}{condition} ({source}).",
    "wait-harvest": "{names}: {wait} before harvest{condition} ({source}).",
    "wait-repeat": "{names}: not again within {wait}{condition} ({source}).",
    "repeat-interval": "The recipe: not again within {interval}.",
    "repeat-most": "The recipe: at most {most} in a {window}.",
    "too-often": "{recipe}: {now} is more often than the recipe allows, {most} in a {window}.",
    "label-entry": "Label of {product}: keep people out for {wait}.",
    "label-harvest": "Label of {product}: {wait} before harvest.",
    "label-interval": "Label of {product}: not again within {wait}.",
    "label-crop": "{product}: its label, as typed, does not allow {crop}.",
    "label-water": "{product}: {water} of water is less than its label's least, {least}.",
    "law": "{names} for {use} in {region} ({as_of}): {why} {source}. The local authority decides.",
    "not-on-crop": "{recipe}: not on {crop}, says the recipe.",
    "other-crop": "{recipe}: written for {names}; it was judged for {crop}, as told, and its rate"
    " may be wrong there.",
    "assume-crop": "No crop was told; judged for",
    "instead-crop": "Beans, peas, strawberries and seedlings are hurt sooner: --crop.",
    "assume-water": "Water temperature",
    "instead-water": "Yours: --water-temperature.",
    "not-told-water": 'How much water this spray goes out in. Add --spray-volume ("5 L" or'
    ' "400 L/ha"), or a calibrated sprayer.',
    "not-counted": "What {name} supplies: its density is not known, so it is left out of the"
    " figures. Weigh it.",
    "not-told-region": "The law of the place: add --region (EU, US, UK, CA, AU, NZ).",
    # check, label, files
    "check-nothing": 'Nothing to check: write what was given, like "100 g borax".',
    "check-material": "'{text}': write a weight or a volume and then the material, like"
    ' "100 g borax".',
    "check-where": "where it went was not told: add --area, --row, --plants, --pots or --water.",
    "check-holds": "'{text}': write what the water holds like \"0.8 mg/L B\".",
    "check-holds-alone": "--holds judges irrigation water alone: leave the other amounts out.",
    "check-depth": "a depth of water needs the ground: add --area or --bed.",
    "label-needs": "a label needs --product and --material (or --ask to be asked).",
    "file-there": "{path} is there already: choose another name, or add --replace.",
    "file-write": "{path} could not be written ({why}): choose a folder you may write to.",
    "poison-first": "Swallowed: rinse the mouth, do not make them vomit, keep the packet. In the"
    " eyes: rinse under running water for a quarter of an hour. Then call at once:",
    "poison-line": "{region}: {who}, {number} ({source}).",
    "rescue": "What may help with too much {about}: {say}{only_if}{never} {source}.",
    "only-if": " Only if: {why}",
    "never": " Never: {why}",
    "ask-adviser": "Ask a local adviser or your plant-protection service before the next step, and"
    " have the soil tested.",
}


def sentence(key: str) -> str:
    """The sentence of a key.

    Raises
    ------
    KeyError
        When there is none.
    """
    return SENTENCES[key] if key in SENTENCES else every()[key]


@cache
def every() -> dict[str, str]:
    """Every sentence by its key, those too that only some commands say."""
    # Read here and not above: a dose says none of them, and start-up should not pay for them.
    from dosecalc import (
        english_calibrate,
        english_card,
        english_feed,
        english_ground,
        english_inoculate,
        english_layer,
        english_liming,
        english_product,
        english_prose,
        english_record,
        english_report,
        english_schedule,
        english_season,
        english_solution,
        english_sow,
        english_stock,
    )

    parts = (
        english_calibrate,
        english_card,
        english_feed,
        english_ground,
        english_inoculate,
        english_layer,
        english_liming,
        english_product,
        english_prose,
        english_record,
        english_report,
        english_schedule,
        english_season,
        english_solution,
        english_sow,
        english_stock,
    )
    found = dict(SENTENCES)
    for part in parts:
        found.update(part.SENTENCES)
    return found
