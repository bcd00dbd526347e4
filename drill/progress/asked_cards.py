"""A card of the log as it is asked of this learner."""

from __future__ import annotations

from drill.decks import Deck, Entry, entry_of
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.questions.scope import scope_of
from drill.theory.neck import Neck


def entry_in(deck: Deck, card_id: str) -> Entry:
    """The entry of a card of this or any other deck. Raises `UnknownName` for an id no family writes."""
    return deck.entries.get(card_id) or entry_of(card_id)[0]


def card_as_asked(entry: Entry, deck: Deck) -> Card:
    """The card on a neck with as many frets as the learner's, whatever deck it is from.

    An id tells tuning and capo, but not the frets, and what a question says can hang on them. A card that such a neck
    has no room for is shown on the longest.
    """
    if entry.item.card in deck.entries:
        return deck.card(entry.item.card)
    family, (_, longest) = FAMILIES[entry.item.family], entry_of(entry.item.card)
    neck = Neck(longest.tuning, deck.neck.frets, longest.capo)
    has_room = any(each == entry.facets for each in family.spread(scope_of(entry.facets, neck)))
    return family.card(entry.facets, neck if has_room else longest)
