"""The English sentences about inoculants. One key, one sentence; arguments in braces."""

SENTENCES: dict[str, str] = {
    # refusals
    "inoculate-what": "'{text}' is not on file as an inoculant: write rhizobium or mycorrhiza.",
    "inoculate-rate-none": "how much was not said: add --rate, like {example}.",
    "inoculate-rate": "'{text}' is no rate for an inoculant: write it like {example}.",
    "inoculate-no-label": "'{text}' counts live cells, and how many the inoculant holds was not"
    ' told: add --living from its label, like "1 billion CFU/g" or "120 propagules/g".',
    "inoculate-label": "'{text}' does not say how many the inoculant holds as it is measured: write"
    ' it like "1 billion CFU/g" or "1e9 CFU/mL".',
    "inoculate-other-things": "'{text}' and the label ({label}) count different things: write the"
    " rate in what the label counts.",
    "inoculate-no-seed": "'{text}' is a rate on seed, and how much seed was not told: add --seed,"
    ' like "2 kg" or "2000 seeds".',
    "inoculate-seed-idle": "'{text}' is no rate on seed: leave out --seed, or write the rate like"
    " 5 g/kg.",
    "inoculate-no-size": "'{text}': how many seeds that is, or what they weigh, needs the weight of"
    ' a seed: add --thousand "200 g" or --seed-count "5/g".',
    "inoculate-dry": "'{text}': mycorrhizal inoculants are reckoned by weight here: write the rate"
    " in grams, or in propagules with --living.",
    "inoculate-not-released": "{text} is an inoculant and is not let out: use dosecalc inoculate.",
    "inoculate-nothing": "a card and a recipe file need a ground: add --row, --area or --plants.",
    # the sums
    "inoculate-title": "{name} on {where}",
    "inoculate-amount": "{rate}: {amount} in all.",
    "inoculate-cells": "{rate}: {amount} in all, with {cells} {things} ({label} by its label).",
    "inoculate-each": "On each seed: {each} {things}, if the label still holds.",
    "inoculate-packs": "Packs of {holds}: {count}.",
    "inoculate-measure": "Measure it: {action}.",
    "inoculate-label-first": "Its kind must fit the crop; the pack's own rate, crops and date come"
    " first.",
}
