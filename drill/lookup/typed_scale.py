"""Read a scale as a learner types it after its tonic: 'Bb dorian', 'Am pentatonic', 'A blues scale'. Starts light.

typed_scale           the tonic and the name of the scale
unknown_scale         what follows a tonic and is no scale
near_scale            what to say where it is two scales, or one with a slip in it
in_another_language   what to say where note names are a setting that fits something else
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator
from contextlib import suppress

from drill.errors import UnknownName
from drill.questions.wording import named
from drill.theory.keys import Mode, in_other_languages, is_mode_word, parse_tonic
from drill.theory.names import NoteLanguage, plain_dashes, quoted, typed_note
from drill.theory.pitch import Note
from drill.theory.scales import SCALES, scales_called

A_SCALE = f"{named(Note.of('A'))} dorian"
"""An example; the note is marked, so that it can be written in the learner's note language."""
LONGEST_SCALE = 60
SHORT = ("minor", "pentatonic", "blues")
"""What scales are called for short."""


def typed_scale(text: str, language: NoteLanguage) -> tuple[Note, str] | None:
    """The tonic and the name of a scale, if a text is both, perhaps with a blank or a hyphen between them.

    A tonic and its mode alone, as in 'A minor', are a key.

    >>> typed_scale("Ddorian", "english"), typed_scale("G maj pent", "english"), typed_scale("Am", "english")
    ((Note('D'), 'dorian'), (Note('G'), 'major pentatonic'), None)
    """
    for typed, mode, name in (*_tonic_and_name(text, language), *_in_one_word(text, language)):
        if len(found := scales_called(name, mode)) == 1:
            return typed, found[0]
    return None


def _in_one_word(text: str, language: NoteLanguage) -> Iterator[tuple[Note, Mode | None, str]]:
    """A note and the name of a scale without anything between them, as in 'Ddorian'."""
    text = text.strip()[:LONGEST_SCALE]
    for at in range(1, len(text)) if not scales_called(text) else ():
        if scales_called(text[at:]) and not is_mode_word(text[at:]) and text[at].isalpha():
            with suppress(UnknownName):
                yield *parse_tonic(text[:at], language), text[at:]


def _tonic_and_name(text: str, language: NoteLanguage) -> Iterator[tuple[Note, Mode | None, str]]:
    """Every way to read a text as a tonic, perhaps with its mode ('Am'), and what may be the name of a scale."""
    text = plain_dashes(text.strip()[:LONGEST_SCALE])
    for at in (between.start() for between in re.finditer("[ -]", text)):
        name = text[at + 1 :].strip()
        if name and not is_mode_word(name):
            with suppress(UnknownName):
                yield *parse_tonic(text[:at], language), name


def near_scale(text: str, language: NoteLanguage) -> str:
    """What to say of a note and the name of two scales, or one with a slip in it; of any other text, nothing."""
    for tonic, mode, name in _tonic_and_name(text, language):
        note = typed_note(tonic, language)
        if len(two := scales_called(name, mode)) > 1:
            return f"{quoted(name)} is the name of two scales. Type {' or '.join(f'{note} {each}' for each in two)}."
        alike = [each for each in (*SCALES, *SHORT) if each[0] == name[0].casefold()]
        for near in difflib.get_close_matches(name.casefold(), alike, n=1, cutoff=0.7):
            called = (mode and scales_called(near, mode)) or (near,)
            return f"{quoted(name)} is not a scale; the nearest is {note} {called[0]}."
    return ""


def unknown_scale(text: str, language: NoteLanguage) -> str:
    """What follows a note, where that is no scale; of a text that does not begin with a note and a blank, nothing."""
    return next((name for *_, name in _tonic_and_name(text, language)), "")


def in_another_language(text: str, language: NoteLanguage) -> str:
    """That a text would be a key, or a scale, if note names were in another language; else nothing."""
    ends = (between.start() for between in re.finditer("[ -]", text[:LONGEST_SCALE]))
    tonics = (text[:at] for at in ends if scales_called(text[at + 1 :]))
    told = (in_other_languages(each, language) for each in (text, *tonics))
    return next(filter(None, told), "")
