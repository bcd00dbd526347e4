"""Teaching before asking: which cards are shown solved, with idea and reason, and not asked.

The first card of a kind is shown, so that nobody is asked a kind of question they have never seen answered; the next
card of that kind is asked. While no answer to a kind was ever right, a miss brings another solved card.
"""

from __future__ import annotations

from drill.memory.item import Attempt, Item
from drill.memory.learner import Learner


class Lessons:
    """Which kinds of card, by family, are to be shown solved before the next one is asked."""

    def __init__(self, learner: Learner) -> None:
        asked = [(_family(card), state.right) for card, state in learner.cards.items() if state.asked]
        self._known = {family for family, right in asked if right}
        self._shown = set(map(_family, learner.cards)) - ({family for family, _ in asked} - self._known)

    def wants(self, item: Item) -> bool:
        """Whether the card is to be shown and not asked."""
        return item.family not in self._shown

    def observe(self, item: Item, attempt: Attempt) -> None:
        """Take a shown card or an answer into account."""
        if attempt.right is None:
            self._shown.add(item.family)
        elif attempt.right:
            self._known.add(item.family)
        elif item.family not in self._known:
            self._shown.discard(item.family)


def _family(card: str) -> str:
    """The family with which a card's id begins."""
    return card.partition(":")[0]
