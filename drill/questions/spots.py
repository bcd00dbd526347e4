"""Families about single spots: which note lies at a fret, and at which fret a note lies."""

from __future__ import annotations

from collections.abc import Iterator

from drill.questions.answers import FretAnswer, NoteAnswer
from drill.questions.card import Card, Facets, Mixup
from drill.questions.family import Family, instrument_suffix, register
from drill.questions.picture import Mark, asked
from drill.questions.reasons import fret_mixups, natural_at, spot_fact, walk
from drill.questions.scope import Scope
from drill.questions.wording import named, string_label
from drill.theory.names import parse_note
from drill.theory.neck import Neck, Spot, names_of
from drill.theory.pitch import Note


@register
class NoteAtFret(Family):
    """Which note sounds at a fret of a string."""

    id = "note-at-fret"
    lesson = 1
    title = "Note at a fret"
    target_s = 1.5

    def spread(self, scope: Scope) -> Iterator[Facets]:
        for string in scope.strings:
            for fret in scope.fret_range:
                if not scope.naturals_only or natural_at(scope.neck, string, fret):
                    yield {"string": string, "fret": fret}

    def facts(self, facets: Facets, neck: Neck) -> tuple[str, ...]:
        return (spot_fact(instrument_suffix(neck), _spot(facets)),)

    def card(self, facets: Facets, neck: Neck) -> Card:
        spot = _spot(facets)
        names = names_of(neck.sounding(spot) % 12)
        where = string_label(neck.tuning, spot.string)
        return self.make(
            facets,
            neck,
            prompt=f"{where[0].upper()}{where[1:]}, fret {spot.fret}: which note?",
            kind=NoteAnswer(),
            accepts=tuple(name.name for name in names),
            because=walk(neck, spot, names[0]),
            mixups=_note_mixups(neck, spot, names),
            shown=asked((spot,)),
            answer_picture=(Mark(spot, "note", names[0]),),
        )


@register
class FretOfNote(Family):
    """At which fret of a string a note sounds."""

    id = "fret-of-note"
    lesson = 2
    title = "Fret of a note"
    target_s = 1.5
    needs = ("note-at-fret",)

    def spread(self, scope: Scope) -> Iterator[Facets]:
        for string in scope.strings:
            seen: set[Note] = set()
            for fret in scope.fret_range:
                for note in names_of(scope.neck.sounding(Spot(string, fret)) % 12):
                    if note not in seen and not (scope.naturals_only and note.accidental):
                        seen.add(note)
                        yield {"string": string, "note": note.name}

    def facts(self, facets: Facets, neck: Neck) -> tuple[str, ...]:
        string, note = int(facets["string"]), parse_note(str(facets["note"]))
        return (spot_fact(instrument_suffix(neck), neck.spots_of(note.pitch_class, (string,))[0]),)

    def card(self, facets: Facets, neck: Neck) -> Card:
        string, note = int(facets["string"]), parse_note(str(facets["note"]))
        spots = neck.spots_of(note.pitch_class, (string,))
        return self.make(
            facets,
            neck,
            prompt=f"{named(note)} on {string_label(neck.tuning, string)}: which fret?",
            kind=FretAnswer(neck.last_fret),
            accepts=tuple(str(spot.fret) for spot in spots),
            because=walk(neck, spots[0], note),
            mixups=fret_mixups(neck, spots, note),
            shown=(),
            answer_picture=tuple(Mark(spot, "note", note) for spot in spots),
        )


def _spot(facets: Facets) -> Spot:
    return Spot(int(facets["string"]), int(facets["fret"]))


def _note_mixups(neck: Neck, spot: Spot, names: tuple[Note, ...]) -> tuple[Mixup, ...]:
    """Wrong notes and what leads to them; the first explanation of an answer stands."""
    found: dict[str, Mixup] = {}
    for mixup in (*_odd_names(names), *_next_string_notes(neck, spot), *_next_fret_notes(neck, spot)):
        if mixup.answer not in {name.name for name in names}:
            found.setdefault(mixup.answer, mixup)
    return tuple(found.values())


def _odd_names(names: tuple[Note, ...]) -> Iterator[Mixup]:
    everyday = " or ".join(named(name) for name in names)
    for step in (-12, 12):  # twelve fifths lead to another spelling of the same sound
        odd = Note(names[0].fifths + step)
        yield Mixup("right fret, wrong name", odd.name, f"{named(odd)} sounds the same; the everyday name is {everyday}.")


def _next_string_notes(neck: Neck, spot: Spot) -> Iterator[Mixup]:
    for string in (s for s in (spot.string - 1, spot.string + 1) if s in neck.tuning.strings):
        there = Spot(string, spot.fret)
        for name in names_of(neck.sounding(there) % 12):
            sentence = f"{named(name)} lies at fret {spot.fret} of {string_label(neck.tuning, string)}."
            yield Mixup("other string", name.name, sentence, spot_fact(instrument_suffix(neck), there))


def _next_fret_notes(neck: Neck, spot: Spot) -> Iterator[Mixup]:
    for fret in (spot.fret - 1, spot.fret + 1):
        for name in names_of(neck.sounding(Spot(spot.string, fret)) % 12):
            direction = "below" if fret < spot.fret else "above"
            yield Mixup("one fret off", name.name, f"{named(name)} lies one fret {direction}.")
