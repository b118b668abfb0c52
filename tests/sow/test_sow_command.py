"""``dosecalc sow`` as it is typed."""

from __future__ import annotations

from pathlib import Path

import pytest

from dosecalc.english_sow import SENTENCES
from tests.typed import found, run


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def flat(text: str) -> str:
    return " ".join(text.split())


CARROT = (
    'sow carrot --area "10 m2" --thousand "1.2 g" --germination "80 %" --emergence "50 %"'
    ' --purity "96 %"'
)


def test_plants_to_seeds_weight_and_packets() -> None:
    data = found(f'{CARROT} --stand "100 plants/m2" --packet "1000 seeds"')
    sow = data["sow"]
    # 1000 plants through 0.8 x 0.5 is 2500 seeds, 3 g of pure seed, 3.125 g of this bag.
    assert (sow["plants"], sow["seeds"], sow["packets"]) == (1000, 2500, 3)
    assert sow["weight"] == {"value": 3.125, "unit": "g"}
    assert sow["live"] == {"value": 2.4, "unit": "g"}
    (mix,) = data["mixes"]
    (amount,) = mix["amounts"]
    assert (amount["material"], amount["mass"]["likely"]) == ("seed", 3.125)


def test_the_same_seed_back_is_the_same_stand() -> None:
    back = found(f'{CARROT} --have "3.125 g"')["sow"]
    assert (back["plants"], back["seeds"]) == (1000, 2500)
    assert found(f'{CARROT} --have "2,500 seeds"')["sow"]["weight"]["value"] == 3.125
    assert "1000 plants, 100 per m2." in flat(run(f'{CARROT} --have "3.125 g"').output)


def test_live_and_bag_are_told_apart() -> None:
    bag = found(f'{CARROT} --rate "10 g/m2" --rate-is bag')["sow"]["weight"]["value"]
    live = found(f'{CARROT} --rate "10 g/m2" --rate-is live')["sow"]
    assert bag == 100
    assert live["weight"]["value"] == pytest.approx(100 / 0.768, rel=1e-11)
    assert live["live"] == {"value": 100, "unit": "g"}


def test_what_was_not_told_is_said_and_counted_whole() -> None:
    sow = found('sow carrot --area "10 m2" --stand "100 plants/m2"')["sow"]
    assert sow["not_told"] == ["germination", "emergence", "purity"]
    assert sow["seeds"] == 1000
    assert any("counted as 100 %" in line for line in sow["says"])


def test_a_coat_is_part_of_the_weight() -> None:
    words = 'sow carrot --area "10 m2" --stand "100/m2" --coating "50 %" --purity "99 %"'
    bare = found(f'{words} --thousand "1 g" --counted bare')["sow"]["weight"]["value"]
    coated = found(f'{words} --thousand "2 g" --counted coated')["sow"]["weight"]["value"]
    assert bare == coated == pytest.approx(2 / 0.99, rel=1e-11)
    assert found(words)["sow"]["weight"]["value"] == pytest.approx(28.349523125 / 25 * 2 / 0.99)


def test_a_purity_of_the_bag_does_not_count_the_coat_twice() -> None:
    words = 'sow carrot --area "10 m2" --stand "100/m2" --thousand "1 g" --counted bare'
    bag = f'{words} --coating "34 %" --purity "66 %" --purity-of bag'
    seed = f'{words} --coating "34 %" --purity "100 %"'
    assert found(bag)["sow"]["weight"] == found(seed)["sow"]["weight"]


def test_spacings_are_a_number_of_plants() -> None:
    words = 'sow lettuce --row "6 m" --rows 2 --row-spacing "30 cm" --plant-spacing "30 cm"'
    data = found(words)
    assert data["sow"]["seeds"] == 40
    text = flat(run(words).output)
    assert "Along the row that is one seed every 30 cm" in text
    assert "per 1 m (row length" in text


def test_an_inoculant_goes_with_the_seed() -> None:
    data = found('sow pea --row "10 m" --have "1 kg" --thousand "250 g" --inoculant "4 g/kg"'
                 ' --living "2 billion CFU/g"')  # fmt: skip
    assert data["sow"]["inoculant"] == {"value": 4, "unit": "g"}
    assert data["sow"]["living_on_seed"] == 2_000_000
    (mix,) = data["mixes"]
    amounts = {a["material"]: a["mass"]["likely"] for a in mix["amounts"]}
    assert amounts == {"seed": 1000, "rhizobium-inoculant": 4}


def test_a_liquid_goes_into_every_furrow() -> None:
    # The University of Georgia: about 1.0 fl oz for 1,000 ft, and twice that for twin rows.
    one, twin = (
        found(f'sow pea --row "1000 ft" --rows {rows} --have "10 kg" --inoculant'
              ' "1 US fl oz/1000 ft"')["sow"]["inoculant"]["value"]
        for rows in (1, 2)
    )  # fmt: skip
    assert one == pytest.approx(29.5735295625)
    assert twin == 2 * one


def test_treated_seed_says_what_hurts() -> None:
    words = 'sow pea --area "10 m2" --have "1 kg"'
    treated = flat(run(f"{words} --treated").output)
    for part in ("never eat it", "wear the gloves that the tag names", "open flowers", "bees"):
        assert part in treated
        assert part not in flat(run(words).output)


def test_silence_on_a_treatment_is_said_on_the_card_too() -> None:
    words = f'{CARROT} --stand "100 plants/m2"'
    for shown in (words, f"{words} -o -"):
        assert "Whether the seed is treated was not told" in flat(run(shown).output)
        for told in ("--treated", "--untreated"):
            assert "was not told: " not in flat(run(f"{shown} {told}").output)
    assert "teñida" in flat(run(f"{words} -o - --language es").output)
    done = run(f"{words} --treated --untreated")
    assert "both given" in str(done.exception)


def test_a_release_ends_in_packs_and_water_and_never_in_a_weight() -> None:
    words = (
        'sow nematodes --area "18 m2" --release "500000/m2" --packet "5 million"'
        ' --spray-volume "1 L/m2" --sprayer "9 L" --releases 3 --every "2 weeks"'
    )
    data = found(words)
    (mix,) = data["mixes"]
    assert all(amount["mass"] is None for amount in mix["amounts"] if amount["material"] != "water")
    release = data["release"]
    assert (release["need"], release["packs"], release["given"]) == (9e6, 2, 1e7)
    assert release["water"] == {"value": 18, "unit": "L"}
    text = flat(run(words).output)
    assert "2 for each release, 6 in all" in text
    assert "2 fillings of 9 L, 5 million in each" in text
    assert "Keep stirring" in text
    assert " kg" not in text


@pytest.mark.parametrize("litres", [4, 9, 10, 18, 20, 23, 45])
def test_every_filling_gets_its_own_share_of_the_packs(litres: int) -> None:
    """Two litres in a last can must not get as many as nine: on every litre lie the same."""
    data = found(
        'sow nematodes --area "20 m2" --release "500000/m2" --packet "5 million"'
        f' --spray-volume "{litres} L" --sprayer "9 L"'
    )
    (mix,) = data["mixes"]
    first = next(a for a in mix["amounts"] if a["material"] == "living-suspension")
    assert sum(t["volume"]["value"] for t in mix["tankfuls"]) == pytest.approx(litres)
    parts = [
        next(a for a in t["amounts"] if a["material"] == "living-suspension")["volume"]["likely"]
        for t in mix["tankfuls"]
    ]
    assert sum(parts) == pytest.approx(first["volume"]["likely"])
    for filling, part in zip(mix["tankfuls"], parts, strict=True):
        share = filling["volume"]["value"] / litres
        assert part == pytest.approx(first["volume"]["likely"] * share)


def test_a_smaller_last_filling_is_said_with_its_smaller_share() -> None:
    words = (
        'sow nematodes --area "20 m2" --release "500000/m2" --packet "5 million" --sprayer "9 L"'
    )
    text = flat(run(f'{words} --spray-volume "20 L"').output)
    assert "2 fillings of 9 L with 4.5 million in each and one of 2 L with 1 million" in text
    assert "Stir the packs into 2.22 L" in text
    assert "1 L in a measuring jug" in text
    text = flat(run(f'{words} --spray-volume "12 L"').output)
    assert "one filling of 9 L with 7.5 million and one of 3 L with 2.5 million" in text
    assert "one filling of 8 L" in flat(run(f'{words} --spray-volume "8 L"').output)


def test_a_small_can_takes_a_quarter_of_itself() -> None:
    data = found(
        'sow nematodes --area "20 m2" --release "500000/m2" --packet "5 million"'
        ' --spray-volume "6 L" --sprayer "2 L"'
    )
    (mix,) = data["mixes"]
    assert mix["tankfuls"][0]["measures"][0]["amount"]["likely"] == pytest.approx(500)


def test_nematodes_with_their_water_make_a_card_in_both_languages(tmp_path: Path) -> None:
    words = (
        'sow nematodes --area "20 m2" --release "500000/m2" --packet "5 million"'
        ' --spray-volume "20 L" --sprayer "9 L"'
    )
    assert "Keep stirring the can" in flat(run(f"{words} -o -").output)
    assert "Siga revolviendo" in flat(run(f"{words} --language es -o -").output)
    assert run(f"{words} -o card.pdf").exception is None
    assert (tmp_path / "card.pdf").read_bytes().startswith(b"%PDF")
    for missing in (' --packet "5 million"', ' --spray-volume "20 L"'):
        done = run(f"{words.replace(missing, '')} -o x.pdf")
        assert "--spray-volume" in str(done.exception)
        assert not (tmp_path / "x.pdf").exists()


def test_a_pack_far_too_large_is_said() -> None:
    words = 'sow "predatory mites" --plants 40 --release "2 per plant" --packet "1000 mites"'
    assert "more than twice what is wanted" in flat(run(words).output)
    assert "Keep stirring" not in flat(run(words).output)


def test_living_things_are_told_whole() -> None:
    done = run('sow "whitefly wasps" --plants 5 --release "1 per 4 plants"')
    assert "so 2 in each release" in flat(done.output)
    assert "1 wasp for every 1 to 4 plants a week" in flat(done.output)


def test_a_weight_for_a_row_may_say_so() -> None:
    words = 'sow beet --row "100 ft" --rate-is bag --rate'
    one, two = (found(f'{words} "{text}"') for text in ("1 oz/100 ft of row", "1 oz/100 ft"))
    assert one["sow"]["weight"] == two["sow"]["weight"]
    assert one["sow"]["weight"]["value"] == pytest.approx(28.349523125)
    assert any("yours is 1 times that" in line for line in one["sow"]["says"])


def test_a_sowing_is_saved_and_read_again(tmp_path: Path) -> None:
    done = run(f'{CARROT} --stand "100 plants/m2" --save mine.toml')
    assert done.exception is None
    again = found('mix mine.toml --area "20 m2"')
    assert again["amounts"][0]["mass"]["likely"] == 6.25


def test_a_card_in_spanish_says_it_in_spanish(tmp_path: Path) -> None:
    done = run('sow pea --area "10 m2" --have "1 kg" --inoculant "4 g/kg" --treated'
               " --language es -o card.txt")  # fmt: skip
    assert done.exception is None, done.exception
    text = flat((tmp_path / "card.txt").read_text("utf-8"))
    for part in ("Semilla tratada", "Inoculante de rizobios", "nunca la coma", "sombra"):
        assert part in text
    for part in ("never eat", "Wet the seed"):
        assert part not in text


UGLY = [
    ('carrot --area "10 m2"', "none of --stand"),
    ('carrot --area "10 m2" --stand "25/m2" --have "5 g"', "2 of --stand"),
    ('carrot --area "10 m2" --stand "25/m2" --plants 3', "2 of --stand"),
    ('carrot --area "10 m2" --stand 250', "for each of what was not told"),
    ('carrot --area "10 m2" --stand "25 kg/m2"', "a count is no weight"),
    ('carrot --area "10 m2" --stand "1.500 plants/m2"', "before thousands"),
    ('carrot --area "10 m2" --stand "25 plants/L"', "is no stand"),
    ('carrot --row "10 m" --stand "25/m2"', "--row-spacing"),
    ('carrot --stand "25/m2"', "tell it with --area"),
    ('carrot --area "10 m2" --stand "9000000 billion/m2"', "cannot be meant"),
    ('karrot --area "10 m2" --have "5 g"', "did you mean Carrot?"),
    ('"" --area "10 m2" --have "5 g" --thousand "1 g"', "Nothing was written"),
    ('carrot --area "10 m2" --have 500', "neither a weight nor a number of seeds"),
    ('carrot --area "10 m2" --have "5 L"', "neither a weight nor a number of seeds"),
    ('carrot --area "10 m2" --have "5 g" --thousand 850', "--seed-count"),
    ('carrot --area "10 m2" --have "5 g" --thousand "850/g"', "--seed-count"),
    ('carrot --area "10 m2" --have "5 g" --seed-count "850/L"', "--thousand"),
    ('carrot --area "10 m2" --have "5 g" --seed-count 850/g --thousand 1g', "one of them"),
    ('carrot --area "10 m2" --have "5 g" --thousand "1 t"', "out of reach"),
    ('carrot --area "10 m2" --rate "5 g/m2"', "--rate-is bag or --rate-is live"),
    ('carrot --area "10 m2" --rate "5 g/m2" --rate-is live', "what the tag says"),
    ('carrot --area "10 m2" --rate "5 g/m2" --rate-is pure', "not one of bag, live"),
    ('carrot --area "10 m2" --rate "5 L/m2" --rate-is bag', "no weight of seed"),
    ('carrot --area "10 m2" --have "5 g" --rate-is bag', "add one"),
    ('carrot --area "10 m2" --have "5 g" --germination "0 %"', "above 0"),
    ('carrot --area "10 m2" --have "5 g" --germination "101 %"', "write a percent"),
    ('carrot --area "10 m2" --have "5 g" --germination "0.9"', "write a percent"),
    ('carrot --area "10 m2" --have "5 g" --germination "90 %" --establishment "80 %"', "together"),
    ('carrot --area "10 m2" --rate "5 g/m2" --rate-is live --establishment "80 %"', "not known"),
    ('carrot --area "10 m2" --have "5 g" --coating "100 %"', "leaves no seed"),
    ('carrot --area "10 m2" --have "5 g" --coating "9 %" --thousand 1g', "--counted coated"),
    ('carrot --area "10 m2" --have "5 g" --coating "9 %" --counted wet', "not one of bare"),
    ('carrot --area "10 m2" --have "5 g" --counted bare', "add --coating"),
    ('carrot --area "10 m2" --have "5 g" --coating "34 %" --purity "66 %"', "--purity-of bag"),
    ('carrot --area "10 m2" --have "5 g" --coating "34 %" --purity "90 %" --purity-of bag',
     "more than the whole bag"),
    ('carrot --area "10 m2" --have "5 g" --coating "4 %" --purity "90 %" --purity-of x', "not one"),
    ('carrot --area "10 m2" --have "5 g" --purity-of bag', "needs both"),
    ('carrot --area "10 m2" --have "5 g" --packet 500', "not what one packet holds"),
    ('pea --area "10 m2" --have "5 g" --inoculant "4 g"', "no rate for an inoculant"),
    ('pea --area "10 m2" --have "5 g" --inoculant "4 g/L"', "no rate for an inoculant"),
    ('pea --area "10 m2" --have "5 g" --inoculant "4 g/m"', "rows"),
    ('pea --area "10 m2" --have "5 g" --living "1e9 CFU/g"', "add --inoculant"),
    ('pea --area "10 m2" --have "5 g" --inoculant 4g/kg --living "1e9 CFU/mL"', "living cells"),
    ('pea --area "10 m2" --have "5 g" --releases 2', "does not go with"),
    ('nematodes --area "10 m2"', "published: 1 billion"),
    ('nematodes --area "10 m2" --release "5 kg/m2"', "a count is no weight"),
    ('nematodes --area "10 m2" --release "5 seeds/m2"', "not what is counted here"),
    ('nematodes --area "10 m2" --release "5/L"', "is no release"),
    ('nematodes --row "10 m" --release "5/m2"', "--row-spacing"),
    ('nematodes --area "10 m2" --release "5/m"', "row"),
    ('wasps --area "10 m2" --release "1 per 4 plants"', "--plants"),
    ('nematodes --area "10 m2" --release "5/m2" --releases 0', "from 1 to 52"),
    ('nematodes --area "10 m2" --release "5/m2" --releases 2.5', "from 1 to 52"),
    ('nematodes --area "10 m2" --release "5/m2" --every "2 weeks"', "--releases 2"),
    ('nematodes --area "10 m2" --release "5/m2" --releases 2 --every "2 m"', "no time"),
    ('nematodes --area "10 m2" --release "5/m2" --thousand "1 g"', "does not go with"),
    ('nematodes --area "10 m2" --release "5/m2" --treated', "does not go with"),
    ('nematodes --area "10 m2" --release "5/m2" -o card.pdf', "--output"),
    ('nematodes --plants 4 --release "5 per plant" --spray-volume "1 L/m2"', "needs the ground"),
]  # fmt: skip


@pytest.mark.parametrize(("words", "sentence"), UGLY)
def test_what_cannot_be_understood_is_refused(words: str, sentence: str, tmp_path: Path) -> None:
    before = sorted(tmp_path.iterdir())
    save = "" if words.startswith(("nematodes", "wasps")) else " --save x.toml"
    done = run(f"sow {words}{save}")
    assert getattr(done.exception, "exit_code", None) == 2, (done.exception, done.output)
    assert sentence in flat(str(done.exception))
    assert done.output == ""
    assert sorted(tmp_path.iterdir()) == before


def test_every_sentence_is_used() -> None:
    code = "".join(
        path.read_text("utf-8")
        for folder in ("catalog", "dose", "faces")
        for path in (Path(__file__).parents[2] / "dosecalc" / folder).rglob("*.py")
    )
    assert len(SENTENCES) > 60
    assert [key for key in SENTENCES if f'"{key}"' not in code] == []
