"""Text to note and note to text.

Players type a flat as a letter, a sign or a word; all of these are read. A note language decides what a bare letter
means (a German b is B flat) and is always given, never guessed.

>>> parse_note("b flat"), parse_note("F𝄪"), parse_note("bb")
(Note('Bb'), Note('F##'), Note('Bb'))
>>> show_note(parse_note("Ebb"))
'E♭♭'
"""

from __future__ import annotations

import re
import unicodedata
from typing import Literal

from drill.errors import UnknownName
from drill.theory.pitch import LETTERS, Note, Pitch

NoteLanguage = Literal["english", "german", "italian", "french", "spanish"]

SHARP_SIGN, FLAT_SIGN = "♯", "♭"
_SIGNS = {"♯": "#", "♭": "b", "𝄪": "##", "𝄫": "bb", "♮": "", "x": "##"}
_WORDS = {"double sharp": "##", "double flat": "bb", "sharp": "#", "flat": "b", "natural": ""}
_NOTE = re.compile(r"([A-Ga-g])(#{0,2}|b{0,2})")
MOST_ACCIDENTALS = 2
LONGEST_NAME = 40
"""Longer text is not a name; it is refused unread, so that a pasted page costs nothing."""


def parse_note(text: str, language: NoteLanguage = "english") -> Note:
    """Read a note name in any common spelling; raise `UnknownName` for anything else."""
    match = _NOTE.fullmatch(_plain(text))
    if not match:
        raise UnknownName(f"{quoted(text)} is not a note.", "Type a letter A to G with # or b, such as F# or Bb.")
    letter, signs = match.groups()
    return Note.of(letter.upper(), signs.count("#") - signs.count("b"))


def parse_pitch(text: str) -> Pitch:
    """Read a note name followed by its scientific octave, as in 'Bb3'."""
    match = re.fullmatch(r"(.+?)(-?\d)", text.strip())
    if not match:
        raise UnknownName(f"{quoted(text)} is not a pitch.", "Write a note and an octave, such as E2 or F#3.")
    note = parse_note(match[1])
    return Pitch.of(note.letter, note.accidental, int(match[2]))


def show_note(note: Note, language: NoteLanguage = "english") -> str:
    """The name for a screen, with real accidental signs."""
    return show_signs(note.name)


def show_signs(ascii_name: str) -> str:
    """Turn the b and # of an ASCII note, key or chord name into ♭ and ♯."""
    return re.sub(r"(?<=[A-G])([#b]+)", _signs, ascii_name)


def _signs(match: re.Match[str]) -> str:
    return match[1].replace("#", SHARP_SIGN).replace("b", FLAT_SIGN)


def quoted(text: str) -> str:
    """The learner's own text as it may be repeated in a message: one short line, no control characters."""
    shown = "".join(ch if ch.isprintable() else "?" for ch in text.strip())
    return f"“{shown[:LONGEST_NAME]}…”" if len(shown) > LONGEST_NAME else f"“{shown}”"


def _plain(text: str) -> str:
    """Fold full-width letters, signs, words, hyphens and spaces into the letters A-G, # and b."""
    if len(text) > 4 * LONGEST_NAME:
        return ""
    text = unicodedata.normalize("NFKC", text).strip()
    letter, rest = text[:1], text[1:].casefold()
    rest = rest.replace("-", " ").strip()
    for word, signs in _WORDS.items():
        if rest == word:
            rest = signs
    for sign, signs in _SIGNS.items():
        rest = rest.replace(sign, signs)
    return letter + rest.replace(" ", "") if letter.upper() in LETTERS else ""
