"""Scales: the table, its names and the way tones are counted. Spellings: outside/libraries.py and figures.py."""

from __future__ import annotations

import pytest

from drill.errors import UnknownName
from drill.theory.names import parse_note
from drill.theory.pitch import LETTERS, Note
from drill.theory.scales import MINOR_PENTATONIC, SCALES, degree_interval, find_scale, spell, tone


@pytest.mark.parametrize("name", SCALES)
def test_a_scale_rises_from_its_tonic_within_an_octave(name: str) -> None:
    sizes = [degree_interval(degree).semitones for degree in SCALES[name]]
    assert sizes[0] == 0
    assert sizes == sorted(set(sizes))
    assert sizes[-1] < 12


@pytest.mark.parametrize("name", SCALES)
def test_tones_count_on_through_the_octaves_both_ways(name: str) -> None:
    formula = SCALES[name]
    sizes = [tone(formula, index).semitones for index in range(-2 * len(formula), 2 * len(formula) + 1)]
    assert sizes == sorted(sizes)
    for index in range(-len(formula), len(formula)):
        assert tone(formula, index + len(formula)).semitones == tone(formula, index).semitones + 12


@pytest.mark.parametrize("name", [name for name, formula in SCALES.items() if len(formula) == 7])
def test_a_scale_of_seven_has_every_letter_once(name: str) -> None:
    for letter in LETTERS:
        for accidental in (-1, 0, 1):
            notes = spell(Note.of(letter, accidental), SCALES[name])
            assert sorted(note.letter for note in notes) == sorted(LETTERS)


@pytest.mark.parametrize(
    ("tonic", "scale", "notes"),
    [
        ("Ab", "minor pentatonic", "Ab Cb Db Eb Gb"),
        ("Ab", "minor blues", "Ab Cb Db Ebb Eb Gb"),
        ("Cb", "minor pentatonic", "Cb Ebb Fb Gb Bbb"),
        ("G#", "harmonic minor", "G# A# B C# D# E F##"),
        ("Bb", "locrian", "Bb Cb Db Eb Fb Gb Ab"),
    ],
)
def test_hard_spellings(tonic: str, scale: str, notes: str) -> None:
    assert " ".join(note.name for note in spell(parse_note(tonic), SCALES[scale])) == notes


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Minor Pentatonic", "minor pentatonic"),
        ("harmonic-minor", "harmonic minor"),
        ("blues", "minor blues"),
        (" DORIAN ", "dorian"),
        ("pentatonic", "major pentatonic"),
        ("Blues Scale", "minor blues"),
        ("Dur-Tonleiter", "major"),
        ("half whole", "half-whole diminished"),
        ("Whole-Half-Diminished", "whole-half diminished"),
    ],
)
def test_scales_are_found_however_written(text: str, name: str) -> None:
    assert find_scale(text) == name


def test_an_unknown_scale_is_refused_with_those_there_are() -> None:
    with pytest.raises(UnknownName, match="“hirajoshi” is not a scale known here") as refusal:
        find_scale("hirajoshi")
    assert "harmonic minor" in refusal.value.fix


def test_a_name_of_two_scales_is_refused_with_both() -> None:
    """Jazz calls both orders of steps diminished (W. Wieland, Northern State University, "Octatonic Scale")."""
    with pytest.raises(UnknownName, match="the name of two scales") as refusal:
        find_scale("diminished")
    assert refusal.value.fix == "Write whole-half diminished or half-whole diminished."


@pytest.mark.parametrize("degree", ["", "8", "0", "b", "b#3", "3b", "x"])
def test_what_is_no_degree_is_refused(degree: str) -> None:
    with pytest.raises(UnknownName, match="is not a scale degree"):
        degree_interval(degree)


def test_five_notes_alone_do_not_tell_the_key() -> None:
    """The notes of A minor pentatonic lie in three major keys (theory of keys: C, F and G)."""
    five = {note.pitch_class for note in spell(parse_note("A"), MINOR_PENTATONIC)}
    homes = [
        Note(fifths).name
        for fifths in range(-5, 7)
        if five <= {note.pitch_class for note in spell(Note(fifths), SCALES["major"])}
    ]
    assert sorted(homes) == ["C", "F", "G"]
