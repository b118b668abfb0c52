"""The English sentences about doses ahead. One key, one sentence."""

SENTENCES: dict[str, str] = {
    "schedule-every": "'{text}' is no interval of a plan: write whole days, weeks or months like"
    ' "14 days".',
    "schedule-time": "'{text}' is no time of the day: write it like 07:00.",
    "schedule-times": "'{text}' is no number of doses: write a whole number from 1 to {most}.",
    "schedule-no-interval": "how far apart the doses are was not told, and the recipe does not say:"
    ' add --every, like "14 days".',
    "schedule-far": "this plan reaches the year {year}: look at the first day and the interval.",
    "schedule-no-day": "a calendar needs a day, and only the sign to begin was told: add --on with"
    " the first day.",
    "schedule-form": "'{path}': write .ics at the end of a calendar's name.",
    "schedule-extra": "the calendar needs one more package: install dosecalc with its extra, as in"
    " `pip install 'dosecalc[calendar]'`.",
    "schedule-title": "{recipe} on {place}: {count}, from {day}.",
    "schedule-one": "one dose",
    "schedule-many": "{count} doses, {every} apart",
    "schedule-days": "{count} days",
    "schedule-months": "{count} months",
    "schedule-day": "1 day",
    "schedule-month": "1 month",
    "schedule-when": "It begins when: {when}. The days below take {day} for that.",
    "schedule-past-day": "Past already: {days}. What was given belongs into the record"
    " (`dosecalc log`), not into a plan.",
    "schedule-given": "The record holds this recipe on {place} on {day} already: here it counts"
    " once more.",
    "schedule-alike": "'{one}' and '{other}' look like one place; they are held as two.",
    "schedule-whose": "{whose}: {say}",
    "schedule-ahead": 'Before it starts, over the whole plan; what "the record holds" counts the'
    " earlier doses of the plan too",
    "schedule-none": "No finding of stop, over or caution on what it was held against: {count}"
    " figures. What nobody wrote down is not counted.",
    "schedule-every-dose": "{level} at every dose: {say}",
    "schedule-at-dose": "{level} at dose {number} ({day}): {say}",
    "schedule-from-dose": "{level} from dose {number} ({day}) on, {count} in all: {say}",
    "schedule-doses": "The doses",
    "schedule-dose": "{days}: {what}",
    "schedule-waits": "Waits that were held, and when each is over",
    "schedule-not-told": "Not told (`dosecalc mix` shows one dose in full, with notes and what was"
    " assumed)",
    "schedule-over": "{say} Over on {days}.",
    "schedule-hours": "{say} Counted from the hour it is given (--time tells it).",
    "schedule-harvest": "By the harvest waits held, the last is over on {day}; the label may say"
    " later.",
    "schedule-harvest-place": "{place}: by the harvest waits held, the last is over on {day}; the"
    " label may say later.",
    "schedule-shopping": "To buy for the whole plan",
    "shopping-there": "{name}: {need} in all; {left} on hand, nothing to buy.",
    "shopping-buy": "{name}: {need} in all{left}: {packs} of {pack}{cost}.",
    "shopping-loose": "{name}: {need} in all{left}: {buy} to buy (no pack size is known: --pack, or"
    " `dosecalc stock add`).",
    "shopping-through": "{need} by its likely density",
    "shopping-left": ", {left} on hand",
    "shopping-cost": ", {cost} in all",
    "shopping-pack-one": "1 pack",
    "shopping-pack-many": "{count} packs",
    "shopping-other": "{name}: {need} in all; its stock is kept by the other kind of amount and its"
    " density is not known, so it was not taken off.",
    "shopping-total": "All packs with a known price: {cost}.",
    "shopping-pack-form": "'{text}' does not say whose pack it is: write it like \"borax: 500 g\".",
    "calendar-dose": "Dose {number} of {of}: {recipe}, {place}",
    "calendar-alarm": "Tomorrow: {recipe}, {place}",
    "calendar-wait-re-entry": "Keep out: {place} ({recipe})",
    "calendar-wait-harvest": "No harvest yet: {place} ({recipe})",
    "calendar-wait-repeat": "Not again yet: {place} ({recipe})",
    "calendar-first": "The product label and local rules come first.",
    "calendar-when": "Begins when: {when}.",
}
