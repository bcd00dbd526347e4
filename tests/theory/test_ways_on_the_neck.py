"""Linking shapes, landing on chord tones, blue notes, and whole scales under one hand."""

from __future__ import annotations

import pytest

from drill.errors import UnknownName, UsageProblem
from drill.system.tunings import find_tuning, tunings
from drill.theory.chords import parse_chord
from drill.theory.keys import MINOR_KEYS, Key, parse_key
from drill.theory.landing import blue_notes, inside_and_outside, tones_inside
from drill.theory.names import parse_note
from drill.theory.neck import STANDARD, Neck, Spot, Tuning
from drill.theory.neighbours import next_anchored, next_shape
from drill.theory.positions import fingerings
from drill.theory.scales import SCALES, spell
from drill.theory.shapes import find_shape, five_shapes, shape_at
from tests.theory.outside.dots import dot_at

BOXED = [tuning for tuning in tunings().values() if set(tuning.gaps()) <= {4, 5}]


@pytest.mark.parametrize("tuning", BOXED, ids=lambda tuning: tuning.id)
@pytest.mark.parametrize("capo", [0, 4])
def test_the_next_shape_shares_a_column_and_five_steps_are_an_octave(tuning: Tuning, capo: int) -> None:
    for key in MINOR_KEYS:
        for start in five_shapes(key, tuning, capo):
            shape = start
            for _ in range(5):
                upper = next_shape(shape, tuning)
                assert [dot.spot for dot in shape.dots[1::2]] == [dot.spot for dot in upper.dots[::2]]
                shape = upper
            assert [dot.spot.fret - 12 for dot in shape.dots] == [dot.spot.fret for dot in start.dots]
            assert shape.number == start.number


@pytest.mark.parametrize(
    ("key", "start", "string", "fret"),
    [("Dm", "string-5", 6, 10), ("Em", "string-5", 6, 12), ("Am", "string-6", 5, 12), ("Am", "string-6", 6, 17)],
)
def test_the_next_anchored_shape(key: str, start: str, string: int, fret: int) -> None:
    assert next_anchored(find_shape(parse_key(key), STANDARD, start), STANDARD, string).index_fret == fret


def test_a_string_without_an_anchored_shape_is_refused() -> None:
    with pytest.raises(UnknownName, match="string 2"):
        next_anchored(shape_at(parse_key("Am"), STANDARD, 1), STANDARD, 2)


def test_chord_tones_inside_and_outside_are_told_apart_by_sound() -> None:
    """The example of the curriculum: A minor, low-E-string shape, F chord; on string 3 the index lands on C."""
    shape = find_shape(parse_key("Am"), STANDARD, "string-6")
    chord = parse_chord("F")
    third_string = [tone for tone in tones_inside(shape, chord) if tone.dot.spot.string == 3]
    assert [(tone.dot.note.name, tone.dot.finger, tone.degree) for tone in third_string] == [("C", 1, "5")]
    inside, outside = inside_and_outside(chord, parse_key("Am"))
    assert ([note.name for note in inside], [note.name for note in outside]) == (["A", "C"], ["F"])
    flats = find_shape(parse_key("Bbm"), STANDARD, "string-6")
    assert {tone.dot.note.name for tone in tones_inside(flats, parse_chord("C#"))} == {"Db", "F", "Ab"}


@pytest.mark.parametrize("key", MINOR_KEYS, ids=str)
def test_every_dot_is_a_chord_tone_or_not_by_its_number(key: Key) -> None:
    neck = Neck(STANDARD, frets=24)
    for shape in five_shapes(key, STANDARD):
        for name in ("F", "Am7", "G7", "Bdim"):
            chord = parse_chord(name)
            sounds = {note.pitch_class for note in chord.notes}
            inside = {tone.dot.spot for tone in tones_inside(shape, chord)}
            assert inside == {dot.spot for dot in shape.dots if neck.sounding(dot.spot) % 12 in sounds}
            held = {dot.note.pitch_class for dot in shape.dots}
            assert [{note.pitch_class for note in notes} for notes in inside_and_outside(chord, key)] == [
                sounds & held,
                sounds - held,
            ]


@pytest.mark.parametrize("key", MINOR_KEYS, ids=str)
def test_blue_notes_sound_between_fourth_and_fifth_in_all_their_homes(key: Key) -> None:
    neck = Neck(STANDARD, frets=24)
    blue = spell(key.tonic, SCALES["minor blues"])[3]
    for shape in five_shapes(key, STANDARD):
        for homes in blue_notes(shape):
            assert {dot.note for dot in homes} == {blue}
            assert len({neck.sounding(dot.spot) for dot in homes}) == 1
            assert neck.sounding(homes[0].spot) % 12 == blue.pitch_class
            for dot in homes:
                beside = {dot_at(shape, Spot(dot.spot.string, dot.spot.fret + step)) for step in (-1, 1)} - {None}
                assert beside
                assert {neighbour.degree for neighbour in beside if neighbour} <= {"4", "5"}


def test_the_blues_box_on_the_low_e_string() -> None:
    """Common practice, no source: frets 6 on string 5, and 8 on string 3 (or 4 on string 2), in A."""
    homes = blue_notes(find_shape(parse_key("Am"), STANDARD, "string-6"))
    assert [[(dot.spot.string, dot.spot.fret, dot.finger) for dot in each] for each in homes] == [
        [(5, 6, 2)],
        [(3, 8, 4), (2, 4, 1)],
    ]


# Index frets above the tonic on string 6 from which a scale needs no stretch (counted by hand from the neck).
NO_STRETCH = {
    "minor pentatonic": {0, 2, 7, 9},
    "major": {4, 11},
    "natural minor": {2, 7},
    "dorian": {2, 9},
    "minor blues": {0},
    "harmonic minor": set(),
}


@pytest.mark.parametrize("name", NO_STRETCH)
def test_where_a_scale_needs_no_stretch(name: str) -> None:
    neck = Neck(STANDARD, frets=24)
    found = {fret for fret in range(12) if fingerings(parse_note("F"), SCALES[name], neck, fret + 1)[0].stretches == 0}
    assert found == NO_STRETCH[name]


@pytest.mark.long(but=1)
@pytest.mark.parametrize("tuning", BOXED, ids=lambda tuning: tuning.id)
def test_every_scale_tone_in_reach_is_played_once_and_every_tie_is_given(tuning: Tuning) -> None:
    for name in SCALES:
        assert_every_tone_is_played(Neck(tuning, frets=24), name)


def assert_every_tone_is_played(neck: Neck, name: str) -> None:
    tuning = neck.tuning
    tonic = parse_note("A")
    sounds = {note.pitch_class for note in spell(tonic, SCALES[name])}
    for index_fret in range(1, 13):
        under = {neck.sounding(Spot(s, f)) for s in tuning.strings for f in range(index_fret, index_fret + 4)}
        tones = [number for number in range(min(under), max(under) + 1) if number % 12 in sounds]
        gaps = [number for number in tones if number not in under]
        found = fingerings(tonic, SCALES[name], neck, index_fret)
        assert len(set(found)) == len(found) == 2 ** len(gaps)
        for pattern in found:
            assert [neck.sounding(dot.spot) for dot in pattern.dots] == tones
            assert pattern.stretches == len(gaps), name
            assert all(dot.note.pitch_class == neck.sounding(dot.spot) % 12 for dot in pattern.dots)
            assert all(dot.finger in (1, 2, 3, 4) for dot in pattern.dots)
            strings = [dot.spot.string for dot in pattern.dots]
            assert strings == sorted(strings, reverse=True)


def test_the_hand_must_fit_on_the_neck_and_the_tuning_must_have_boxes() -> None:
    assert fingerings(parse_note("A"), SCALES["major"], Neck(STANDARD, frets=12), 11) == ()
    with pytest.raises(UsageProblem, match="semitones apart"):
        fingerings(parse_note("A"), SCALES["major"], Neck(find_tuning("dadgad")), 5)
