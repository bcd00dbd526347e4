"""The family about the octave: where a tonic lies again, two strings further up."""

from __future__ import annotations

from collections.abc import Iterator

from drill.questions.answers import FretAnswer
from drill.questions.card import Ask, Card, Mixup
from drill.questions.facts import Fact, octave_fact
from drill.questions.families.spots import StringAndFret
from drill.questions.family import Family
from drill.questions.picture import Mark
from drill.questions.reasons import either_name, natural_at, on_neck, one_off
from drill.questions.scope import Scope
from drill.questions.wording import capital, counted, frets_in_words, string_label
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
    target_s = 2.0
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
        return Card(
            self.name(facets, neck),
            neck,
            ask=Ask(f"Fret {spot.fret}", here + counted(neck), f"Octave up, {there}: fret?"),
            kind=FretAnswer(neck.last_fret),
            accepts=(str(octave.fret),),
            explain=lambda: _steps(neck, spot, octave),
            confuse=lambda: on_neck(neck, _mixups(neck, spot, octave)),
            draw=lambda: (Mark(spot, "note", name),),
            draw_answer=lambda: (Mark(spot, "note", name), Mark(octave, "note", name)),
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
    between = string_label(neck.tuning, spot.string - 1)
    if move == _IN_FOURTHS + 1:
        sentence = "Two frets up would be right in fourths all the way; one step here is a major third, so it is three."
        yield Mixup("one fret off", str(spot.fret + _IN_FOURTHS), sentence)
    yield Mixup("wrong way", str(spot.fret - move), f"Right distance, wrong way: fret {octave.fret} is the octave.")
    for fret in (octave.fret - FRETS_PER_OCTAVE, octave.fret + FRETS_PER_OCTAVE):
        yield Mixup("right note, wrong octave", str(fret), "The note is right, an octave off: one octave up was asked.")
    same = neck.fret_of(spot.string - 1, neck.sounding(octave))
    yield Mixup("other string", str(same), f"{capital(between)} has it at fret {same}; two strings up was asked.")
    yield from one_off(neck, (octave,))
