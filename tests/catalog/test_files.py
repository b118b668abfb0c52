"""Hostile and sloppy files: every fault is a problem with its place, soon, never an exception."""

from __future__ import annotations

import re
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dosecalc.catalog import build, checking, files, lookup
from dosecalc.errors import Problem

GOOD = """\
name = "Borax beside the beetroot"
purpose = "A little boron for one row at Saltmarsh Lane"
how = "drench"
placement = "row-drench"
practice = "common practice, no source"

[[statement]]
measures = "metric"
basis = "row length"
per = "5 m"

[[statement.ingredient]]
material = "borax"
amount = "5 mL"
role = "active"

[statement.water]
amount = "350 mL"
need = "vehicle"

[repeat]
most = 1
window = "crop"
"""
SOON = 1.0  # seconds of processor time; unguarded, the worst of these takes minutes (measured)


def check_bytes(raw: bytes) -> list[Problem]:
    """Problems of a recipe's bytes, timed."""
    start = time.process_time()
    found, problems = lookup.load_recipe("mine", raw, "mine.toml")
    assert time.process_time() - start < SOON
    assert bool(problems) or found is not None
    return problems


def check(text: str) -> list[Problem]:
    return check_bytes(text.encode("utf-8"))


def changed(old: str, new: str) -> str:
    """The good recipe with one piece replaced."""
    assert GOOD.count(old) == 1
    return GOOD.replace(old, new)


def test_the_good_recipe_has_no_problems() -> None:
    assert check(GOOD) == []


def chain(parts: int) -> str:
    return ".".join(["a"] * parts)


HOSTILE: dict[str, bytes | str] = {
    "huge": b"# " + b"x" * 300_000,
    "huge text": f'{GOOD}caveat = "{"x" * 300_000}"',
    "nested lists": f"a = {'[' * 5000}{']' * 5000}",
    "unclosed lists": f"a = {'[' * 5000}",
    "nested inline tables": f"a = {'{a = ' * 5000}1{'}' * 5000}",
    "mixed nesting": f"a = {'[{a = ' * 2500}1{'}]' * 2500}",
    "table header of 5000 parts": f"[{chain(5000)}]",
    "indented table header of 5000 parts": f"   [ {chain(5000)} ]",
    "array header of 5000 parts": f"[[{chain(5000)}]]",
    "table header of 5000 quoted parts": "[" + ".".join(['"a"'] * 5000) + "]",
    "dotted key of 5000 parts": f"{chain(5000)} = 1",
    "dotted key in a table": f"[statement]\n{chain(5000)} = 1",
    "dotted key in an inline table": f"statement = {{ {chain(5000)} = 1 }}",
    "exponent at the top": "a = 1e99999999",
    "exponent in a known key": changed('amount = "5 mL"', "amount = 1e99999999"),
    "negative exponent": "a = 1e-99999999",
    "5000 digits": f"a = {'9' * 5000}",
    "5000 digits in a known key": changed("most = 1", f"most = {'9' * 5000}"),
    "5000 digits, grouped": f"a = {'_'.join(['9'] * 5000)}",
    "5000 decimals": f"a = 0.{'1' * 5000}",
    "5000 digits of base 16": f"a = 0x{'f' * 5000}",
    "5000 digits of base 16 in a known key": changed("most = 1", f"most = 0x{'f' * 5000}"),
    "5000 digits of base 2": f"a = 0b{'1' * 5000}",
    "latin 1": GOOD.replace("beside", "be\xefde").encode("latin-1"),
    "utf 16": GOOD.encode("utf-16"),
    "a byte order mark": b"\xef\xbb\xbf" + GOOD.encode(),
    "a lone surrogate": b'name = "\xed\xa0\x80"',
    "an escaped surrogate": 'name = "\\ud800"',
    "zero bytes": b"\x00" * 1000,
    "a zero byte": GOOD.encode().replace(b"beetroot", b"beet\x00root"),
    "random bytes": bytes(range(256)) * 20,
    "not TOML": "name: Borax\nhow: drench\n",
    "JSON": '{"name": "Borax"}',
    "an open string": 'name = "Borax',
    "a key twice": 'name = "Borax"\nname = "Borax"',
    "a table twice": "[repeat]\n[repeat]",
    "nothing": "",
    "only a comment": "# borax",
    "line ends alone": "\n" * 50_000,
    "many keys": "\n".join(f"k{n} = 1" for n in range(10_000)),
    "many statements": GOOD + '[[statement]]\nmeasures = "metric"\n' * 3000,
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_bytes_give_a_problem_soon(name: str) -> None:
    content = HOSTILE[name]
    problems = check_bytes(content if isinstance(content, bytes) else content.encode())
    assert problems
    for problem in problems:
        assert problem.file == "mine.toml"
        assert problem.message.endswith((".", "?"))
        assert len(problem.message) < 500
        # The words are for a grower: nothing of the parser's own insides.
        assert not re.search(r"recursion|sys\.|JSON|Traceback|Error", problem.message)
        assert str(problem).startswith("mine.toml")


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_bytes_are_no_material_either(name: str) -> None:
    content = HOSTILE[name]
    raw = content if isinstance(content, bytes) else content.encode()
    start = time.process_time()
    data, problems = files.parse_toml(raw, "odd.toml")
    problems = problems or checking.validate("material", data, "odd.toml")
    assert time.process_time() - start < SOON
    assert problems


# What a person gets wrong: the problem names the place as a person counts, and the way out.
PLACES: list[tuple[str, str, str, str]] = [
    # the text, the place, two pieces of the message
    (changed("purpose =", "purpos ="), "purpos", "the top of the file", "did you mean 'purpose'?"),
    (
        changed("amount = \"5 mL\"", "amuont = \"5 mL\""),
        "statement 1, ingredient 1, amuont",
        "statement 1, ingredient 1",
        "did you mean 'amount'?",
    ),
    (
        changed("amount = \"5 mL\"", "amuont = \"5 mL\""),
        "statement 1, ingredient 1, amount",
        "'amount' is missing",
        "add it",
    ),
    (
        changed('need = "vehicle"', 'need = "vehicle"\nneeds = "water"'),
        "statement 1, water, needs",
        "statement 1, water",
        "did you mean 'need'?",
    ),
    (GOOD + 'cautions = ["Once."]\n', "repeat, cautions", "not known in repeat", "move it"),
    (
        changed("[repeat]", 'order = ["Stir."]\n\n[repeat]'),
        "statement 1, water, order",
        "not known in statement 1, water",
        "move it",
    ),
    (changed('name = "Borax beside the beetroot"\n', ""), "name", "'name' is missing", "add it"),
    (changed('per = "5 m"\n', ""), "statement 1, per", "'per' is missing", "add it"),
    (
        changed('material = "borax"\n', ""),
        "statement 1, ingredient 1, material",
        "'material' is missing",
        "add it",
    ),
    (
        changed('amount = "5 mL"', "amount = 5"),
        "statement 1, ingredient 1, amount",
        "5 is not quoted text",
        "unit",
    ),
    (
        changed('amount = "350 mL"', "amount = 350.5"),
        "statement 1, water, amount",
        "350.5 is not quoted text",
        "unit",
    ),
    (changed('per = "5 m"', "per = nan"), "statement 1, per", "not quoted text", "unit"),
    (changed('per = "5 m"', "per = -inf"), "statement 1, per", "not quoted text", "unit"),
    (changed('per = "5 m"', "per = true"), "statement 1, per", "not quoted text", "unit"),
    (changed('per = "5 m"', "per = 2026-05-01"), "statement 1, per", "quoted text", "write"),
    (
        changed('per = "5 m"', "per = 2026-05-01T10:00:00Z"),
        "statement 1, per",
        "quoted text",
        "write",
    ),
    (changed('per = "5 m"', "per = 10:00:00"), "statement 1, per", "quoted text", "write"),
    (changed('per = "5 m"', 'per = ["5 m"]'), "statement 1, per", "text", ""),
    (changed('per = "5 m"', 'per = {x = "5 m"}'), "statement 1, per", "text", ""),
    (changed('per = "5 m"', 'per = ""'), "statement 1, per", "", ""),
    (changed('per = "5 m"', f'per = "{"5 m " * 30}"'), "statement 1, per", "", ""),
    (changed("most = 1", 'most = "1"'), "repeat, most", "", ""),
    (changed("most = 1", "most = 1.0"), "repeat, most", "", ""),
    (changed("most = 1", "most = true"), "repeat, most", "", ""),
    (changed("most = 1", "most = nan"), "repeat, most", "", ""),
    (changed('how = "drench"', 'how = "drinch"'), "how", "'drinch' is not one of", "'drench'"),
    (
        changed('basis = "row length"', 'basis = "row"'),
        "statement 1, basis",
        "is not one of",
        "'row length'",
    ),
    (
        changed('measures = "metric"', 'measures = "french"'),
        "statement 1, measures",
        "is not one of",
        "'metric'",
    ),
    (
        changed('material = "borax"', 'material = "Borax!"'),
        "statement 1, ingredient 1, material",
        "'Borax!' is not an id",
        "small letters",
    ),
    (changed("[[statement]]", "[statement]"), "statement", "", ""),
    ("statement = 5\n" + GOOD.split("[[statement]]")[0], "statement", "", ""),
    (changed('how = "drench"', 'how = "drench"\ncrops = "beet"'), "crops", "", ""),
    (changed('how = "drench"', 'how = "drench"\ncrops = [1]'), "crops 1", "quoted", ""),
    (changed("[repeat]\n", "[[repeat]]\n"), "repeat", "", ""),
]  # fmt: skip


@pytest.mark.parametrize(("text", "place", "first", "second"), PLACES)
def test_a_fault_is_named_with_its_place(text: str, place: str, first: str, second: str) -> None:
    found = [problem for problem in check(text) if problem.place == place]
    assert len(found) == 1
    message = found[0].message
    assert first in message
    assert second in message
    assert str(found[0]) == f"mine.toml, {place}: {message}"


# Faults that only the reader of amounts can see.
READ: list[tuple[str, str, str]] = [
    (changed('"5 mL"', '"5 mlx"'), "statement 1, ingredient 1", "'mlx' is not known"),
    (changed('"5 mL"', '"5"'), "statement 1, ingredient 1", "without a unit"),
    (changed('"5 mL"', '"0 mL"'), "statement 1, ingredient 1", "more than zero"),
    (changed('"5 mL"', '"-5 mL"'), "statement 1, ingredient 1", "no number"),
    (changed('"5 mL"', '"nan mL"'), "statement 1, ingredient 1", "no number"),
    (changed('"5 mL"', '"5 m"'), "statement 1, ingredient 1", "a weight or a volume"),
    (changed('"5 mL"', '"5 m2"'), "statement 1, ingredient 1", "a weight or a volume"),
    (changed('"5 mL"', '"2 % v/v"'), "statement 1, ingredient 1", "spray volume"),
    (changed('"5 mL"', '"5 ppm"'), "statement 1, ingredient 1", "mg/L"),
    (changed('"5 mL"', '"1 fl oz"'), "statement 1, ingredient 1", "'US fl oz'"),
    (changed('"5 mL"', '"5 mL"\nto = "4 mL"'), "statement 1, ingredient 1", "smaller"),
    (changed('"5 mL"', '"5 mL"\nto = "6 g"'), "statement 1, ingredient 1", ""),
    (changed('"5 mL"', '"5 mL"\nnutrient = "B"'), "statement 1, ingredient 1", "weight"),
    (changed('material = "borax"', 'material = "no-such"'), "statement 1, ingredient 1", "no-such"),
    (changed('per = "5 m"', 'per = "5 m2"'), "statement 1, per", "a length of row"),
    (changed('per = "5 m"', 'per = "0 m"'), "statement 1, per", "more than zero"),
    (changed('"350 mL"', '"350 g"'), "statement 1, water", "a volume of water"),
    (changed('"350 mL"', '"1 gal"'), "statement 1, water", "US gal"),
    (changed("most = 1", 'interval = "14 m"'), "repeat, interval", "an interval"),
    (changed('basis = "row length"', 'basis = "area"'), "statement 1, per", "an area"),
    (changed('practice = "common practice, no source"\n', ""), "source", "practice"),
    (changed('practice =', 'source = ["common-practice"]\npractice ='), "source", "not both"),
    (
        changed('practice = "common practice, no source"', 'source = ["no-such-page"]'),
        "source",
        "'no-such-page' is not a known source",
    ),
    (changed('window = "crop"', 'window = "crop"\nsource = "no-such"'), "source", "'no-such'"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "place", "piece"), READ)
def test_an_amount_that_cannot_be_read_is_named_with_its_place(
    text: str, place: str, piece: str
) -> None:
    found = [problem for problem in check(text) if problem.place == place]
    assert len(found) == 1
    assert piece in found[0].message
    assert "mine.toml" not in found[0].message


def test_one_fault_is_one_problem() -> None:
    """Nothing is said of the tables round a wrong value, which are as they should be."""
    for old, new in [
        ('"5 mL"', "5"), ('"5 m"', "true"), ("most = 1", 'most = "1"'), ('"drench"', '"drinch"'),
        ('role = "active"\n', ""), ('"metric"', '"french"'), ('need = "vehicle"', "need = 1"),
    ]:  # fmt: skip
        assert len(check(changed(old, new))) == 1, new


def test_every_fault_is_reported_at_once() -> None:
    text = changed('amount = "5 mL"', 'amount = "5 mlx"').replace('"5 m"', '"5 mx"')
    text = text.replace('"350 mL"', '"350"').replace("most = 1", 'interval = "soon"')
    # The unit of the row cannot be read, so nothing inside that statement can be.
    assert [problem.place for problem in check(text)] == ["statement 1, per", "repeat, interval"]
    text = text.replace('"5 mx"', '"5 m"')
    assert [problem.place for problem in check(text)] == [
        "statement 1, ingredient 1",
        "statement 1, water",
        "repeat, interval",
    ]
    text = GOOD.replace('how = "drench"\n', "").replace("purpose", "purpos")
    assert {problem.place for problem in check(text)} == {"how", "purpos", "purpose"}


def at_path(path: Path) -> list[Problem]:
    start = time.process_time()
    found, problems = lookup.recipe_from_path(path)
    assert time.process_time() - start < SOON
    assert found is None
    assert len(problems) == 1
    assert problems[0].file == str(path)
    return problems


def sparse(folder: Path) -> Path:
    path = folder / "sparse.toml"
    with path.open("wb") as file:
        file.truncate(2**31)
    return path


def loop(folder: Path) -> Path:
    path = folder / "loop.toml"
    path.symlink_to(path)
    return path


UNREADABLE: dict[str, tuple[Callable[[Path], Path], str]] = {
    "missing": (lambda folder: folder / "nowhere.toml", "no such file"),
    "in a missing folder": (lambda folder: folder / "no" / "where.toml", "no such file"),
    "a directory": (lambda folder: folder, "directory"),
    "below a file": (lambda folder: Path(__file__) / "x.toml", "directory"),
    "a link to itself": (loop, "cannot be read"),
    "a name too long": (lambda folder: folder / f"{'x' * 300}.toml", "cannot be read"),
    "a name with a zero byte": (lambda folder: folder / "a\0b.toml", "cannot be read"),
    "two gigabytes": (sparse, "larger than"),
}


@pytest.mark.parametrize("name", UNREADABLE)
def test_a_file_that_cannot_be_read_is_a_problem(name: str, tmp_path: Path) -> None:
    make, piece = UNREADABLE[name]
    assert piece in at_path(make(tmp_path))[0].message


def test_a_file_that_never_ends_is_a_problem() -> None:
    """A device tells no size beforehand; the child may take a gigabyte, not more."""
    code = (
        "import resource; resource.setrlimit(resource.RLIMIT_AS, (2**30, 2**30))\n"
        "from pathlib import Path; from dosecalc.catalog import lookup\n"
        "print(lookup.recipe_from_path(Path('/dev/zero'))[1][0])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=30)
    assert done.stderr == ""
    assert "/dev/zero: is larger than" in done.stdout


ASH = 'name = "Ash of Saltmarsh Lane"\nform = "powder"\n'


def density(low: str, likely: str = '"1 g/mL"', high: str = '"3 g/mL"') -> str:
    return f'{ASH}[density]\nlow = {low}\nlikely = {likely}\nhigh = {high}\nhow = "by weight"'


def analysis(rest: str, nutrient: str = "K") -> str:
    return f'{ASH}[[analysis]]\nnutrient = "{nutrient}"\nkind = "typical"\nsource = "x"\n{rest}'


@pytest.mark.parametrize(
    ("text", "place"),
    [
        (f'{ASH}frm = "powder"', "frm"),
        (density('"1 g/mL"', high="3"), "density, high"),
        (analysis('percent = "5"', "X"), "analysis 1, nutrient"),
        (analysis("percent = 5"), "analysis 1, percent"),
        (f"{ASH}formula = 5", "formula"),
    ],
)
def test_a_material_file_is_held_against_its_schema(text: str, place: str) -> None:
    data, problems = files.parse_toml(text.encode(), "ash.toml")
    assert problems == []
    assert place in [problem.place for problem in checking.validate("material", data, "ash.toml")]


@pytest.mark.parametrize(
    ("text", "place"),
    [
        (f'{ASH}formula = "Ash"', "formula"),
        (analysis(""), "analysis 1"),
        (analysis('percent = "5"\nlow = "6"'), "analysis 1"),
        (analysis('percent = "5"\nhigh = "4"'), "analysis 1"),
        (analysis('percent = "101"'), "analysis 1"),
        (analysis('percent = "five"'), "analysis 1"),
        (density('"2 g/mL"'), "density"),
        (density('"0 g/mL"'), "density"),
        (density('"1 g"'), "density"),
        (density('"1 g/mL"', high='"0.5 g/mL"'), "density"),
        (
            f'{ASH}[[solubility]]\nat = "hot"\nvalue = "5 g/L"\nprinted = "x"\nsource = "x"',
            "solubility 1",
        ),
    ],
)
def test_what_a_material_file_says_must_make_sense(text: str, place: str) -> None:
    data, problems = files.parse_toml(text.encode(), "ash.toml")
    assert problems == []
    assert checking.validate("material", data, "ash.toml") == []
    faults = build.Faults("ash.toml")
    build.material("ash", data, faults)
    assert [problem.place for problem in faults.problems] == [place]


VALUES = st.recursive(
    st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=20)
    | st.sampled_from(["5 mL", "borax", "row length", "metric", "drench", "1 m2"])
    | st.dates()
    | st.times()
    | st.datetimes(),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(
                ["name", "statement", "ingredient", "amount", "per", "basis", "material", "to", "x"]
            ),
            inner,
            max_size=4,
        )
    ),
    max_leaves=12,
)


# A loaded machine is slow to draw tables; what is tested is what becomes of them.
@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.dictionaries(st.sampled_from([*"abc", "name", "statement", "repeat", "crop"]), VALUES))
def test_any_table_gives_problems_with_places(data: dict[str, object]) -> None:
    for kind in ("recipe", "material", "source", "limits"):
        problems = checking.validate(kind, data, "odd.toml")
        assert problems
        assert all(
            p.file == "odd.toml" and p.place and p.message.endswith((".", "?")) for p in problems
        )


@given(st.binary(max_size=400))
def test_any_bytes_are_parsed_or_refused(raw: bytes) -> None:
    data, problems = files.parse_toml(raw, "odd.toml")
    assert not (data and problems)
