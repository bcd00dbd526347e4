"""Sentences that carry note names.

A question is built once. Programs get it in ASCII, people with real signs and in their own note language.
So that no sentence need be searched for what might be a note ("A string" holds one, "A card" does not), notes, chords,
degrees and numerals are marked when the sentence is made:

>>> sentence = f"{named(Note.of('B', -1))} minor on the {named(Note.of('A'))} string"
>>> to_ascii(sentence)
'Bb minor on the A string'
>>> to_screen(sentence)
'B♭ minor on the A string'
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from typing import TYPE_CHECKING

from drill.theory.keys import Key
from drill.theory.names import NoteLanguage, show_note, typed_note
from drill.theory.neck import Neck, Tuning
from drill.theory.pitch import Note
from drill.theory.shapes import Shape

if TYPE_CHECKING:
    from drill.theory.chords import Chord

_MARK = re.compile("⟦(?P<sort>[nc°=#])(?P<value>[^⟧]*)⟧")
_NOTE, _CHORD, _DEGREE, _NUMERAL, _SHAPE_NUMBER = "nc°=#"
NO_SIGNS = "no sharps or flats"
FINGERS = {1: "index", 2: "middle", 3: "ring", 4: "little"}


def named(note: Note) -> str:
    """A note inside a sentence: a marker that holds its place on the line of fifths."""
    return f"⟦{_NOTE}{note.fifths}⟧"


def named_notes(notes: Iterable[Note]) -> str:
    """Several notes with blanks between them."""
    return " ".join(map(named, notes))


def named_key(key: Key) -> str:
    """A key inside a sentence, as in 'C# minor'."""
    return f"{named(key.tonic)} {key.mode}"


def named_chord(chord: Chord) -> str:
    """A chord inside a sentence: markers for its root, its kind and its bass note."""
    bass = f"/{named(chord.bass)}" if chord.bass else ""
    return f"{named(chord.root)}⟦{_CHORD}{chord.suffix}⟧{bass}"


def named_degree(degree: str) -> str:
    """A scale degree inside a sentence, as in 'b3'."""
    return f"⟦{_DEGREE}{degree}⟧"


def named_numeral(numeral: str) -> str:
    """A roman numeral inside a sentence, as in 'viio'."""
    return f"⟦{_NUMERAL}{numeral}⟧"


@cache
def string_label(tuning: Tuning, string: int) -> str:
    """A string by number and note: 'string 6 (low E)'."""
    return f"string {string} ({_string_words(tuning, string, ' ')})"


def shape_label(shape: Shape, tuning: Tuning) -> str:
    """A shape by the string of its minor tonic, 'low-E-string shape'; its number follows for those who want it."""
    return _shape_words(shape.anchor_string, shape.dots[0].degree, shape.number, tuning)


def finger_label(finger: int) -> str:
    """A finger by number and name: 'finger 4 (little)'."""
    return f"finger {finger} ({FINGERS[finger]})"


def counted(neck: Neck) -> str:
    """Where a capo sits, what has to be said for 'fret 5' to have one reading; else nothing."""
    return ", counted from the capo" if neck.capo else ""


def frets_in_words(count: int) -> str:
    """So many frets: '1 fret', '3 frets'."""
    return f"{count} fret{'' if count == 1 else 's'}"


def times_in_words(count: int) -> str:
    """How often: 'once', 'twice', '3 times'."""
    return {1: "once", 2: "twice"}.get(count, f"{count} times")


def signature_in_words(signature: int) -> str:
    """A key signature, flats negative: '3 sharps', '1 flat', 'no sharps or flats'."""
    if signature == 0:
        return NO_SIGNS
    sort = "sharp" if signature > 0 else "flat"
    return f"{abs(signature)} {sort}{'s' if abs(signature) > 1 else ''}"


def capital(sentence: str) -> str:
    """The sentence with a capital at its beginning."""
    return sentence[0].upper() + sentence[1:]


def to_ascii(sentence: str) -> str:
    """The sentence with note names in ASCII, as programs read them."""
    return _MARK.sub(_in_ascii, sentence)


def to_screen(sentence: str, language: NoteLanguage = "english", shape_numbers: bool = False) -> str:
    """The sentence with real accidental signs, in the learner's note language, with or without shape numbers."""

    def on_screen(match: re.Match[str]) -> str:
        value = match["value"]
        if match["sort"] == _NOTE:
            return show_note(Note(int(value)), language)
        if match["sort"] == _NUMERAL:
            from drill.theory.harmony import show_numeral  # a key is looked up without knowing of chords

            return show_numeral(value)
        if match["sort"] == _SHAPE_NUMBER:
            return f" (number {value})" if shape_numbers else ""
        return value.replace("b", "♭").replace("#", "♯")

    return _MARK.sub(on_screen, sentence)


def to_typed(sentence: str, language: NoteLanguage = "english") -> str:
    """The sentence with note names as a keyboard types them in the learner's note language."""

    def typed(match: re.Match[str]) -> str:
        return typed_note(Note(int(match["value"])), language) if match["sort"] == _NOTE else _in_ascii(match)

    return _MARK.sub(typed, sentence)


def _in_ascii(match: re.Match[str]) -> str:
    if match["sort"] == _NOTE:
        return Note(int(match["value"])).name
    return "" if match["sort"] == _SHAPE_NUMBER else match["value"]


@cache
def _shape_words(anchor: int | None, lowest_degree: str, number: int, tuning: Tuning) -> str:
    number_mark = f"⟦{_SHAPE_NUMBER}{number}⟧"
    if anchor is None:
        return f"shape that starts on the {named_degree(lowest_degree)}{number_mark}"
    return f"{_string_words(tuning, anchor, '-')}-string shape{number_mark}"


def _string_words(tuning: Tuning, string: int, joint: str) -> str:
    note = tuning.open(string).note
    twins = [s for s in tuning.strings if tuning.open(s).note == note]
    place = {min(twins): "high", max(twins): "low"}.get(string, "middle") if len(twins) > 1 else ""
    return f"{place}{joint}{named(note)}" if place else named(note)
