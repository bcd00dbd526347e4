"""Statements about notes, frets, keys and signatures, of which the sentences of mix-ups are made.

Each holds the values it states, and says them in words; so whether a sentence is true can be told without reading it.
"""

from __future__ import annotations

from typing import Any, dataclass_transform

from drill.questions.wording import (
    frets_in_words,
    named,
    named_key,
    signature_in_words,
    string_label,
)
from drill.theory.keys import Key, Mode
from drill.theory.neck import Neck, Spot
from drill.theory.pitch import Note


@dataclass_transform(frozen_default=True)
class Claim:
    """A statement that is true or false. A subclass declares the values it states, in the order in which it takes them.

    There are many sorts of claim, and every start loads them all: this makes each in a fraction of the time that a
    named tuple or a data class takes.
    """

    def __init__(self, *values: Any, **named: Any) -> None:
        self.__dict__.update(zip(self.__annotations__, values, strict=False), **named)

    @property
    def values(self) -> tuple[Any, ...]:
        """Everything it states."""
        return tuple(self.__dict__.values())

    def words(self) -> str:
        """The statement as a clause, with marked notes and without a full stop."""
        raise NotImplementedError

    def __eq__(self, other: object) -> bool:
        return type(other) is type(self) and other.__dict__ == self.__dict__

    def __hash__(self) -> int:
        return hash((type(self), self.values))

    def __repr__(self) -> str:
        return f"{type(self).__name__}{self.values}"


def key_words(tonic: Note, mode: Mode) -> str:
    """A key by its tonic and mode, whether a signature can write it or not."""
    return f"{named(tonic)} {mode}"


def sign_word(note: Note) -> str:
    """What a note carries: 'sharp' or 'flat'."""
    return "sharp" if note.accidental > 0 else "flat"


# -- notes -------------------------------------------------------------------------------------------------------------


class SameSound(Claim):
    """Two names of one sound."""

    note: Note
    other: Note

    def words(self) -> str:
        return f"{named(self.note)} sounds the same as {named(self.other)}"


class OneFretApart(Claim):
    """One note lies a fret above the other; `up` says which."""

    note: Note
    other: Note
    up: bool

    def words(self) -> str:
        return f"{named(self.note)} is one fret {'above' if self.up else 'below'} {named(self.other)}"


class ThreeFretsApart(Claim):
    """One note lies three frets above the other, or below it."""

    note: Note
    other: Note
    up: bool

    def words(self) -> str:
        return f"{named(self.note)} lies three frets {'above' if self.up else 'below'} {named(self.other)}"


class Sign(Claim):
    """Two notes of one letter: a sign left out, added, or the other one."""

    note: Note
    right: Note

    def words(self) -> str:
        note, right = named(self.note), named(self.right)
        if not self.note.accidental:
            return f"{note} leaves out the {sign_word(self.right)} of {right}"
        if not self.right.accidental:
            return f"{note} adds a {sign_word(self.note)} to {right}"
        return f"{note} has a {sign_word(self.note)}, {right} has a {sign_word(self.right)}"


class LetterBeside(Claim):
    """The letter of one note stands next to that of the other in the alphabet of notes."""

    note: Note
    other: Note
    up: bool

    def words(self) -> str:
        letter, other = (named(Note.of(note.letter)) for note in (self.note, self.other))
        return f"{letter} is the letter {'above' if self.up else 'below'} {other}"


class LettersApart(Claim):
    """How many letters a note is counted away, the first one too: 2 is the neighbour, 3 a third. Up, or down."""

    note: Note
    start: Note
    letters: int
    up: bool

    def words(self) -> str:
        if self.letters == 1:
            return f"{named(self.note)} is where the question starts"
        interval = {2: "a second", 3: "a third", 4: "a fourth", 5: "a fifth"}[self.letters]
        return f"{named(self.note)} is {interval} {'above' if self.up else 'below'} {named(self.start)}"


# -- frets -------------------------------------------------------------------------------------------------------------


class LiesAt(Claim):
    """A note lies at a spot of the neck."""

    note: Note
    neck: Neck
    spot: Spot

    def words(self) -> str:
        where = string_label(self.neck.tuning, self.spot.string)
        fret = f"fret {self.spot.fret} of {where}"
        return f"{named(self.note)} lies at {fret}" if self.spot.fret else f"{named(self.note)} is {where} open"


class FretSounds(Claim):
    """What a fret of the string that the question is about sounds, by one name or by two."""

    neck: Neck
    spot: Spot
    notes: tuple[Note, ...]

    def words(self) -> str:
        return f"fret {self.spot.fret} sounds {' or '.join(map(named, self.notes))}"


class FretsFromNote(Claim):
    """How far a fret lies above a note of the same string, below it if negative: said in place of a rare name."""

    neck: Neck
    spot: Spot
    note: Note
    frets: int

    def words(self) -> str:
        way = "above" if self.frets > 0 else "below"
        return f"fret {self.spot.fret} is {frets_in_words(abs(self.frets))} {way} {named(self.note)}"


class FretsApart(Claim):
    """How far one fret lies from another."""

    fret: int
    other: int

    def words(self) -> str:
        apart = self.fret - self.other
        return f"fret {self.fret} is {frets_in_words(abs(apart))} {'above' if apart > 0 else 'below'} fret {self.other}"


class OneFretTooFar(Claim):
    """A fret lies one beside the right one."""

    fret: int
    right: int

    def words(self) -> str:
        return f"one fret too {'high' if self.fret > self.right else 'low'}"


class OctaveTooFar(Claim):
    """A fret lies twelve from the right one."""

    fret: int
    right: int

    def words(self) -> str:
        return f"an octave too {'high' if self.fret > self.right else 'low'}"


class FromTheNut(Claim):
    """The same place counted from the nut and from the capo."""

    from_nut: int
    from_capo: int
    capo: int

    def words(self) -> str:
        return f"from the nut it is fret {self.from_nut}, but from the capo it is fret {self.from_capo}"


class StringGap(Claim):
    """How many semitones a string lies above the one below it."""

    neck: Neck
    high: int
    low: int
    semitones: int

    def words(self) -> str:
        high, low = (string_label(self.neck.tuning, string) for string in (self.high, self.low))
        return f"{high} lies {self.semitones} semitones above {low}"


class GivenFret(Claim):
    """The fret that the question starts from."""

    fret: int

    def words(self) -> str:
        return f"fret {self.fret} is where the question starts"


# -- keys --------------------------------------------------------------------------------------------------------------


class GivenKey(Claim):
    """The key that the question names."""

    key: Key

    def words(self) -> str:
        return f"{named_key(self.key)} is the key the question gives"


class Relatives(Claim):
    """Two keys of the same notes."""

    key: Key
    relative: Key

    def words(self) -> str:
        return f"{named_key(self.key)} is the relative of {named_key(self.relative)}"


class RelativeTonic(Claim):
    """A note is the tonic of a key's relative."""

    note: Note
    key: Key

    def words(self) -> str:
        return f"{named(self.note)} is the tonic of the relative {self.key.relative.mode}"


class Parallels(Claim):
    """Two keys of the same tonic; one of them may be a key that no signature writes."""

    tonic: Note
    mode: Mode
    key: Key

    def words(self) -> str:
        return f"{key_words(self.tonic, self.mode)} shares the tonic of {named_key(self.key)}, not its notes"


class RightTonic(Claim):
    """The tonic of an answer is right, its mode is not."""

    tonic: Note
    given: Mode
    right: Mode

    def words(self) -> str:
        return f"{named(self.tonic)} is right, but the key is {self.right}, not {self.given}"


class HasSigns(Claim):
    """The signature of a key, flats negative."""

    key: Key
    signature: int

    def words(self) -> str:
        return f"{named_key(self.key)} has {signature_in_words(self.signature)}"


class NoSignature(Claim):
    """No signature can write a key."""

    tonic: Note
    mode: Mode

    def words(self) -> str:
        return f"no signature can write {key_words(self.tonic, self.mode)}"


class LastSign(Claim):
    """The last sharp or flat of a key's signature."""

    note: Note
    key: Key

    def words(self) -> str:
        return f"{named(self.note)} is the last {sign_word(self.note)} of {named_key(self.key)}"
