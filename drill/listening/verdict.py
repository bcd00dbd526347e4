"""Whether what was heard is what was asked."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from typing import NamedTuple

from drill.listening.events import Event, Heard
from drill.listening.naming import SURE

BESIDE = 40.0
"""Cents from which a note counts as its neighbour too: it is right within 60 cents, for a hard pluck begins sharp."""
QUIET_S = 0.5
"""Another note is charged only after so long without a pluck: strings that still ring may be mistaken for it, and the
syllables of a voice follow each other sooner."""
IN_HASTE = 0.98
"""Sooner after a pluck a wanted note has to be as clear as this to count at once, or has to hold."""


class Right(NamedTuple):
    """The note that was asked."""

    late: int
    """Samples from the moment asked to the pluck, with the way through the sound card taken off."""


class Other(NamedTuple):
    """Another note, and it held: the only thing that may be charged."""

    midi: int


class NotSure(NamedTuple):
    """Nothing was heard for sure; never charged."""


Verdict = Right | Other | NotSure
Wanted = Callable[[int], bool] | Collection[int]


def verdict(
    events: Iterable[Event], wanted: Wanted, opened: int, closes: int, path: int, *, in_haste: bool = False
) -> Verdict:
    """Judge the notes plucked from `opened` until before `closes`, counted in samples of the stream.

    `wanted` says which MIDI numbers are right: any octave of a note, or one pitch. `path` is how many samples pass from
    a click sent to the same click heard. Onsets are told within 10 ms, so open that much early for what may be on time.

    The wanted note is right as soon as it is sure, even after others; see `is_sure`. Another note is charged only if it
    held and is clear, and the wanted one did not come. What was missed, what did not hold, and what was plucked outside
    the time is never charged.
    """
    is_wanted = wanted if callable(wanted) else wanted.__contains__
    notes = [event for event in events if isinstance(event, Heard) and opened <= event.onset - path < closes]
    for note in notes:
        if is_sure(note, in_haste=in_haste) and any(is_wanted(midi) for midi in _names(note)):
            return Right(note.onset - path - opened)
    return next((Other(note.midi) for note in notes if note.held and note.clarity >= SURE), NotSure())


def verdict_on(onset: int, events: Iterable[Event], wanted: Wanted, rate: int) -> Verdict:
    """Judge the one pluck at sample `onset`, of all that was heard at `rate` samples a second.

    Another note is charged only if it came after quiet as well, and a wanted one in haste has to be clearer: of notes
    in quick succession the first may still ring when the second is read, and a voice is hardly ever quiet.
    """
    plucks = list(events)
    in_haste = any(0 < onset - other.onset < QUIET_S * rate for other in plucks)
    found = verdict(plucks, wanted, onset, onset + 1, 0, in_haste=in_haste)
    return NotSure() if in_haste and isinstance(found, Other) else found


def is_sure(note: Heard, *, in_haste: bool = False) -> bool:
    """Whether a wanted note counts: at once, if it is clear and was sudden, or once it has held.

    Somebody who talks in the room goes through every note, and is neither; what is `in_haste` has to be clearer.
    """
    if in_haste:
        return note.clarity >= SURE if note.held else note.sudden and note.clarity >= IN_HASTE
    return note.held or (note.sudden and note.clarity >= SURE)


def _names(note: Heard) -> list[int]:
    """The note, and its neighbour where it is nearly as near."""
    return [note.midi, *([note.midi + 1] if note.cents > BESIDE else [note.midi - 1] if note.cents < -BESIDE else [])]
