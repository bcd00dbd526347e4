"""A deck's entry for a card: what the deck and the memory know of it without deriving the card."""

from functools import lru_cache
from typing import NamedTuple

from drill.decks.targets import BAR_S, target_seconds
from drill.memory import Item
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES, read_card_id
from drill.questions.facets import Facets, Group
from drill.questions.family import F, Family
from drill.questions.ids import no_card
from drill.questions.scope import scope_of
from drill.system.tunings import find_tuning
from drill.theory.neck import MOST_FRETS, Neck


class Entry(NamedTuple):
    """A card's place in a deck: what it is about, and its item, which is all that the memory needs."""

    item: Item
    facets: Facets
    groups: frozenset[Group]


def make_entry(
    card_id: str, family: Family[F], facets: F, neck: Neck, order: int, target_s: float, needs: tuple[str, ...]
) -> Entry:
    """The entry of a card at its place in a deck; `target_s` is the target time in seconds."""
    groups = family.groups(facets, neck)
    facts = family.facts(facets, neck)
    return Entry(Item(card_id, family.id, order, target_s, facts, needs, frozenset(map(str, groups))), facets, groups)


@lru_cache(maxsize=4096)  # the cards of every deck that ships, twice over
def entry_of(card_id: str, bar_s: float = BAR_S) -> tuple[Entry, Neck]:
    """What a card id alone says: enough to judge an old attempt whatever deck is in use now. Raises `UnknownName`.

    The target follows from the length of a bar, in seconds.
    """
    name = read_card_id(card_id)
    neck = Neck(find_tuning(name.tuning), MOST_FRETS, name.capo)
    family = FAMILIES[name.family]
    asked = any(each == name.facets for each in family.spread(scope_of(name.facets, neck)))
    if not asked or family.card_id(name.facets, neck) != card_id:
        raise no_card(card_id)
    return make_entry(card_id, family, name.facets, neck, 0, target_seconds(family.id, bar_s), ()), neck


def card_of(card_id: str) -> Card:
    """The card that an id alone names, on the longest neck. Raises `UnknownName`."""
    entry, neck = entry_of(card_id)
    return FAMILIES[entry.item.family].card(entry.facets, neck)
