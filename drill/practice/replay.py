"""The log replayed, a slice at a time: how what is known of a learner is derived from their attempts.

Attempts count in the order they were asked. A replay begins where kept state ends, if nothing new belongs before that,
or else at the base: state of an earlier moment, which it keeps as it goes, so that a program that is killed does not
begin again. The base stays behind the newest attempts, since those are the ones among which others still arrive when
several programs drill at once.

    Known        what is derived: the learner, and how honest the predictions were
    Kept         the same as the record keeps it
    Replay       one replay; `run` it until there is enough, as often as it takes
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from types import MappingProxyType
from typing import NamedTuple

from drill.decks import entry_of
from drill.errors import CannotWrite, FretsureError
from drill.memory import KEY_PRESS, Attempt, Item, Learner, UnreadableState, dump, load
from drill.memory.calibration import Calibration
from drill.memory.learner import LEARNER_ROW
from drill.questions.catalogue import FAMILIES
from drill.record import BASE, BEFORE_ALL, LATEST, PLACE, POSITION, AttemptRow, Place, Record

FORETOLD = "foretold"
PAGE = 200
"""Attempts read at a time: few enough for a slice of some milliseconds."""
BASE_EVERY = 2_000
"""Attempts after which the base is kept anew, about half a second's work: so much is done again after a kill."""
TAIL = 1_000
"""The newest attempts; the base stays behind them."""
ROWS_AT_A_TIME = 10


@dataclass(slots=True)
class Known:
    """What is derived from attempts."""

    learner: Learner = field(default_factory=Learner)
    foretold: Calibration = field(default_factory=Calibration)
    """The chances the learner told before each answer, against what came."""

    def learn(self, item: Item, attempt: Attempt) -> tuple[str, ...]:
        """Hold what was told against what came, then learn from it; gives the names of the rows that changed."""
        if attempt.right is not None and item != KEY_PRESS:
            self.foretold.take(self.learner.strength(item, attempt.at_s), attempt.right)
        return self.learner.observe(item, attempt)

    @property
    def names(self) -> list[str]:
        """The names of all rows of the learner."""
        return list(dump(self.learner))

    def rows(self, names: Iterable[str] | None = None) -> dict[str, str]:
        """Rows as the record takes them: those of these names, or all."""
        rows = dump(self.learner, names) | {FORETOLD: self.foretold.dump()}
        return {name: json.dumps(value) for name, value in rows.items()}

    @classmethod
    def load(cls, rows: dict[str, str]) -> Known:
        """What the rows hold, as `rows` gave all of them. Raises UnreadableState."""
        try:
            values = {name: json.loads(value) for name, value in rows.items()}
            foretold = Calibration.load(values.pop(FORETOLD, None))
            if LEARNER_ROW not in values:  # it alone tells the version
                raise ValueError(f"no row {LEARNER_ROW}")
            return cls(load(values), foretold)
        except (ValueError, RecursionError) as error:
            raise UnreadableState(f"The remembered state cannot be read ({error}).") from error

    def copy(self) -> Known:
        """The same, with a life of its own."""
        return Known(load(dump(self.learner)), Calibration.load(self.foretold.dump()))


class Kept(NamedTuple):
    """State as a snapshot in the record holds it: it follows from all attempts up to `last_id` and up to `place`."""

    known: Known
    last_id: int
    place: Place

    @classmethod
    def on(cls, snapshot: str, record: Record) -> Kept | None:
        """The state in a snapshot; None if that is empty, is damaged or is of another version."""
        rows = record.states(snapshot)
        try:
            last_id = int(rows.pop(POSITION, 0))
            place = json.loads(rows.pop(PLACE, "null"))
            if not 0 < last_id <= record.last_attempt_id():
                return None
            known = Known.load(rows)
            return cls(known, last_id, (int(place[0]), str(place[1])) if place else record.last_place(last_id))
        except (ValueError, TypeError, LookupError, RecursionError, UnreadableState):
            return None


class Replay:
    """Derives what is known from the log; `known` is whole once it is `done`."""

    def __init__(self, record: Record) -> None:
        self.record = record
        self.done = False
        self.is_kept = False
        """Whether the record keeps what was derived, once it is done."""
        self.bases = 0
        """How often the base was kept."""
        self._put(Kept(Known(), 0, BEFORE_ALL))
        self._patient = False
        self._edge = record.last_place(before=TAIL)
        self._work = self._steps()

    def run(self, enough: Callable[[], bool], *, patient: bool = False) -> None:
        """Work until it is done or there is `enough`, which is asked after every attempt.

        Only if `patient` it waits for other programs that write, and raises CannotWrite. Raises RecordDamaged.
        """
        self._patient = patient
        for _ in self._work:
            if enough():
                return
        self.done = True

    def _begin(self) -> None:
        """Begin with the furthest state kept to which nothing is to be added before its end."""
        kept = filter(None, (Kept.on(snapshot, self.record) for snapshot in (LATEST, BASE)))
        good = (each for each in kept if not self.record.has_news_before(each.place, each.last_id))
        self._put(max(good, key=lambda each: each.place, default=Kept(Known(), 0, BEFORE_ALL)))

    def _put(self, kept: Kept) -> None:
        self.known, self.last_id, self.place = kept
        self._rows: dict[str, str] = {}
        self._changed = set(self.known.names)
        """What has changed since it was written as rows."""
        self._since_base = 0

    def _steps(self) -> Iterator[None]:
        self._begin()
        while True:
            while rows := self._next_page():
                before = self.place
                yield from self._take(rows)
                if self._base_is_due(before):
                    yield from self._write_rows()
                    self.bases += self._keep(BASE, {PLACE: json.dumps(self.place)})
            yield from self._write_rows()
            if self.last_id == self.record.last_attempt_id():
                self.is_kept = self._keep(LATEST)
                return

    def _next_page(self) -> list[AttemptRow]:
        """The next attempts; if some have come in that belong before what was read, it begins anew."""
        last_id = self.record.last_attempt_id()
        if last_id != self.last_id and self.record.has_news_before(self.place, self.last_id):
            self._begin()
        self.last_id = last_id
        return self.record.page_after(self.place, last_id, PAGE)

    def _take(self, rows: Iterable[AttemptRow]) -> Iterator[None]:
        for row in rows:
            for item, attempt in understood([row]):
                self._changed.update(self.known.learn(item, attempt))
            self.place = row.place
            self._since_base += 1
            yield

    def _base_is_due(self, before: Place) -> bool:
        """After every so many attempts, and at the edge of the newest; `before` is where this page began."""
        return before < self._edge and self._since_base >= (BASE_EVERY if self.place < self._edge else TAIL)

    def _write_rows(self) -> Iterator[None]:
        """Write what has changed as rows, some at a time."""
        while self._changed:
            some = [self._changed.pop() for _ in range(min(ROWS_AT_A_TIME, len(self._changed)))]
            self._rows |= self.known.rows(some)
            yield

    def _keep(self, snapshot: str, more: Mapping[str, str] = MappingProxyType({})) -> bool:
        """Keep what is known so far, unless another program writes at this moment: it can wait until the next time."""
        self._since_base = 0
        rows = self._rows | self.known.rows(()) | {POSITION: json.dumps(self.last_id), **more}
        try:
            self.record.replace_states(rows, snapshot, patient=self._patient)
        except CannotWrite:
            if self._patient:
                raise
            return False
        return True


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
    return Attempt(row.card, row.answered_at / 1000, row.correct, thinking_s, _mixed_fact(row))


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
