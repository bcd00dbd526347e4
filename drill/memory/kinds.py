"""Kinds of card that go badly: they rest until tomorrow, so that nobody is asked over and over what they cannot do.

One of the cards that were missed still comes back. If it comes right, the rest is over.

A kind, or family, goes badly if it was missed more often than it came right, ever, and in this drill was missed
TIRES_AFTER times running. Misses count here only where the answer had been told before: whoever begins misses what is
new, and that says nothing of the kind.
"""

from collections import Counter
from collections.abc import Mapping

from drill.memory.item import Item
from drill.memory.learner import Learner

TIRES_AFTER = 3
"""After so many misses running a kind that goes badly rests."""


class Kinds:
    """How each kind of card fares, ever and in this drill."""

    def __init__(self) -> None:
        self._running: Counter[str] = Counter()
        """Misses running, of what had been told."""
        self._balance: Counter[str] = Counter()
        """Right answers ever, less those that were wrong."""
        self._tried: set[str] = set()
        """Kinds that have had their one return since they began to rest."""

    def renew(self, learner: Learner, items: Mapping[str, Item]) -> None:
        """Read anew how the kinds have fared."""
        self._balance.clear()
        for card, state in learner.cards.items():
            if card in items:
                self._balance[items[card].family] += state.right - state.missed

    def observe(self, item: Item, right: bool, told: bool) -> None:
        """Take an answer into account; `told` says that the card's answer had been told before."""
        if right:
            self._tried.discard(item.family)
        elif self.rests(item.family):
            self._tried.add(item.family)
        self._balance[item.family] += 1 if right else -1
        self._running[item.family] = 0 if right else self._running[item.family] + told

    def rests(self, family: str) -> bool:
        """Whether this kind is left until tomorrow, as long as there are others."""
        return self._running[family] >= TIRES_AFTER and self._balance[family] < 0

    def may_rest_soon(self, family: str) -> bool:
        """Whether one more miss would let this kind rest."""
        return self._running[family] >= TIRES_AFTER - 1 and self._balance[family] <= 0

    def returns(self, family: str) -> bool:
        """Whether a missed card of this kind may come back in this drill."""
        return not (self.rests(family) and family in self._tried)

    @property
    def any_rests(self) -> bool:
        """Whether any kind is left until tomorrow."""
        return any(map(self.rests, self._running))
