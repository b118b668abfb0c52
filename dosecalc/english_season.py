"""The English sentences about the season's record. One key, one sentence."""

SENTENCES: dict[str, str] = {
    "season-missing": "{path} is not there: write the first entry with `dosecalc log`, or name"
    " the season's file with --season.",
    "season-not": "{path} is no season file of dosecalc: name another with --season; if it was one,"
    " it is damaged: take the last backup.",
    "season-empty": "{path} is empty, and a season never is: if it held entries they are gone, take"
    " the last backup; if it held none, delete it and write again.",
    "season-unsound": "{path} is damaged: {count} of its entries hold what dosecalc never wrote"
    " ({ids}). Nothing was changed. Take the last backup, or `dosecalc log correct` each.",
    "season-text": "'{text}' holds bytes that are no text: type it in UTF-8.",
    "season-long": "'{text}' is {length} characters long: write at most {most}.",
    "season-newer": "{path} was written by a newer dosecalc (step {step}, this one knows {known}):"
    " nothing was changed; use the newer one.",
    "season-busy": "{path} is being written by another process for more than {seconds} seconds:"
    " try again when it is done.",
    "season-damaged": "{path} is damaged: nothing was changed. Take the last backup, or what"
    " `dosecalc log export` still reads.",
    "season-write": "{path} could not be used ({why}): choose a folder you may write to, with"
    " room.",
    "season-no-entry": "'{text}' is no entry, or the beginning of several: `dosecalc log list`"
    " shows the ids.",
    "season-replaced": "entry {id} was corrected or undone already: correct the newest one.",
    "season-import": "{path}, row {row}: this is no export of a season: nothing was taken in.",
    "season-form": "'{path}': write .json or .csv at the end of the name.",
    "season-bed": "which bed it was given to was not told: add --at with a bed of the garden file,"
    " or --place with its name.",
    "season-day": "'{text}' is no day: write it like 2027-05-02.",
    "season-future": "{day} lies ahead: an entry is for what was given; write the day it was.",
    "with-record": " (with what the record holds)",
    "season-past": "With the record of {bed}: {count} entries up to {day}.",
    "season-past-one": "With the record of {bed}: 1 entry up to {day}.",
    "season-past-none": "The record holds no entry of {bed} up to {day}.",
    "season-no-place": "Nothing of the record {path} was counted; add --place or --at to say which"
    " place this is for.",
    "season-near": "No entry for '{bed}' yet; the record has '{near}'.",
    "season-logged": "logged {id}: {what} on {bed}, {day}.",
    "season-undone": "undone: {id}.",
    "season-taken": "taken in: {count}; there already: {known}.",
    "season-whole": "{path} is whole; entries that count: {count}.",
    "season-listed": "{id}  {day}  {bed}  {what}",
    "season-none": "no entry counts yet.",
    "season-more": "and older ones: --all shows them.",
    "season-copied": "copied to {path}.",
    "season-both": "give a recipe, a --text or --used, not two of them.",
}
