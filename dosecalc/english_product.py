"""The English sentences about products of the grower's own shelf. One key, one sentence."""

SENTENCES: dict[str, str] = {
    "product-form": "product {product}: what it is was not told: add form (powder, granules,"
    " crystals, flakes, liquid, suspension or bulk), or like with a material it behaves as.",
    "product-twice": "product {product}: {element} is given twice: keep one figure.",
    "product-whole": "product {product}: its contents come to more than 100 %: look at the label"
    " again.",
    "product-empty": "product {product}: nothing tells what is in it: add analysis, holds, or like"
    " with a material of `dosecalc materials`.",
    "product-state": "product {product}: whether its analysis is of dry matter or of the product as"
    ' it lies was not told: add state = "dry" with moisture, or state = "as-is".',
    "product-moisture": "product {product}: an analysis of dry matter needs the moisture too: add"
    ' moisture = "40 %".',
    "product-percent": "product {product}: '{text}' is not {want}.",
    "product-basis": "product {product}: whether its percent are of the weight or grams in 100 mL"
    ' was not told: add basis = "w/w" or basis = "w/v".',
    "product-solid": "product {product}: only a liquid is counted in grams per 100 mL: write"
    ' basis = "w/w".',
    "product-analysis": "product {product}: '{text}' is not three numbers: write the analysis like"
    ' 5-10-10, further nutrients under holds like "2 % Ca".',
    "product-counts": "product {product}: {text} counts P2O5 and K2O on some countries' bags and P"
    ' and K on others: add counts = "oxide" or counts = "element", or a region.',
    "product-holds": "product {product}: '{text}' is no content: write it like \"2 % Ca\","
    ' "14 g/kg N" or "60 g/L K2O".',
    "product-density": "product {product}: '{text}' is no density: write it like \"0.96 g/mL\" or"
    ' "0.85-1.1 g/mL".',
    "product-pack": "product {product}: '{text}' is no pack: write a weight or a volume like"
    ' "25 kg".',
    "product-price": "product {product}: '{text}' is no price: write a number like 24.50.",
    "product-alike": "{one} and {other} both stand for {name}, and its limits could not tell them"
    " apart in one job: compute them one after the other.",
    "made-file": "'{path}': write .toml at the end of a recipe file's name.",
    "made-own": "{name} is neither a material of the catalog nor a product of the garden file, so a"
    " recipe file cannot name it: add it to the garden file under [product.{name}].",
}
