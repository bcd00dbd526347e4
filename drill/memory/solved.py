"""Teaching before asking: which cards are shown solved, with idea and reason, and not asked.

The first card of a kind is shown, so that nobody is asked a kind of question they have never seen answered; the next
card of that kind is asked. What was shown on an earlier day and not asked is shown again before it is. While no answer
to a kind was ever right, a miss brings another solved card, and so do weeks without it. Whoever says that they only
want to be faster is asked at once; so is a part whose whole is known already.
"""

from __future__ import annotations

from collections import Counter

from drill.memory.board import OVERNIGHT_S, Board
from drill.memory.constants import DAY_S
from drill.memory.item import Attempt, Item

MOST = 3
"""Of one kind, so many cards are shown in a day at most, in however many drills."""
FORGOTTEN_S = 30 * DAY_S
"""A kind that was never right and not met for so long is shown anew."""


class Lessons:
    """Which kinds of card, by family, are to be shown solved before the next one is asked."""

    def __init__(self, board: Board) -> None:
        self._board = board
        self._given: Counter[str] = Counter()
        self._missed: set[str] = set()
        """Kinds that were never right, and were missed or forgotten since a card of them was shown."""
        self._shown: set[str] = set()
        """Cards that were shown today: each once."""
        self.renew()

    def renew(self) -> None:
        """Read anew from the learner which kinds were met, and which of them were ever right."""
        cards, now_s = self._board.learner.cards, self._board.now_s
        self._met = {self._family(card) for card in cards}
        self._known = {self._family(card) for card, state in cards.items() if state.right}
        latest = dict.fromkeys(self._met, 0.0)
        self._given.clear()
        for card, state in cards.items():
            family = self._family(card)
            latest[family] = max(latest[family], state.last_s)
            if state.shown_s is not None and now_s - state.shown_s < OVERNIGHT_S:
                self._given[family] += 1
                self._shown.add(card)
        self._missed |= {kind for kind in self._met - self._known if now_s - latest[kind] > FORGOTTEN_S}

    def wants(self, item: Item) -> bool:
        """Whether the card is to be shown and not asked."""
        if self._given[item.family] >= MOST or item.card in self._shown:
            return False
        if item.family in self._missed or self.is_reminder(item):
            return True
        sure = self._board.start == "speed" or (self._board.anatomy.is_part(item) and self._board.is_proved(item))
        return item.family not in self._met and not sure

    def is_reminder(self, item: Item) -> bool:
        """Whether the card was shown on an earlier day and never asked since: by now its answer is forgotten."""
        state = self._board.learner.cards.get(item.card)
        if state is None or state.asked or state.shown_s is None:
            return False
        return self._board.now_s - state.shown_s >= OVERNIGHT_S

    def is_met(self, item: Item) -> bool:
        """Whether a card of this kind was asked or shown before."""
        return item.family in self._met

    def observe(self, item: Item, attempt: Attempt) -> None:
        """Take a shown card or an answer into account."""
        self._met.add(item.family)
        if attempt.right is None:
            self._given[item.family] += 1
            self._shown.add(item.card)
            self._missed.discard(item.family)
        elif attempt.right:
            self._known.add(item.family)
            self._missed.discard(item.family)
        elif item.family not in self._known:
            self._missed.add(item.family)

    def _family(self, card: str) -> str:
        """The family of a card of this deck, or the one with which the id of any other begins."""
        item = self._board.items.get(card)
        return item.family if item else card.partition(":")[0]
