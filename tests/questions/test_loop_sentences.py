"""What is said of the keys of a loop, on cards and in look-ups."""

from __future__ import annotations

from typing import get_args

import pytest

from drill.questions.loop_sentences import evidence_clause, evidence_sentences
from drill.questions.wording import to_ascii, to_screen
from drill.theory.chords import Chord, parse_chord, parse_chords
from drill.theory.functions import FunctionKind, function_of
from drill.theory.keys import parse_key
from drill.theory.loop_evidence import Evidence, EvidenceKind
from drill.theory.loops import analyse_loop
from drill.theory.pitch import Note


def sentences(loop: str) -> list[str]:
    reading = analyse_loop(parse_chords(loop))
    return [to_ascii(sentence) for sentence in evidence_sentences(reading.fits, reading.is_blues)]


@pytest.mark.parametrize(
    ("loop", "said"),
    [
        (
            "Am F C G",
            [
                "In C major the chords are vi IV I V: F falls home to C, a fourth below.",
                "In A minor the chords are i VI III VII: it starts on Am.",
            ],
        ),
        ("C", ["In C major the only chord is I."]),
        (
            "Am Am",
            [
                "In A minor the only chord is i.",
                "In C major the only chord is vi: the chord of C major itself does not occur.",
            ],
        ),
        ("C F G7", ["In C major the chords are I IV V7: it starts on C; G7 leads home to C."]),
        ("Am G F E", ["In A minor the chords are i VII VI V: it starts on Am; E leads home to Am."]),
        (
            "D C G",
            [
                "In D mixolydian the chords are I bVII IV: C is borrowed, as in the mixolydian mode; it starts on D; "
                "G falls home to D, a fourth below; from C two steps of a fourth lead home to D, as in rock.",
                "In G major the chords are V IV I: it ends on G; C falls home to G, a fourth below.",
            ],
        ),
        (
            "Dm7 G7",
            [
                "In D dorian the chords are i7 IV7: G7 is borrowed, as in the dorian mode; it starts on Dm7; "
                "G7 falls home to Dm7, a fourth below.",
                "In C major the chords are ii7 V7: the chord of C major itself does not occur.",
            ],
        ),
        (
            "A7 D7 E7",
            [
                "Every chord is a dominant seventh, as in a blues: the sevenths are colour and name no key.",
                "In A major the chords are I7 IV7 V7: it starts on A7; E7 leads home to A7.",
            ],
        ),
    ],
)
def test_each_key_says_what_speaks_for_it(loop: str, said: list[str]) -> None:
    assert sentences(loop) == said


def test_names_are_written_in_the_learners_note_language() -> None:
    said = next(iter(evidence_sentences(analyse_loop(parse_chords("Bbm Gb Db Ab")).fits[1:], blues=False)))
    assert to_screen(said, "german") == "In B minor the chords are i VI III VII: it starts on Bm."


def test_every_part_a_foreign_chord_can_play_has_a_clause_of_its_own() -> None:
    said = {}
    for key in map(parse_key, ("C", "Am")):
        for root in (Note(fifths) for fifths in range(-5, 7)):
            for suffix in ("", "m", "dim", "aug", "7", "maj7"):
                chord = Chord(root, suffix)
                piece = Evidence("borrowed", -1, chord)
                kind, target = function_of(chord, key)
                if kind != "own":
                    said[kind, target] = to_ascii(evidence_clause(piece, key)).removeprefix(chord.name)
    assert {kind for kind, _ in said} == {*get_args(FunctionKind)} - {"own"}
    assert len(set(said.values())) == len(said)
    assert said["secondary dominant", "V"] == " is the dominant of V"


def test_every_sign_can_be_said_of_a_key() -> None:
    """Programs get a clause for each sign, also for those that a sentence leaves out."""
    key, chord, home = parse_key("C"), parse_chord("G7/B"), parse_chord("C")
    kinds = [kind for kind in get_args(EvidenceKind) if kind not in ("borrowed", "far", "dominant of another")]
    clauses = [to_ascii(evidence_clause(Evidence(kind, 1, chord, home), key)) for kind in kinds]
    assert len(set(clauses)) == len(kinds)
    assert "G7/B leads home to C" in clauses
    assert "C lies in the bass of G7/B" in clauses
