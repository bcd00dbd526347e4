"""What has happened in the drill so far: what was asked, what was missed, how much time went to new cards."""

from collections import Counter, deque
from collections.abc import Callable, Iterator
from typing import NamedTuple

from drill.memory.item import Attempt, Item

RETURN_S = 75.0
"""A missed card comes back after so many seconds ..."""
RETURN_AFTER = 3
"""... and so many other questions."""
MOST_ASKED = 4
"""A card that was asked so often in a drill rests until tomorrow, as long as there are others."""
FIRST_QUESTION_S = 10.0
"""What the first question of a drill counts for, at most: nobody knows how long the learner looked at the screen."""


class Miss(NamedTuple):
    """A card missed in this drill: when, after how many questions, and the part that has to come right first."""

    at_s: float
    number: int
    part: str | None = None


class Diary:
    """One drill, told by its attempts in order; their thinking times are net, as in a verdict.

    In time is an answer within `bar_s` seconds, or the card's longer target.
    """

    def __init__(self, began_s: float, bar_s: float = 0.0) -> None:
        self.bar_s = bar_s
        self.last_s = began_s
        self.count = 0
        self.asked: deque[Item] = deque(maxlen=RETURN_AFTER + 1)
        """The latest questions, and cards that were shown."""
        self.done: dict[str, Item] = {}
        """The cards asked."""
        self.in_time: dict[str, bool] = {}
        """Whether each of them came right and in time at its first answer; no played one is late."""
        self.prompt: set[str] = set()
        """The cards that came right within their own target when they were last asked."""
        self.new: set[str] = set()
        """The cards asked for the first time, or shown before."""
        self.missed: dict[str, Miss] = {}
        """The cards that wait for their return."""
        self.failed: set[str] = set()
        """The cards missed when they were last asked."""
        self.errands: dict[str, str] = {}
        """Parts to be asked because a whole failed: the whole by its part."""
        self.blamed: set[str] = set()
        """Those of them that a mix-up points at; the others are only likely."""
        self.answers = self.right = 0
        """Typed answers, and those of them that were right: a played miss may be misheard."""
        self.right_at: dict[str, float] = {}
        """When each card last came right."""
        self.shown: Item | None = None
        """The card that was shown just now."""
        self.times: Counter[str] = Counter()
        """How often each card was asked."""
        self.spent_s = self.new_s = 0.0
        """Seconds spent, and those of them that went to new cards."""

    def add(self, item: Item, attempt: Attempt, new: bool, part: str | None = None) -> None:
        """Take an attempt down; `part` is the part of the card that an error is put down to."""
        self._spend(item, attempt, new)
        self.count += 1
        self.asked.append(item)
        self.shown = item if attempt.right is None else None
        if attempt.right is None:
            return
        if not attempt.played:
            self.answers += 1
            self.right += attempt.right
        self.done[item.card] = item
        self.times[item.card] += 1
        self.in_time.setdefault(item.card, _is_right_within(max(item.target_s, self.bar_s), attempt))
        (self.prompt.add if _is_right_within(item.target_s, attempt) else self.prompt.discard)(item.card)
        self.missed.pop(item.card, None)
        self.failed.discard(item.card)
        self.errands.pop(item.card, None)
        if attempt.right:
            self.right_at[item.card] = attempt.at_s
        else:
            self._miss(item, attempt, part)

    def _spend(self, item: Item, attempt: Attempt, new: bool) -> None:
        took_s = max(0.0, attempt.at_s - self.last_s)
        took_s = took_s if self.count else min(took_s, FIRST_QUESTION_S)
        self.last_s = attempt.at_s
        if new:
            self.new.add(item.card)
        self.spent_s += took_s
        self.new_s += took_s if item.card in self.new else 0.0

    def _miss(self, item: Item, attempt: Attempt, part: str | None) -> None:
        self.failed.add(item.card)
        if not self.is_tired(item.card):
            self.missed[item.card] = Miss(attempt.at_s, self.count, part)
        if part is not None and not self.is_tired(part):
            self.errands[part] = item.card
            self.blamed.discard(part)
            if attempt.mixed_fact in item.facts:
                self.blamed.add(part)

    def is_tired(self, card: str) -> bool:
        """Whether the card was asked so often that it rests until tomorrow."""
        return self.times[card] >= MOST_ASKED

    @property
    def any_left(self) -> bool:
        """Whether a card that was missed when it was last asked rests until tomorrow."""
        return any(map(self.is_tired, self.failed))

    def back(self, now_s: float, others: int, comes: Callable[[str], bool]) -> Iterator[str]:
        """The missed cards that may return, those missed longest ago first.

        `others` is the number of other cards; `comes` says whether a part is asked in this drill: one that is not holds
        nothing up.
        """
        for card, miss in self.missed.items():
            rested = now_s - miss.at_s >= RETURN_S and self.count - miss.number >= min(RETURN_AFTER, others)
            part = miss.part if miss.part is not None and comes(miss.part) else None
            if rested and part not in self.errands and part not in self.missed:
                yield card


def _is_right_within(seconds: float, attempt: Attempt) -> bool:
    """Whether an answer came right in so many seconds; a played one, or one that was not timed, is never late."""
    thinking_s = None if attempt.played else attempt.thinking_s
    return attempt.right is True and (thinking_s is None or thinking_s <= seconds)
