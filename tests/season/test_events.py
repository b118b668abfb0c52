"""Events beside the doses: written, withdrawn, carried out and in, absent from an older file."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosecalc.errors import DoseError
from dosecalc.season import steps
from dosecalc.season.events import Event, add_event, every_event, standing
from dosecalc.season.exchange import from_text, take_in, to_csv, to_json
from dosecalc.season.store import reading, writing

TEXT = st.text(st.characters(codec="utf-8", exclude_characters="\0\r"), max_size=20)


def _event(id: str, kind: str = "test", about: str | None = None, **details: str) -> Event:
    return Event(id, kind, about, "2027-05-02", "2027-05-02T08:00:00+00:00", "north", "", details)


def test_a_withdrawn_event_stays_readable_and_stands_no_more(tmp_path: Path) -> None:
    with writing(tmp_path / "s.sqlite") as base:
        add_event(base, _event("aa", B="0.6 mg/kg"))
        add_event(base, _event("bb", "withdrawn", "aa"))
    with reading(tmp_path / "s.sqlite") as base:
        assert standing(base) == []
        assert [event.id for event in every_event(base)] == ["aa", "bb"]
    with pytest.raises(DoseError, match="aa"), writing(tmp_path / "s.sqlite") as base:
        add_event(base, _event("cc", "withdrawn", "aa"))


@given(details=st.dictionaries(TEXT, TEXT, max_size=4), what=TEXT)
def test_events_go_out_and_in_to_the_last_letter(
    tmp_path_factory: pytest.TempPathFactory, details: dict[str, str], what: str
) -> None:
    folder = tmp_path_factory.mktemp("out")
    event = Event(
        "aa", "stock in", None, "2027-05-02", "2027", what, "", {**details, "amount": "5 g"}
    )
    with writing(folder / "one.sqlite") as base:
        add_event(base, event)
        texts = [to_json(base), to_csv(base)]
    for number, text in enumerate(texts):
        with writing(folder / f"{number}.sqlite") as base:
            assert take_in(base, from_text(text, "file")) == 1
            assert take_in(base, from_text(text, "file")) == 0
            assert every_event(base) == [event]


def test_a_file_of_the_first_step_is_read_without_a_step(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = tmp_path / "old.sqlite"
    with monkeypatch.context() as patch:
        patch.setattr("dosecalc.season.store.STEPS", steps.STEPS[:1])
        with writing(old):
            pass
    before = old.read_bytes()
    with reading(old) as base:
        assert standing(base) == []
    assert old.read_bytes() == before
    with writing(old) as base:
        add_event(base, _event("aa"))
    with reading(old) as base:
        assert [event.id for event in standing(base)] == ["aa"]
    assert (tmp_path / "old.sqlite.step1").is_file()


@pytest.mark.parametrize("kind", ["given", "", "crop middle"])
def test_a_kind_that_is_none_is_refused_on_the_way_in(tmp_path: Path, kind: str) -> None:
    text = '{"season": 2, "entries": [], "events": [{"id": "a", "kind": "%s", "about": null,'
    text += ' "day": "2027-05-02", "written": "x", "what": "n", "tool": "", "details": {}}]}'
    with pytest.raises(DoseError, match="row 1"):
        from_text(text % kind, "file.json")
