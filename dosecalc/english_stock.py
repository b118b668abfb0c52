"""The English sentences about stock on the shelf. One key, one sentence."""

SENTENCES: dict[str, str] = {
    "stock-kind": "{name} is kept by {kept} here: write {kept_as}, for weight and volume meet only"
    " through a density.",
    "stock-amount": "'{text}' is no amount of a product: write a weight or a volume like"
    ' "500 g" or "1 L".',
    "stock-pack": "a pack of {pack} and an amount of {amount} are not of one kind: write both by"
    " weight or both by volume.",
    "stock-cost": "'{text}' is no price: write a number like 4.20.",
    "stock-none": "no stock is written down yet: `dosecalc stock add` does.",
    "stock-added": "{id}: {amount} {name} came in on {day}.",
    "stock-counted": "{id}: {amount} {name} counted on {day}.",
    "stock-left": "{name}: {left} left ({how}).",
    "stock-how-counted": "{counted} counted on {day}, {bought} bought since, {used} used since",
    "stock-how-bought": "{bought} bought since {day}, {used} used",
    "stock-short": "{name}: the record used {over} more than came in. Count what is there"
    " (`dosecalc stock count`), or write down what was bought.",
    "stock-unknown": "{name}: {count} entries used it by the other kind of amount, and its density"
    " is not known: they are not subtracted.",
    "stock-withdrawn": "withdrawn: {id}.",
}
