"""Which answers a question could have, told from its deck: that decides when a typed answer is whole."""

from __future__ import annotations

from collections.abc import Iterable

from drill.questions.answers import AnswerKind, NoteAnswer
from drill.questions.card import Card
from drill.questions.facets import Facets
from drill.questions.reasons import natural_at
from drill.theory.neck import Neck

NATURAL_NOTE = NoteAnswer("a note without sharp or flat", naturals_only=True)


def answer_kind(card: Card, neighbours: Iterable[Facets]) -> AnswerKind:
    """The kind of a card's answer among the cards of its family in the deck, itself included.

    Where they ask for natural notes alone, a letter is a whole answer. The card's own answer tells nothing here.
    """
    if isinstance(card.kind, NoteAnswer) and all(_asks_a_natural(facets, card.neck) for facets in neighbours):
        return NATURAL_NOTE
    return card.kind


def _asks_a_natural(facets: Facets, neck: Neck) -> bool:
    string, fret = getattr(facets, "string", None), getattr(facets, "fret", None)
    return string is not None and fret is not None and natural_at(neck, string, fret) is not None
