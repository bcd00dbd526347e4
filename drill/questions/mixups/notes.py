"""A note taken for another: the same sound by a wrong name, a sign left out or added, the letter or the fret beside.

Whatever is named by a note shares these: a note itself, a key by its tonic, a chord by its root. `say` makes the answer
of the note that was taken.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from drill.questions.facts import spot_fact
from drill.questions.mixups.claims import LetterBeside, LiesAt, OneFretApart, SameSound, Sign
from drill.questions.mixups.mixup import Mixup, MixupName
from drill.questions.reasons import same_sound
from drill.theory.neck import Neck, Spot, names_of
from drill.theory.pitch import LETTERS, Note

Say = Callable[[Note], str]


def letters_beside(note: Note) -> Iterator[tuple[Note, bool]]:
    """The letters below and above, plain and with the note's own sign; whether each is the upper one."""
    place = LETTERS.index(note.letter)
    for up in (False, True):
        letter = LETTERS[(place + (1 if up else -1)) % len(LETTERS)]
        for sign in dict.fromkeys((0, note.accidental)):
            yield Note.of(letter, sign), up


def other_signs(note: Note) -> Iterator[tuple[Note, MixupName]]:
    """The note with its sign left out, with the other one, or, of a natural, with either."""
    if note.accidental:
        yield Note.of(note.letter), "sign left out"
        if abs(note.accidental) == 1:
            yield Note.of(note.letter, -note.accidental), "sharp for flat"
    else:
        for sign in (1, -1):
            yield Note.of(note.letter, sign), "sign added"


def wrong_names(right: Note, say: Say) -> Iterator[Mixup]:
    """Other names of the right sound."""
    for other in same_sound(right):
        yield Mixup("right sound, wrong name", say(other), (SameSound(other, right),), "{0}, its name here.")


def wrong_signs(right: Note, say: Say) -> Iterator[Mixup]:
    """The right letter with a wrong sign."""
    for note, name in other_signs(right):
        frame = "{0}; a flat lowers, a sharp raises." if name == "sharp for flat" else "{0}."
        yield Mixup(name, say(note), (Sign(note, right),), frame)


def wrong_letters(right: Note, say: Say) -> Iterator[Mixup]:
    """The letters beside the right one."""
    for note, up in letters_beside(right):
        yield Mixup("one letter off", say(note), (LetterBeside(note, right, up),))


def wrong_sounds(right: Note, say: Say) -> Iterator[Mixup]:
    """The sounds a semitone beside the right one, by their everyday names."""
    for step in (-1, 1):
        for note in names_of((right.pitch_class + step) % 12):
            yield Mixup("one fret off", say(note), (OneFretApart(note, right, step > 0),))


def off_by_little(right: Note, say: Say) -> Iterator[Mixup]:
    """A sign, a letter or a fret beside what was meant."""
    yield from wrong_signs(right, say)
    yield from wrong_letters(right, say)
    yield from wrong_sounds(right, say)


# -- a note read from the neck -----------------------------------------------------------------------------------------


def misread_spot(neck: Neck, spot: Spot) -> Iterator[Mixup]:
    """What is said of a spot: the note of another string or fret, or the right one by a wrong name."""
    names = names_of(neck.pitch_class(spot))
    yield from wrong_names(names[0], _plainly)
    for string in neck.tuning.beside(spot.string):
        for mixup in _read_at(neck, Spot(string, spot.fret), "other string", "{0}, the string next to it."):
            yield mixup._replace(fact=spot_fact(neck, spot))
    yield from wrong_sounds(names[0], _plainly)
    for name in names:
        yield from wrong_signs(name, _plainly)
    if neck.capo:
        yield from _counted_from_the_nut(neck, spot)
    for name in names:
        yield from wrong_letters(name, _plainly)
    far = Spot(len(neck.tuning.strings) + 1 - spot.string, spot.fret)
    yield from _read_at(neck, far, "strings from the wrong side", "{0}; strings are counted from the highest.")
    yield from _read_at(neck, Spot(spot.string, 0), "question given back", "{0}.")


def _plainly(note: Note) -> str:
    return note.name


def _read_at(neck: Neck, spot: Spot, name: MixupName, frame: str) -> Iterator[Mixup]:
    for note in names_of(neck.pitch_class(spot)):
        yield Mixup(name, note.name, (LiesAt(note, neck, spot),), frame)


def _counted_from_the_nut(neck: Neck, spot: Spot) -> Iterator[Mixup]:
    without = Neck(neck.tuning, neck.frets)
    frame = "{0} without the capo; count from the capo."
    return _read_at(without, spot, "counted from the nut", frame)
