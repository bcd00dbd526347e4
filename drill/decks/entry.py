"""A deck's entry for a card: what the deck and the memory know of it without deriving the card."""

from __future__ import annotations

from typing import NamedTuple

from drill.memory import Item
from drill.questions.catalogue import FAMILIES, CardName, read_card_id
from drill.questions.facets import Facets, Group
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
    name: CardName, neck: Neck, order: int = 0, target_s: float | None = None, needs: tuple[str, ...] = ()
) -> Entry:
    """The entry of a card; `target_s` replaces the family's own target time, in seconds."""
    family, facets = FAMILIES[name.family], name.facets
    groups = family.groups(facets, neck)
    target_s = family.target_s if target_s is None else target_s
    item = Item(name.id, family.id, order, target_s, family.facts(facets, neck), needs, frozenset(map(str, groups)))
    return Entry(item, facets, groups)


def entry_of(card_id: str) -> tuple[Entry, Neck]:
    """What a card id alone says: enough to judge an old attempt whatever deck is in use now. Raises `UnknownName`."""
    name = read_card_id(card_id)
    neck = Neck(find_tuning(name.tuning), MOST_FRETS, name.capo)
    family = FAMILIES[name.family]
    asked = any(each == name.facets for each in family.spread(scope_of(name.facets, neck)))
    if not asked or family.card_id(name.facets, neck) != card_id:
        raise no_card(card_id)
    return make_entry(name, neck), neck
