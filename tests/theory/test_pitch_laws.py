"""Laws of the lattice of fifths, over every spelled pitch with up to two accidentals in ten octaves."""

from __future__ import annotations

import pytest

from drill.theory.names import parse_pitch
from drill.theory.pitch import LETTERS, OCTAVE, Interval, Note, Pitch

ACCIDENTALS = range(-2, 3)
NOTES = [Note.of(letter, accidental) for letter in LETTERS for accidental in ACCIDENTALS]
PITCHES = [Pitch.of(note.letter, note.accidental, octave) for note in NOTES for octave in range(10)]
PIANO = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}


def test_there_are_350_pitches_and_each_is_its_own() -> None:
    assert len(set(PITCHES)) == 350


def test_a_pitch_is_its_letter_its_accidental_and_its_octave() -> None:
    for letter in LETTERS:
        for accidental in ACCIDENTALS:
            for octave in range(10):
                pitch = Pitch.of(letter, accidental, octave)
                assert (pitch.note.letter, pitch.note.accidental, pitch.octave) == (letter, accidental, octave)
                assert pitch.midi == 12 * (octave + 1) + PIANO[letter] + accidental
                assert parse_pitch(pitch.name) == pitch


def test_a_note_sounds_as_its_pitches_do() -> None:
    for pitch in PITCHES:
        assert pitch.note.pitch_class == pitch.midi % 12


def test_going_up_and_coming_back_is_no_move() -> None:
    for lower in PITCHES[::7]:
        for upper in PITCHES:
            interval = upper - lower
            assert lower + interval == upper
            assert upper + -interval == lower
            assert interval + -interval == Interval(0, 0)
            assert interval.semitones == upper.midi - lower.midi


def test_the_interval_up_to_a_note_is_smaller_than_an_octave_of_letters() -> None:
    for lower in NOTES:
        for upper in NOTES:
            interval = lower.up_to(upper)
            assert lower + interval == upper
            assert upper - interval == lower
            assert 0 <= interval.steps < OCTAVE.steps


def test_intervals_add_and_multiply_as_their_semitones_do() -> None:
    for fifths in range(-15, 16):
        interval = Interval(fifths, -fifths // 2)
        for times in range(-3, 4):
            assert (interval * times).semitones == times * interval.semitones
            assert (interval * times).steps == times * interval.steps
        assert (interval - OCTAVE).semitones == interval.semitones - 12


@pytest.mark.parametrize(
    ("low", "high", "name"),
    [
        ("C4", "Gb4", "d5"),
        ("C4", "F#4", "A4"),
        ("F#3", "C4", "d5"),
        ("C4", "D#4", "A2"),
        ("Db4", "E4", "A2"),
        ("C4", "F##4", "AA4"),
        ("D3", "F3", "m3"),
        ("E2", "E4", "P15"),
        ("F3", "D3", "-m3"),
        ("C4", "Cb4", "-A1"),
    ],
)
def test_intervals_are_named_letter_first(low: str, high: str, name: str) -> None:
    assert (parse_pitch(high) - parse_pitch(low)).name == name


def test_spelling_keeps_apart_what_sounds_alike() -> None:
    sharp, flat = Note.of("G", 1), Note.of("A", -1)
    assert sharp.sounds_like(flat)
    assert sharp != flat
    assert not sharp.sounds_like(Note.of("G"))


def test_a_pitch_is_never_an_interval() -> None:
    pitch_or_interval: list[object] = [Pitch(Note(0), 4), Interval(0, 4)]
    assert pitch_or_interval[0] != pitch_or_interval[1]
