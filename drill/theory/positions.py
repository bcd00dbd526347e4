"""A whole scale under one hand: every fingering that needs the fewest stretches.

The hand covers four frets from the index finger; the index may stretch one fret down and the little finger one fret up.
Between strings a fourth apart one fret lies under no finger, so a scale tone there has two equally good places: the
little finger stretches on the lower string, or the index finger on the upper. All such fingerings are given.

>>> from drill.theory.names import parse_note
>>> from drill.theory.neck import STANDARD, Neck
>>> from drill.theory.scales import SCALES
>>> [len(fingerings(parse_note("F"), SCALES["major"], Neck(STANDARD), fret)) for fret in (5, 7)]
[1, 2]
"""

from __future__ import annotations

from itertools import product

from drill.theory.neck import Neck, Spot
from drill.theory.pitch import Note
from drill.theory.scales import Formula, spell
from drill.theory.shapes import HAND, REACH, Dot, Pattern, finger_at, refuse_boxless


def fingerings(tonic: Note, formula: Formula, neck: Neck, index_fret: int) -> tuple[Pattern, ...]:
    """Every way to play each scale tone in reach of the hand once, strings rising, with the fewest stretches.

    The tones are those from the index finger on the lowest string to the little finger on the highest; where one of
    them is not on the neck, there is no fingering. Raises `UsageProblem` for a tuning whose neighbouring strings are
    not 4 or 5 semitones apart.
    """
    refuse_boxless(neck.tuning)
    tones = {note.pitch_class: (note, degree) for note, degree in zip(spell(tonic, formula), formula, strict=True)}
    strings = neck.tuning.strings
    lowest = neck.sounding(Spot(max(strings), index_fret))
    highest = neck.sounding(Spot(min(strings), index_fret + HAND - 1))
    numbers = [number for number in range(lowest, highest + 1) if number % 12 in tones]

    def dot(spot: Spot) -> Dot:
        note, degree = tones[neck.pitch_class(spot)]
        return Dot(spot, note, degree, finger_at(spot.fret, (index_fret,)))

    ways = product(*(_cheapest_spots(neck, number, index_fret) for number in numbers))
    return tuple(Pattern((index_fret,), tuple(map(dot, spots))) for spots in ways if _strings_rise(spots))


def _strings_rise(spots: tuple[Spot, ...]) -> bool:
    """Whether these spots, from the lowest tone up, never go back to a lower string."""
    return list(spots) == sorted(spots, key=lambda spot: (-spot.string, spot.fret))


def _cheapest_spots(neck: Neck, number: int, index_fret: int) -> tuple[Spot, ...]:
    """The spots for a tone under the hand, or else those a stretch away."""
    reachable = [
        spot
        for string in reversed(neck.tuning.strings)
        if neck.holds(spot := Spot(string, neck.fret_of(string, number)))
        and index_fret - REACH <= spot.fret < index_fret + HAND + REACH
    ]
    under = [spot for spot in reachable if index_fret <= spot.fret < index_fret + HAND]
    return tuple(under or reachable)
