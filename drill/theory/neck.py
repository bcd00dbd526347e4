"""Tunings, strings and frets.

Strings are numbered as in tablature and MusicXML: 1 is the highest. Fret 0 is the open string (or the capo).

>>> neck = Neck(STANDARD, frets=15)
>>> neck.pitch_class(Spot(6, 8)), [spot.fret for spot in neck.spots_of(0, strings=(6,))]
(0, [8])
"""

from collections.abc import Iterable
from functools import cache
from itertools import pairwise
from typing import Final, NamedTuple

from drill.errors import UsageProblem
from drill.theory.names import parse_pitch
from drill.theory.pitch import Note, Pitch
from drill.theory.value import Value

FEWEST_FRETS, MOST_FRETS = 12, 24
MOST_CAPO = 11
FRETS_PER_OCTAVE = 12


class Spot(NamedTuple):
    """One place on the neck: a string (1 = highest) and a fret (0 = open)."""

    string: int
    fret: int


class Tuning(NamedTuple):
    """The open strings of an instrument, from string 1 (on a guitar the highest) to the last."""

    id: str
    title: str
    open_strings: tuple[Pitch, ...]
    anchor_strings: tuple[int, ...]
    """The strings on which shapes are anchored, lowest first; on a guitar 6 and 5."""

    @classmethod
    def from_low_to_high(cls, id: str, title: str, names: str, anchor_strings: tuple[int, ...] = ()) -> "Tuning":
        """Build from pitch names in the usual order, lowest string first: 'E2 A2 D3 G3 B3 E4'."""
        pitches = tuple(parse_pitch(name) for name in reversed(names.split()))
        return cls(id, title, pitches, anchor_strings or (len(pitches), len(pitches) - 1))

    def __hash__(self) -> int:
        """Hash the id alone: shapes are cached by their tuning, and hashing every pitch would be slow."""
        return hash(self.id)

    @property
    def strings(self) -> range:
        """String numbers from the highest (1) to the lowest."""
        return range(1, len(self.open_strings) + 1)

    def open(self, string: int) -> Pitch:
        """The open pitch of a string."""
        return self.open_strings[string - 1]

    def beside(self, string: int) -> tuple[int, ...]:
        """The strings next to a string, the higher one first."""
        return tuple(other for other in (string - 1, string + 1) if other in self.strings)

    def refuse_missing(self, string: int) -> None:
        """Raise `UsageProblem` for a string that the instrument lacks."""
        if string not in self.strings:
            fix = f"Strings: 1, the highest, to {len(self.strings)}."
            raise UsageProblem(f"{self.title} has no string {string}.", fix)

    def gaps(self) -> tuple[int, ...]:
        """Semitones between neighbouring strings, from the lowest pair to the highest."""
        numbers = [pitch.midi for pitch in reversed(self.open_strings)]
        return tuple(upper - lower for lower, upper in pairwise(numbers))


STANDARD = Tuning.from_low_to_high("standard", "Guitar, standard tuning", "E2 A2 D3 G3 B3 E4")


class Neck(Value):
    """A neck with a tuning and a number of frets. A capo raises every string; frets are then counted from the capo."""

    __slots__ = ("tuning", "frets", "capo")  # noqa: RUF023 (in the order of __init__)

    def __init__(self, tuning: Tuning, frets: int = 15, capo: int = 0) -> None:
        """Raises `UsageProblem` for too few or too many frets, or a capo too high."""
        if not FEWEST_FRETS <= frets <= MOST_FRETS:
            raise UsageProblem(f"{frets} frets: a neck here has {FEWEST_FRETS} to {MOST_FRETS}.")
        if not 0 <= capo <= MOST_CAPO:
            raise UsageProblem(f"Capo at fret {capo}: it goes from 0 (none) to {MOST_CAPO}.")
        self.tuning: Final = tuning
        self.frets: Final = frets
        self.capo: Final = capo

    @property
    def last_fret(self) -> int:
        """The highest fret, counted from the capo."""
        return self.frets - self.capo

    def sounding(self, spot: Spot) -> int:
        """The MIDI number that a spot sounds; an instrument has no spelling."""
        return self.tuning.open(spot.string).midi + self.capo + spot.fret

    def pitch_class(self, spot: Spot) -> int:
        """The sound of a spot without octave, 0 (C) to 11 (B)."""
        return self.sounding(spot) % 12

    def fret_of(self, string: int, midi: int) -> int:
        """The fret at which a string sounds this MIDI number; it may lie outside the neck."""
        return midi - self.tuning.open(string).midi - self.capo

    def holds(self, spot: Spot) -> bool:
        """Whether the spot is on this neck."""
        return spot.string in self.tuning.strings and 0 <= spot.fret <= self.last_fret

    def spots_of(self, pitch_class: int, strings: Iterable[int] | None = None) -> tuple[Spot, ...]:
        """Every spot that sounds a pitch class, from string 1 on, each from the nut up."""
        above = self.last_fret + 1
        return tuple(
            [
                Spot(string, fret)
                for string in (self.tuning.strings if strings is None else strings)
                for fret in range(self._lowest_fret(string, pitch_class), above, FRETS_PER_OCTAVE)
            ]
        )

    def _lowest_fret(self, string: int, pitch_class: int) -> int:
        return (pitch_class - self.tuning.open(string).midi - self.capo) % FRETS_PER_OCTAVE


@cache
def names_of(pitch_class: int) -> tuple[Note, ...]:
    """The everyday names of a sound: one natural, or the sharp and the flat."""
    note = Note((7 * pitch_class + 1) % 12 - 1)  # seven fifths up is a semitone up; counted from F, the first natural
    return (note,) if note.accidental == 0 else (note, Note(note.fifths - 12))


def is_everyday(note: Note) -> bool:
    """Whether a note has an everyday name: F sharp has, F flat and B double flat have not."""
    return note in names_of(note.pitch_class)
