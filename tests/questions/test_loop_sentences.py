"""What is said of the keys of a loop, on cards and in look-ups."""

from __future__ import annotations

import re
from typing import get_args

import pytest

from drill.questions.loop_sentences import evidence_clause, evidence_clauses, evidence_sentences
from drill.questions.wording import to_ascii, to_screen
from drill.theory.chords import Chord, parse_chord, parse_chords
from drill.theory.functions import FunctionKind, function_of
from drill.theory.harmony import scale_chords
from drill.theory.keys import parse_key
from drill.theory.loop_evidence import Evidence, EvidenceKind
from drill.theory.loops import Fit, analyse_loop
from drill.theory.pitch import Note
from drill.theory.scales import SCALES, degree_interval, spell


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
                "In D mixolydian the chords are I bVII IV: C is the mixolydian bVII; it starts on D; "
                "G falls home to D, a fourth below; from C two steps of a fourth lead home to D, as in rock.",
                "In G major the chords are V IV I: it ends on G; C falls home to G, a fourth below.",
            ],
        ),
        (
            "Dm7 G7",
            [
                "In D dorian the chords are i7 IV7: G7 is the dorian IV; it starts on Dm7; "
                "G7 falls home to Dm7, a fourth below.",
                "In C major the chords are ii7 V7: the chord of C major itself does not occur.",
            ],
        ),
        (
            "C D",
            [
                "In G major the chords are IV V: the chord of G major itself does not occur.",
                "In C lydian the chords are I II: D is the lydian II; it starts on C.",
            ],
        ),
        (
            "Fmaj7 Em7 Dm7 Cmaj7",
            [
                "In C major the chords are IVmaj7 iii7 ii7 Imaj7: it ends on Cmaj7.",
                "In F lydian the chords are Imaj7 vii7 vi7 Vmaj7: Em7 contains B, the raised fourth of lydian; "
                "Cmaj7 contains B too; it starts on Fmaj7; Cmaj7 leads home to Fmaj7.",
            ],
        ),
        (
            "A7 Am7",
            [
                "In A major the chords are I7 i7: A7 has the added seventh of the blues; "
                "Am7 is the tonic of the parallel minor; it starts on A7.",
                "In D minor the chords are V7 v7: the chord of D minor itself does not occur.",
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
        key_chords = tuple(each.chord for each in scale_chords(key))
        for root in (Note(fifths) for fifths in range(-5, 7)):
            for suffix in ("", "m", "dim", "aug", "7", "maj7"):
                chord = Chord(root, suffix)
                plain = Fit(key, key_chords, ())
                piece = Evidence("borrowed", -1, chord)
                kind, target = function_of(chord, key)
                if kind != "own":
                    said[kind, target] = to_ascii(evidence_clause(piece, plain)).removeprefix(chord.name)
    assert {kind for kind, _ in said} == {*get_args(FunctionKind)} - {"own"}
    assert len(set(said.values())) == len(said)
    assert said["secondary dominant", "V"] == " is the dominant of V"


def test_every_sign_can_be_said_of_a_key() -> None:
    """Programs get a clause for each sign, also for those that a sentence leaves out."""
    key, chord, home = parse_key("C"), parse_chord("G7/B"), parse_chord("C")
    kinds = [kind for kind in get_args(EvidenceKind) if kind not in ("borrowed", "far", "dominant of another")]
    fit = Fit(key, (home,), ())
    clauses = [to_ascii(evidence_clause(Evidence(kind, 1, chord, home), fit)) for kind in kinds]
    assert len(set(clauses)) == len(kinds)
    assert "G7/B leads home to C" in clauses
    assert "C lies in the bass of G7/B" in clauses


# The modes as semitones above the tonic, the note that marks each, and the root of its one major triad with that note
# (scales: Open Music Theory, diatonic modes; chords: common practice, no source).
MODES = {
    "dorian": ({0, 2, 3, 5, 7, 9, 10}, 9, 5, "IV"),
    "phrygian": ({0, 1, 3, 5, 7, 8, 10}, 1, 1, "bII"),
    "lydian": ({0, 2, 4, 6, 7, 9, 11}, 6, 2, "II"),
    "mixolydian": ({0, 2, 4, 5, 7, 9, 10}, 10, 10, "bVII"),
}
SOUNDS = {"": {0, 4, 7}, "m": {0, 3, 7}, "dim": {0, 3, 6}, "7": {0, 4, 7, 10}, "maj7": {0, 4, 7, 11},
          "m7": {0, 3, 7, 10}, "m7b5": {0, 3, 6, 10}, "add9": {0, 4, 7, 2}, "7sus4": {0, 5, 7, 10}}  # fmt: skip
NOT_OF_THE_SCALE = re.compile(
    "borrowed|foreign|outside|coloured|dominant of|passing|parallel|added seventh|raised fifth"
)
DEGREES = ("1", "b2", "2", "b3", "3", "4", "#4", "5", "b6", "6", "b7", "7")
TONICS = [Note.of(*each) for each in (*((letter, 0) for letter in "CDEFGAB"), ("C", 1), ("F", 1), ("G", 1), ("B", -1),
                                      ("E", -1))]  # fmt: skip


def chords_within(tonic: Note, scale: set[int]) -> list[Chord]:
    """Every chord of the kinds above whose notes all lie in a scale, counted out."""
    return [
        Chord(tonic + degree_interval(DEGREES[step]), suffix)
        for step in sorted(scale)
        for suffix, sounds in SOUNDS.items()
        if {(step + sound) % 12 for sound in sounds} <= scale
    ]


@pytest.mark.parametrize("mode", MODES)
def test_a_chord_of_a_mode_is_its_own_and_the_one_that_marks_it_is_named(mode: str) -> None:
    """Over every root, every chord of the mode between its tonic chord and the chord that marks it."""
    scale, _, marking, numeral = MODES[mode]
    for tonic in TONICS:
        minor = "m" if 3 in scale else ""
        home = Chord(tonic, minor)
        within = chords_within(tonic, scale)
        marks = [chord for chord in within if (chord.root.pitch_class - tonic.pitch_class) % 12 == marking]
        mark = next(chord for chord in marks if chord.suffix == "")
        for chord in within:
            (fit,) = analyse_loop((home, chord, mark), home).fits
            assert (fit.mode, fit.key.tonic.pitch_class) == (mode, tonic.pitch_class)
            for clause in map(to_ascii, evidence_clauses(fit)):
                assert not NOT_OF_THE_SCALE.search(clause), (chord, clause)
            assert f"{mark.name} is the {mode} {numeral}" in map(to_ascii, evidence_clauses(fit))


@pytest.mark.parametrize("mode", MODES)
def test_the_note_of_a_mode_is_said_to_lie_in_just_the_chords_that_hold_it(mode: str) -> None:
    scale, marking, *_ = MODES[mode]
    for tonic in TONICS:
        home = Chord(tonic, "m" if 3 in scale else "")
        within = chords_within(tonic, scale)
        (fit,) = analyse_loop((home, *within), home).fits
        told = {chord.name for chord in within for clause in map(to_ascii, evidence_clauses(fit))
                if clause.startswith((f"{chord.name} contains ", f"{chord.name} is the {mode} "))}  # fmt: skip
        holding = {
            chord.name
            for chord in within
            if (tonic.pitch_class + marking) % 12
            in {(chord.root.pitch_class + sound) % 12 for sound in SOUNDS[chord.suffix]}
        }
        assert told == holding, (mode, tonic)


def test_of_every_pair_of_chords_each_reading_calls_its_own_chords_its_own() -> None:
    """Whatever the mode in which a loop is read: what lies in the scale that is printed is never called a stranger."""
    chords = [Chord(Note(fifths), suffix) for fifths in range(-5, 7) for suffix in SOUNDS]
    for first in (chord for chord in chords if chord.root == Note.of("C")):
        for second in chords:
            for fit in analyse_loop((first, second)).fits:
                scale = {note.pitch_class for note in spell(fit.key.tonic, SCALES[fit.scale])}
                for chord in (first, second):
                    inside = {(chord.root.pitch_class + sound) % 12 for sound in SOUNDS[chord.suffix]} <= scale
                    clauses = [c for c in map(to_ascii, evidence_clauses(fit)) if c.startswith(f"{chord.name} ")]
                    assert not (inside and any(map(NOT_OF_THE_SCALE.search, clauses))), (fit, clauses)


@pytest.mark.parametrize(
    ("loop", "clause"),
    [
        ("Em Amaj7", "Amaj7 is the dorian IV, coloured by a note outside the scale"),  # G sharp
        ("D Am(maj7) C", "AmMaj7 is coloured by a note outside the scale"),  # G sharp
        ("A D7 G", "D7 has the added seventh of the blues"),  # C, while A mixolydian has C sharp
        ("Em A B7", "A is borrowed, as in the dorian mode"),  # D sharp: E minor, to which the A does not belong
    ],
)
def test_what_a_mode_does_not_hold_is_told_as_such(loop: str, clause: str) -> None:
    chords = parse_chords(loop)
    (fit,) = analyse_loop(chords, chords[0]).fits
    assert clause in map(to_ascii, evidence_clauses(fit))
