"""When a typed answer goes without Enter: as soon as no other answer begins with it, and never sooner."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drill.decks import load_deck
from drill.questions.answers import (
    AnswerKind,
    AnyKeyAnswer,
    ChordAnswer,
    DegreeAnswer,
    FingerAnswer,
    FretAnswer,
    KeyAnswer,
    LetterAnswer,
    NoteAnswer,
    NumeralAnswer,
    SignatureAnswer,
)
from drill.questions.deciding import NATURAL_NOTE, answer_kind
from drill.system import resources
from drill.theory.keys import KEYS, parse_key
from drill.theory.names import NOTE_LANGUAGES, NoteLanguage, typed_note
from drill.theory.neck import STANDARD, Neck, names_of

A_MINOR = NumeralAnswer(parse_key("Am"))


def gone(kind: AnswerKind, keys: str, language: NoteLanguage = "english") -> str | None:
    """What has been typed when the answer goes by itself, None if it waits for Enter after the last key."""
    typed = itertools.accumulate(keys)
    return next((text for text in typed if kind.decides(text, language)), None)


@pytest.mark.parametrize(
    ("kind", "language", "goes", "waits"),
    [
        (FretAnswer(15), "english", ["0", "2", "3", "9", "10", "15"], ["1"]),
        (FretAnswer(24), "english", ["0", "3", "10", "20", "24"], ["1", "2"]),
        (FretAnswer(19), "english", ["2", "19"], ["1"]),
        (FingerAnswer(), "english", ["1", "2", "3", "4"], []),
        (NoteAnswer(), "english", ["F#", "Bb", "bb", "eb"], ["F", "B", "b", "E"]),
        (NoteAnswer(), "german", ["h", "b", "es", "Fis", "as"], ["e", "f", "a"]),
        (NoteAnswer(), "italian", ["sib", "fa#", "c#"], ["si", "d", "do", "fa"]),
        (NATURAL_NOTE, "english", ["C", "b", "E"], []),
        (NATURAL_NOTE, "german", ["h", "c"], []),
        (NATURAL_NOTE, "spanish", ["do", "si", "sol"], ["d", "so"]),
        (LetterAnswer(), "english", ["A", "g"], []),
        (KeyAnswer("minor"), "english", ["F#", "g#", "Bb", "Fm"], ["F", "E", "FM", "f mi"]),
        (KeyAnswer("major"), "english", ["Db", "F#", "FM"], ["F", "Fm"]),
        (KeyAnswer("major"), "german", ["Es", "h", "b", "fis"], ["e", "f"]),
        (AnyKeyAnswer(), "english", ["f#m", "AM", "bbm"], ["f#", "a", "a m", "a-m"]),
        (SignatureAnswer(), "english", ["0", "3b", "2#", "#######"], ["3", "###", "3 flat", "no"]),
        (DegreeAnswer(), "english", ["5", "b3", "#4"], ["b"]),
        (ChordAnswer(), "english", ["Gm", "F#m", "Bdim", "b°"], ["G", "Bb", "Bd"]),
        (A_MINOR, "english", ["iv", "III", "VII", "iio"], ["i", "ii", "V", "VI", "vii", "bV"]),
    ],
)
def test_an_answer_goes_when_nothing_longer_begins_with_it(
    kind: AnswerKind, language: NoteLanguage, goes: list[str], waits: list[str]
) -> None:
    assert [keys for keys in goes if gone(kind, keys, language) != keys] == []
    assert [keys for keys in waits if gone(kind, keys, language) is not None] == []


NOTES = sorted({note for pitch_class in range(12) for note in names_of(pitch_class)}, key=str)


@pytest.mark.parametrize("language", NOTE_LANGUAGES)
def test_no_answer_is_cut_short_in_any_language(language: NoteLanguage) -> None:
    for note in NOTES:
        _arrives(NoteAnswer(), typed_note(note, language), note.name, language)
        if not note.accidental:
            _arrives(NATURAL_NOTE, typed_note(note, language), note.name, language)
            _arrives(LetterAnswer(), typed_note(note, language), note.name, language)
    for key in KEYS:
        _arrives(KeyAnswer(key.mode), typed_note(key.tonic, language), key.name, language)
        _arrives(AnyKeyAnswer(), typed_note(key.tonic, language) + "mM"[key.mode == "major"], key.name, language)


@pytest.mark.parametrize("last", [12, 15, 19, 20, 22, 24])
def test_no_fret_is_cut_short(last: int) -> None:
    for fret in range(last + 1):
        _arrives(FretAnswer(last), str(fret), str(fret), "english")
        _arrives(FretAnswer(last), f"fret {fret}", str(fret), "english")


def _arrives(kind: AnswerKind, typed: str, canonical: str, language: NoteLanguage) -> None:
    """Typed key by key, with Enter only if it does not go by itself, an answer is the one that was meant."""
    assert kind.read(gone(kind, typed, language) or typed, language) == canonical, (kind, typed, language)


KINDS: list[AnswerKind] = [
    *(NoteAnswer(), NATURAL_NOTE, LetterAnswer(), KeyAnswer("major"), KeyAnswer("minor"), AnyKeyAnswer()),
    *(SignatureAnswer(), FretAnswer(15), FretAnswer(24), FingerAnswer(), DegreeAnswer(), ChordAnswer(), A_MINOR),
]


@given(
    text=st.text(max_size=12) | st.text("ABCDEFGHabcdefgh#b♭♯ mM7-°iIvVx0123456789", max_size=6),
    kind=st.sampled_from(KINDS),
    language=st.sampled_from(NOTE_LANGUAGES),
)
def test_only_what_can_be_read_goes(text: str, kind: AnswerKind, language: NoteLanguage) -> None:
    if kind.decides(text, language):
        assert kind.read(text, language)


@pytest.mark.long(but=3)
@pytest.mark.parametrize("name", sorted(resources.deck_files()))
def test_when_an_answer_goes_does_not_depend_on_the_card(name: str) -> None:
    """Else the moment would betray the answer. A numeral's kind holds its key, which the question tells."""
    deck = load_deck(name, Neck(STANDARD))
    kinds: dict[str, set[object]] = {}
    for entry in deck.entries.values():
        card = deck.card(entry.item.card)
        family = [each.facets for each in deck.entries.values() if each.item.family == card.family]
        kind = answer_kind(card, family)
        told = (type(kind), getattr(kind, "naturals_only", None), getattr(kind, "last_fret", None))
        kinds.setdefault(card.family, set()).add(told)
    assert [family for family, told in kinds.items() if len(told) != 1] == []


def test_naturals_alone_are_told_from_the_deck_and_not_from_the_card() -> None:
    naturals, all_notes = load_deck("naturals", Neck(STANDARD)), load_deck("whole-neck", Neck(STANDARD))
    for deck, kind in ((naturals, NATURAL_NOTE), (all_notes, NoteAnswer())):
        facets = [each.facets for each in deck.entries.values() if each.item.family == "note-at-fret"]
        card = deck.card(next(each for each, entry in deck.entries.items() if entry.item.family == "note-at-fret"))
        assert answer_kind(card, facets) == kind
