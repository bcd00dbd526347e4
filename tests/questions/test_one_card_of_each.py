"""One card of every family, read as a learner reads it. The answers are worked in the sources named in the comments."""

from __future__ import annotations

from dataclasses import replace
from typing import Never

import pytest

from drill.decks import entry_of
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.questions.wording import to_ascii
from drill.theory.neck import STANDARD, Neck
from tests.support.asking import judged

NECK = Neck(STANDARD, frets=15)


def card_of(card_id: str, neck: Neck = NECK) -> Card:
    entry, _ = entry_of(card_id)
    return FAMILIES[entry.item.family].card(entry.facets, neck)


PAGES = [
    (  # MusicXML 4.0: string 1 is the highest, the fret counts half steps
        "note-at-fret:string=6:fret=8",
        "Fret 8, string 6 (low E): which note?",
        "C",
        ("string 6 (low E) has B at 7", "then C at 8"),
    ),
    (
        "fret-of-note:string=5:note=Eb",
        "Eb, string 5 (A): which fret?",
        "6",
        ("string 5 (A) has D at 5", "one fret up, at 6: Eb or D#"),
    ),
    (  # common practice, no source: two strings up, two frets; across strings 3 and 2, three
        "tonic-octave:string=4:fret=7",
        "Fret 7, string 4 (D): octave up, string 2 (B): fret?",
        "10",
        (
            "string 2 sounds 9 semitones above string 4",
            "an octave is 12, so 3 frets up",
            "fret 10 is A",
        ),
    ),
    (
        "letter-skip:note=D:interval=third-up",
        "D: letter a third above?",
        "F",
        ("a third counts three letters: D E F", "skip E, land on F"),
    ),
    (  # Understanding Basic Music Theory, exercise 4.4.2, solution: F minor and A flat
        "relative-minor:key=Ab",
        "Ab major: relative minor?",
        "F minor",
        ("Ab major", "down three frets and two letters: Ab G F", "F minor"),
    ),
    (  # the same: F# minor and A
        "relative-major:key=F#m",
        "F# minor: relative major?",
        "A major",
        ("F# minor", "up three frets and two letters: F# G# A", "A major"),
    ),
    (  # Open Music Theory, key signatures: flats in the order B E A D
        "signature:key=Eb",
        "Eb major: how many sharps or flats?",
        "3 flats",
        (
            "last flat but one: Eb",
            "flats in order, one past it: Bb Eb Ab",
            "3 flats",
        ),
    ),
    (
        "signature-key:signature=4-sharps:mode=minor",
        "4 sharps: which minor key?",
        "C# minor",
        (
            "4 sharps: F# C# G# D#",
            "a semitone above the last sharp: E major",
            "down three frets and two letters: E D# C#",
            "C# minor",
        ),
    ),
    (  # common practice, no source: minor tonic under the index, major tonic under the little finger
        "tonic-finger:key=F:shape=string-6",
        "F major, low-E-string shape: tonic finger, string 6?",
        "4",
        (
            "string 6 (low E) holds both tonics",
            "index finger: the minor tonic, D",
            "little finger, three frets up: the major tonic, F",
            "so F major: finger 4 (little)",
        ),
    ),
    (
        "finger-key:shape=string-6:finger=4:fret=8:mode=minor",
        "Fret 8, little finger, low-E-string shape: minor key?",
        "A minor",
        (
            "string 6 (low E) has B at 7",
            "then C at 8",
            "little finger on the major tonic: C major",
            "down three frets and two letters: C B A",
            "A minor",
        ),
    ),
    (
        "tonic-fret:key=Bb:string=5",
        "Bb major, string 5 (A): tonic fret?",
        "1 | 13",
        (
            "the tonic of Bb major is Bb",
            "string 5 (A) sounds A open",
            "one fret up, at 1: Bb or A#",
            "and again twelve frets up, at 13",
        ),
    ),
    (  # common practice, no source: F major in the A-string shape has the index at 5, the little finger at 8
        "shape-anchor:key=F:shape=string-5",
        "F major, A-string shape: index fret?",
        "5",
        (
            "F major",
            "down three frets and two letters: F E D",
            "D minor",
            "the index finger holds the minor tonic, D",
            "string 5 (A) sounds A open",
            "then B at 2, C at 3, D at 5",
        ),
    ),
    (
        "other-tonic:key=Am:shape=string-5",
        "A minor at 12, A-string shape: major tonic's fret, same string?",
        "15",
        (
            "index finger at 12: the minor tonic, A",
            "little finger, three frets up: the major tonic",
            "12 + 3 = 15: C",
        ),
    ),
    (
        "neck-diagram:shape=string-5:fret=8:mode=major",
        "Frets 8-11 8-11 8-10 8-10 9-11 8-11, string 6 (low E) to string 1 (high E): major pentatonic of which key?",
        "Ab major",
        (
            "this is the A-string shape",
            "minor tonic at fret 8 of string 5 (A)",
            "string 5 (A) has E at 7",
            "then F at 8",
            "up three frets and two letters: F G Ab",
            "Ab major",
        ),
    ),
    (  # common practice, no source: two frets above the top of the A-string shape
        "next-shape:key=Dm:shape=string-5",
        "D minor, A-string shape at 5: index fret, next low-E-string shape up?",
        "10",
        (
            "it reaches from fret 5 to 8",
            "next index fret: 2 frets above that",
            "8 + 2 = 10: D on string 6 (low E)",
        ),
    ),
    (
        "next-shape:key=Am:shape=1",
        "A minor, low-E-string shape, lowest note at 5: lowest note's fret, next shape up?",
        "8",
        (
            "its upper notes begin the next shape",
            "string 6: A at 5, C at 8",
            "from 8: the D-string shape",
        ),
    ),
    (
        "degree-at:shape=string-6:string=5:finger=3:mode=minor",
        "Ring finger, string 5 (A), low-E-string shape: degree in minor?",
        "5",
        (
            "minor tonic: index finger, string 6 (low E)",
            "note by note up: 1 b3 4 5",
        ),
    ),
    (
        "chord-of-key:key=Am:numeral=V",
        "A minor: which triad is V?",
        "E",
        (
            "A minor: A B C D E F G",
            "its fifth note is E",
            "raise G to G#, which leads home",
            "stack thirds: E G# B, a major chord",
            "so it is E",
        ),
    ),
    (
        "numeral-of-chord:key=Bb:chord=Adim",
        "Adim, Bb major: which numeral?",
        "viio | vii",
        (
            "Bb major: Bb C D Eb F G A",
            "its seventh note is A",
            "stack thirds: A C Eb, a diminished chord",
            "diminished, so small letters: viio",
        ),
    ),
    (  # Open Music Theory, pop rock harmony: VI-IV-I-V in C major or I-VI-III-VII in A minor
        "loop-tonic:loop=Am-F-C-G",
        "Am F C G: key of this loop?",
        "A minor | C major",
        (
            "in A minor: i VI III VII",
            "it starts on Am",
            "in C major: vi IV I V",
            "F falls home to C, a fourth below",
            "the chords leave it open",
            "where you rest decides: A minor or C major",
            "C major is the likelier",
        ),
    ),
    (
        "chord-tone:key=Am:shape=string-6:chord=F:string=3",
        "F chord, A minor, low-E-string shape, string 3 (G): chord-tone finger?",
        "1",
        (
            "chord tones of F: F A C",
            "index finger: C; ring finger: D",
            "C is the 5 of F: finger 1 (index)",
        ),
    ),
    (
        "ear-tonic:note=A:mode=minor",
        "Dm E Am, then A C D E G: minor or major?",
        "minor",
        (
            "Dm E Am come to rest on Am",
            "so home is A",
            "five notes: A C D E G",
            "C, three frets above home, makes it minor",
        ),
    ),
]


@pytest.mark.parametrize(("card_id", "prompt", "accepts", "because"), PAGES, ids=[page[0] for page in PAGES])
def test_a_card_reads_as_a_teacher_would_put_it(
    card_id: str, prompt: str, accepts: str, because: tuple[str, ...]
) -> None:
    card = card_of(card_id)
    assert to_ascii(card.prompt) == prompt
    assert " | ".join(card.accepts) == accepts
    assert tuple(map(to_ascii, card.because)) == because


def test_every_family_has_its_page() -> None:
    assert {page[0].split(":")[0] for page in PAGES} == FAMILIES.keys()


@pytest.mark.parametrize(
    ("card_id", "steps"),
    [
        ("note-at-fret:string=6:fret=0", ["string 6 (low E) sounds E open"]),
        ("note-at-fret:string=6:fret=12", ["fret 12 is the open string again: E"]),
        ("note-at-fret:string=6:fret=15", [
            "fret 15 is fret 3, an octave up", "string 6 (low E) sounds E open", "then F at 1, G at 3"]),
        ("tonic-fret:key=Cb:string=6", [
            "the tonic of Cb major is Cb", "string 6 (low E) has A at 5", "then B at 7", "B is also called Cb"]),
        ("signature:key=C", ["C major has no sharps or flats"]),
        ("signature:key=F", ["know it by heart: F major has 1 flat, Bb"]),
        ("signature:key=Em", [
            "E minor", "up three frets and two letters: E F# G", "G major",
            "last sharp, a semitone below G: F#", "sharps in order up to it: F#", "1 sharp"]),
        ("degree-at:shape=string-6:string=6:finger=1:mode=major", [
            "major tonic: little finger, string 6 (low E)", "note by note down: 1 6"]),
        # the flat fifth of the blues, between fourth and fifth (common practice, no source)
        ("degree-at:shape=string-6:string=5:finger=2:mode=minor", [
            "it lies between the 4 and the 5", "the blue note, b5"]),
        ("degree-at:shape=string-6:string=5:finger=2:mode=major", [
            "it lies between the 2 and the 3", "the blue note, b3"]),
    ],
)  # fmt: skip
def test_reasons_at_the_edges(card_id: str, steps: list[str]) -> None:
    assert [to_ascii(step) for step in card_of(card_id).because] == steps


def test_an_anchor_far_up_the_neck_is_ruled_out_in_words() -> None:
    """F minor lies at 1 and 13; from 13 the shape would need a sixteenth fret."""
    short, longer = (card_of("shape-anchor:key=Fm:shape=string-6", Neck(STANDARD, frets)) for frets in (15, 16))
    bounded = "F minor, low-E-string shape, whole on the neck: index fret?"
    assert to_ascii(short.prompt) == bounded
    assert (short.accepts, longer.accepts) == (("1",), ("1", "13"))
    assert "whole" not in longer.prompt
    assert judged(short, "13").mixup.sentence.endswith("from there the shape runs off this neck.")  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("card_id", "given", "doubt"),
    [
        # the dots of A minor and C major, minor asked: the tonic was not recognized
        ("neck-diagram:shape=string-6:fret=5:mode=minor", "C minor", "diagram:string-6"),
        ("neck-diagram:shape=string-6:fret=5:mode=minor", "C major", "diagram:string-6"),
        # major asked: the step to the relative was not made
        ("neck-diagram:shape=string-6:fret=5:mode=major", "A major", "relative:Am"),
        ("neck-diagram:shape=string-6:fret=5:mode=major", "A minor", "relative:Am"),
        # the fret of the other tonic: neither the bond nor the fret is shown to have failed
        ("tonic-fret:key=Am:string=6", "8", None),
    ],
)
def test_what_the_other_tonic_casts_doubt_on(card_id: str, given: str, doubt: str | None) -> None:
    mixup = judged(card_of(card_id), given).mixup
    assert mixup is not None
    assert mixup.fact == doubt


@pytest.mark.parametrize(
    ("card_id", "given", "place"),
    [  # a sharp raises by a half step, a flat lowers by one, so the two are two frets apart (MusicXML 4.0, alter)
        ("fret-of-note:string=6:note=F#", "0", "1 fret below F"),
        ("fret-of-note:string=6:note=F#", "12", "1 fret below F"),
        ("fret-of-note:string=5:note=Bb", "3", "1 fret above B"),
        ("tonic-fret:key=Eb:string=5", "8", "1 fret above E"),
        ("shape-anchor:key=C#m:shape=string-5", "2", "1 fret below C"),
    ],
)
def test_a_sharp_taken_for_a_flat_is_named_by_its_place(card_id: str, given: str, place: str) -> None:
    """Nobody who meets F sharp for the first time has heard of F flat."""
    mixup = judged(card_of(card_id), given).mixup
    assert mixup is not None
    assert mixup.name == "sharp for flat"
    assert to_ascii(mixup.sentence) == f"Fret {given} is {place}: a flat lowers, a sharp raises."


def test_asking_and_judging_a_right_answer_derive_nothing_else() -> None:
    def derive() -> Never:
        raise AssertionError("derived before it was asked for")

    card = card_of("shape-anchor:key=Fm:shape=string-6")
    bare = replace(card, explain=derive, confuse=derive, draw=derive, draw_answer=derive)
    assert bare.prompt and judged(bare, bare.accepts[0]).right
    with pytest.raises(AssertionError, match="derived"):
        judged(bare, "2")


def test_cards_are_the_same_if_they_ask_the_same_of_the_same_neck() -> None:
    card_id = "fret-of-note:string=6:note=E"
    assert card_of(card_id) == card_of(card_id)
    assert card_of(card_id) != card_of("fret-of-note:string=6:note=F")
    assert card_of(card_id) != card_of(card_id, Neck(STANDARD, 24)), "there, fret 24 is right too"


def test_a_capo_is_said_wherever_frets_are_counted() -> None:
    neck = Neck(STANDARD, 15, capo=2)
    asked = ("note-at-fret:string=6:fret=3", "fret-of-note:string=6:note=A", "shape-anchor:key=Am:shape=string-6")
    for card_id in asked:
        assert "counted from the capo" in card_of(f"{card_id}:capo=2", neck).prompt
    step = card_of("note-at-fret:string=6:fret=1:capo=2", neck).because[0]
    assert to_ascii(step) == "string 6 (low E) sounds F# at the capo"
