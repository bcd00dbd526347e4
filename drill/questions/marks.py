"""What a question keeps on view of the neck, and what its verdict marks there besides the answer."""

from __future__ import annotations

from collections.abc import Iterator

from drill.questions.answers import (
    AnyKeyAnswer,
    ChordAnswer,
    DegreeAnswer,
    FingerAnswer,
    FretAnswer,
    KeyAnswer,
    LetterAnswer,
    NoteAnswer,
)
from drill.questions.card import Card
from drill.questions.facets import string_of
from drill.questions.picture import Mark, Picture
from drill.theory.chords import parse_chord
from drill.theory.keys import parse_tonic
from drill.theory.names import parse_note
from drill.theory.neck import Spot, names_of
from drill.theory.pitch import Note


def asked_strings(card: Card) -> tuple[int, ...]:
    """The strings that a question is about, from the highest; those of the answer where it names and draws none."""
    counted = card.kind.string if isinstance(card.kind, FretAnswer) else None
    named = {string for string in (counted, string_of(card.facets)) if string}
    drawn = {mark.spot.string for mark in card.question_picture}
    return tuple(sorted(named | drawn)) or tuple(sorted({mark.spot.string for mark in card.answer_picture}))


def verdict_picture(card: Card, given: str | None) -> Picture:
    """The answer; unless it was given, also the steps that lead to it and, if there is one, the wrong answer."""
    if given in card.accepts:
        return card.answer_picture
    steps = {mark.spot: mark for mark in card.steps_picture}
    answer = {mark.spot: mark for mark in card.answer_picture}
    wrong = {mark.spot: mark for mark in _given_marks(card, given)} if given else {}
    return tuple((steps | answer | wrong).values())


def right_frets(card: Card) -> range | None:
    """The fret that is asked for, to be kept in sight beside a wrong one; the lowest of several; None for no fret."""
    if not isinstance(card.kind, FretAnswer) or card.kind.string is None:
        return None
    fret = min(map(int, card.accepts))
    return range(fret, fret + 1)


def _given_marks(card: Card, given: str) -> Iterator[Mark]:
    """Where a wrong answer lies on the neck, as near to the right one as it can; nowhere if it is no place or note."""
    for spot, note, finger in _places(card, given):
        if card.neck.holds(spot):
            yield Mark(spot, "given", note or _name_beside(card, spot), finger=finger)


def _name_beside(card: Card, spot: Spot) -> Note:
    """The name of a spot that was not named: with a flat beside an answer that has one."""
    flat = any(mark.note and mark.note.accidental < 0 for mark in card.answer_picture)
    return names_of(card.neck.pitch_class(spot))[-1 if flat else 0]


def _places(card: Card, given: str) -> Iterator[tuple[Spot, Note | None, int | None]]:
    kind, picture = card.kind, card.answer_picture
    if isinstance(kind, FretAnswer) and kind.string:
        yield Spot(kind.string, int(given)), None, None
    elif isinstance(kind, FingerAnswer):
        for right in [mark for mark in picture if str(mark.finger) in card.accepts][:1]:
            finger = int(given)
            yield Spot(right.spot.string, right.spot.fret + finger - (right.finger or finger)), None, finger
    elif isinstance(kind, DegreeAnswer):
        yield from ((mark.spot, mark.note, mark.finger) for mark in picture if mark.degree == given)
    elif (note := _note_of(card, given)) and (home := _home(card)):
        spots = card.neck.spots_of(note.pitch_class, (home.string,))
        if home not in spots:  # else it is the right sound by a wrong name
            yield min(spots, key=lambda spot: abs(spot.fret - home.fret)), note, None


def _note_of(card: Card, given: str) -> Note | None:
    """The note that an answer is, or on which its key or its chord stands."""
    if isinstance(card.kind, NoteAnswer | LetterAnswer):
        return parse_note(given)
    if isinstance(card.kind, KeyAnswer | AnyKeyAnswer):
        return parse_tonic(given)[0]
    return parse_chord(given).root if isinstance(card.kind, ChordAnswer) else None


def _home(card: Card) -> Spot | None:
    """Where the right answer lies: on the note that it stands on, or at the first mark."""
    right, picture = _note_of(card, card.accepts[0]), card.answer_picture
    sounding = (m.spot for m in picture if right and card.neck.pitch_class(m.spot) == right.pitch_class)
    return next(sounding, picture[0].spot if picture else None)
