"""A fret taken for another: that of the next string, of another note, one counted from elsewhere, one beside."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache

from drill.questions.facts import spot_fact
from drill.questions.mixups.claims import (
    Claim,
    FretsFromNote,
    FretSounds,
    FromTheNut,
    GivenFret,
    LetterBeside,
    LiesAt,
    OctaveTooFar,
    OneFretTooFar,
    Sign,
)
from drill.questions.mixups.mixup import Mixup, MixupName
from drill.questions.mixups.notes import letters_beside, other_signs
from drill.theory.neck import FRETS_PER_OCTAVE, Neck, Spot, is_everyday, names_of
from drill.theory.pitch import Note


@cache
def misplaced(neck: Neck, spots: tuple[Spot, ...], note: Note) -> tuple[Mixup, ...]:
    """Where a note is put that lies elsewhere on its string. `spots` are the right ones, all on that string."""
    asked = spots[0]
    found = [
        *_on_strings_beside(neck, asked, note),
        *_from_the_nut(neck, spots),
        *_of_other_signs(neck, asked.string, note),
        *one_off(neck, spots),
        *_of_letters_beside(neck, asked.string, note),
        *_from_the_wrong_side(neck, asked.string, note),
    ]
    return tuple(on_neck(neck, found))


def on_neck(neck: Neck, mixups: Iterable[Mixup]) -> Iterator[Mixup]:
    """Those mix-ups whose fret this neck has."""
    return (mixup for mixup in mixups if 0 <= int(mixup.answer) <= neck.last_fret)


def sounds(neck: Neck, spot: Spot, *notes: Note) -> FretSounds:
    """What a fret sounds, by these names or by its everyday ones."""
    return FretSounds(neck, spot, notes or names_of(neck.pitch_class(spot)))


def at_frets_of(
    neck: Neck, string: int, note: Note, name: MixupName, frame: str = "{0}.", *more: Claim
) -> Iterator[Mixup]:
    """Every fret at which a string sounds a note; the first claim is that it does."""
    for spot in neck.spots_of(note.pitch_class, (string,)):
        yield Mixup(name, str(spot.fret), (sounds(neck, spot, note), *more), frame)


def _at_slips_of(
    neck: Neck, string: int, note: Note, name: MixupName, frame: str = "{0}.", *more: Claim
) -> Iterator[Mixup]:
    """Every fret of a note that nobody asked for; where its name is as rare as F flat, told by the natural beside."""
    for mixup in at_frets_of(neck, string, note, name, frame, *more):
        beside = FretsFromNote(neck, Spot(string, int(mixup.answer)), Note.of(note.letter), note.accidental)
        yield mixup if is_everyday(note) else mixup._replace(claims=(beside, *more))


def one_off(neck: Neck, spots: Iterable[Spot], frame: str = "{0}: {1}.") -> Iterator[Mixup]:
    """The frets beside the right ones, with what sounds there."""
    for string, right in spots:
        for fret in (right - 1, right + 1):
            claims = (sounds(neck, Spot(string, fret)), OneFretTooFar(fret, right))
            yield Mixup("one fret off", str(fret), claims, frame)


def given_back(fret: int) -> Mixup:
    """The fret from which the question started."""
    return Mixup("question given back", str(fret), (GivenFret(fret),))


def octave_off(neck: Neck, spot: Spot) -> Iterator[Mixup]:
    """The right note twelve frets away on the same string."""
    for fret in (spot.fret - FRETS_PER_OCTAVE, spot.fret + FRETS_PER_OCTAVE):
        claims = (sounds(neck, Spot(spot.string, fret)), OctaveTooFar(fret, spot.fret))
        yield Mixup("right note, wrong octave", str(fret), claims, "{0}, but {1}.")


def on_other_string(neck: Neck, string: int, note: Note, frame: str) -> Iterator[Mixup]:
    """The frets of a note on another string."""
    for spot in neck.spots_of(note.pitch_class, (string,)):
        yield Mixup("other string", str(spot.fret), (LiesAt(note, neck, spot),), frame)


def _on_strings_beside(neck: Neck, asked: Spot, note: Note) -> Iterator[Mixup]:
    """The note's frets on the strings beside; what failed is the fact about the string that was asked."""
    for other in neck.tuning.beside(asked.string):
        for mixup in on_other_string(neck, other, note, "{0}, the string next to it."):
            yield mixup._replace(fact=spot_fact(neck, asked))


def _of_other_signs(neck: Neck, string: int, note: Note) -> Iterator[Mixup]:
    for other, name in other_signs(note):
        if name == "sharp for flat":
            yield from _at_slips_of(neck, string, other, name, "{0}: a flat lowers, a sharp raises.")
        elif name == "sign left out":  # a sign added leads one fret beside, and that is the likelier slip
            yield from at_frets_of(neck, string, other, name, "{0}: {1}.", Sign(other, note))


def _of_letters_beside(neck: Neck, string: int, note: Note) -> Iterator[Mixup]:
    for other, name in other_signs(note):
        if name == "sign added":
            if is_everyday(other):
                yield from at_frets_of(neck, string, other, name, "{0}: {1}.", Sign(other, note))
            else:
                yield from _at_slips_of(neck, string, other, name, "{0}, which has no sharp or flat here.")
    yield from letters_off(neck, string, note)


def letters_off(neck: Neck, string: int, note: Note) -> Iterator[Mixup]:
    """The frets of the letters beside a note."""
    for other, up in letters_beside(note):
        yield from _at_slips_of(neck, string, other, "one letter off", "{0}, and {1}.", LetterBeside(other, note, up))


def _from_the_nut(neck: Neck, spots: Iterable[Spot]) -> Iterator[Mixup]:
    if neck.capo:
        for spot in spots:
            from_nut = spot.fret + neck.capo
            claim = FromTheNut(from_nut, spot.fret, neck.capo)
            yield Mixup("counted from the nut", str(from_nut), (claim,))


def _from_the_wrong_side(neck: Neck, string: int, note: Note) -> Iterator[Mixup]:
    far = len(neck.tuning.strings) + 1 - string
    for spot in neck.spots_of(note.pitch_class, (far,)):
        frame = "{0}; strings are counted from the highest."
        yield Mixup("strings from the wrong side", str(spot.fret), (LiesAt(note, neck, spot),), frame)
