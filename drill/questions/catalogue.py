"""Every family, in the order of the curriculum: importing a module registers what it holds.

Card ids lead back to what they mean: `read_card_id` is the inverse of `Family.card_id`.
"""

from __future__ import annotations

from typing import NamedTuple

from drill.questions import ids
from drill.questions.card import Facets
from drill.questions.families import (
    anchors,
    chord_tones,
    diagrams,
    fingers,
    letters,
    links,
    loops,
    numerals,
    octaves,
    relatives,
    signatures,
    spots,
)
from drill.questions.family import FAMILIES, Family, find_family

__all__ = ["FAMILIES", "SUBJECTS", "CardName", "Family", "find_family", "read_card_id"]

SUBJECTS = (
    spots, octaves, letters, relatives, signatures, fingers, anchors, diagrams, links, numerals, loops, chord_tones,
)  # fmt: skip
"""Every module that registers families; naming it here is what makes its families known."""


class CardName(NamedTuple):
    """What a card id says: the family, the facets, and the instrument."""

    family: Family
    facets: Facets
    tuning: str
    capo: int


def read_card_id(card_id: str) -> CardName:
    """Read a card id; raises `UnknownName` if no family writes such an id."""
    name, facets, tuning, capo = ids.take_apart(card_id)
    family = find_family(name)
    if tuple(facets) != family.facet_names:
        raise ids.no_card(card_id)
    return CardName(family, facets, tuning, capo)
