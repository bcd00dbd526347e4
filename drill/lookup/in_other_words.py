"""What is looked up in more words than it takes: 'the key of A', 'dorian in A', 'I V vi IV in G', 'Am and F'.

understood   what a reader makes of a text, or of the same in fewer words
reworded     the same in fewer words, in each way that there is
together     the text with each chord in one word
numerals     the words of a text, if all of them are numerals
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import suppress
from typing import TypeVar

from drill.errors import FretsureError, UnknownName
from drill.theory.chords import Chord
from drill.theory.harmony import chord_at, scale_chords
from drill.theory.keys import PRACTICAL_KEYS, Key, parse_key
from drill.theory.names import NoteLanguage, one_line, quoted, typed_note
from drill.theory.pitch import Note

T = TypeVar("T")
FIGURES = tuple("1234567")
LONGEST = 200
"""Signs; longer texts are not turned over."""

_BEFORE = re.compile(r"(?:(?:what|which|the|is|key|of|in|loop|chords?|progression|scale)\b[\s:]*)+", re.IGNORECASE)
_AFTER = re.compile(r"(?:\s+(?:key|chords?|loop|mode|progression|in)|[?!.\s])+$", re.IGNORECASE)
_IN = re.compile(r"(?P<what>.*\S)\s+in\s+(?P<key>.+)", re.IGNORECASE)
_WHICH = r"relative(?:\s+(?:minor|major|key))?"
_RELATIVE = re.compile(rf"{_WHICH}\s+(?:(?:of|to)\s+)?(?P<key>.+)|(?P<before>.*\S)\s+{_WHICH}", re.IGNORECASE)
_LINKS = re.compile(r"\s+(?:and|then|to|und|dann)\s+|\s*&\s*", re.IGNORECASE)
_APART = re.compile(r"(?<!\S)([A-Ha-h][#b♯♭]?)\s+((?i:minor|min|major)|maj\d*|m7?|7|dim7?|aug|sus[24])(?=[\s,]|$)")
_KINDS = {"minor": "m", "min": "m", "major": "maj"}
_BETWEEN = re.compile(r"[\s|,;>→–—-]+")


def understood(text: str, read: Callable[[str], T], language: NoteLanguage) -> T:
    """What `read` makes of a text, or of the same in fewer words; raises what it raises for the text as it stands."""
    try:
        return read(text)
    except UnknownName as refusal:
        for other in reworded(text, language):
            with suppress(UnknownName):
                return read(other)
        if numerals(text):
            key = typed_note(Note.of("G"), language)
            raise UnknownName(f"{quoted(text)} are numerals. Say in which key: {one_line(text)} in {key}.") from None
        raise refusal from None


def reworded(text: str, language: NoteLanguage) -> Iterator[str]:
    """The same in fewer words, in each way that there is.

    >>> list(reworded("the key of A?", "english")), list(reworded("I V vi IV in G", "english"))
    (['A'], ['I V vi IV in G', 'G I V vi IV', 'G D Em C'])
    """
    bare = _AFTER.sub("", text[:LONGEST].strip())
    if before := _BEFORE.match(bare):
        bare = bare[before.end() :]
    yield together(_LINKS.sub(" ", bare))
    if found := _RELATIVE.fullmatch(bare):
        with suppress(FretsureError):
            yield parse_key(found["key"] or found["before"], language).relative.typed_in(language)
    if found := _IN.fullmatch(bare):
        yield f"{found['key']} {found['what']}"
        with suppress(FretsureError):
            key = parse_key(found["key"], language)
            chords = (_chord(each, key) for each in numerals(found["what"]))
            yield " ".join(chord.typed_in(language) for chord in chords if chord)


def together(text: str) -> str:
    """The text with each chord in one word.

    >>> together("A minor, F and Bb maj7")
    'Am, F and Bbmaj7'
    """
    return _APART.sub(lambda chord: chord[1] + _KINDS.get(chord[2].casefold(), chord[2]), text)


def numerals(text: str) -> list[str]:
    """The words of a text, if all of them are numerals.

    >>> numerals("ii-V-I"), numerals("1 4 5"), numerals("Am F")
    (['ii', 'V', 'I'], ['1', '4', '5'], [])
    """
    words = [word for word in _BETWEEN.split(text[:LONGEST].strip()) if word]
    return words if len(words) > 1 and all(_chord(word, PRACTICAL_KEYS[0]) for word in words) else []


def _chord(numeral: str, key: Key) -> Chord | None:
    """The chord of a roman numeral, or of a figure, which leaves the kind of chord to the key."""
    if numeral in FIGURES:
        return scale_chords(key)[int(numeral) - 1].chord
    with suppress(UnknownName):
        return chord_at(numeral, key)
    return None
