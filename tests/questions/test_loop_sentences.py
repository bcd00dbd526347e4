"""What is said of the keys of a loop, on cards and in look-ups."""

from __future__ import annotations

from typing import get_args

import pytest

from drill.questions.loop_sentences import evidence_clause, evidence_sentences
from drill.questions.wording import to_ascii, to_screen
from drill.theory.chords import Chord, parse_chord, parse_chords
from drill.theory.functions import FunctionKind, function_of
from drill.theory.keys import parse_key
from drill.theory.loops import Evidence, analyse_loop
from drill.theory.pitch import Note


def sentences(loop: str) -> list[str]:
    return [to_ascii(sentence) for sentence in evidence_sentences(analyse_loop(parse_chords(loop)))]


@pytest.mark.parametrize(
    ("loop", "said"),
    [
        (
            "Am F C G",
            ["In A minor the chords are i VI III VII: it starts on Am.", "In C major the chords are vi IV I V."],
        ),
        ("C D G", ["In G major the chords are IV V I: it ends on G; D leads home to G."]),
        (
            "Am G F E",
            [
                "In A minor the chords are i VII VI V: it starts on Am; E leads home to Am; "
                "E holds G#, the raised seventh of A minor."
            ],
        ),
        (
            "Dm7 G7",
            [
                "In D minor the chords are i7 IV7: G7 is borrowed, as in the dorian mode; it starts on Dm7.",
                "In C major the chords are ii7 V7: the chord of C major itself does not occur; "
                "G7 is the dominant seventh of C major.",
            ],
        ),
        (
            "A7 D7 E7",
            [
                "Every chord is a dominant seventh, as in a blues: the sevenths are colour and name no key.",
                "In A major the chords are I7 IV7 V7: it starts on A; E leads home to A.",
            ],
        ),
    ],
)
def test_each_key_says_what_speaks_for_it(loop: str, said: list[str]) -> None:
    assert sentences(loop) == said


def test_names_are_written_in_the_learners_note_language() -> None:
    said = next(iter(evidence_sentences(analyse_loop(parse_chords("Bbm Gb Db Ab")))))
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


def test_a_loop_may_come_to_rest_on_a_tonic() -> None:
    piece = Evidence("rest", 9, parse_chord("Am"))
    assert to_ascii(evidence_clause(piece, parse_key("Am"))) == "it comes to rest on Am"
