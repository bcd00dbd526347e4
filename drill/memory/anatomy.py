"""Whole tasks and their parts: which cards of a deck ask for everything at once, and which for a piece of it.

A card is a part of another if it asks for some of its facts, not for all and for nothing else, and if the other builds
on its family. "Index fret of F minor on the A string" is a whole; "fret of F on the A string" is a part of it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping

from drill.memory.item import Item

RULE_CARDS = 4
"""A fact is a rule if at least so many cards rest on it that have no string, key or shape in common."""


class Anatomy:
    """How the cards of a deck hang together by their facts. `wholes` and `parts` are in the deck's order."""

    def __init__(self, items: Mapping[str, Item]) -> None:
        self.by_fact: dict[str, list[Item]] = defaultdict(list)
        for item in items.values():
            for fact in item.facts:
                self.by_fact[fact].append(item)
        self._rules: dict[str, bool] = {}
        self.parts: dict[str, tuple[Item, ...]] = {}
        """For each whole, by its card, its parts."""
        self.wholes_of: dict[str, list[Item]] = defaultdict(list)
        """For each part, by its card, the wholes that it is a part of."""
        for item in items.values():
            if parts := tuple(self._parts(item)):
                self.parts[item.card] = parts
                for part in parts:
                    self.wholes_of[part.card].append(item)

    def is_whole(self, item: Item) -> bool:
        """Whether the card has parts."""
        return item.card in self.parts

    def is_part(self, item: Item) -> bool:
        """Whether the card is a part of another."""
        return item.card in self.wholes_of

    def is_rule(self, fact: str) -> bool:
        """Whether the fact holds everywhere, so that to have just heard it gives no card away."""
        rule = self._rules.get(fact)
        if rule is None:
            cards = self.by_fact[fact]
            rule = len(cards) >= RULE_CARDS and not frozenset.intersection(*(item.groups for item in cards))
            self._rules[fact] = rule
        return rule

    def part_about(self, whole: Item, fact: str) -> Item | None:
        """The first part of a whole that asks for the fact, and for the least besides."""
        about = [part for part in self.parts.get(whole.card, ()) if fact in part.facts]
        return min(about, key=lambda part: len(part.facts), default=None)

    def proving(self, item: Item) -> Iterable[Item]:
        """The cards that prove this one when they are known: its wholes, and cards of its family with its facts.

        A whole task is proved by nothing but itself.
        """
        if self.is_whole(item) or not item.facts:
            return
        yield from self.wholes_of.get(item.card, ())
        fewest = min((self.by_fact[fact] for fact in item.facts), key=len)
        for other in fewest:
            if other is not item and other.family == item.family and set(item.facts) <= set(other.facts):
                yield other

    def carrying(self, item: Item) -> Iterable[Item]:
        """The whole tasks that ask for all that the card asks, and for more."""
        if self.is_whole(item) or not item.facts:
            return
        fewest = min((self.by_fact[fact] for fact in item.facts), key=len)
        yield from (other for other in fewest if self.is_whole(other) and set(item.facts) <= set(other.facts))

    def given_away(self, before: Item) -> set[str]:
        """The facts that the answer to a question tells; a rule is not among them."""
        return {fact for fact in before.facts if not self.is_rule(fact)}

    def _parts(self, item: Item) -> Iterable[Item]:
        if not item.needs or not item.facts:
            return
        facts = set(item.facts)
        seen: dict[str, Item] = {}
        for fact in item.facts:
            for other in self.by_fact[fact]:
                if other.family in item.needs and other.family != item.family and facts > set(other.facts):
                    seen[other.card] = other
        yield from sorted(seen.values(), key=lambda part: (part.order, part.card))
