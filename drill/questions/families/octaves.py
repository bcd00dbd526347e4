"""The family about the octave: where a tonic lies again, two strings further up."""

from __future__ import annotations

from collections.abc import Iterator

from drill.questions.answers import FretAnswer
from drill.questions.card import Ask, Card
from drill.questions.facts import Fact, octave_fact
from drill.questions.families.spots import StringAndFret
from drill.questions.family import Family
from drill.questions.mixups.claims import FretsApart, LiesAt, OneFretTooFar, StringGap
from drill.questions.mixups.frets import given_back, octave_off, on_neck, one_off, sounds
from drill.questions.mixups.mixup import Mixup
from drill.questions.picture import Mark
from drill.questions.reasons import either_name, natural_at
from drill.questions.scope import Scope
from drill.questions.wording import counted, frets_in_words, string_label
from drill.theory.neck import FRETS_PER_OCTAVE, Neck, Spot, names_of

STRINGS_UP = 2
_REACH = 5
"""Frets apart up to which two notes are grasped as one figure of the hand."""
_IN_FOURTHS = 2
"""Frets up for an octave where both steps between the strings are fourths: twice five, and two."""


class TonicOctave(Family[StringAndFret]):
    """The same tonic one octave higher, two strings up."""

    id = "tonic-octave"
    title = "Octave two strings up"
    idea = "The tonic is the home note of a key; two strings up, a few frets along, it sounds again an octave higher."
    facet_type = StringAndFret
    needs = ("note-at-fret",)

    def spread(self, scope: Scope) -> Iterator[StringAndFret]:
        for string in scope.strings:
            for fret in scope.fret_range:
                spot = Spot(string, fret)
                if string <= STRINGS_UP or (scope.naturals_only and not natural_at(scope.neck, string, fret)):
                    continue
                octave = _octave(scope.neck, spot)
                if scope.neck.holds(octave) and abs(octave.fret - fret) <= _REACH:
                    yield StringAndFret(string, fret)

    def facts(self, facets: StringAndFret, neck: Neck) -> tuple[Fact, ...]:
        return (octave_fact(neck, facets.string, facets.string - STRINGS_UP),)

    def card(self, facets: StringAndFret, neck: Neck) -> Card:
        spot = facets.spot
        octave, name = _octave(neck, spot), names_of(neck.pitch_class(spot))[0]
        here, there = (string_label(neck.tuning, each.string) for each in (spot, octave))
        up = " up" if octave.fret >= 2 * FRETS_PER_OCTAVE else ""  # else no octave down is there to be meant
        ask = Ask(f"Fret {spot.fret}", here + counted(neck), f"Octave{up}, string {octave.string}?")
        return Card(
            self.name(facets, neck),
            neck,
            ask=ask,
            kind=FretAnswer(neck.last_fret, octave.string),
            accepts=(str(octave.fret),),
            explain=lambda: _steps(neck, spot, octave),
            confuse=lambda: on_neck(neck, _mixups(neck, spot, octave)),
            draw=lambda: (Mark(spot, "note", name),),
            draw_answer=lambda: (Mark(spot, "note", name), Mark(octave, "note", name)),
            unseen=ask._replace(ask=f"Octave up, {there}: fret?"),
        )


def _octave(neck: Neck, spot: Spot) -> Spot:
    string = spot.string - STRINGS_UP
    return Spot(string, neck.fret_of(string, neck.sounding(spot) + FRETS_PER_OCTAVE))


def _steps(neck: Neck, spot: Spot, octave: Spot) -> tuple[str, ...]:
    rise = neck.sounding(Spot(octave.string, 0)) - neck.sounding(Spot(spot.string, 0))
    move = octave.fret - spot.fret
    way = "the same fret" if move == 0 else f"{frets_in_words(abs(move))} {'up' if move > 0 else 'down'}"
    return (
        f"string {octave.string} sounds {rise} semitones above string {spot.string}",
        f"an octave is 12, so {way}",
        f"fret {octave.fret} is {either_name(neck.pitch_class(spot))}",
    )


def _mixups(neck: Neck, spot: Spot, octave: Spot) -> Iterator[Mixup]:
    move = octave.fret - spot.fret
    yield from _as_in_fourths(neck, spot, octave)
    if move:
        wrong = spot.fret - move
        yield Mixup("wrong way", str(wrong), (FretsApart(wrong, spot.fret),), "{0}, which is the wrong way.")
    yield from octave_off(neck, octave)
    between = Spot(spot.string - 1, neck.fret_of(spot.string - 1, neck.sounding(octave)))
    if neck.holds(between):
        claim = LiesAt(names_of(neck.pitch_class(between))[0], neck, between)
        yield Mixup("other string", str(between.fret), (claim,), "{0}; the octave was asked two strings up.")
    yield from one_off(neck, (octave,))
    yield given_back(spot.fret)
    yield from _of_the_string_beside(neck, spot, octave)


def _as_in_fourths(neck: Neck, spot: Spot, octave: Spot) -> Iterator[Mixup]:
    """Two frets up are one too few where one of the two steps between the strings is a major third."""
    if octave.fret - spot.fret == _IN_FOURTHS + 1:
        fret = spot.fret + _IN_FOURTHS
        pairs = [(string - 1, string) for string in (spot.string, spot.string - 1)]
        gaps = {pair: neck.sounding(Spot(pair[0], 0)) - neck.sounding(Spot(pair[1], 0)) for pair in pairs}
        high, low = min(gaps, key=gaps.__getitem__)
        gap = StringGap(neck, high, low, gaps[high, low])
        claims = (OneFretTooFar(fret, octave.fret), FretsApart(fret, spot.fret), gap)
        yield Mixup("one fret off", str(fret), claims, "{0}: {1}, but {2}, a major third.")


def _of_the_string_beside(neck: Neck, spot: Spot, octave: Spot) -> Iterator[Mixup]:
    """The octave of what the string beside sounds at the same fret."""
    for string in neck.tuning.beside(spot.string):
        there = Spot(string, spot.fret)
        goal = Spot(octave.string, neck.fret_of(octave.string, neck.sounding(there) + FRETS_PER_OCTAVE))
        note = names_of(neck.pitch_class(there))[0]
        claims = (LiesAt(note, neck, there), sounds(neck, goal, note))
        yield Mixup("other string", str(goal.fret), claims, "{0}, the string next to it; {1}.")
