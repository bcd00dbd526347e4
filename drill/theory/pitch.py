"""Spelled notes, pitches and intervals as points on the lattice of fifths.

Going up a fifth changes the letter by four and the sound by seven semitones; going up an octave keeps the letter and
adds twelve. Every spelled pitch is some number of fifths and octaves from C0, and every spelled interval is such a
pair too, so transposition is addition and spelling can never come out wrong:

>>> Note.of("A", -1) + Interval(-3, 2)      # a minor third up: the relative major of A flat minor is C flat, not B
Note('Cb')
>>> Pitch.of("G", 1, 3).midi, Pitch.of("A", -1, 3).midi
(56, 56)

Octave numbers follow scientific pitch notation (C4 is middle C); MIDI numbers follow MIDI (C4 is 60).
"""

from __future__ import annotations

from functools import cache
from typing import Final

from drill.theory.value import Value

LETTERS_BY_FIFTHS = "FCGDAEB"
"""The letters in the order in which the line of fifths visits them; C stands at 0."""

LETTERS = "CDEFGAB"


class Interval(Value):
    """A spelled, directed interval: so many fifths and so many octaves."""

    __slots__ = ("fifths", "octaves")

    def __init__(self, fifths: int, octaves: int) -> None:
        self.fifths: Final = fifths
        self.octaves: Final = octaves

    @property
    def semitones(self) -> int:
        """Size in semitones; negative when the interval falls."""
        return 7 * self.fifths + 12 * self.octaves

    def __add__(self, other: Interval) -> Interval:
        return Interval(self.fifths + other.fifths, self.octaves + other.octaves)

    def __mul__(self, times: int) -> Interval:
        return Interval(self.fifths * times, self.octaves * times)


class Note(Value):
    """A spelled note without an octave: its place on the line of fifths, with C at 0, G at 1, F at -1."""

    __slots__ = ("fifths",)

    def __init__(self, fifths: int) -> None:
        self.fifths: Final = fifths

    @classmethod
    def of(cls, letter: str, accidental: int = 0) -> Note:
        """The note of a letter A-G, raised by `accidental` semitones (negative for flats)."""
        return cls(LETTERS_BY_FIFTHS.index(letter) - 1 + 7 * accidental)

    @property
    def letter(self) -> str:
        return LETTERS_BY_FIFTHS[(self.fifths + 1) % 7]

    @property
    def accidental(self) -> int:
        """Semitones above the natural letter: 1 for a sharp, -2 for a double flat."""
        return (self.fifths + 1) // 7

    @property
    def pitch_class(self) -> int:
        """The sound without octave, 0 (C) to 11 (B)."""
        return 7 * self.fifths % 12

    @property
    def name(self) -> str:
        """ASCII name, as in 'Bb', 'F##'."""
        return _name(self.fifths)

    def sounds_like(self, other: Note) -> bool:
        """Whether both are the same key on a piano."""
        return self.pitch_class == other.pitch_class

    def __add__(self, interval: Interval) -> Note:
        return Note(self.fifths + interval.fifths)

    def __repr__(self) -> str:
        return f"Note({self.name!r})"


@cache
def _name(fifths: int) -> str:
    note = Note(fifths)
    return note.letter + ("#" * note.accidental or "b" * -note.accidental)


class Pitch(Value):
    """A spelled pitch: a note, and so many octaves from C0. B#3 sounds like C4; the spelling keeps them apart."""

    __slots__ = ("note", "octaves")

    def __init__(self, note: Note, octaves: int) -> None:
        self.note: Final = note
        self.octaves: Final = octaves

    @classmethod
    def of(cls, letter: str, accidental: int, octave: int) -> Pitch:
        """The pitch of a letter and accidental in a scientific octave."""
        note = Note.of(letter, accidental)
        return cls(note, octave + (LETTERS.index(letter) - 4 * note.fifths) // 7)

    @property
    def octave(self) -> int:
        """Scientific octave number; it follows the letter, so Cb4 is in octave 4 although B3 sounds the same."""
        return (4 * self.note.fifths + 7 * self.octaves) // 7

    @property
    def midi(self) -> int:
        """MIDI number of the sound; C4 is 60."""
        return 12 + 7 * self.note.fifths + 12 * self.octaves

    @property
    def name(self) -> str:
        """ASCII name with octave, as in 'Bb3'."""
        return f"{self.note.name}{self.octave}"

    def __repr__(self) -> str:
        return f"Pitch({self.name!r})"


OCTAVE = Interval(0, 1)
