"""The English sentences of liming, acidifying and gypsum. One key, one sentence."""

SENTENCES: dict[str, str] = {
    # a soil report
    "liming-soil-ph": "'{text}' is no soil pH (3 to 10): write it like 5.8, or \"5.8 in KCl\".",
    "liming-soil-ph-liquid": "'{text}': pH is read in water, KCl or CaCl2, not in {liquid}: write"
    ' the liquid of the report, like "5.8 in KCl".',
    "liming-soil-index": "'{text}': a lime index does not say which buffer it was read in: ask the"
    ' laboratory, and write the buffer with its pH, like "Sikora 6.0".',
    "liming-soil-buffer-which": "'{text}': a buffer reading says nothing without the name of the"
    ' buffer: write it like "Sikora 6.0" ({known}; NCDA is North Carolina\'s own).',
    "liming-soil-buffer-size": "'{text}': no buffer reads under 4: check the digits.",
    "liming-soil-charge": "'{text}': {what} needs its number and unit: write it like \"6.0 meq/100"
    ' g", "1.2 meq/100 cm3" or "6.0 cmolc/kg".',
    "liming-soil-charge-size": "'{text}': {what} of a soil is not that large: check the digits and"
    " the unit.",
    "liming-soil-percent": "'{text}': write a percentage up to 100, like \"15 %\".",
    "liming-soil-ppm": "'{text}': write the soil's magnesium like \"60 ppm\".",
    "liming-soil-fizzes": "'{text}': write yes or no: drop vinegar on dry soil and see whether it"
    " fizzes.",
    # strength of a product
    "liming-value-bare": "'{text}' does not say by which count: 54 % CaO is 96 % CaCO3. Write"
    " {want}, as the label has it.",
    "liming-value-count": "'{text}': {word} is no count that is known here: write {want}.",
    "liming-value-size": "'{text}' is not more than 0 and at most what any material reaches"
    " ({most}): check the digits and the count.",
    "liming-value-over": "{text} is more than pure {name} has ({most}): check whether the label"
    " counts CaO or CaCO3, or name what it is with --product.",
    "liming-value-untold": "{name} has no liming value of its own: write the label's or the"
    ' laboratory\'s, like --liming-value "50 % CaCO3".',
    "liming-fineness": "'{text}' is no fineness: write it like \"{example}\".",
    "liming-fineness-order": "'{text}': each sieve stands once, and a finer one lets no more"
    " through than a coarser: check the numbers.",
    "liming-fineness-twice": "{text} already counts the fineness: leave out --fineness, or write"
    ' the label\'s "% CaCO3" with it.',
    "liming-fineness-need": "--fineness is not counted for this need ({need}): its source gives"
    " rates for ground lime as sold. Leave it out; it is counted where the need is in ENV.",
    "liming-fineness-sieves": "{name} counts what passes {sieves} mesh: write the share through"
    " each of these and no other.",
    "liming-fineness-none": "by the count of {name} none of it acts: it is too coarse to lime"
    " with.",
    "liming-moisture": "{text} already counts the moisture: leave out --moisture.",
    "liming-moisture-what": "'{text}': write the water in the lime like \"5 %\", less than 60 %.",
    "liming-counts": "the need is of {need} and the label says {text}: no source here turns one"
    " into the other. Ask the supplier for the count that the need uses.",
    "liming-advice": "'{text}' does not say of which lime: write it like {example}.",
    "liming-no-lime": "{name} is no lime: name one with --product (ground limestone, dolomitic"
    " limestone, hydrated lime, quicklime, wood ash).",
    "liming-acid-no-acid": "{name} does not stand in for sulfur here: name elemental sulfur,"
    " aluminum sulfate or ferrous sulfate heptahydrate with --product.",
    "liming-no-gypsum": "{name} is no gypsum: leave out --product, or name yours.",
    "liming-acid-purity": "--purity is of sulfur: leave it out with {name}.",
    "liming-acid-method-salt": "{method} counts {need} itself: leave out --product.",
    # which method
    "liming-method-none": "no method was named, and a soil report means nothing without one: add"
    " --method (one of {known}; --list says where each holds){more}.",
    "liming-method-none-advice": ", or what the report itself asks for with --advice {example}",
    "liming-method-unknown": "'{text}' is no method here: write one of {known} (--list says where"
    " each holds).",
    "liming-method-and-advice": "--advice is the report's own answer: leave out --method and the"
    " figures that it was worked out from.",
    "liming-method-surface": "only --advice may lie on top: {method} is of {way}. Leave out"
    " --surface.",
    "liming-method-region": "{method} holds for {holds}, and the region told is {region}: take a"
    " method of the place, or what your own service's report asks for with --advice.",
    "liming-method-setting": "{method} holds for {settings}, not for {text}: take another method"
    " (--list), or what the report asks for.",
    "liming-method-needs": "{method} needs {what}: add {option}.",
    "liming-method-liquid": "{method} reads pH in {want}, and pH {text} was read in {liquid}: one"
    ' is not the other. Write the reading like --ph "5.2 in {want}", or take another method.',
    "liming-method-own-target": "{method} brings the soil to {brings_to}: leave out --target-ph.",
    "liming-method-target": "{method} has figures for pH {known} and not for {text}: write one of"
    " these.",
    "liming-method-target-most": "{method} reaches pH {most} and not {text}: aim lower, or take"
    " another method.",
    "liming-method-no-depth": "{method} prints no depth, so that its figure cannot be turned into"
    " one for another: leave out --depth, and work it in evenly as deep as the soil was sampled.",
    "liming-method-depth": "{method} is for {depth}, and its source does not turn that into {text}:"
    " work it in {depth} deep, or ask the laboratory for the other depth.",
    "liming-method-texture": "{method} has figures for {known}, not for {text}: write one of these,"
    " or take another method.",
    "liming-method-outside": "{method} reaches from {low} to {high} for the {what}, and {text} lies"
    " outside: have the laboratory say the need, and write it with --advice; or take another"
    " method.",
    "liming-method-both": "{method} takes the acidity or the buffer reading: write only the one"
    " that the report prints.",
    "liming-method-acidity-per": "{method} counts meq in {want} of soil, and this is in {text}: the"
    " two differ by the weight of the soil. Write the figure of the report in {want}.",
    "liming-method-buffer": "{method} reads the {want} buffer, and this is {text}: buffers read"
    " differently. Take the method of your laboratory's buffer.",
    "liming-method-buffer-top": "a buffer reading of {text} shows no acidity to {method} (it counts"
    " below {most}): no lime by this method.",
    "liming-method-no-credit": "{method} takes no credit of an earlier liming: leave out --credit.",
    "liming-method-steps": "{method} goes {known}, and from {text} to {target} is not made of"
    " these: write such a step, or take another method.",
    "liming-method-one-step": "{method} is for {most} pH unit at a time, and from {text} to"
    " {target} is not: test again after it, or take another method.",
    "liming-none-to-raise": "the soil is at pH {text} and the target is {target}: no lime is"
    " needed. Too much locks up iron, manganese and boron.",
    "liming-none-to-lower": "the soil is at pH {text} and the target is {target}: no acid is"
    " needed.",
    "liming-none-sodium": "the exchangeable sodium is {text} % and the target is {target} %: no"
    " gypsum is needed.",
    "liming-none-asked": "{method} asks for none at these figures: do not lime by guess; test again"
    " in a year or two.",
    "liming-acid-fizzes": "the soil fizzes with vinegar: it holds free lime, which eats all the"
    " acid, so that its pH cannot be lowered ({source}). Grow what likes lime there, or acid-loving"
    " plants in pots and raised beds of other soil.",
    "liming-acid-fizz-untold": "at pH {text} it must be known whether the soil holds free lime,"
    " which makes acidifying hopeless ({source}): drop vinegar on dry soil, and add --fizzes yes or"
    " no.",
    # the sums
    "liming-need-row": "{what} {at}, column {column}: {amount}.",
    "liming-need-row-between": "{what} {at} lies between two rows, and the source does not say to"
    " draw a line between them: row {row} is taken, which asks less. Column {column}: {amount}.",
    "liming-need-band": "{texture} soil at pH {ph}, class up to {up_to}: {amount}.",
    "liming-need-flat": "Acidity {acidity} meq/100 g is not above {above}: the flat dressing,"
    " {amount}.",
    "liming-need-acidity": "Acidity {acidity} meq/100 g x {factor}: {amount}.",
    "liming-need-share": "Acidity {acidity} meq/100 cm3 x ({target} - {ph})/({top} - {ph}) = x"
    " {share}: {amount}.",
    "liming-need-credit": "Less {credit} of the earlier liming: {amount}.",
    "liming-need-step": "pH {since} to {to} on {texture}: {amount}.",
    "liming-need-each": "{count} whole steps of {step} above pH {target}, each {each}: {amount}.",
    "liming-need-sodium": "Sodium to displace: {cec} meq/100 g x ({sodium} - {target}) % = {charge}"
    " meq/100 g.",
    "liming-need-gypsum": "x {factor} t/ha of gypsum for each meq in {own}, here {depth}:"
    " {amount}.",
    "liming-need-field": "x {factor} for the field: {amount}.",
    "liming-need-advice": "The report asks for {amount} of {counts}.",
    "liming-need-sieves": "{name} ({source}): {factor} % of it counts, so that {value} is {found}.",
    "liming-need-moisture": "{moisture} % of it is water.",
    "liming-need-product": "{need} is asked for, the bag has {have}: x {times} = {amount}.",
    "liming-need-oxide": "1 part of CaO does what 1.785 parts of CaCO3 do, by molar mass.",
    "liming-need-instead": "Instead of sulfur, {factor} times as much of the salt ({source}):"
    " {amount}.",
    "liming-need-parts": "In {count} dressings of {amount}, {wait}: {limit} at one time ({source})."
    " Test the pH again before each; it may be enough.",
    "liming-need-whole": "In one dressing.",
    "liming-need-wait": "at least {wait} apart",
    "liming-need-wait-untold": "no wait between them was found published; leave a season",
    # what was taken
    "liming-taken-counts": "Quality of lime: {why}.",
    "liming-taken-no-credit": "No credit of an earlier liming was told: none is taken off"
    " (--credit).",
    "liming-taken-pure": "The strength of the {name} was not told: {value} is taken, as pure. A"
    " real one is weaker and takes more ({option}).",
    "liming-taken-score": "The lime score was not told: {text} is taken as if all of it acted."
    ' Coarse lime takes more (--liming-value "lime score 95").',
    "liming-taken-depth": "It is worked in {depth} deep, as the figures are for.",
    "liming-taken-depth-none": "The source prints no depth: work it in evenly, as deep as was"
    " sampled.",
    "liming-taken-water": 'The pH was read in water ("5.8 in KCl" says otherwise).',
    "liming-weak-method": "This need rests on {source}, not on a laboratory's calibration:"
    " published garden tables differ by a factor of two. A buffer test of your own soil is worth"
    " its price.",
    "liming-weak-salt": "The factor of {factor} for this salt rests on {source} alone; sulfur"
    " itself needs no factor.",
    "liming-weak-sodium": "This need rests on {source}, not on a service that knows your soil: have"
    " a local adviser check it before this much is bought.",
    "liming-other-tables": "For the same soil other tables here give {others}.",
    "liming-magnesium-low": "Magnesium of {text} ppm is under {below} ppm: there {where} sources"
    ' ask for dolomitic limestone ({source}). --product "dolomitic limestone" changes the sum.',
    "liming-magnesium-enough": "Magnesium of {text} ppm is not under {below} ppm, where {where}"
    " sources ask for dolomitic limestone ({source}).",
    # the recipe that comes of it
    "liming-amend-name-raise": "{product} to raise the pH",
    "liming-amend-name-lower": "{product} to lower the pH",
    "liming-amend-name-sodium": "{product} against sodium",
    "liming-amend-name-part": "{name}, dressing 1 of {count}",
    "liming-amend-work-in": "Spread half walking one way and half across it, then work it in"
    " evenly{depth}.",
    "liming-amend-on-top": "Spread half walking one way and half across it, and water it in.",
    "liming-amend-before": "At least {wait} before planting.",
    "liming-amend-retest": "Test the pH again before the next dressing, and before liming again at"
    " all.",
    "liming-amend-leach": "It only helps where the sodium can be washed out: water deeply with good"
    " water afterwards, and see that it drains.",
    "liming-amend-spread-still": "Spread it on a still day; keep the dust out of eyes and lungs.",
    "liming-amend-depth": "'{text}' is deeper than soil is worked (2 m at most): check the number"
    " and its unit.",
    "liming-amend-many": "that would take {count} dressings of what is given at one time ({limit}):"
    " check the figures of the report, their units, and the strength of the bag.",
    "liming-amend-manure": "Not in the same weeks as manure, urea or an ammonium feed: lime drives"
    " their nitrogen into the air.",
    "liming-amend-instead": "{why}",
    # the page
    "liming-amend-head": "Method: {name} ({id})",
    "liming-amend-source": "Source: {source}",
    "liming-amend-where": "Holds for: {where}",
    "liming-amend-local": "A local adviser or laboratory that knows your soil comes first.",
    "liming-amend-list": "{id}: {name}. Needs {needs}{targets}. Holds for {where}.",
    "liming-amend-list-targets": "; pH {targets}",
}
