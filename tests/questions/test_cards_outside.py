"""Cards against the world outside, each table beside its source."""

from __future__ import annotations

import pytest
from mido.midifiles.meta import _key_signature_decode as midi_file_keys  # mido is pinned: the table has no public name
from music21 import key as m21_key
from music21 import pitch as m21_pitch
from music21 import tablature

from drill.decks import load_deck
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES, read_card_id
from drill.questions.facets import Facets
from drill.questions.in_shapes import anchored
from drill.questions.reasons import same_sound
from drill.questions.scope import Scope
from drill.theory.keys import KEYS, Key, parse_key
from drill.theory.neck import STANDARD, Neck
from drill.theory.pitch import Note
from tests.support.asking import judged

NECK = Neck(STANDARD, frets=24)


def ask(family: str, **facets: str | int) -> Card:
    """The card of plain facets, by way of its id."""
    parts = (f"{name}={str(value).replace(' ', '-')}" for name, value in facets.items())
    return FAMILIES[family].card(read_card_id(":".join([family, *parts])).facets, NECK)


def plain(name: str) -> str:
    """A music21 name in our letters: there a flat is a minus."""
    return name.replace("-", "b")


@pytest.mark.parametrize(
    ("string", "fret", "note"),
    [
        (3, 5, "C"),
        (3, 7, "D"),
        (3, 8, "Eb"),
        (4, 5, "G"),
        (5, 3, "C"),
        (2, 1, "C"),
        (3, 3, "Bb"),
        (2, 5, "E"),
        (1, 7, "B"),
        (1, 10, "D"),
        (1, 14, "F#"),
    ],
)
def test_published_tablature(string: int, fret: int, note: str) -> None:
    """Notes with string, fret and pitch in the examples of MusicXML 4.0 (w3c/musicxml, tutorials and reference)."""
    assert note in ask("note-at-fret", string=string, fret=fret).accepts
    assert str(fret) in ask("fret-of-note", string=string, note=note).accepts


def test_every_note_of_the_neck_is_music21s() -> None:
    """music21 10, tablature.GuitarFretBoard: open pitches, transposed by the fret."""
    board = tablature.GuitarFretBoard().tuning  # low string first
    for string in range(1, 7):
        for fret in range(13):
            sounds = board[6 - string].transpose(fret)
            accepted = {m21_pitch.Pitch(name.replace("b", "-")).pitchClass for name in _notes(string, fret)}
            assert accepted == {sounds.pitchClass}


def _notes(string: int, fret: int) -> tuple[str, ...]:
    return ask("note-at-fret", string=string, fret=fret).accepts


@pytest.mark.parametrize(
    ("minor", "major"),
    [("A", "C"), ("G", "Bb"), ("Bb", "Db"), ("E", "G"), ("F", "Ab"), ("F#", "A")],
)
def test_relatives_of_a_textbook(minor: str, major: str) -> None:
    """Understanding Basic Music Theory (C. Schmidt-Jones, CC BY), exercise 4.4.2 and its solution."""
    assert ask("relative-major", key=f"{minor} minor").accepts == (f"{major} major",)
    assert ask("relative-minor", key=f"{major} major").accepts == (f"{minor} minor",)


@pytest.mark.parametrize("key", KEYS, ids=lambda key: key.short)
def test_signatures_of_the_midi_file_standard(key: Key) -> None:
    """The thirty keys of the key-signature event (Standard MIDI Files 1.1), as mido 1.3.3 tables them."""
    sharps, is_minor = next(code for code, name in midi_file_keys.items() if name == key.short)
    count = f"{abs(sharps)} {'sharp' if sharps > 0 else 'flat'}{'s' if abs(sharps) > 1 else ''}" if sharps else "0"
    assert bool(is_minor) == (key.mode == "minor")
    assert ask("signature", key=key.name).accepts == (count,)
    assert ask("signature-key", signature=count, mode=key.mode).accepts == (key.name,)


@pytest.mark.long(but=8)
@pytest.mark.parametrize("key", KEYS, ids=lambda key: key.short)
def test_relatives_and_triads_are_music21s(key: Key) -> None:
    """music21 10: key.Key(...).relative, and thirds stacked on the pitches of its scale."""
    theirs = m21_key.Key(key.tonic.name.replace("b", "-"), key.mode)
    family = "relative-major" if key.mode == "minor" else "relative-minor"
    relative = theirs.relative
    assert ask(family, key=key.name).accepts == (f"{plain(relative.tonic.name)} {relative.mode}",)
    names = [plain(pitch.name) for pitch in theirs.pitches[:7]]
    for facets in _own_chords(key):
        card = FAMILIES["chord-of-key"].card(facets, NECK)
        degree = names.index(card.answer_picture[0].note.name)  # type: ignore[union-attr]
        stacked = [names[(degree + third) % 7] for third in (0, 2, 4)]
        assert [mark.note.name for mark in card.answer_picture if mark.note] == stacked


def _own_chords(key: Key) -> list[Facets]:
    spread = FAMILIES["chord-of-key"].spread(Scope(NECK, keys=(key,)))
    return [facets for facets in spread if not (key.mode == "minor" and facets.numeral == "V")]


def test_degrees_are_music21s() -> None:
    """music21 10, getScaleDegreeAndAccidentalFromPitch in the key the picture shows: the number of each degree."""
    compared = 0
    for facets in FAMILIES["degree-at"].spread(Scope(NECK)):
        card = FAMILIES["degree-at"].card(facets, NECK)
        asked = {mark.spot for mark in card.question_picture}
        note = next(mark.note for mark in card.answer_picture if mark.spot in asked)
        tonic = next(mark.note for mark in card.answer_picture if mark.degree == "1")
        assert note is not None
        assert tonic is not None
        theirs = m21_key.Key(tonic.name.replace("b", "-"), facets.mode)
        number, _ = theirs.getScaleDegreeAndAccidentalFromPitch(m21_pitch.Pitch(note.name.replace("b", "-")))
        assert str(number) == card.accepts[0].lstrip("b")
        compared += 1
    assert compared == 54


@pytest.mark.parametrize(
    ("key", "low_e", "a_string"),
    [
        ("D minor", "10", "5"),
        ("F major", "10", "5"),
        ("F minor", "1", "8"),
        ("Ab major", "1", "8"),
        ("C minor", "8", "3"),
        ("G minor", "3", "10"),
        ("B minor", "7", "2"),
        ("Bb minor", "6", "1"),
    ],
)
def test_anchors_that_players_know(key: str, low_e: str, a_string: str) -> None:
    """Common practice, no source: index frets of both shapes, as barre chords of the E and the A form put them."""
    assert low_e in ask("shape-anchor", key=key, shape="string-6").accepts
    assert a_string in ask("shape-anchor", key=key, shape="string-5").accepts


def test_a_chord_counted_down_from_the_tonic_is_known_as_such() -> None:
    """The second chord below C is B diminished; the second above is D minor."""
    card = ask("chord-of-key", key="C", numeral="ii")
    assert "wrong way" in [mixup.name for mixup in judged(card, "Bdim").mixups]


def test_a_shape_that_fits_twice_on_a_long_neck_is_asked_at_its_lowest_place() -> None:
    """On 24 frets A minor's low-E-string shape lies at fret 5 and at fret 17, an octave higher."""
    assert [shape.index_fret for shape in anchored(parse_key("Am"), Scope(NECK))] == [5, 12]


@pytest.mark.parametrize(("key", "facts"), [("E", ("signature:E",)), ("C#m", ("signature:E", "relative:C#m"))])
def test_the_signature_of_a_minor_key_rests_on_that_of_its_relative(key: str, facts: tuple[str, ...]) -> None:
    """Common practice, no source."""
    assert load_deck("keys", NECK).entries[f"signature:key={key}"].item.facts == facts


def test_a_rare_name_has_another_two_turns_of_fifths_away() -> None:
    """F double sharp, G and A double flat sound alike on a keyboard (common practice, no source)."""
    assert {note.name for note in same_sound(Note.of("F", 2))} == {"G", "Abb"}
