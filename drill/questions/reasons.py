"""Steps of reasoning that several families share."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from drill.questions.picture import Mark, Picture
from drill.questions.wording import named, string_label
from drill.theory.neck import FRETS_PER_OCTAVE, Neck, Spot, names_of
from drill.theory.pitch import Note

LANDMARKS = (7, 5)
"""Frets between nut and octave that players find at a glance by their inlays, and from which others are counted."""

_MOST_SIGNS_TYPED = 2


@cache
def natural_at(neck: Neck, string: int, fret: int) -> Note | None:
    """The natural note at a fret, None where a sharp or a flat lies."""
    note = names_of(neck.pitch_class(Spot(string, fret)))[0]
    return note if note.accidental == 0 else None


@cache
def either_name(pitch_class: int) -> str:
    """A sound by its everyday names: 'A', 'A# or Bb'."""
    return " or ".join(map(named, names_of(pitch_class)))


@cache
def same_sound(note: Note) -> tuple[Note, ...]:
    """The other names of a note's sound, with at most two sharps or flats."""
    around = (Note(note.fifths + 12 * turns) for turns in (-2, -1, 1, 2))  # twelve fifths lead back to the same sound
    return tuple(other for other in around if abs(other.accidental) <= _MOST_SIGNS_TYPED)


# -- how a player finds a note -----------------------------------------------------------------------------------------


@cache
def walk(neck: Neck, spot: Spot, name: Note) -> tuple[str, ...]:
    """How a player finds the note at a spot: from a landmark below, natural by natural, then a sharp or a flat."""
    if spot.fret > FRETS_PER_OCTAVE:
        lower = Spot(spot.string, spot.fret - FRETS_PER_OCTAVE)
        return (f"fret {spot.fret} is fret {lower.fret}, an octave up", *walk(neck, lower, name))
    if spot.fret == FRETS_PER_OCTAVE:
        again = "repeats the note at the capo" if neck.capo else "is the open string again"
        return (f"fret 12 {again}: {named(name)}",)
    start = _landmark_below(neck, spot)
    path = [
        f"{named(note)} at {fret}"
        for fret in range(start + 1, spot.fret + 1)
        if (note := natural_at(neck, spot.string, fret))
    ]
    steps = [_landmark(neck, Spot(spot.string, start), name), *(["then " + ", ".join(path)] if path else [])]
    return (*steps, *_last_step(neck, spot, name))


def walk_marks(neck: Neck, spot: Spot) -> Picture:
    """The spots of a walk on the neck, without the one that it leads to."""
    if spot.fret > FRETS_PER_OCTAVE:
        lower = Spot(spot.string, spot.fret - FRETS_PER_OCTAVE)
        return (*walk_marks(neck, lower), _step_at(neck, lower))
    if spot.fret == FRETS_PER_OCTAVE:
        return (_step_at(neck, Spot(spot.string, 0)),)
    start = _landmark_below(neck, spot)
    naturals = (fret for fret in range(start + 1, spot.fret) if natural_at(neck, spot.string, fret))
    return tuple(_step_at(neck, Spot(spot.string, fret)) for fret in (start, *naturals) if fret < spot.fret)


def _landmark_below(neck: Neck, spot: Spot) -> int:
    """The fret from which a player counts up to a spot."""
    return next((fret for fret in LANDMARKS if fret < spot.fret and natural_at(neck, spot.string, fret)), 0)


def _step_at(neck: Neck, spot: Spot) -> Mark:
    return Mark(spot, "step", names_of(neck.pitch_class(spot))[0])


def _landmark(neck: Neck, spot: Spot, name: Note) -> str:
    where, note = string_label(neck.tuning, spot.string), named(_spelled_like(name, neck.pitch_class(spot)))
    if spot.fret:
        return f"{where} has {note} at {spot.fret}"
    return f"{where} sounds {note} at the capo" if neck.capo else f"{where} sounds {note} open"


def _spelled_like(name: Note, pitch_class: int) -> Note:
    """The everyday name of a sound, a flat where the note asked for has one."""
    return names_of(pitch_class)[-1 if name.accidental < 0 else 0]


def _last_step(neck: Neck, spot: Spot, name: Note) -> Iterator[str]:
    """From the last natural to the note itself, or from its natural name to the one the key gives it."""
    natural = natural_at(neck, spot.string, spot.fret)
    if natural is None and spot.fret:
        others = "".join(f" or {named(note)}" for note in names_of(name.pitch_class) if note != name)
        yield f"one fret up, at {spot.fret}: {named(name)}{others}"
    elif natural is not None and natural != name:
        yield f"{named(natural)} is also called {named(name)}"


def and_again(spots: tuple[Spot, ...]) -> tuple[str, ...]:
    """That a note comes again an octave up the same string, where the neck is long enough."""
    return tuple(f"and again twelve frets up, at {spot.fret}" for spot in spots[1:])
