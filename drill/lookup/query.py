"""Read what a learner types to look something up: a key, or the chords of a loop."""

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
"""The notes are marked, so that they can be written in the learner's note language."""
_BETWEEN = (r"[\s|,;>→–—-]+", r"[\s|,;>→–—/-]+")
"""What may separate chords instead of spaces; the slash comes last, since it may belong to a chord."""


class Found(NamedTuple):
    """The result of a look-up: a key, or the keys a loop may be in; sentences, and a picture on a neck."""

    keys: tuple[Key, ...]
    sentences: tuple[str, ...]
    neck: Neck
    picture: Picture
    home: range | None
    """The frets that stay in view where the whole neck does not fit."""


def look_up(text: str, settings: Settings) -> Found:
    """Look up a key or the chords of a loop; raises `FretsureError` with what may be typed."""
    language = settings.note_language
    chords = _loop(text, language)
    if len(chords) > 1:
        return _found_loop(LoopView.of(chords, settings.neck), settings.look)
    try:
        return look_up_key(parse_key(text, language), settings)
    except UnknownName:
        raise UnknownName(_problem(text, language), to_typed(TAKES, language)) from None


def look_up_key(key: Key, settings: Settings) -> Found:
    """Look up a key that is known already."""
    view = KeyView.of(key, settings.neck)
    return Found((key,), tuple(key_sentences(view, settings.look)), view.neck, view.picture, view.home)


def _loop(text: str, language: NoteLanguage) -> tuple[Chord, ...]:
    """The chords in a text; none where a word of it is not a chord ('A minor' is a key)."""
    try:
        return parse_chords(text, language)
    except UnknownName:
        return ()


def _problem(text: str, language: NoteLanguage) -> str:
    """Why a text is neither a key nor a loop, as near as possible to what was meant."""
    if not text.strip():
        return "Nothing has been typed yet."
    if _loop(text, language):
        return f"{quoted(text)} is a single chord, neither a key nor a loop."
    found = (_problem_between_chords(text, re.split(between, text), language) for between in _BETWEEN)
    return next(filter(None, found), f"{quoted(text)} is not a key or a chord.")


def _problem_between_chords(text: str, parts: list[str], language: NoteLanguage) -> str:
    """What is wrong with a text that splits into chords: no spaces between them, or one that is not a chord."""
    words = [word for word in parts if word]
    unread = [word for word in words if not _loop(word, language)]
    if len(words) > 1 and not unread:
        return f"{quoted(text)} needs spaces between its chords: {' '.join(words)}."
    return f"{quoted(unread[0])} is not a chord." if 0 < len(unread) < len(words) else ""


def _found_loop(view: LoopView, look: Look) -> Found:
    """A loop in sentences, with the shapes of its likeliest key."""
    sentences = list(reading_sentences(view, look))
    for _, layout in view.by_shapes():
        sentences += [
            "",
            *key_sentences(layout, look),
            *landing_sentences(view.reading.chords, layout.key, look.language),
        ]
    likeliest = view.views[0]
    return Found(view.reading.keys, tuple(sentences), likeliest.neck, likeliest.picture, likeliest.home)
