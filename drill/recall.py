"""What the learner knows, kept in step with the record.

The log of attempts is the truth. What the memory derives from it is kept in the record too, row by row with each
answer, so that a start need not replay the log; `position` says up to which attempt it was derived. Rows that are
missing, of another version or damaged are derived anew.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import lru_cache

from drill.decks import entry_of
from drill.errors import FretsureError
from drill.foretold import Foretold
from drill.memory import KEY_PRESS, Attempt, Item, Learner, UnreadableState, dump, load
from drill.questions.catalogue import FAMILIES
from drill.record import AttemptRow, Record

POSITION, FORETOLD = "position", "foretold"
UNKNOWN = 0
"""A position that sends the next start back to the log."""


@dataclass(slots=True)
class Recall:
    """A learner and the record it is derived from; `keep` adds one attempt to both in one transaction."""

    record: Record
    learner: Learner
    position: int
    """Id of the last attempt the learner has taken in."""
    in_step: bool = True
    """False once the learner knows other than a replay of the log would: an answer that could not be written, or those
    of another program in another order."""
    foretold: Foretold = field(default_factory=Foretold)
    """The chances the learner told before each answer, against what came."""

    @classmethod
    def of(cls, record: Record) -> Recall:
        """The learner as the record knows it; attempts that the kept state lacks are taken in."""
        recall = cls._kept(record) or cls(record, Learner(), UNKNOWN)
        recall._catch_up()
        return recall

    @classmethod
    def _kept(cls, record: Record) -> Recall | None:
        """The learner as the rows of the record hold it; None when they are not ours, or of another log."""
        rows = record.states()
        try:
            position = int(rows.pop(POSITION, UNKNOWN))
            if not UNKNOWN < position <= record.last_attempt_id():
                return None
            foretold = Foretold.load(json.loads(rows.pop(FORETOLD, "null")))
            learner = load({name: json.loads(value) for name, value in rows.items()})
        except (ValueError, RecursionError, UnreadableState):  # RecursionError: nested deeper than Python reads
            return None
        return cls(record, learner, position, foretold=foretold)

    def keep(self, row: AttemptRow, item: Item, attempt: Attempt) -> None:
        """Take an attempt in and write it, with all it changed, in one transaction; it is on the disk on return."""
        states = self._states(self._learn(item, attempt), self.position + 1 if self.in_step else UNKNOWN)
        try:
            written = self.record.append(row, states, after=self.position)
        except FretsureError:
            self.in_step = False
            raise
        if written != self.position + 1:
            self._take_in_others(written)
        self.position = written

    def _take_in_others(self, written: int) -> None:
        """Another program has written meanwhile: know what it added, too, if later than it happened.

        What is known in that order is good for this drill and is not kept; the next start derives it from the log.
        """
        for item, attempt in understood(row for row in self.record.appended_after(self.position) if row.id != written):
            self._learn(item, attempt)
        self.in_step = False

    def _catch_up(self) -> None:
        last = self.record.last_attempt_id()
        if last == self.position:
            return
        rows = self.record.appended_after(self.position) if self.position else self.record.attempts()
        for item, attempt in understood(rows):
            self._learn(item, attempt)
        self.position = last
        self.record.replace_states(self._states(None, last))

    def _learn(self, item: Item, attempt: Attempt) -> tuple[str, ...]:
        """Hold what was told against what came, then learn from it; gives the names of the rows that changed."""
        if attempt.right is not None and item != KEY_PRESS:
            self.foretold.take(self.learner.strength(item, attempt.at_s), attempt.right)
        return self.learner.observe(item, attempt)

    def _states(self, changed: Iterable[str] | None, position: int) -> dict[str, str]:
        """The rows to keep: those that changed, or all, as the record takes them."""
        rows = dump(self.learner, changed) | {FORETOLD: self.foretold.dump(), POSITION: position}
        return {name: json.dumps(value) for name, value in rows.items()}


def understood(rows: Iterable[AttemptRow]) -> Iterator[tuple[Item, Attempt]]:
    """Attempts as the memory takes them; those whose card no family knows any more are passed over."""
    for row in rows:
        try:
            yield _item(row.card), attempt_of(row)
        except FretsureError:
            continue


def attempt_of(row: AttemptRow) -> Attempt:
    """A row of the log as the memory takes it."""
    thinking_s = None if row.thinking_ms is None else row.thinking_ms / 1000
    return Attempt(row.card, row.answered_at / 1000, row.right, thinking_s, _mixed_fact(row))


@lru_cache(maxsize=4096)
def _item(card_id: str) -> Item:
    return KEY_PRESS if card_id == KEY_PRESS.card else entry_of(card_id)[0].item


def _mixed_fact(row: AttemptRow) -> str | None:
    """The fact a recorded mix-up points at: the card tells it again."""
    if row.mixup is None:
        return None
    entry, neck = entry_of(row.card)
    mixups = FAMILIES[entry.item.family].card(entry.facets, neck).mixups
    return next((m.fact for m in mixups if m.name == row.mixup and m.answer == row.given), None)
