"""Laws of the lattice of fifths, over every spelled pitch with up to two accidentals in ten octaves."""

from __future__ import annotations

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


def test_a_note_and_an_interval_up_sound_as_their_semitones_do() -> None:
    for fifths in range(-15, 16):
        interval = Interval(fifths, -fifths // 2)
        for note in NOTES:
            assert (note + interval).pitch_class == (note.pitch_class + interval.semitones) % 12


def test_intervals_add_and_multiply_as_their_semitones_do() -> None:
    for fifths in range(-15, 16):
        interval = Interval(fifths, -fifths // 2)
        assert (interval + OCTAVE).semitones == interval.semitones + 12
        for times in range(-3, 4):
            assert (interval * times).semitones == times * interval.semitones


def test_spelling_keeps_apart_what_sounds_alike() -> None:
    sharp, flat = Note.of("G", 1), Note.of("A", -1)
    assert sharp.sounds_like(flat)
    assert sharp != flat
    assert not sharp.sounds_like(Note.of("G"))
