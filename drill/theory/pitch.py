"""Spelled notes, pitches and intervals as points on the lattice of fifths.

Going up a fifth changes the letter by four and the sound by seven semitones; going up an octave keeps the letter and
adds twelve. Every spelled pitch is some number of fifths and octaves from C0, and every spelled interval is such a
pair too, so transposition is addition and spelling can never come out wrong:

>>> Note.of("A", -1) + Interval(-3, 2)      # a minor third up: the relative major of A flat minor is C flat, not B
Note('Cb')
>>> Pitch.of("G", 1, 3).midi, Pitch.of("A", -1, 3).midi
(56, 56)
>>> Note.of("C").up_to(Note.of("G", -1)).name
'd5'

Like every value here they are tuples by make, but + adds intervals where a plain tuple would be joined.

Octave numbers follow scientific pitch notation (C4 is middle C); sounding numbers follow MIDI (C4 is 60).
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

LETTERS_BY_FIFTHS = "FCGDAEB"
"""The letters in the order in which the line of fifths visits them; C stands at 0."""

LETTERS = "CDEFGAB"
_PERFECT = {1, 4, 5}
_CONCERT_A_HERTZ, _CONCERT_A_MIDI = 440.0, 69  # ISO 16:1975


class Interval(NamedTuple):
    """A spelled, directed interval: so many fifths and so many octaves."""

    fifths: int
    octaves: int

    @property
    def semitones(self) -> int:
        """Size in semitones; negative when the interval falls."""
        return 7 * self.fifths + 12 * self.octaves

    @property
    def steps(self) -> int:
        """How many letters up: 0 for a unison, 2 for a third, 7 for an octave."""
        return 4 * self.fifths + 7 * self.octaves

    @property
    def name(self) -> str:
        """Quality and number of the rising interval, as in 'm3', 'P5', 'A4'; a falling one carries a minus sign."""
        if self.steps < 0 or (self.steps == 0 and self.semitones < 0):
            return f"-{(-self).name}"
        return f"{_quality(self.fifths, self.steps % 7 + 1)}{self.steps + 1}"

    def __add__(self, other: Interval) -> Interval:  # type: ignore[override]
        return Interval(self.fifths + other.fifths, self.octaves + other.octaves)

    def __sub__(self, other: Interval) -> Interval:
        return self + -other

    def __neg__(self) -> Interval:
        return Interval(-self.fifths, -self.octaves)

    def __mul__(self, times: int) -> Interval:  # type: ignore[override]
        return Interval(self.fifths * times, self.octaves * times)

    def __rmul__(self, times: int) -> Interval:  # type: ignore[override]
        return self * times


def _quality(fifths: int, simple_number: int) -> str:
    """Perfect and major intervals lie on the fifths -1..5; each seven fifths beyond widen or narrow by a semitone."""
    widened = (fifths + 1) // 7
    if simple_number in _PERFECT:
        return "P" if widened == 0 else "A" * widened or "d" * -widened
    if widened >= 0:
        return "M" if widened == 0 else "A" * widened
    return "m" if widened == -1 else "d" * (-widened - 1)


class Note(NamedTuple):
    """A spelled note without an octave: its place on the line of fifths, with C at 0, G at 1, F at -1."""

    fifths: int

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
        return _name(self)

    def up_to(self, other: Note) -> Interval:
        """The rising interval, smaller than an octave, from this note to the next `other` above."""
        fifths = other.fifths - self.fifths
        return Interval(fifths, -((4 * fifths) // 7))

    def sounds_like(self, other: Note) -> bool:
        """Whether both are the same key on a piano."""
        return self.pitch_class == other.pitch_class

    def __add__(self, interval: Interval) -> Note:  # type: ignore[override]
        return Note(self.fifths + interval.fifths)

    def __sub__(self, interval: Interval) -> Note:
        return Note(self.fifths - interval.fifths)

    def __repr__(self) -> str:
        return f"Note({self.name!r})"


@cache
def _name(note: Note) -> str:
    return note.letter + ("#" * note.accidental or "b" * -note.accidental)


class Pitch(NamedTuple):
    """A spelled pitch: a note, and so many octaves from C0. B#3 sounds like C4; the spelling keeps them apart."""

    note: Note
    octaves: int

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
        """Sounding number; C4 is 60."""
        return 12 + 7 * self.note.fifths + 12 * self.octaves

    @property
    def hertz(self) -> float:
        """Frequency in equal temperament with A4 at 440 Hz (ISO 16:1975)."""
        return float(_CONCERT_A_HERTZ * 2 ** ((self.midi - _CONCERT_A_MIDI) / 12))

    @property
    def name(self) -> str:
        """ASCII name with octave, as in 'Bb3'."""
        return f"{self.note.name}{self.octave}"

    def __add__(self, interval: Interval) -> Pitch:  # type: ignore[override]
        return Pitch(self.note + interval, self.octaves + interval.octaves)

    def __sub__(self, other: Pitch) -> Interval:
        return Interval(self.note.fifths - other.note.fifths, self.octaves - other.octaves)

    def __repr__(self) -> str:
        return f"Pitch({self.name!r})"


OCTAVE = Interval(0, 1)
