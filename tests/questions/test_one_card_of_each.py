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

NECK = Neck(STANDARD, frets=15)


def card_of(card_id: str, neck: Neck = NECK) -> Card:
    entry, _ = entry_of(card_id)
    return FAMILIES[entry.item.family].card(entry.facets, neck)


PAGES = [
    (  # MusicXML 4.0: string 1 is the highest, the fret counts half steps
        "note-at-fret:string=6:fret=8",
        "String 6 (low E), fret 8: which note?",
        "C",
        ("fret 7 on string 6 (low E) is B", "then C at 8"),
    ),
    (
        "fret-of-note:string=5:note=Eb",
        "Eb on string 5 (A): which fret?",
        "6",
        ("fret 5 on string 5 (A) is D", "one fret up is Eb, also called D#, at 6"),
    ),
    (  # common practice, no source: two strings up, two frets; across strings 3 and 2, three
        "tonic-octave:string=4:fret=7",
        "A tonic at fret 7 of string 4 (D): at which fret of string 2 (B) is it one octave higher?",
        "10",
        (
            "string 2 (B) lies 9 semitones above string 4 (D)",
            "an octave is 12, so: two strings up, 3 frets up",
            "fret 10 is A",
        ),
    ),
    (
        "letter-skip:note=D:interval=third-up",
        "A third above D, letters only (skip one): which letter?",
        "F",
        ("a third counts three letters, the first one too: D E F", "skip E, land on F"),
    ),
    (  # Understanding Basic Music Theory, exercise 4.4.2, solution: F minor and A flat
        "relative-minor:key=Ab",
        "Ab major: which is its relative minor?",
        "F minor",
        ("Ab major", "down three frets and two letters: Ab G F", "F minor"),
    ),
    (  # the same: F# minor and A
        "relative-major:key=F#m",
        "F# minor: which is its relative major?",
        "A major",
        ("F# minor", "up three frets and two letters: F# G# A", "A major"),
    ),
    (  # Open Music Theory, key signatures: flats in the order B E A D
        "signature:key=Eb",
        "Eb major: how many sharps or flats does it have?",
        "3 flats",
        (
            "flats come in the order Bb Eb Ab Db Gb Cb Fb",
            "the last but one names the major key: Eb",
            "Bb Eb Ab: 3 flats",
        ),
    ),
    (
        "signature-key:signature=4-sharps:mode=minor",
        "4 sharps: which minor key?",
        "C# minor",
        (
            "4 sharps: F# C# G# D#",
            "the major tonic lies a half step above the last one: E major",
            "down three frets and two letters: E D# C#",
            "C# minor",
        ),
    ),
    (  # common practice, no source: minor tonic under the index, major tonic under the little finger
        "tonic-finger:key=F:shape=string-6",
        "F major, low-E-string shape: which finger is on the tonic, on string 6 (low E)?",
        "4",
        (
            "the low-E-string shape has both tonics on string 6 (low E)",
            "the index finger holds the minor tonic, D; the little finger, three frets up, the major tonic, F",
            "the tonic of F major is under finger 4 (little)",
        ),
    ),
    (
        "finger-key:shape=string-6:finger=4:fret=8:mode=minor",
        "Low-E-string shape, little finger at fret 8 of string 6 (low E): which minor key?",
        "A minor",
        (
            "fret 7 on string 6 (low E) is B",
            "then C at 8",
            "the little finger holds the major tonic: C major",
            "down three frets and two letters: C B A",
            "A minor",
        ),
    ),
    (
        "tonic-fret:key=Bb:string=5",
        "Bb major: at which fret of string 5 (A) is the tonic?",
        "1 | 13",
        (
            "the tonic of Bb major is Bb",
            "string 5 (A) sounds A open",
            "one fret up is Bb, also called A#, at 1",
            "twelve frets up it comes again, at 13",
        ),
    ),
    (  # common practice, no source: F major in the A-string shape has the index at 5, the little finger at 8
        "shape-anchor:key=F:shape=string-5",
        "F major, A-string shape: at which fret is the index finger?",
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
        "Index finger on the tonic of A minor, string 5 (A), fret 12. "
        "At which fret of this string is the major tonic of the same shape?",
        "15",
        (
            "the minor tonic is under the index finger at fret 12",
            "the major tonic is three frets up, under the little finger",
            "fret 15, C",
        ),
    ),
    (
        "neck-diagram:shape=string-5:fret=8:mode=major",
        "A shape from string 6 (low E) to string 1 (high E) at the frets 8 11, 8 11, 8 10, 8 10, 9 11, 8 11. "
        "Of which major key is this the major pentatonic?",
        "Ab major",
        (
            "this is the A-string shape",
            "its minor tonic is at fret 8 of string 5 (A)",
            "fret 7 on string 5 (A) is E",
            "then F at 8",
            "up three frets and two letters: F G Ab",
            "Ab major",
        ),
    ),
    (  # common practice, no source: two frets above the top of the A-string shape
        "next-shape:key=Dm:shape=string-5",
        "D minor, A-string shape, index finger at fret 5: going up the neck, "
        "at which fret is the index finger in the next low-E-string shape?",
        "10",
        (
            "the A-string shape reaches from fret 5 to fret 8",
            "2 frets above its top lies the index finger of the next low-E-string shape",
            "8 + 2 = 10: there string 6 (low E) has the minor tonic, D",
        ),
    ),
    (
        "next-shape:key=Am:shape=1",
        "A minor, low-E-string shape, from fret 5 of string 6 (low E): going up through the five shapes, "
        "at which fret of this string does the next one begin?",
        "8",
        (
            "two shapes side by side share a column: the upper note of each string is the lower one of the next shape",
            "string 6 (low E) has A at 5 and C at 8",
            "the next is the D-string shape, from fret 8",
        ),
    ),
    (
        "degree-at:shape=string-6:string=5:finger=3:mode=minor",
        "Low-E-string shape, string 5 (A), ring finger: which degree of the minor key?",
        "5",
        (
            "the minor tonic is under the index finger on string 6 (low E)",
            "note by note up the shape: 1 b3 4 5",
        ),
    ),
    (
        "chord-of-key:key=Am:numeral=V",
        "A minor: which triad is V?",
        "E",
        (
            "A minor is A B C D E F G",
            "its fifth note is E",
            "thirds upon it, with G raised to G#: E G# B, a major chord, hence the capital",
            "so it is E",
        ),
    ),
    (
        "numeral-of-chord:key=Bb:chord=Adim",
        "Adim in Bb major: which numeral? Capitals for major chords, small letters for minor and diminished ones.",
        "viio | vii",
        (
            "Bb major is Bb C D Eb F G A",
            "its seventh note is A",
            "thirds upon it: A C Eb, a diminished chord",
            "so it is viio",
        ),
    ),
    (  # Open Music Theory, pop rock harmony: VI-IV-I-V in C major or I-VI-III-VII in A minor
        "loop-tonic:loop=Am-F-C-G",
        "A loop, round and round: Am F C G. Which key is it in?",
        "A minor | C major",
        (
            "In A minor the chords are i VI III VII: it starts on Am",
            "In C major the chords are vi IV I V",
            "The chords do not decide between A minor and C major: where you rest does. A minor is the likelier",
        ),
    ),
    (
        "chord-tone:key=Am:shape=string-6:chord=F:string=3",
        "A minor, low-E-string shape, over F: which finger lands on a chord tone on string 3 (G)?",
        "1",
        (
            "F is F A C",
            "string 3 (G) has C under the index finger and D under the ring finger",
            "C is the 5 of F: finger 1 (index)",
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
        ("note-at-fret:string=6:fret=12", ["fret 12 is the open string again, an octave up: E"]),
        ("note-at-fret:string=6:fret=15", [
            "fret 15 is fret 3 again, an octave up", "string 6 (low E) sounds E open", "then F at 1, G at 3"]),
        ("tonic-fret:key=Cb:string=6", [
            "the tonic of Cb major is Cb", "fret 5 on string 6 (low E) is A", "then B at 7", "B is also called Cb"]),
        ("signature:key=C", ["C major has no sharps and no flats; every other key is measured from it"]),
        ("signature:key=F", ["F major is the one to know by heart: Bb alone, 1 flat"]),
        ("signature:key=Em", [
            "E minor", "up three frets and two letters: E F# G", "G major",
            "sharps come in the order F# C# G# D# A# E# B#",
            "the last one lies a half step below the major tonic: F# below G", "F#: 1 sharp"]),
        ("degree-at:shape=string-6:string=6:finger=1:mode=major", [
            "the major tonic is under the little finger on string 6 (low E)", "note by note down the shape: 1 6"]),
        # the flat fifth of the blues, between fourth and fifth (common practice, no source)
        ("degree-at:shape=string-6:string=5:finger=2:mode=minor", [
            "it lies one fret above the 4, or one below the 5", "the blue note, b5"]),
        ("degree-at:shape=string-6:string=5:finger=2:mode=major", [
            "it lies one fret above the 2, or one below the 3", "the blue note, b3"]),
    ],
)  # fmt: skip
def test_reasons_at_the_edges(card_id: str, steps: list[str]) -> None:
    assert [to_ascii(step) for step in card_of(card_id).because] == steps


def test_an_anchor_far_up_the_neck_is_ruled_out_in_words() -> None:
    """F minor lies at 1 and 13; from 13 the shape would need a sixteenth fret."""
    short, longer = (card_of("shape-anchor:key=Fm:shape=string-6", Neck(STANDARD, frets)) for frets in (15, 16))
    bounded = "F minor, low-E-string shape, whole on this neck: at which fret is the index finger?"
    assert to_ascii(short.prompt) == bounded
    assert (short.accepts, longer.accepts) == (("1",), ("1", "13"))
    assert "whole" not in longer.prompt
    assert short.judge("13").mixup.sentence.endswith("from there the shape runs off this neck.")  # type: ignore[union-attr]


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
    mixup = card_of(card_id).judge(given).mixup
    assert mixup is not None
    assert mixup.fact == doubt


@pytest.mark.parametrize(
    ("card_id", "given", "names"),
    [  # a sharp raises by a half step, a flat lowers by one, so the two are two frets apart (MusicXML 4.0, alter)
        ("fret-of-note:string=6:note=F#", "0", "Fb"),
        ("fret-of-note:string=6:note=F#", "12", "Fb"),
        ("fret-of-note:string=5:note=Bb", "3", "B#"),
        ("tonic-fret:key=Eb:string=5", "8", "E#"),
        ("shape-anchor:key=C#m:shape=string-5", "2", "Cb"),
    ],
)
def test_a_sharp_taken_for_a_flat_is_named(card_id: str, given: str, names: str) -> None:
    mixup = card_of(card_id).judge(given).mixup
    assert mixup is not None
    assert mixup.name == "sharp for flat"
    assert to_ascii(mixup.sentence) == f"Fret {given} sounds {names}: a flat lowers, a sharp raises."


def test_asking_and_judging_a_right_answer_derive_nothing_else() -> None:
    def derive() -> Never:
        raise AssertionError("derived before it was asked for")

    card = card_of("shape-anchor:key=Fm:shape=string-6")
    bare = replace(card, explain=derive, confuse=derive, draw=derive, draw_answer=derive)
    assert bare.prompt and bare.judge(bare.accepts[0]).right
    with pytest.raises(AssertionError, match="derived"):
        bare.judge("2")


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
