"""Reading and showing names: what is refused, and how the refusal reads. What is read: outside/note_names.py."""

from __future__ import annotations

import pytest

from drill.errors import TheoreticalKey, UnknownName
from drill.theory.keys import parse_key
from drill.theory.names import (
    LONGEST_NAME,
    NOTE_LANGUAGES,
    NoteLanguage,
    parse_note,
    parse_pitch,
    quoted,
    show_note,
    show_signs,
)
from drill.theory.pitch import Note


@pytest.mark.parametrize(
    ("language", "text", "hint"),
    [
        ("english", "H", "A to G"),
        ("german", "Bb", "Heses"),
        ("german", "Ees", "Es"),
        ("italian", "ut", "do re mi"),
        ("french", "b flat", "ré"),
        ("spanish", "fa diesis", "sostenido"),
    ],
)
def test_a_refused_note_says_what_is_written_in_its_language(language: NoteLanguage, text: str, hint: str) -> None:
    with pytest.raises(UnknownName, match="is not a note") as refusal:
        parse_note(text, language)
    assert text in refusal.value.message
    assert hint in refusal.value.fix


def test_letters_are_read_beside_do_re_mi_but_not_beside_german_names() -> None:
    assert parse_note("Bb", "italian") == parse_note("Bb")
    assert parse_note("F#", "french") == parse_note("F#")
    with pytest.raises(UnknownName):
        parse_note("Bb", "german")


@pytest.mark.parametrize("text", ["", "  ", "A" * 1000, "A" + " " * 100_000 + "m", "-" * 100_000, "\x1b[31mA", "Am7"])
def test_what_is_no_key_is_refused_in_one_short_line(text: str) -> None:
    with pytest.raises(UnknownName) as refusal:
        parse_key(text)
    assert len(refusal.value.message) < 2 * LONGEST_NAME
    assert refusal.value.message.isprintable()


@pytest.mark.parametrize(
    ("text", "offered"),
    [
        ("Fb", "E major"),
        ("G#", "Ab major"),
        ("D#", "Eb major"),
        ("A#", "Bb major"),
        ("Db minor", "C# minor"),
        ("Gbm", "F# minor"),
        ("Cbm", "B minor"),
        ("Fbm", "E minor"),
        ("E#m", "F minor"),
        ("B#m", "C minor"),
    ],
)
def test_a_key_no_signature_can_write_is_refused_and_the_playable_one_offered(text: str, offered: str) -> None:
    with pytest.raises(TheoreticalKey) as refusal:
        parse_key(text)
    assert offered in refusal.value.fix


@pytest.mark.parametrize(
    ("text", "name", "number"), [("E2", "E2", 40), ("f#3", "F#3", 54), ("B♭-1", "Bb-1", 10), ("a flat 4", "Ab4", 68)]
)
def test_pitches_are_read_with_their_octave(text: str, name: str, number: int) -> None:
    pitch = parse_pitch(text)
    assert (pitch.name, pitch.midi) == (name, number)


@pytest.mark.parametrize("text", ["E", "4", "E10x", "H2", ""])
def test_a_pitch_without_note_or_octave_is_refused(text: str) -> None:
    with pytest.raises(UnknownName):
        parse_pitch(text)


@pytest.mark.parametrize(
    ("language", "shown"),
    [
        ("english", "B♭ F♯ E♭♭ B"),
        ("german", "B Fis Eses H"),
        ("italian", "Si♭ Fa♯ Mi♭♭ Si"),
        ("french", "Si♭ Fa♯ Mi♭♭ Si"),
        ("spanish", "Si♭ Fa♯ Mi♭♭ Si"),
    ],
)
def test_notes_are_shown_in_the_chosen_language(language: NoteLanguage, shown: str) -> None:
    assert " ".join(show_note(parse_note(name), language) for name in ("Bb", "F#", "Ebb", "B")) == shown


def test_signs_replace_letters_only_behind_a_note() -> None:
    assert show_signs("Bb F#m7b5 Ebb but Ab: a bb") == "B♭ F♯m7b5 E♭♭ but A♭: a bb"


def test_repeated_text_stays_short_and_printable() -> None:
    assert quoted(" x\x07y ") == "“x?y”"
    assert quoted("z" * 99) == f"“{'z' * LONGEST_NAME}…”"


@pytest.mark.parametrize("language", NOTE_LANGUAGES)
def test_every_name_shown_is_read_back(language: NoteLanguage) -> None:
    for fifths in range(-15, 20):
        assert parse_note(show_note(Note(fifths), language), language) == Note(fifths)
