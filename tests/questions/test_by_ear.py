"""What a guitar has to sound for an answer, counted out anew from open strings (see tests/support/arithmetic.py)."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise

import pytest

from drill.decks import shipped_decks
from drill.questions.by_ear import HEARD, Playing, playing, string_is_open, strings_of, typed_instead
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES, read_card_id
from drill.system.tunings import find_tuning
from drill.theory.neck import STANDARD, Neck, Spot
from tests.support.arithmetic import (
    OPEN_STRINGS,
    Instrument,
    anchors,
    instrument,
    minor_sound,
    pitch_class,
    shape,
    shape_string,
    solve,
)

GUITAR = Neck(STANDARD)
NECKS = [
    ("standard", 15, 0), ("standard", 24, 3), ("half-step-down", 22, 0), ("drop-d", 13, 0), ("dadgad", 15, 2),
    ("seven-string", 24, 0), ("bass", 20, 0), ("bass-five-string", 24, 1), ("ukulele", 12, 0), ("ukulele-low-g", 15, 0),
]  # fmt: skip
BY_TONIC = {"relative-minor", "relative-major", "signature-key", "neck-diagram"}
ON_ITS_STRING = {"fret-of-note", "tonic-fret", "other-tonic"}
TYPED = {
    "note-at-fret", "letter-skip", "signature", "tonic-finger", "finger-key", "degree-at", "numeral-of-chord",
    "chord-of-key", "ear-tonic",
}  # fmt: skip
KEYS = [
    *("C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"),
    *("Cm", "C#m", "Dm", "Ebm", "Em", "Fm", "F#m", "Gm", "G#m", "Am", "Bbm", "Bm"),
]


def card_of(card_id: str, neck: Neck = GUITAR) -> Card:
    name = read_card_id(card_id)
    return FAMILIES[name.family].card(name.facets, neck)


def cards(neck: Neck) -> Iterator[Card]:
    """Every card of every shipped deck, once."""
    found = {card_id: deck for deck in shipped_decks(neck) for card_id in deck.entries}
    return (deck.card(card_id) for card_id, deck in found.items())


def facets(card: Card) -> dict[str, str]:
    return dict(part.split("=") for part in card.id.split(":")[1:])


def expected(card: Card) -> list[set[int]] | None:
    """The MIDI numbers of each note in turn, by counting; None for a card that no note answers."""
    neck = instrument(card.neck.tuning.id, card.neck.frets, card.neck.capo)
    answers, asked = solve(card.id, card.neck.frets), facets(card)
    if card.family == "ear-tonic":
        return None
    if card.family == "loop-tonic":
        return [everywhere({pitch_class(answer.split()[0]) for answer in card.accepts})]
    assert answers is not None
    if card.family in BY_TONIC:
        return [everywhere({pitch_class(key.split()[0]) for key in answers})]
    if card.family in ON_ITS_STRING:
        string = int(asked["string"]) if "string" in asked else shape_string(asked["shape"])
        return [{neck.sound(string, int(fret)) for fret in answers}]
    if card.family == "tonic-octave":
        low = neck.sound(int(asked["string"]), int(asked["fret"]))
        return [{low}, {low + 12}]
    if card.family == "shape-anchor":
        index, lowest = pair(neck, shape_string(asked["shape"]), min(map(int, answers)))
        return [everywhere({index}), everywhere({lowest})]
    if card.family == "next-shape":
        return next_index(asked, neck, {int(fret) for fret in answers})
    if card.family == "chord-tone":
        return [everywhere(chord_sounds(asked["chord"]) & string_sounds(asked, neck))]
    assert card.family in TYPED
    return None


def everywhere(sounds: set[int]) -> set[int]:
    return {midi for midi in range(128) if midi % 12 in sounds}


def pair(neck: Instrument, string: int, index: int) -> tuple[int, int]:
    """The sound under the index finger, and the lowest of all notes under the hand."""
    held = [neck.sound(s, fret) for s, frets in shape(neck, string, index).items() for fret in frets]
    return neck.sound(string, index) % 12, min(held) % 12


def box(neck: Instrument, string: int, index: int) -> dict[int, set[int]]:
    """The frets of a shape by string, wherever along the neck it lies."""
    return {s: {fret % 12 for fret in frets} for s, frets in shape(neck, string, index).items()}


def next_index(asked: dict[str, str], neck: Instrument, frets: set[int]) -> list[set[int]] | None:
    """Only from the low string to the next one does the index note sound another pitch than before."""
    if not asked["shape"].startswith("string-"):
        return None
    string = shape_string(asked["shape"])
    other = {6: 5, 5: 6, 4: 3, 3: 4}[string]
    return [{neck.sound(other, fret) for fret in frets}] if string > other else None


def chord_sounds(chord: str) -> set[int]:
    name = chord.removesuffix("dim").removesuffix("m")
    third, fifth = (3, 6) if chord.endswith("dim") else (3, 7) if chord.endswith("m") else (4, 7)
    return {(pitch_class(name) + step) % 12 for step in (0, third, fifth)}


def string_sounds(asked: dict[str, str], neck: Instrument) -> set[int]:
    home = shape_string(asked["shape"])
    held = shape(neck, home, anchors(neck, home, minor_sound(asked["key"]))[0])
    return {neck.sound(int(asked["string"]), fret) % 12 for fret in held[int(asked["string"])]}


def notes_of(found: Playing | None) -> list[set[int]] | None:
    return [set(notes) for notes in found.notes] if found else None


def test_every_family_is_either_heard_or_typed() -> None:
    assert HEARD.keys() | TYPED == FAMILIES.keys()
    assert not HEARD.keys() & TYPED


@pytest.mark.long(but=1)
@pytest.mark.parametrize(("tuning", "frets", "capo"), NECKS)
def test_every_card_is_answered_by_the_notes_that_arithmetic_finds(tuning: str, frets: int, capo: int) -> None:
    neck = Neck(find_tuning(tuning), frets, capo)
    found = {card.id: (notes_of(playing(card)), expected(card)) for card in cards(neck)}
    wrong = {card_id: both for card_id, both in found.items() if both[0] != both[1]}
    assert found and not wrong, list(wrong.items())[:3]


@pytest.mark.parametrize("tuning", sorted(OPEN_STRINGS))
def test_the_pair_of_notes_tells_the_shapes_of_a_key_apart(tuning: str) -> None:
    """Of one key no two shapes share their pair: where two strings share it, they anchor one and the same box."""
    for key in KEYS:
        assert_told_apart(tuning, key)


def assert_told_apart(tuning: str, key: str) -> None:
    counted = instrument(tuning, 24, 0)
    strings = range(1, len(counted.opens) + 1)
    has_boxes = {4, 5} >= {high - low for high, low in pairwise(counted.opens)}
    held = {s: anchors(counted, s, minor_sound(key)) for s in strings} if has_boxes else {}
    pairs = {string: pair(counted, string, places[0]) for string, places in held.items() if places}
    boxes_by_string = {string: box(counted, string, held[string][0]) for string in pairs}
    for one, other in combinations(pairs, 2):
        assert (pairs[one] == pairs[other]) == (boxes_by_string[one] == boxes_by_string[other]), (key, one, other)
    neck = Neck(find_tuning(tuning), 24)
    for string in neck.tuning.anchor_strings if has_boxes else ():
        found = playing(card_of(f"shape-anchor:key={key}:shape=string-{string}", neck))
        assert notes_of(found) == [everywhere({sound}) for sound in pairs[string]], (key, string)


def test_on_a_guitar_the_pair_is_one_note_twice_or_a_fourth_down() -> None:
    """As it is played: A minor at fret 5 of the low E string, and at fret 12 of the A string with E below it."""
    for shape_name, lowest in (("string-6", {45, 57}), ("string-5", {40, 52})):
        found = playing(card_of(f"shape-anchor:key=Am:shape={shape_name}"))
        assert found is not None
        index, low = map(set, found.notes)
        assert {45, 57} <= index and not index & {40, 52}
        assert lowest <= low and not low & ({40, 52} if shape_name == "string-6" else {45, 57})


def test_the_answer_that_a_note_gives_is_one_the_card_accepts() -> None:
    for card in cards(Neck(STANDARD)):
        found = playing(card)
        answers = {answer for notes in found.notes for answer in notes.values()} if found else set()
        assert answers <= set(card.accepts)


@pytest.mark.long
def test_a_wrong_note_comes_to_a_wrong_answer_or_to_none() -> None:
    for card in cards(Neck(STANDARD)):
        found = playing(card)
        wrong = [midi for midi in range(40, 80) if found and not any(midi in notes for notes in found.notes)]
        for given in {typed_instead(card, midi) for midi in wrong} - {""}:
            assert card.kind.read(given) == given
            assert not card.judge_answer(given).right, (card.id, given)


def test_wrong_notes_by_name() -> None:
    assert typed_instead(card_of("relative-minor:key=C"), 59) == "B minor"
    assert typed_instead(card_of("tonic-fret:key=F#m:string=6"), 41) == "1"
    assert typed_instead(card_of("tonic-fret:key=F#m:string=6"), 30) == "", "below the neck"
    f_chord = card_of("chord-tone:key=Am:shape=string-6:chord=F:string=5")  # D at fret 5 of string 5 is in no F chord
    assert typed_instead(f_chord, 50) == "1"
    assert typed_instead(f_chord, 51) == "", "no note of the shape"


def test_a_pitch_tells_its_string_where_no_other_has_it() -> None:
    """Frets 0 to 4 of string 6 alone sound E2 to G#2; A2 is the open string 5 as well."""
    neck = Neck(STANDARD)
    assert [strings_of(neck, neck.sounding(Spot(6, fret))) for fret in range(5)] == [(6,)] * 5
    assert strings_of(neck, 45) == (5, 6)
    spots = [Spot(string, fret) for string in neck.tuning.strings for fret in range(16)]
    alone = [spot for spot in spots if len(strings_of(neck, neck.sounding(spot))) == 1]
    assert len(spots) == 96
    assert len(alone) == 10, "and the last five frets of string 1"


def test_a_chord_is_typed_because_a_note_is_no_more_than_its_root() -> None:
    for key in KEYS:
        card = card_of(f"chord-of-key:key={key}:numeral={'v' if key.endswith('m') else 'V'}")
        assert playing(card) is None


@pytest.mark.parametrize(
    ("card_id", "midi", "is_open"),
    [
        ("fret-of-note:string=5:note=E", 52, True),  # fret 7 of string 5, 12 of string 6 and 2 of string 4
        ("fret-of-note:string=6:note=F", 41, False),  # below all other strings
        ("relative-minor:key=G", 52, False),  # on whichever string
    ],
)
def test_a_pitch_leaves_its_string_open_where_the_string_was_asked_and_others_have_it(
    card_id: str, midi: int, is_open: bool
) -> None:
    assert string_is_open(card_of(card_id), midi) is is_open
