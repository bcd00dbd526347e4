"""What a learner types to look something up: a key, or the chords of a loop."""

from __future__ import annotations

import re
from typing import NamedTuple

from drill.errors import UnknownName
from drill.lookup.keys import KeyView, key_sentences
from drill.lookup.loops import LoopView, landing_sentences, reading_sentences
from drill.present.neck_drawing import Look
from drill.questions.picture import Picture
from drill.questions.wording import named, named_notes, to_typed
from drill.settings import Settings
from drill.theory.chords import Chord, parse_chords
from drill.theory.keys import Key, parse_key
from drill.theory.names import NoteLanguage, quoted
from drill.theory.neck import Neck
from drill.theory.pitch import Note

_KEYS = f"{named(Note.of('E', -1))} or {named(Note.of('F', 1))}m"
_LOOP = f"{named(Note.of('A'))}m {named_notes(map(Note.of, 'FCG'))}"
TAKES = f"Write a key, such as {_KEYS}, or the chords of a loop with spaces between them: {_LOOP}."
HINT = f"a key, such as {_KEYS}, or a loop: {_LOOP}"
"""With their notes marked, to be typed in the learner's note language."""
_BETWEEN = (r"[\s|,;>→–—-]+", r"[\s|,;>→–—/-]+")
"""What may stand between chords where no space does; a stroke last, for it may belong to a chord."""


class Found(NamedTuple):
    """What was looked up: a key, or the keys a loop may be in; sentences, and a picture on a neck."""

    keys: tuple[Key, ...]
    sentences: tuple[str, ...]
    neck: Neck
    picture: Picture
    home: range | None
    """The frets to be seen whole where the neck does not fit."""


def look_up(text: str, settings: Settings) -> Found:
    """What a key or the chords of a loop lead to. Raises FretsureError with what may be typed."""
    language = settings.note_language
    chords = _loop(text, language)
    if len(chords) > 1:
        return _found_loop(LoopView.of(chords, settings.neck), settings.look)
    try:
        return look_up_key(parse_key(text, language), settings)
    except UnknownName:
        raise UnknownName(_trouble(text, language), to_typed(TAKES, language)) from None


def look_up_key(key: Key, settings: Settings) -> Found:
    """Where a key lives."""
    view = KeyView.of(key, settings.neck)
    return Found((key,), tuple(key_sentences(view, settings.look)), view.neck, view.picture, view.home)


def _loop(text: str, language: NoteLanguage) -> tuple[Chord, ...]:
    """The chords of a text, none where it is not made of chords ('A minor' is a key)."""
    try:
        return parse_chords(text, language)
    except UnknownName:
        return ()


def _trouble(text: str, language: NoteLanguage) -> str:
    """What keeps a text from being a key or a loop, as near to what was meant as can be told."""
    if not text.strip():
        return "Nothing is written yet."
    if _loop(text, language):
        return f"{quoted(text)} is one chord: no key, and no loop yet."
    for between in _BETWEEN:
        words = [word for word in re.split(between, text) if word]
        unread = [word for word in words if not _loop(word, language)]
        if len(words) > 1 and not unread:
            return f"{quoted(text)} needs spaces between its chords: {' '.join(words)}."
        if unread and len(unread) < len(words):
            return f"{quoted(unread[0])} is not a chord."
    return f"{quoted(text)} is not a key or a chord."


def _found_loop(view: LoopView, look: Look) -> Found:
    """A loop in sentences, with the shapes of its likeliest key."""
    sentences = list(reading_sentences(view, look))
    for _, layout in view.hands():
        sentences += [
            "",
            *key_sentences(layout, look),
            *landing_sentences(view.reading.chords, layout.key, look.language),
        ]
    likeliest = view.views[0]
    return Found(view.reading.keys, tuple(sentences), likeliest.neck, likeliest.picture, likeliest.home)
