"""The thirty keys that a signature can write, and their relatives.

A key signature has at most seven sharps or flats (MIDI file format: sf -7..7), which gives fifteen major and fifteen
minor keys. Relatives share a signature; they are found by going three frets and two letters, here three fifths.

>>> parse_key("Ab minor").relative
Key('Cb major')
>>> [note.name for note in parse_key("Ab").altered_notes]
['Bb', 'Eb', 'Ab', 'Db']
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from typing import Final, Literal, get_args

from drill.errors import TheoreticalKey, UnknownName
from drill.theory.names import (
    LONGEST_NAME,
    NOTE_LANGUAGES,
    NoteLanguage,
    joined,
    parse_note,
    plain_dashes,
    quoted,
    show_note,
    typed_note,
)
from drill.theory.pitch import LETTERS, Note
from drill.theory.value import Value

Mode = Literal["major", "minor"]

MOST_SIGNS = 7
MINOR_ABOVE_MAJOR = 3
"""Fifths from a major tonic up to that of its relative minor (C 0, A 3)."""

_MAJOR_WORDS = ("major", "maj", "dur", "maggiore", "majeur", "mayor")
_MINOR_WORDS = ("minor", "min", "moll", "minore", "mineur", "menor")
_MINOR_SIGNS = ("m", "-")  # the lead-sheet minus is minor
MODE_WORDS = "|".join(sorted(_MAJOR_WORDS + _MINOR_WORDS, key=len, reverse=True))
"""The words for major and minor in all languages, as a pattern: the longer ones first."""

_KEY = re.compile(rf"(?P<tonic>.*?)(?:[\s-]*(?P<word>(?i:{MODE_WORDS}))|\s*(?P<sign>[mM-]))?", re.DOTALL)


class Key(Value):
    """A tonic and a mode whose signature can be written; raises `TheoreticalKey` for the others."""

    __slots__ = ("tonic", "mode")  # noqa: RUF023 (in the order of __init__)

    def __init__(self, tonic: Note, mode: Mode) -> None:
        if mode not in get_args(Mode):
            raise ValueError(f"{mode!r} is not a mode; a key is 'major' or 'minor'.")
        _refuse_theoretical(tonic, mode)
        self.tonic: Final = tonic
        self.mode: Final[Mode] = mode

    @property
    def signature(self) -> int:
        """Sharps in the key signature; flats count negative."""
        return _signature(self.tonic, self.mode)

    @property
    def relative(self) -> Key:
        """The key of the other mode with the same signature."""
        return _relative(self)

    @property
    def parallel(self) -> Key | None:
        """The key of the other mode on the same tonic; None where no signature can write it."""
        return next((key for key in KEYS if key.tonic == self.tonic and key.mode != self.mode), None)

    @property
    def minor(self) -> Key:
        """The key itself or its relative, whichever is minor; shapes are named by this one."""
        return self if self.mode == "minor" else self.relative

    @property
    def major(self) -> Key:
        """The key itself or its relative, whichever is major."""
        return self if self.mode == "major" else self.relative

    @property
    def altered_notes(self) -> tuple[Note, ...]:
        """The notes of the signature in the order in which it is written."""
        if self.signature >= 0:
            return tuple(Note(6 + n) for n in range(self.signature))  # F# stands at 6 on the line of fifths
        return tuple(Note(-2 - n) for n in range(-self.signature))  # Bb stands at -2

    @property
    def notes(self) -> tuple[Note, ...]:
        """The seven notes of the signature, from the tonic up."""
        return _scale(self.tonic, self.signature)

    @property
    def name(self) -> str:
        """ASCII name in words, as in 'C# minor'."""
        return f"{self.tonic.name} {self.mode}"

    @property
    def short(self) -> str:
        """Compact ASCII name as on a lead sheet, as in 'C#m'."""
        return self.tonic.name + ("m" if self.mode == "minor" else "")

    def shown_in(self, language: NoteLanguage) -> str:
        """Name for a screen in a note language, as in 'B♭ minor' or 'Es major' in German."""
        return f"{show_note(self.tonic, language)} {self.mode}"

    def typed_in(self, language: NoteLanguage) -> str:
        """Name as a keyboard types it in a note language; `parse_key` reads it back."""
        return f"{typed_note(self.tonic, language)} {self.mode}"

    def sounds_like(self, other: Key) -> bool:
        """Whether both keys are played with the same frets."""
        return self.mode == other.mode and self.tonic.sounds_like(other.tonic)

    def __repr__(self) -> str:
        return f"Key({self.name!r})"


def _signature(tonic: Note, mode: Mode) -> int:
    return tonic.fifths - (MINOR_ABOVE_MAJOR if mode == "minor" else 0)


def _refuse_theoretical(tonic: Note, mode: Mode, language: NoteLanguage = "english") -> None:
    """Raise `TheoreticalKey`, with names in `language`, for a key that needs more than seven sharps or flats."""
    signs = _signature(tonic, mode)
    if abs(signs) > MOST_SIGNS:
        playable = Note(tonic.fifths - (12 if signs > 0 else -12))
        raise TheoreticalKey(
            f"{typed_note(tonic, language)} {mode} would need {abs(signs)} {'sharps' if signs > 0 else 'flats'}; "
            "no key signature holds more than seven.",
            f"The same sound is written {typed_note(playable, language)} {mode}.",
        )


@cache
def _relative(key: Key) -> Key:
    if key.mode == "major":
        return Key(Note(key.tonic.fifths + MINOR_ABOVE_MAJOR), "minor")
    return Key(Note(key.tonic.fifths - MINOR_ABOVE_MAJOR), "major")


@cache
def _scale(tonic: Note, signature: int) -> tuple[Note, ...]:
    in_key = {note.letter: note for note in (Note(signature + n) for n in range(-1, 6))}
    start = LETTERS.index(tonic.letter)
    return tuple(in_key[LETTERS[(start + n) % 7]] for n in range(7))


MAJOR_KEYS = tuple(Key(Note(fifths), "major") for fifths in range(-MOST_SIGNS, MOST_SIGNS + 1))
MINOR_KEYS = tuple(key.relative for key in MAJOR_KEYS)
KEYS = MAJOR_KEYS + MINOR_KEYS

TEACHING_ORDER = ("C", "G", "D", "A", "E", "F", "Bb", "Eb", "Ab", "Db", "B", "F#")
"""Tonics of the twelve major keys in everyday use, open-string guitar keys first (common practice, no source)."""

PRACTICAL_KEYS = tuple(
    key for name in TEACHING_ORDER for key in (Key(parse_note(name), "major"), Key(parse_note(name), "major").relative)
)
"""The twelve major keys in everyday use, each followed by its relative minor."""


def parse_key(text: str, language: NoteLanguage = "english") -> Key:
    """Read a key as players write it: 'Am', 'a minor', 'Bb', 'B♭ maj', 'A-', in German 'b-Moll' or 'As-Dur'.

    A bare tonic is major. Raises `UnknownName`, or `TheoreticalKey` for a key no signature can write.
    """
    tonic, mode = parse_tonic(text, language)
    _refuse_theoretical(tonic, mode or "major", language)
    return Key(tonic, mode or "major")


def parse_tonic(text: str, language: NoteLanguage = "english") -> tuple[Note, Mode | None]:
    """Read the tonic and, where it is written, the mode of a key, whether a signature can write that key or not."""
    match = _KEY.fullmatch(plain_dashes(text.strip()) if len(text) <= 2 * LONGEST_NAME else "")
    assert match is not None  # the pattern matches any text; parse_note checks what comes before the mode
    try:
        tonic = parse_note(match["tonic"], language)
    except UnknownName:
        problem = f"{quoted(text)} is not a key."
        minor, short, major = (typed_note(Note.of(*name), language) for name in (("E", -1), ("F", 1), ("E", 0)))
        raise UnknownName(problem, f"Write a note and a mode, as in {minor} minor, {short}m or {major}.") from None
    word, sign = (match["word"] or "").casefold(), match["sign"]
    if word in _MINOR_WORDS or sign in _MINOR_SIGNS:
        return tonic, "minor"
    return tonic, "major" if word or sign else None


def is_mode_word(text: str) -> bool:
    """Whether a text is a word for major or minor in any of the languages."""
    return text.casefold() in _MAJOR_WORDS + _MINOR_WORDS


def in_other_languages(
    text: str, language: NoteLanguage, what: str = "key", reads: Callable[[str, NoteLanguage], bool] | None = None
) -> str:
    """That a text which is no key in a note language is one in others, and where to change it; else nothing.

    `reads` tells whether a text is `what` in a language, if something else than a key is wanted.

    >>> in_other_languages("Es moll", "english")
    '“Es moll” is a key in German note names, but yours are English. To change them, open Set-up: “Note names”.'
    """
    reads = reads or _is_key
    others = [each for each in NOTE_LANGUAGES if each != language and reads(text, each)]
    if reads(text, language) or not others:
        return ""
    told = others[:1] if "english" in others else others  # the others read English letters as well
    names = joined([each.capitalize() for each in told], "or")
    return (
        f"{quoted(text)} is a {what} in {names} note names, but yours are {language.capitalize()}. "
        "To change them, open Set-up: “Note names”."
    )


def _is_key(text: str, language: NoteLanguage) -> bool:
    try:
        parse_tonic(text, language)
    except UnknownName:
        return False
    return True
