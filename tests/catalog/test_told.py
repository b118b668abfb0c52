"""The words that the options take are those of the schema, which the command line must not load."""

from __future__ import annotations

from typing import get_args

from dosecalc.catalog import schema, told
from dosecalc.faces import done


def test_every_word_of_the_schema_may_be_told_and_no_other() -> None:
    assert get_args(schema.Region) == told.REGIONS
    assert get_args(schema.Setting) == told.SETTINGS
    assert get_args(schema.Placement) == done.PLACEMENTS
    phases = schema.LimitEntry.model_fields["phase"].annotation
    assert get_args(phases) == ("any", *told.PHASES)
