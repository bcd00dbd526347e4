"""Sentences that carry note names.

A prompt is built once, and shown in ASCII to programs and with real signs, in the learner's note language, to people.
So that no sentence need be searched for what might be a note ("A string" holds one, "A card" does not), note names are
marked when the sentence is made:

>>> sentence = f"{named(Note.of('B', -1))} minor on the {named(Note.of('A'))} string"
>>> to_ascii(sentence)
'Bb minor on the A string'
>>> to_screen(sentence)
'B♭ minor on the A string'
"""

from __future__ import annotations

import re

from drill.theory.keys import Key
from drill.theory.names import NoteLanguage, show_note
from drill.theory.neck import Tuning
from drill.theory.pitch import Note
from drill.theory.shapes import Shape

_NOTE = re.compile("⟦(-?[0-9]+)⟧")
_NUMBER = re.compile("⟦#([0-9]+)⟧")
FINGERS = {1: "index", 2: "middle", 3: "ring", 4: "little"}


def named(note: Note) -> str:
    """A note inside a sentence: a marker that holds its place on the line of fifths."""
    return f"⟦{note.fifths}⟧"


def named_key(key: Key) -> str:
    """A key inside a sentence, as in 'C# minor'."""
    return f"{named(key.tonic)} {key.mode}"


def string_label(tuning: Tuning, string: int) -> str:
    """A string by number and note: 'string 6 (low E)'."""
    return f"string {string} ({_string_words(tuning, string, ' ')})"


def shape_label(shape: Shape, tuning: Tuning) -> str:
    """A shape by the string of its minor tonic, 'low-E-string shape'; its number is added only where the learner asks."""
    string = shape.anchor_string
    if string is None:
        return f"shape that starts on the {shape.dots[0].degree}{_number(shape)}"
    return f"{_string_words(tuning, string, '-')}-string shape{_number(shape)}"


def finger_label(finger: int) -> str:
    """A finger by number and name: 'finger 4 (little)'."""
    return f"finger {finger} ({FINGERS[finger]})"


def to_ascii(sentence: str) -> str:
    """The sentence with note names in ASCII, as programs read them."""
    return _NOTE.sub(lambda match: Note(int(match[1])).name, _NUMBER.sub("", sentence))


def to_screen(sentence: str, language: NoteLanguage = "english", shape_numbers: bool = False) -> str:
    """The sentence with real accidental signs, in the learner's note language, with or without shape numbers."""
    sentence = _NUMBER.sub(r" (number \1)" if shape_numbers else "", sentence)
    return _NOTE.sub(lambda match: show_note(Note(int(match[1])), language), sentence)


def _number(shape: Shape) -> str:
    return f"⟦#{shape.number}⟧"


def _string_words(tuning: Tuning, string: int, joint: str) -> str:
    note = tuning.open(string).note
    twins = [s for s in tuning.strings if tuning.open(s).note == note]
    place = {min(twins): "high", max(twins): "low"}.get(string, "middle") if len(twins) > 1 else ""
    return f"{place}{joint}{named(note)}" if place else named(note)
