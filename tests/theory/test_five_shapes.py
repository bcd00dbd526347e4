"""The five shapes in every key on every tuning that has them. Their frets one by one: outside/trade.py."""

from __future__ import annotations

import pytest

from drill.errors import UnknownName, UsageProblem
from drill.system.tunings import find_tuning, tunings
from drill.theory.keys import KEYS, MINOR_KEYS, parse_key
from drill.theory.neck import STANDARD, Neck, Spot, Tuning
from drill.theory.scales import MINOR_PENTATONIC, SCALES, degree_interval, spell
from drill.theory.shapes import (
    HAND,
    degree_in,
    find_shape,
    finger_at,
    five_shapes,
    hand_places,
    per_string,
    placements,
    raised,
    shape_at,
    shapes_anchored,
)

BOXES = [
    "standard", "half-step-down", "whole-step-down", "seven-string", "baritone", "bass", "bass-five-string",
    "ukulele-low-g", "baritone-ukulele",
]  # fmt: skip
BOXED = [tunings()[name] for name in BOXES]
BOXLESS = [tuning for tuning in tunings().values() if tuning not in BOXED]


@pytest.mark.long(but=9)
@pytest.mark.parametrize("tuning", BOXED, ids=lambda tuning: tuning.id)
@pytest.mark.parametrize("capo", [0, 1, 5])
def test_a_shape_that_can_be_moved_has_no_open_string(tuning: Tuning, capo: int) -> None:
    """Not even where the index finger stretches below the hand, as in C minor on seven strings."""
    shapes = [shape for key in MINOR_KEYS for shape in five_shapes(key, tuning, capo)]
    assert [shape for shape in shapes if min(dot.spot.fret for dot in shape.dots) < 1] == []


@pytest.mark.parametrize("tuning", BOXED, ids=lambda tuning: tuning.id)
def test_a_shape_has_two_consecutive_scale_tones_on_every_string(tuning: Tuning) -> None:
    neck = Neck(tuning, frets=24)
    for key in MINOR_KEYS:
        notes = spell(key.tonic, MINOR_PENTATONIC)
        for shape in five_shapes(key, tuning):
            assert [dot.spot.string for dot in shape.dots] == [s for s in reversed(tuning.strings) for _ in "12"]
            order = [notes.index(dot.note) for dot in shape.dots]
            assert order == [(order[0] + step) % 5 for step in range(len(order))]
            sounds = [neck.sounding(dot.spot) for dot in shape.dots]
            assert sounds == sorted(set(sounds))
            assert all(neck.sounding(dot.spot) % 12 == dot.note.pitch_class for dot in shape.dots)
            assert all(MINOR_PENTATONIC[notes.index(dot.note)] == dot.degree for dot in shape.dots)


@pytest.mark.parametrize("tuning", BOXED, ids=lambda tuning: tuning.id)
def test_the_shapes_tile_the_neck(tuning: Tuning) -> None:
    for key in MINOR_KEYS:
        shapes = sorted(five_shapes(key, tuning), key=lambda shape: shape.dots[0].spot.fret)
        for lower, upper in zip(shapes, [*shapes[1:], raised(shapes[0], 12)], strict=True):
            assert upper.number == lower.number % 5 + 1
            assert [dot.spot for dot in lower.dots[1::2]] == [dot.spot for dot in upper.dots[::2]]


@pytest.mark.parametrize("tuning", BOXED, ids=lambda tuning: tuning.id)
def test_fingers_follow_the_position_rule_and_a_tie_has_none(tuning: Tuning) -> None:
    for key in MINOR_KEYS:
        for shape in five_shapes(key, tuning):
            frets = [dot.spot.fret for dot in shape.dots]
            outside = {place: _outside(place, frets) for place in range(min(frets) - 3, max(frets) + 4)}
            best = tuple(place for place, count in outside.items() if count == min(outside.values()))
            assert tuple(place for place in best if min(frets) <= place <= max(frets)) == shape.index_frets
            assert shape.tied == (len(shape.index_frets) > 1)
            for dot in shape.dots:
                finger = min(max(dot.spot.fret - shape.index_fret + 1, 1), HAND)
                assert dot.finger == (None if shape.tied else finger)


def _outside(place: int, frets: list[int]) -> int:
    return len([fret for fret in frets if fret < place or fret > place + 3])


@pytest.mark.parametrize("tuning", BOXLESS, ids=lambda tuning: tuning.id)
def test_tunings_with_other_gaps_refuse_boxes_and_say_which_gap(tuning: Tuning) -> None:
    for number in range(1, 6):
        with pytest.raises(UsageProblem, match="semitones apart; box shapes need 4 or 5") as refusal:
            shape_at(parse_key("Am"), tuning, number)
        assert tuning.title in refusal.value.message


def test_a_major_key_is_played_from_the_shapes_of_its_relative() -> None:
    for key in KEYS:
        assert five_shapes(key, STANDARD) == five_shapes(key.relative, STANDARD)


def test_every_shape_lies_off_the_open_strings_at_its_lowest_place() -> None:
    for tuning in BOXED:
        for key in MINOR_KEYS:
            for shape in five_shapes(key, tuning):
                assert 1 <= min(shape.index_fret, shape.lowest_fret) <= 12


@pytest.mark.parametrize("frets", [12, 15, 24])
@pytest.mark.parametrize("capo", [0, 3])
def test_placements_are_all_those_that_fit(frets: int, capo: int) -> None:
    neck = Neck(STANDARD, frets, capo)
    for key in MINOR_KEYS:
        for number in range(1, 6):
            found = [shape.index_fret for shape in placements(key, neck, number)]
            one = shape_at(key, STANDARD, number, capo)
            width = one.highest_fret - one.index_fret
            fitting = [f for f in range(1, 25) if (f - one.index_fret) % 12 == 0 and f + width <= neck.last_fret]
            assert found == fitting


def test_a_capo_moves_every_shape_down_by_its_fret() -> None:
    for key in MINOR_KEYS:
        for number in range(1, 6):
            free, clamped = shape_at(key, STANDARD, number), shape_at(key, STANDARD, number, capo=2)
            assert (free.index_fret - clamped.index_fret - 2) % 12 == 0


@pytest.mark.parametrize("scale", ["minor pentatonic", "minor blues", "natural minor", "harmonic minor", "phrygian"])
def test_a_degree_of_the_minor_key_is_the_same_note_as_its_degree_of_the_relative_major(scale: str) -> None:
    for key in MINOR_KEYS:
        for degree in SCALES[scale]:
            assert degree_in("minor", degree) == degree
            note = key.relative.tonic + degree_interval(degree_in("major", degree))
            assert note == key.tonic + degree_interval(degree)


def test_shapes_go_by_the_string_of_the_tonic_or_by_number() -> None:
    key = parse_key("D minor")
    assert [shape.id for shape in five_shapes(key, STANDARD)] == ["string-6", "string-4", "3", "string-5", "string-3"]
    for shape in five_shapes(key, STANDARD):
        assert find_shape(key, STANDARD, shape.id) == find_shape(key, STANDARD, str(shape.number)) == shape
    with pytest.raises(UnknownName, match="“string-9”") as refusal:
        find_shape(key, STANDARD, "string-9")
    assert "string-6" in refusal.value.fix


def test_the_two_anchor_shapes_come_in_the_order_asked() -> None:
    shapes = shapes_anchored(parse_key("F"), STANDARD, (5, 6))
    assert [(shape.anchor_string, shape.index_fret) for shape in shapes] == [(5, 5), (6, 10)]


@pytest.mark.parametrize("name", BOXES)
def test_both_anchor_strings_of_every_boxed_tuning_have_their_shape(name: str) -> None:
    tuning = find_tuning(name)
    for key in MINOR_KEYS:
        found = [shape.anchor_string for shape in shapes_anchored(key, tuning, tuning.anchor_strings)]
        assert found == list(tuning.anchor_strings)


def test_the_a_minor_shape_of_the_low_e_string() -> None:
    shape = find_shape(parse_key("Am"), STANDARD, "string-6")
    assert [(d.note.name, d.degree, d.finger) for d in shape.dots if d.spot == Spot(5, 7)] == [("E", "5", 3)]
    assert (shape.lowest_fret, shape.highest_fret) == (5, 8)


# The major scale in three notes a string from its tonic (worked by hand; each pattern spans five frets on a string).
THREE_PER_STRING_MAJOR = [(0, 2, 4), (0, 2, 4), (1, 2, 4), (1, 2, 4), (2, 4, 5), (2, 4, 5)]


def test_three_notes_a_string() -> None:
    pattern = per_string(parse_key("F").tonic, SCALES["major"], Neck(STANDARD), start=0, count=3)
    frets = [dot.spot.fret - 1 for dot in pattern.dots]
    assert [tuple(frets[i : i + 3]) for i in range(0, 18, 3)] == THREE_PER_STRING_MAJOR


@pytest.mark.parametrize("start", range(7))
def test_every_three_notes_a_string_pattern_fits_five_frets_a_string(start: int) -> None:
    for key in KEYS[:15]:
        pattern = per_string(key.tonic, SCALES["major"], Neck(STANDARD), start, count=3)
        assert len(pattern.dots) == 18
        for string in STANDARD.strings:
            frets = [dot.spot.fret for dot in pattern.dots if dot.spot.string == string]
            assert frets == sorted(frets)
            assert max(frets) - min(frets) <= 4


# Frets from the lowest string's first note to the highest string's first note, by scale and notes a string (from the
# neck, by hand): a pattern stays in place only where so many tones span about one string interval.
DRIFTS = {
    ("minor pentatonic", 2): {0},
    ("major", 3): {1, 2},
    ("minor blues", 2): {-5, -4, -3, -2},
    ("minor blues", 3): {4, 5, 6, 7, 8},
    ("minor pentatonic", 3): {12},
}


@pytest.mark.parametrize(("name", "count"), DRIFTS)
def test_which_scales_stay_in_one_place(name: str, count: int) -> None:
    tonic = parse_key("F").tonic
    patterns = [per_string(tonic, SCALES[name], Neck(STANDARD), start, count) for start in range(len(SCALES[name]))]
    drifts = {pattern.dots[-count].spot.fret - pattern.dots[0].spot.fret for pattern in patterns}
    assert drifts == DRIFTS[name, count]
    for pattern in patterns:
        reached = all(-1 <= dot.spot.fret - pattern.index_frets[0] <= 4 for dot in pattern.dots)
        fingered = {dot.finger is not None for dot in pattern.dots}
        assert fingered == {reached and len(pattern.index_frets) == 1}


def test_the_hand_lies_where_the_fewest_notes_are_outside() -> None:
    assert hand_places([5, 8, 5, 7]) == (5,)
    assert hand_places([5, 9]) == (5, 6, 7, 8, 9)
    assert finger_at(5, (5,)) == 1
    assert finger_at(4, (5,)) == 1
    assert finger_at(9, (5,)) == 4
    assert finger_at(10, (5,)) is None
    assert finger_at(5, (5, 6)) is None
