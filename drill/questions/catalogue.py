"""Every family, in the order of the curriculum: importing a module registers what it holds.

Card ids lead back to what they mean: `read_card_id` is the inverse of `Family.card_id`.
"""

from __future__ import annotations

from dataclasses import dataclass

from drill.errors import UnknownName
from drill.questions import anchors, relatives, spots
from drill.questions.card import Facets
from drill.questions.family import FAMILIES, Family, find_family
from drill.theory.keys import parse_key
from drill.theory.neck import STANDARD

__all__ = ["FAMILIES", "CardName", "Family", "anchors", "find_family", "read_card_id", "relatives", "spots"]

_NUMBERS = ("string", "fret", "finger")


@dataclass(frozen=True, slots=True)
class CardName:
    """What a card id says: the family, the facets, and the instrument."""

    family: Family
    facets: Facets
    tuning: str
    capo: int


def read_card_id(card_id: str) -> CardName:
    """Read a card id; raises `UnknownName` if no family writes such an id."""
    name, *parts = card_id.split(":")
    try:
        facets = dict(_facet(part) for part in parts)
        tuning, capo = str(facets.pop("tuning", STANDARD.id)), int(facets.pop("capo", 0))
    except ValueError:
        raise UnknownName(f"“{card_id[:80]}” is not a card.", "See: fretsure cards") from None
    return CardName(find_family(name), facets, tuning, capo)


def _facet(part: str) -> tuple[str, str | int]:
    name, value = part.split("=")
    if name in _NUMBERS:
        return name, int(value)
    if name == "key":
        return name, parse_key(value).name
    return name, value.replace("-", " ") if name == "loop" else value
