"""Spellings that players use for frets, fingers, degrees, numerals and notes, and look-alikes that mean nothing."""

from __future__ import annotations

import pytest

from drill.errors import UnknownName
from drill.questions.answers import (
    AnswerKind,
    ChordAnswer,
    DegreeAnswer,
    FingerAnswer,
    FretAnswer,
    KeyAnswer,
    NoteAnswer,
    NumeralAnswer,
)
from drill.theory.keys import parse_key
from drill.theory.names import NoteLanguage

FRET, FINGER, DEGREE, NOTE = FretAnswer(15), FingerAnswer(), DegreeAnswer(), NoteAnswer()
B_FLAT = NumeralAnswer(parse_key("Bb"))


@pytest.mark.parametrize(
    ("kind", "canonical", "typed"),
    [
        (
            FRET,
            "8",
            ["8th", "8TH", "8 fret", "8th fret", "fret 8", "fret8", "the 8th fret", "８", "fret ８"],
        ),
        (FRET, "12", ["12th fret", "12th", "１２"]),
        (FRET, "0", ["0", "０", "open", "Open", "open string", "the open string", "fret 0"]),
        (FRET, "1", ["1st", "1st fret"]),
        (FINGER, "1", ["first", "first finger", "1st", "1st finger", "index", "1", "１"]),
        (FINGER, "2", ["second", "second finger", "2nd", "middle"]),
        (FINGER, "3", ["third", "3rd finger", "ring"]),
        (FINGER, "4", ["fourth", "FOURTH finger", "4th", "little"]),
        (DEGREE, "1", ["P1", "P8", "unison"]),
        (DEGREE, "b2", ["m2", "min2"]),
        (DEGREE, "b3", ["m3", "m 3", "min3", "min. 3", "minor 3rd", "ｍ３", "♭３", "b 3"]),
        (DEGREE, "3", ["M3", "maj3", "Maj 3", "major third"]),
        (DEGREE, "4", ["P4", "p4", "perf4", "perfect 4th"]),
        (DEGREE, "#4", ["A4", "aug4", "augmented fourth"]),
        (DEGREE, "b5", ["d5", "dim5", "diminished fifth", "b5"]),
        (DEGREE, "5", ["P5", "p5", "perfect 5th"]),
        (DEGREE, "b7", ["m7", "min7", "minor seventh"]),
        (DEGREE, "7", ["M7", "maj7", "major 7th"]),
        (B_FLAT, "viio", ["viio", "vii°", "viiº", "vii˚", "viiᵒ", "vii dim", "ｖｉｉ°"]),
        (B_FLAT, "IV", ["IV", "Ⅳ", "ＩＶ"]),
        (ChordAnswer(), "E#dim", ["E#°", "E#º", "E#˚", "E#ᵒ"]),
        (NOTE, "Ab", ["A flat", "a-flat", "A ♭", "AFLAT", "Ａ♭", "a - flat", "Ab", "AB"]),
        (NOTE, "F#", ["F #", "F ♯", "f sharp"]),
        (KeyAnswer("minor"), "Ab minor", ["A flat minor", "a-flat minor", "A♭m", "Ab-minor", "A flat"]),
    ],
)
def test_what_players_write_is_read(kind: AnswerKind, canonical: str, typed: list[str]) -> None:
    assert {text: kind.read(text) for text in typed} == dict.fromkeys(typed, canonical)


@pytest.mark.parametrize(
    ("kind", "typed"),
    [
        (NOTE, ["A B", "a b", "A-B", "E B", "B B", "F x", "A B minor"]),
        (KeyAnswer("minor"), ["A B", "A B minor", "A-B"]),
        (ChordAnswer(), ["A B", "A Bm", "A B7"]),
        (FRET, ["8 8", "fret 8 fret 9", "open 3", "-8", "99th", "8th finger", "th"]),
        (FINGER, ["fifth", "5th", "first second", "th"]),
        (DEGREE, ["m5", "P3", "M4", "m1", "d3", "d7", "A", "m", "P", "m9"]),
    ],
)
def test_what_has_no_one_meaning_is_refused(kind: AnswerKind, typed: list[str]) -> None:
    for text in typed:
        with pytest.raises(UnknownName) as refused:
            kind.read(text)
        assert refused.value.fix, text


@pytest.mark.parametrize("language", ["german", "italian", "english"])
def test_two_letters_are_no_note(language: NoteLanguage) -> None:
    for typed in ("A s", "E s", "F is", "A-s", "A b", "E B"):
        with pytest.raises(UnknownName):
            NOTE.read(typed, language)


@pytest.mark.parametrize(
    ("language", "typed", "canonical"),
    [
        ("german", "As", "Ab"),
        ("german", "ES", "Eb"),
        ("german", "es", "Eb"),
        ("italian", "la bemolle", "Ab"),
        ("italian", "si b", "Bb"),
        ("french", "la b", "Ab"),
        ("spanish", "mi b", "Eb"),
    ],
)
def test_a_flat_in_other_languages(language: NoteLanguage, typed: str, canonical: str) -> None:
    """Where notes are syllables a lone b after a blank can only be a flat."""
    assert NOTE.read(typed, language) == canonical


@pytest.mark.parametrize("typed", ["thumb", "Thumb", "the thumb", "T"])
def test_the_thumb_is_told_that_it_is_not_asked_for(typed: str) -> None:
    with pytest.raises(UnknownName) as refused:
        FINGER.read(typed)
    assert str(refused.value) == "The thumb has no number here. Type a finger, 1 (index) to 4 (little)."
