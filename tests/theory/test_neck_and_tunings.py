"""Necks, tunings and the table of instruments."""

from __future__ import annotations

import tomllib

import pytest

from drill.errors import BadFile, UnknownName, UsageProblem
from drill.system.resources import data_file
from drill.system.tunings import find_tuning, read_tunings, tunings
from drill.theory.neck import STANDARD, Neck, Spot, Tuning, names_of

NATURALS = {
    6: {0: "E", 1: "F", 3: "G", 5: "A", 7: "B", 8: "C", 10: "D", 12: "E"},
    5: {0: "A", 2: "B", 3: "C", 5: "D", 7: "E", 8: "F", 10: "G", 12: "A"},
}  # common practice, no source


@pytest.mark.parametrize("string", NATURALS)
def test_the_naturals_of_the_two_lowest_strings(string: int) -> None:
    neck = Neck(STANDARD)
    named = {fret: names_of(neck.sounding(Spot(string, fret)) % 12) for fret in range(13)}
    assert {fret: notes[0].name for fret, notes in named.items() if len(notes) == 1} == NATURALS[string]


def test_every_sound_has_one_natural_or_a_sharp_and_a_flat() -> None:
    found = [" ".join(note.name for note in names_of(pitch_class)) for pitch_class in range(12)]
    assert found == ["C", "C# Db", "D", "D# Eb", "E", "F", "F# Gb", "G", "G# Ab", "A", "A# Bb", "B"]


@pytest.mark.long(but=19)
@pytest.mark.parametrize("tuning", tunings().values(), ids=lambda tuning: tuning.id)
@pytest.mark.parametrize("frets", [12, 24])
@pytest.mark.parametrize("capo", [0, 5])
def test_spots_and_frets_agree_on_every_neck(tuning: Tuning, frets: int, capo: int) -> None:
    neck = Neck(tuning, frets, capo)
    spots = [Spot(string, fret) for string in tuning.strings for fret in range(neck.last_fret + 1)]
    by_sound = [spot for pitch_class in range(12) for spot in neck.spots_of(pitch_class)]
    assert sorted(by_sound) == sorted(spots)
    for spot in spots:
        assert neck.holds(spot)
        assert neck.fret_of(spot.string, neck.sounding(spot)) == spot.fret
        assert neck.sounding(spot) == tuning.open(spot.string).midi + capo + spot.fret


def test_a_capo_shortens_the_neck_and_counts_from_itself() -> None:
    neck = Neck(STANDARD, frets=15, capo=2)
    assert neck.last_fret == 13
    assert neck.sounding(Spot(6, 0)) == 42
    assert not neck.holds(Spot(6, 14))
    assert not neck.holds(Spot(7, 0))
    assert not neck.holds(Spot(6, -1))


@pytest.mark.parametrize(("frets", "capo"), [(11, 0), (25, 0), (15, 12), (15, -1)])
def test_impossible_necks_are_refused(frets: int, capo: int) -> None:
    with pytest.raises(UsageProblem, match=str(capo or frets)):
        Neck(STANDARD, frets, capo)


def test_every_tuning_names_its_source_and_the_shipped_standard_is_the_built_in_one() -> None:
    table = tomllib.loads(data_file("tunings.toml").read_text(encoding="utf-8"))
    assert list(table) == list(tunings())
    assert all(len(row["source"]) > 10 for row in table.values())
    assert tunings()["standard"] == STANDARD


def test_titles_and_ids_are_all_different() -> None:
    names = [name for tuning in tunings().values() for name in (tuning.id, tuning.title)]
    assert len(set(names)) == len(names)


@pytest.mark.parametrize(
    ("text", "id"),
    [
        ("drop-d", "drop-d"),
        ("Drop D", "drop-d"),
        ("DADGAD", "dadgad"),
        ("guitar, drop D", "drop-d"),
        ("open_g", "open-g"),
    ],
)
def test_tunings_are_found_however_written(text: str, id: str) -> None:
    assert find_tuning(text).id == id


def test_an_unknown_tuning_is_refused_with_the_nearest() -> None:
    with pytest.raises(UnknownName, match="“dropd” is not a tuning") as refusal:
        find_tuning("dropd")
    assert "drop-d" in refusal.value.fix
    with pytest.raises(UnknownName) as refusal:
        find_tuning("zzzz")
    assert "ukulele" in refusal.value.fix


GOOD = '[a]\ntitle = "A"\nstrings = "E2 A2 D3"\nsource = "somewhere"\n'


@pytest.mark.parametrize(
    ("text", "field"),
    [
        ("[a", "line 1"),
        ("a = 1", "a"),
        (GOOD.replace('title = "A"\n', ""), "a.title"),
        (GOOD.replace("somewhere", " "), "a.source"),
        (GOOD.replace("E2", "H2"), "a.strings"),
        (GOOD.replace(" A2 D3", ""), "a.strings"),
        (GOOD + "anchors = [4]", "a.anchors"),
        (GOOD + 'anchors = "6"', "a.anchors"),
        (GOOD + "strngs = 1", "a.strngs"),
    ],
)
def test_a_damaged_table_names_file_and_field(text: str, field: str) -> None:
    assert list(read_tunings(GOOD, "t.toml")) == ["a"]
    with pytest.raises(BadFile) as refusal:
        read_tunings(text, "t.toml")
    assert (refusal.value.file, refusal.value.field) == ("t.toml", field)
    assert refusal.value.fix


def test_what_is_no_table_is_told_in_full() -> None:
    with pytest.raises(BadFile) as refusal:
        read_tunings("a = 1", "t.toml")
    assert str(refusal.value) == "t.toml, a: is not a table. Write [a] with title, strings, source, anchors under it."


def of_so_many(strings: int) -> str:
    return GOOD.replace("E2 A2 D3", " ".join(["E2"] * strings))


@pytest.mark.parametrize("strings", [3, 12])
def test_an_instrument_has_three_to_twelve_strings(strings: int) -> None:
    assert list(read_tunings(of_so_many(strings), "t.toml")["a"].strings) == list(range(1, strings + 1))


@pytest.mark.parametrize("strings", [2, 13])
def test_fewer_or_more_strings_are_refused(strings: int) -> None:
    with pytest.raises(BadFile, match=rf"t\.toml, a\.strings: has {strings} strings\. List 3 to 12 pitches\."):
        read_tunings(of_so_many(strings), "t.toml")


def test_anchors_default_to_the_two_highest_numbered_strings() -> None:
    assert find_tuning("bass").anchor_strings == (4, 3)
    assert find_tuning("seven-string").anchor_strings == (6, 5)
