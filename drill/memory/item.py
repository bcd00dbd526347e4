"""What the memory is told: cards as strings, and what happened to them."""

from __future__ import annotations

from typing import NamedTuple


class Item(NamedTuple):
    """What the memory needs to know of a card."""

    card: str
    family: str = ""
    order: int = 0
    """Place in the curriculum: fresh cards enter in this order."""
    target_s: float = 3.0
    """Thinking time, in seconds, within which an answer counts as fluent."""
    facts: tuple[str, ...] = ()
    """The atomic facts the card rests on, such as "spot:6:8" or "relative:Fm"."""
    needs: tuple[str, ...] = ()
    """Families that must hold before this card is introduced."""
    groups: frozenset[str] = frozenset()
    """What neighbours should differ in, such as "string-6" or "key-Fm"."""


class Attempt(NamedTuple):
    """One meeting with a card.

    `right` is True or False for an answer, None when the card was only shown. `thinking_s` runs from the
    question to the first key of the answer, pauses taken out, and is None when it was not measured. `mixed_fact` is the
    fact a named mix-up points at.
    """

    card: str
    at_s: float
    right: bool | None
    thinking_s: float | None = None
    mixed_fact: str | None = None
