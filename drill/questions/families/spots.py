"""Families about single spots: which note lies at a fret, and at which fret a note lies."""

from collections.abc import Iterator
from typing import NamedTuple

from drill.questions.answers import FretAnswer, NoteAnswer
from drill.questions.card import Ask, Card
from drill.questions.facts import Fact, spot_fact
from drill.questions.family import Family
from drill.questions.mixups.frets import misplaced
from drill.questions.mixups.notes import misread_spot
from drill.questions.picture import Mark, asked
from drill.questions.reasons import and_again, natural_at, walk, walk_marks
from drill.questions.scope import Scope
from drill.questions.wording import counted, named, string_label
from drill.theory.neck import Neck, Spot, names_of
from drill.theory.pitch import Note


class StringAndFret(NamedTuple):
    """A spot of the neck."""

    string: int
    fret: int

    @property
    def spot(self) -> Spot:
        """Both as one value."""
        return Spot(self.string, self.fret)


class NoteAtFret(Family[StringAndFret]):
    """Which note sounds at a fret of a string."""

    id = "note-at-fret"
    title = "Note at a fret"
    idea = (
        f"Count up from the open string: {named(Note.of('E'))} to {named(Note.of('F'))} and "
        f"{named(Note.of('B'))} to {named(Note.of('C'))} are one fret each, all other steps two."
    )
    facet_type = StringAndFret

    def spread(self, scope: Scope) -> Iterator[StringAndFret]:
        for string in scope.strings:
            for fret in scope.fret_range:
                if not scope.naturals_only or natural_at(scope.neck, string, fret):
                    yield StringAndFret(string, fret)

    def facts(self, facets: StringAndFret, neck: Neck) -> tuple[Fact, ...]:
        return (spot_fact(neck, facets.spot),)

    def card(self, facets: StringAndFret, neck: Neck) -> Card:
        spot = facets.spot
        names = names_of(neck.pitch_class(spot))
        where = string_label(neck.tuning, spot.string) + counted(neck)
        return Card(
            self.name(facets, neck),
            neck,
            ask=Ask(f"Fret {spot.fret}", where, "Which note?"),
            kind=NoteAnswer(),
            accepts=tuple(name.name for name in names),
            explain=lambda: walk(neck, spot, names[0]),
            confuse=lambda: misread_spot(neck, spot),
            draw=lambda: asked((spot,)),
            draw_answer=lambda: (Mark(spot, "note", names[0]),),
            draw_steps=lambda: walk_marks(neck, spot),
        )


class StringAndNote(NamedTuple):
    """A note by an everyday name, and where to find it."""

    string: int
    note: Note


class FretOfNote(Family[StringAndNote]):
    """At which fret of a string a note sounds."""

    id = "fret-of-note"
    title = "Fret of a note"
    idea = (
        f"Letters {named(Note.of('A'))} to {named(Note.of('G'))} run up a string, again and again: "
        f"{named(Note.of('E'))} to {named(Note.of('F'))} and {named(Note.of('B'))} to {named(Note.of('C'))} "
        "are one fret each, others two."
    )
    facet_type = StringAndNote
    needs = ("note-at-fret",)

    def spread(self, scope: Scope) -> Iterator[StringAndNote]:
        for string in scope.strings:
            seen: set[Note] = set()
            for fret in scope.fret_range:
                for note in names_of(scope.neck.pitch_class(Spot(string, fret))):
                    if note not in seen and not (scope.naturals_only and note.accidental):
                        seen.add(note)
                        yield StringAndNote(string, note)

    def facts(self, facets: StringAndNote, neck: Neck) -> tuple[Fact, ...]:
        return (spot_fact(neck, _spots(facets, neck)[0]),)

    def card(self, facets: StringAndNote, neck: Neck) -> Card:
        note, spots = facets.note, _spots(facets, neck)
        return Card(
            self.name(facets, neck),
            neck,
            ask=Ask(named(note), string_label(neck.tuning, facets.string) + counted(neck), "Which fret?"),
            kind=FretAnswer(neck.last_fret, facets.string),
            accepts=tuple(str(spot.fret) for spot in spots),
            explain=lambda: (*walk(neck, spots[0], note), *and_again(spots)),
            confuse=lambda: misplaced(neck, spots, note),
            draw_answer=lambda: tuple(Mark(spot, "note", note) for spot in spots),
            draw_steps=lambda: walk_marks(neck, spots[0]),
        )


def _spots(facets: StringAndNote, neck: Neck) -> tuple[Spot, ...]:
    return neck.spots_of(facets.note.pitch_class, (facets.string,))
