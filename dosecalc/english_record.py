"""The English sentences about what the rules ask to be written down."""

SENTENCES: dict[str, str] = {
    "gaps-held": "Held against {rule} ({id}), for {who}. It concerns {about} of {of} entries.",
    "gaps-none-about": "Held against {rule} ({id}), for {who}. It concerns none of the entries.",
    "gaps-missing": "{name}: missing in {count} of {of}{when}{how}",
    "gaps-no-gap": "every field that an entry can answer holds something; whether it is what the"
    " rule wants was not judged.",
    "gaps-when": " ({when})",
    "gaps-how": "; write it with {how}",
    "gaps-nothing": "nothing in this record answers: {names}.",
    "gaps-unknown": "entries with a material that is not of the catalog: {count}; whether the rule"
    " is about them is not known, so they were left out.",
    "gaps-no-region": "Held against no rule of what to write down: no region is known. A garden"
    " file with a region, or --rule, says which ({known}).",
    "gaps-no-rule": "No rule of what to write down is on file for {region}: ask the authority.",
    "gaps-others": "Held against nothing more; --rule names one that may be yours: {known}.",
    "gaps-rule": "'{text}' is no rule of what to write down: write one of {known}.",
    "also-form": "'{text}': write it like --also \"start=06:30\".",
    "also-word": "'{text}' is no word that --also knows: write one of {known}, or put it into"
    " --note.",
    "also-twice": "'{text}' was told twice: write it once.",
}
