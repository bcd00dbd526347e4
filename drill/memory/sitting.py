"""What a day's answers change on the faces: the cards that were asked, and those that share a fact with them.

Every answer also moves what is believed of the learner as a whole, and with it the strength of every card: after a few
misses all figures drop by some points, as if a minute had wiped out a month. The planner needs that at once, for it
chooses by it. Whoever looks at a map reads a loss into it where nothing was asked. So faces show cards that were not
asked in this sitting by what was believed of the learner before it; the next sitting begins with the new belief.
"""

from typing import Any, NamedTuple

from drill.memory.item import Item
from drill.memory.learner import LEARNER_ROW, Learner
from drill.memory.rows import dump, load

REST_S = 4 * 3600.0
"""A sitting begins with the first answer after so many seconds without one: two drills of an evening are one."""


class Sitting(NamedTuple):
    """When it began, in seconds since the epoch, and what was believed of the learner as a whole just before."""

    began_s: float
    before: dict[str, Any]

    @classmethod
    def begin(cls, learner: Learner, at_s: float) -> "Sitting":
        """The sitting that begins with an answer at `at_s`, which the learner has not learnt from yet."""
        return cls(at_s, dump(learner, [LEARNER_ROW])[LEARNER_ROW])

    @staticmethod
    def begins(learner: Learner, at_s: float) -> bool:
        """Whether the learner has rested for so long that an answer at `at_s` begins a sitting."""
        last_s = learner.clock.last_s
        return last_s is None or at_s - last_s > REST_S


class Settled:
    """A learner as the faces show them. Without a sitting, as they are."""

    def __init__(self, learner: Learner, sitting: Sitting | None = None) -> None:
        self.learner = learner
        self._began_s = sitting.began_s if sitting else 0.0
        self._before = load({LEARNER_ROW: sitting.before}, learner.constants) if sitting else learner
        self._began_ticks = self._before.clock.ticks
        if sitting:
            self._before.cards, self._before.facts, self._before.clock = learner.cards, learner.facts, learner.clock

    def of(self, item: Item) -> Learner:
        """The learner by whom strength and speed of a card are shown."""
        return self.learner if self._was_asked(item) else self._before

    def _was_asked(self, item: Item) -> bool:
        """Whether the sitting asked the card, or another that rests on one of its facts."""
        card = self.learner.cards.get(item.card)
        if card is not None and card.last_s >= self._began_s:
            return True
        facts = (self.learner.facts.get(fact) for fact in item.facts)
        return any(fact is not None and fact.traces.at[-1] > self._began_ticks for fact in facts)
