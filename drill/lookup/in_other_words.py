"""What is looked up in more words than it takes: 'the key of A', 'dorian in A', 'Am and F'.

understood   what a reader makes of a text, or of the same in fewer words
reworded     the same in fewer words, in each way that there is
together     the text with each chord in one word
numerals     the words of a text, if all of them are numerals
bare         a text without the words of a question around it
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import suppress
from typing import TypeVar

from drill.errors import UnknownName, UsageProblem
from drill.lookup.typed_scale import typed_scale
from drill.theory.chords import Chord
from drill.theory.harmony import chord_at, scale_chords
from drill.theory.keys import MODE_WORDS, PRACTICAL_KEYS, Key, is_mode_word, parse_key, parse_tonic
from drill.theory.names import NoteLanguage, parse_note
from drill.theory.pitch import Note

T = TypeVar("T")
FIGURES = tuple("1234567")
LONGEST = 200
"""Signs; longer texts are not turned over."""

_BEFORE = re.compile(r"(?:(?:what|which|the|is|key|of|in|loop|chords?|progression|scale)\b[\s:]*)+", re.IGNORECASE)
_AFTER = re.compile(r"(?:\s+(?:key|chords?|loop|mode|progression|in)|[?!.\s])+$", re.IGNORECASE)
IN = re.compile(r"(?P<what>.*\S)\s+in\s+(?:(?:the\s+)?key\s+of\s+)?(?P<key>.+)", re.IGNORECASE)
_RELATIVE = re.compile(
    r"(?P<before>.*?)\brelative(?:\s+(?P<mode>minor|major|key)\b)?(?:\s+(?:of|to)\b)?(?P<after>.*)", re.IGNORECASE
)
LINKS = re.compile(r"\s+(?:and|then|to|und|dann)\s+|\s*&\s*", re.IGNORECASE)
_APART = re.compile(rf"(?<!\S)(?P<root>\S+)\s+(?P<kind>(?i:{MODE_WORDS})|maj\d*|m7?|7|dim7?|aug|sus[24])(?=[\s,]|$)")
_BETWEEN = re.compile(r"[\s|,;>→–—-]+")


def understood(text: str, read: Callable[[str], T], language: NoteLanguage) -> T:
    """What `read` makes of a text, or of the same in fewer words; raises what it raises for the text as it stands."""
    try:
        return read(text)
    except UnknownName as refusal:
        if len(text) > LONGEST:
            raise
        for other in reworded(text, language):
            with suppress(UnknownName):
                return read(other)
        raise refusal from None


def scale_in_other_words(text: str, language: NoteLanguage) -> tuple[Note, str] | None:
    """The tonic and the name of a scale, in any order of the words; raises UsageProblem as `reworded` does.

    >>> scale_in_other_words("mixolydian in E", "english")
    (Note('E'), 'mixolydian')
    """
    texts = (text, *reworded(text, language)) if len(text) <= LONGEST else (text,)
    return next(filter(None, (typed_scale(each, language) for each in texts)), None)


def reworded(text: str, language: NoteLanguage) -> Iterator[str]:
    """The same in fewer words, in each way that there is. Raises UsageProblem for a relative of the key's own mode.

    >>> list(reworded("the key of A?", "english")), list(reworded("dorian in A", "english"))
    (['A'], ['dorian in A', 'A dorian'])
    """
    plain = bare(text)
    yield together(LINKS.sub(" ", plain), language)
    if found := _RELATIVE.fullmatch(plain):
        with suppress(UnknownName):
            key = parse_key(f"{found['before']} {found['after']}", language)
            yield _relative(key, found["mode"], language).typed_in(language)
    if found := IN.fullmatch(plain):
        turned = f"{found['key']} {found['what']}"
        if is_mode_word(found["what"]) or typed_scale(turned, language):
            yield turned


def bare(text: str) -> str:
    """A text without the words of a question around it."""
    plain = _AFTER.sub("", text.strip())
    before = _BEFORE.match(plain)
    return plain[before.end() :] if before else plain


def _relative(key: Key, mode: str | None, language: NoteLanguage) -> Key:
    """The relative of a key. Raises UsageProblem where one of the key's own mode was asked for."""
    if mode and mode.casefold() == key.mode:
        other = key.relative
        raise UsageProblem(
            f"{key.typed_in(language)} is {key.mode} itself.",
            f"Its relative {other.mode} is {other.typed_in(language)}.",
        )
    return key.relative


def together(text: str, language: NoteLanguage) -> str:
    """The text with each chord in one word.

    >>> together("A minor, F and Bb maj7", "english"), together("a moll und h 7", "german")
    ('Am, F and Bbmaj7', 'am und h7')
    """
    return _APART.sub(lambda chord: _in_one_word(chord, language), text)


def _in_one_word(chord: re.Match[str], language: NoteLanguage) -> str:
    """A note and a kind as one word; the text as it stands where the first word is no note."""
    with suppress(UnknownName):
        parse_note(chord["root"], language)
        if not is_mode_word(chord["kind"]):
            return f"{chord['root']}{chord['kind']}"
        return chord["root"] + ("m" if parse_tonic(chord[0], language)[1] == "minor" else "maj")
    return chord[0]


def numerals(text: str) -> list[str]:
    """The words of a text, if all of them are numerals.

    >>> numerals("ii-V-I"), numerals("1 4 5"), numerals("Am F")
    (['ii', 'V', 'I'], ['1', '4', '5'], [])
    """
    words = [word for word in _BETWEEN.split(text.strip()) if word]
    return words if len(words) > 1 and all(chord_of_numeral(word, PRACTICAL_KEYS[0]) for word in words) else []


def chord_of_numeral(numeral: str, key: Key) -> Chord | None:
    """The chord of a roman numeral, or of a figure, which leaves the kind of chord to the key."""
    if numeral in FIGURES:
        return scale_chords(key)[int(numeral) - 1].chord
    with suppress(UnknownName):
        return chord_at(numeral, key)
    return None
