"""Keys and loops by the names that a deck file has for them, and how to write those it cannot have."""

from __future__ import annotations

import re
from contextlib import suppress

from drill.errors import FretsureError, UnknownName
from drill.theory.keys import Key, parse_key
from drill.theory.names import LONGEST_NAME, NOTE_LANGUAGES

_JOINTS = (r"[\s|,>→–—-]+", r"[\s|,>→–—/-]+")
"""What charts have between chords; the slash comes last, since it may belong to a chord."""
MOST_RESPELLED = 20 * LONGEST_NAME
"""Characters of a loop; a longer one is refused as it is."""


def read_key(text: str) -> Key:
    """A key in English note names. Raises UnknownName, with the English name of a key in another language."""
    try:
        return parse_key(text)
    except UnknownName as error:
        raise UnknownName(error.message, _in_english(text) or error.fix) from None


def _in_english(text: str) -> str:
    """How to write a key that was named in another note language; empty if it is one in none."""
    for language in NOTE_LANGUAGES:
        with suppress(FretsureError):
            key = parse_key(text, language).short
            return f'It is {language.capitalize()}, and a deck has English note names: write "{key}".'
    return ""


def read_loop(text: str) -> None:
    """Check the chords of a loop. Raises UsageProblem, which says how to write chords that dashes have joined."""
    from drill.questions.families.loops import read_loop as read  # most decks ask no loops

    try:
        read(text)
    except UnknownName as error:
        raise UnknownName(error.message, _apart(text) or error.fix) from None


def _apart(text: str) -> str:
    """How to write chords that were joined by dashes, arrows or slashes; empty if they are no chords all the same."""
    from drill.questions.families.loops import read_loop as read

    for joints in _JOINTS if len(text) <= MOST_RESPELLED else ():
        chords = " ".join(filter(None, re.split(joints, text)))
        with suppress(FretsureError):
            read(chords)
            return f'Put spaces between the chords: loops = ["{chords}"].'
    return ""
