"""The English sentences about plans of products on hand. One key, one sentence."""

SENTENCES: dict[str, str] = {
    "feed-no-solver": "a plan is found by a solver that is not installed:"
    " pip install 'dosecalc[feed]'.",
    "feed-no-whole": "no whole numbers of these measures keep every need and every limit: leave"
    " --whole out, or take smaller measures.",
}
