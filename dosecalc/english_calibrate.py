"""The English sentences of calibration. One key, one sentence; arguments in braces."""

SENTENCES: dict[str, str] = {
    # refusals
    "calibrate-kind": "'{text}' is not {want}: write it like {example}.",
    "calibrate-zero": "'{text}': {want} must be more than zero: write it like {example}.",
    "calibrate-none": "nothing was observed: write {want} like {example}, once for each time you"
    " did it.",
    "calibrate-many": "{count} {many} are more than anyone makes (at most {most}): check what was"
    " written.",
    "calibrate-count": "{what} must be a whole number from 1 to {most}: write it like 2.",
    "calibrate-apart": "the {many} run from {low} to {high}, {apart} apart where at most {most} is"
    " taken: {again} at one pace and one pressure, or take the mean as it is with --accept.",
    "calibrate-ground": "the ground of one catch must be told once: write --area, or both --width"
    " and --length.",
    "calibrate-both-vary": "only one thing may vary: write each volume and one --length, or one"
    " volume and each --length that it reached.",
    "calibrate-strip-length": "what was caught needs the length of the strip too: add --length"
    ' "10 m".',
    "calibrate-nozzle-width": "how wide the caught nozzles spray must be told once: write"
    " --nozzle-spacing (of one nozzle), or --swath (of all that were caught).",
    "calibrate-nozzle-speed": "the walking speed must be told once: write --speed, or both"
    " --distance and --walk-time.",
    "calibrate-speed-what": "write --time, once for each walk, to have the speed, or --speed to"
    " have the time that the distance takes.",
    "calibrate-band-rate": "the rate must be told once: write --on-band (on the treated strip), or"
    " --on-field (over the whole field).",
    "calibrate-rate-tank": "how much product goes into a filling needs its size: add --tank"
    ' "15 L".',
    "calibrate-dry": "a filling of liquid and an output in grams do not go together: leave out"
    " --tank, or calibrate what gives the liquid.",
    "calibrate-no-output": "this has no output that a filling could be divided by: calibrate the"
    " sprayer or can itself.",
    "calibrate-no-area": "a product that goes by area needs the width that is wetted: add --width.",
    "calibrate-reach": "that comes to {found}, which is out of any reach: check the digits and the"
    " unit of everything that was written.",
    # what is said about the catches
    "calibrate-once": "Once only: how well it repeats is not known. {again}.",
    "calibrate-agree": "The {many} lie {apart} apart; up to {most} is taken.",
    "calibrate-accepted": "The {many} lie {apart} apart, more than the {most} that is taken; their"
    " mean was used because you said so. Better: {again}.",
    "calibrate-passes": "The output is that of all {passes} passes together; a catch is one pass.",
    # against a target
    "calibrate-aim-held": "The output is {off} the {target} aimed at, inside the {allowed} either"
    " way that is taken ({source}). One catch should weigh {due}.",
    "calibrate-aim-missed": "The output is {off} the {target} aimed at, where up to {allowed}"
    " either way is taken ({source}): change the setting and catch again. One catch should"
    " weigh {due}.",
    # cautions
    "calibrate-care-liquid": "Catch clean water only, with gloves on, in still air and away from"
    " drains; rinse the sprayer or can before and after.",
    "calibrate-care-dry": "Wear gloves and keep out of the dust; sweep up what was caught and use"
    " it, leave none on paving or near drains.",
    "calibrate-not-held": "This rate was held against nothing here. The label comes first;"
    " `dosecalc mix` and `dosecalc check` hold a dose against its limits.",
    "calibrate-plot-metric": "walk {length} for 10 m2: the mL caught are then the L/ha",
    "calibrate-plot-us": "walk {length} for 1/128 acre: the US fl oz caught are then the US"
    " gal/acre",
}
