"""Reads a focus as a learner types it in one line: 'E flat minor on the A string', 'string 5', 'Am A-string shape'."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from contextlib import suppress

from drill.decks.focus import Focus
from drill.decks.strings import find_string
from drill.errors import FretsureError, UnknownName
from drill.questions.catalogue import FAMILIES
from drill.theory.keys import Key, in_other_languages, parse_key
from drill.theory.names import NoteLanguage, quoted, typed_note
from drill.theory.neck import Tuning
from drill.theory.pitch import Note

_ALSO_CALLED: Mapping[str, tuple[str, ...]] = {
    "note": ("note-at-fret", "fret-of-note"), "octave": ("tonic-octave",),
    "relative": ("relative-minor", "relative-major"), "relative key": ("relative-minor", "relative-major"),
    "finger": ("tonic-finger", "finger-key"), "index fret": ("shape-anchor",), "degree": ("degree-at",),
    "numeral": ("chord-of-key", "numeral-of-chord"), "loop": ("loop-tonic",), "ear": ("ear-tonic",),
}  # fmt: skip
"""What learners call kinds of question besides their ids and titles; each in the plural too."""
_CALLED: Mapping[str, tuple[str, ...]] = {
    **{name.casefold(): (e.id,) for e in FAMILIES.values() for name in (e.id, e.id.replace("-", " "), e.title)},
    **_ALSO_CALLED,
}
_LONGEST_KEY = 5
"""Words, as in 'E double flat minor', and one to spare."""

_FILLER = r"\b(?:on|in|the|and|key|of|auf|der|und)\b"
_NAME = rf"(?<![^\s,])(?!{_FILLER})(?:(?:low|high|tiefen?|hohen?)[\s-]+)?[^\s,]+?"
_SHAPE = re.compile(rf"(?P<anchor>{_NAME})[\s-]+string[\s-]+shape\b|\bshape\s+(?P<number>[1-5])\b", re.IGNORECASE)
_STRING = re.compile(
    rf"\b(?:string|saite)[sn]?\s+(?P<after>{_NAME})(?=[\s,]|$)|(?P<before>{_NAME})[\s-]+(?:string|saite)\b(?!\s+\d)",
    re.IGNORECASE,
)
_FAMILY = re.compile(
    rf"\b(?P<name>{'|'.join(map(re.escape, sorted(_CALLED, key=len, reverse=True)))})s?\b", re.IGNORECASE
)
_BETWEEN = re.compile(r"\b(?:and|und)\b|[,+·]", re.IGNORECASE)
_FILLERS = re.compile(_FILLER, re.IGNORECASE)


def read_typed_focus(text: str, tuning: Tuning, language: NoteLanguage) -> Focus | None:
    """The focus that a text names; None where something in it is not understood.

    >>> from drill.theory.neck import STANDARD
    >>> read_typed_focus("Eb minor on the A string", STANDARD, "english")
    Focus(strings=(5,), keys=(Key('Eb minor'),), families=(), shapes=())
    """
    try:
        found = read_words(text, tuning, language)
    except FretsureError:
        return None
    return found._replace(strings=tuple(string for string in found.strings if string in tuning.strings)) or None


def read_words(text: str, tuning: Tuning, language: NoteLanguage) -> Focus:
    """The strings, keys, families and shapes that a text names. Raises UnknownName for the part not understood."""
    families = tuple(name for match in _FAMILY.finditer(text) for name in _CALLED[match["name"].casefold()])
    rest = _FAMILY.sub(",", text)
    shapes = tuple(_shape(match, tuning, language) for match in _SHAPE.finditer(rest))
    rest = _SHAPE.sub(",", rest)
    strings = [find_string(_plain(match), tuning, language) for match in _STRING.finditer(rest)]
    parts = [" ".join(_FILLERS.sub(" ", part).split()) for part in _BETWEEN.split(_STRING.sub(",", rest))]
    parts = [part for part in parts if part]
    if len(parts) == 1 and parts[0].isdecimal() and not strings:
        return Focus((find_string(parts[0], tuning, language),), (), families, shapes)
    return Focus(tuple(strings), tuple(key for part in parts for key in _keys(part, language)), families, shapes)


def _shape(match: re.Match[str], tuning: Tuning, language: NoteLanguage) -> str:
    """The id of a shape by the string it is anchored on, or its number."""
    anchor = match["anchor"]
    return f"string-{find_string(anchor.replace('-', ' '), tuning, language)}" if anchor else match["number"]


def _plain(match: re.Match[str]) -> str:
    """A string as it was named, with blanks between the words."""
    return str(match["after"] or match["before"]).replace("-", " ")


def _keys(text: str, language: NoteLanguage) -> Iterator[Key]:
    """The keys in a text, with blanks between them; of 'C minor G' the longest name first, else the minor is lost."""
    words = text.split()
    while words:
        count, key = _first_key(words, language) or (0, None)
        if not key:
            raise _not_understood(text, language)
        yield key
        words = words[count:]


def _first_key(words: list[str], language: NoteLanguage) -> tuple[int, Key] | None:
    """How many words name the first key, and that key."""
    for count in range(min(len(words), _LONGEST_KEY), 0, -1):
        with suppress(UnknownName):
            return count, parse_key(" ".join(words[:count]), language)
    return None


def _not_understood(text: str, language: NoteLanguage) -> UnknownName:
    key, string = (typed_note(Note.of(*name), language) for name in (("E", -1), ("A", 0)))
    problem = f"{quoted(text)} is neither a key nor a string, a shape or a kind of question."
    fix = f"Example: fretsure focus {key} minor on the {string} string"
    return UnknownName(in_other_languages(text, language) or problem, fix)
