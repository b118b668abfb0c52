"""The English sentences about ground, crops and tests of the season. One key, one sentence."""

SENTENCES: dict[str, str] = {
    # ground
    "ground-in-use": "'{bed}' is ground of its own already on {day}: withdraw what made it, or"
    " choose another name (event {id}).",
    "ground-used": "'{name}' has entries before {day} already: choose the day on which it began, or"
    " another name.",
    "ground-gone": "'{bed}' was split or merged on {day} already and is no ground of its own since:"
    " name what it became (event {id}).",
    "ground-became": "'{name}' became {parts} on {day}: name the one that is meant.",
    "ground-not-yet": "'{name}' began on {day}, as part of {of}: name {of} for a day before it.",
    "ground-adds-up": "the parts of {name} ({parts}, {day}) come to {total}, and it was {whole}:"
    " amounts are shared by the parts' own sizes.",
    "ground-one": "'{text}': a split needs two parts or more, such as"
    ' --into "north-a 12 m2" "north-b 6 m2".',
    "ground-merge-one": "'{text}': a merge needs two places or more, such as"
    ' "north-a 12 m2" "north-b 6 m2" --into north.',
    "ground-twice": "'{text}' stands twice: each part needs a name of its own.",
    "ground-size": "'{text}': write a name and then its size, an area or a length, such as"
    ' "north-a 12 m2".',
    "ground-kinds": "'{text}': sizes are all areas or all lengths, such as"
    ' "north-a 12 m2" "north-b 6 m2".',
    "ground-no-size": "how big '{name}' is was not told, and a mean over merged ground needs it:"
    ' write it behind the name, such as "{name} 12 m2".',
    "ground-rests": "'{id}' cannot be withdrawn alone, for later splits or merges rest on it:"
    " withdraw those first, the newest first.",
    "ground-unheard": "nothing is on record of '{name}' so far: is it spelt as before?",
    "ground-split": "split {id}: {name} is {parts} from {day} on. What was given to it counts for"
    " each part in full per area and per length; amounts are shared by size.",
    "ground-merge": "merged {id}: {parts} are {name} from {day} on. A limit is held against the"
    " part"
    " that got the most; the mean over all of it is shown beside.",
    "ground-after": "{count} entries for {name} are dated after {day}: they count for each of"
    " {parts}.",
    "ground-part": "{bed} is part of what was {words} until {day}: what was given to that counts in"
    " full per area and per length.",
    "ground-merged": "{bed} was merged of {words} on {day}: judged as the part that got the most.",
    "ground-late": "{count} entries name {words} after it was split or merged: they count for all"
    " that"
    " came of it.",
    "with-record-part": " (with what the record holds of the part that got the most; {mean} as the"
    " mean over the merged ground)",
    "with-record-no-mean": " (with what the record holds of the part that got the most; the mean is"
    " not known, as the sizes of the parts were not told)",
    # crops
    "crop-started": "{crop} stands on {place} from {day} on ({id}).",
    "crop-ended": "{crop} on {place} ended on {day} ({id}).",
    "crop-beside": "{others} stands there too: name the crop with every dose.",
    "crop-no-start": "no start of {crop} on {place} is on record: what was given for it counts by"
    " its"
    " days.",
    "crop-no-end": "nothing stands on {place} on {day} by the record: name the crop that ended.",
    "crop-which": "{crops} stand on {place}: name the one that ended.",
    "season-crop": "Crop: {crop}, which by the record stands here since {day}.",
    "season-crop-filed": "Crop: {crop}, which by the record stands here since {day}; the garden"
    " file"
    " says {filed}.",
    "season-crop-other": "By the record {crop} stands here; it is judged for {told}, as told.",
    "season-crops-several": "By the record {crops} stand here: name the one that is meant.",
    # tests
    "test-form": "'{text}': write what, the figure, its unit and what the soil was shaken with,"
    " such as"
    ' "B 0.6 mg/kg hot-water", or "pH 6.4" (units: {units}).',
    "test-twice": "'{text}' was told before with the same method: write it once.",
    "test-nothing": "a test needs figures: add --soil or --leaf, such as"
    ' --soil "B 0.6 mg/kg hot-water".',
    "test-both": "soil and leaf are two tests: log them one after the other.",
    "test-logged": "logged {id}: {of} test of {place}, {day}: {figures}.",
    "test-figure": "{of} {text} ({about})",
    "test-how": "{text}",
    "test-no-how": "the extractant was not told, so that nobody can read the figure",
    "test-no-how-leaf": "method not told",
    "test-crop": "{text}",
    "test-depth": "{text} deep",
    "test-lab": "{text}",
    "tested-soil": "soil test of {bed}, {day} ({days}): {say}. It is shown and not interpreted.",
    "tested-leaf": "leaf test of {bed}, {day} ({days}): {say}. It is shown and not interpreted.",
    "tested-none": "no soil test of {bed} is on record.",
    "tested-other": "no soil test of {bed} on record tells {names}.",
    "tested-today": "today",
    "tested-ago-one": "1 day before",
    "tested-ago": "{days} days before",
    # events
    "event-listed": "{id}  {day}  {kind}  {what}  {details}",
    "event-none": "no crop, test, split or merge is on record.",
    "event-withdrawn": "withdrawn: {id} ({kind}, {what}, {day}).",
    "event-no": "'{text}' is no event, or the beginning of several: `dosecalc log events` shows the"
    " ids; a dose is taken out with `dosecalc log undo`.",
    "event-future": "{day} lies ahead: write down what has happened, on its day.",
    "event-place": "which ground is meant was not told: add --place with its name.",
}
