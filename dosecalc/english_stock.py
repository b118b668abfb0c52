"""The English sentences about stock on the shelf. One key, one sentence."""

SENTENCES: dict[str, str] = {
    "stock-kind": "{name} is kept by {kept} here: write {kept_as}, for weight and volume meet only"
    " through a density.",
    "stock-amount": "'{text}' is no amount of a product: write a weight or a volume like"
    ' "500 g" or "1 L".',
    "stock-pack": "a pack of {pack} and an amount of {amount} are not of one kind: write both by"
    " weight or both by volume.",
    "stock-cost": "'{text}' is no price: write a number with two decimals at most, and"
    ' a word for the currency if you like: 4.20 or "4.20 EUR".',
    "stock-none": "no stock is written down yet: `dosecalc stock add` does.",
    "stock-added": "{id}: {amount} {name} came in on {day}.",
    "stock-counted": "{id}: {amount} {name} counted on {day}.",
    "stock-left": "{name}: {left} left ({how}).",
    "stock-how-counted": "{counted} counted on {day}; bought since: {bought}; used since: {used}",
    "stock-how-bought": "bought since {day}: {bought}; used: {used}",
    "stock-used-measured": "{used} as measured",
    "stock-used-asked": "{used} as asked",
    "stock-used-both": "{used}, {asked} of it as asked and the rest as measured",
    "stock-short": "{name}: the record used {over} more than there was. Count what is there"
    " (`dosecalc stock count`), or write down what was bought.",
    "stock-unknown-one": "{name}: one entry used it by {told}, it is kept by {kept} and its"
    " density is not known: that entry is not subtracted.",
    "stock-unknown": "{name}: {count} entries used it by {told}, it is kept by {kept} and its"
    " density is not known: they are not subtracted.",
    "stock-strange": "{name}: not counted, because they are by the other kind of amount: {count}"
    " (`dosecalc stock list --all` shows which).",
    "stock-row-in": "  {id}: {amount} came in on {day}{more}",
    "stock-row-count": "  {id}: {amount} counted on {day}{more}",
    "stock-price": "{cost} for {pack}",
    "stock-withdrawn": "withdrawn: {id}.",
}
