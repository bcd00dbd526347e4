"""Keeps what is known of the learner in sync with the record.

The log of attempts is the truth. The record also stores the state derived from it, and every answer updates a few rows
of that state, so that a start need not replay the log; `position` says up to which attempt the state was derived. Where
the stored state is out of date (another program wrote, rows are missing, damaged or of another version), a `Replay`
derives it again, in slices. Until the replay is done, a drill uses the older state, or, if there is none, what the
replay has learnt so far.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from drill.errors import FretsureError
from drill.memory import Attempt, Item, Learner, Settled
from drill.memory.calibration import Calibration
from drill.practice import replay
from drill.practice.replay import DerivedState, Replay, Snapshot, observations
from drill.record import LATEST, POSITION, AttemptRow, Place, Record

START_S = 2.0
"""A start waits at most so many seconds."""
SLICE_S = 0.02
"""Length of a slice while somebody may be typing: too short to be noticed."""
MOST_OF_OTHERS = 20
"""At most so many answers that other programs gave during a drill are learnt at once, in the order they came in."""
BEHIND = "Part of your long record is still being read; until that is done, drills and progress use the rest of it."


@dataclass(slots=True)
class LearnerStore:
    """A learner and the record it is derived from; `add` adds an attempt to both in one transaction."""

    record: Record
    state: DerivedState
    """What is known of the learner."""
    position: int
    """Id of the last attempt that the learner has learnt from, or that the replay will add."""
    in_sync: bool = True
    """False once the learner differs from what the log gives: after an answer that could not be written, or answers of
    another program that were learnt in another order. Such a learner is never stored."""
    replay: Replay | None = None
    """The replay, while one is running."""
    first_place: Place | None = None
    """Place in the log of the first attempt that was added here."""
    uses_snapshot: bool = False
    """Whether the learner comes from an older state, and not from what the replay has learnt so far."""
    own: list[tuple[Item, Attempt]] = field(default_factory=list)
    """What was added here since the replay began."""

    @classmethod
    def of(cls, record: Record) -> LearnerStore:
        """The learner that the whole record gives, however long that takes. Raises CannotWrite, RecordDamaged."""
        return cls.begin(record, lambda: 0.0)

    @classmethod
    def begin(cls, record: Record, clock: Callable[[], float], wait_s: float = START_S) -> LearnerStore:
        """The learner that can be derived within `wait_s` seconds of the clock; see `behind`.

        Raises CannotWrite, RecordDamaged.
        """
        snapshot, last_id = Snapshot.read(record, LATEST), record.last_attempt_id()
        store = cls(record, snapshot.state if snapshot else DerivedState(), last_id)
        if not last_id and record.states():
            record.replace_states({})  # without attempts, it was derived from another log
        if not last_id or (snapshot and snapshot.last_id == last_id):
            return store
        store.in_sync, store.uses_snapshot, store.replay = False, snapshot is not None, Replay(record)
        store.replay.run(_time_is_up(clock, wait_s), patient=True)
        store._use_replay()
        return store

    @property
    def learner(self) -> Learner:
        """The learner; another object once the replay has read more."""
        return self.state.learner

    @property
    def calibration(self) -> Calibration:
        """The chances predicted before each answer, beside the share that came right."""
        return self.state.calibration

    @property
    def settled(self) -> Settled:
        """The learner as the faces show them: what was not asked today has not changed today."""
        return Settled(self.learner, self.state.sitting)

    def net_thinking_s(self, family: str, thinking_s: float | None, *, played: bool = False) -> float | None:
        """A thinking time without reading a question of this kind and without the key press, or reach and pluck."""
        if played:
            return self.state.without_reach(family, thinking_s)
        left_s = self.state.without_reading(family, thinking_s)
        return None if left_s is None else self.learner.net_thinking(left_s)

    def net(self, family: str, attempt: Attempt) -> Attempt:
        """The attempt at a card of this kind with its net thinking time: the planner compares that with targets."""
        net_s = self.net_thinking_s(family, attempt.thinking_s, played=attempt.played)
        return attempt._replace(thinking_s=net_s)

    @property
    def behind(self) -> bool:
        """Whether `catch_up` still has a part of the log to read."""
        return self.replay is not None

    @property
    def is_current(self) -> bool:
        """Whether the learner is what the whole log gives at this moment."""
        return self.in_sync and self.position == self.record.last_attempt_id()

    def catch_up(self, clock: Callable[[], float], seconds: float = SLICE_S) -> None:
        """Read more of the log, for so many seconds of the clock. `learner` may be another object afterwards."""
        if self.replay is None:
            return
        bases = self.replay.bases
        try:
            self.replay.run(_time_is_up(clock, seconds))
        except FretsureError as error:  # the answers are safe; the learner stays as it is
            self.record.notices.append(str(error))
            self.replay = None
            return
        if self.replay.done or (self.replay.bases > bases and not self.uses_snapshot):
            self._use_replay()

    def end_drill(self) -> None:
        """Between two drills, renew the base from which a later replay may start. Raises CannotWrite, RecordDamaged."""
        if self.is_current:
            self.record.renew_base(replay.TAIL)

    def add(self, row: AttemptRow, item: Item, attempt: Attempt) -> None:
        """Learn from an attempt and write it with the rows it changed, in one transaction; on the disk on return.

        Raises CannotWrite, RecordDamaged.
        """
        self.first_place = self.first_place or row.place
        changed = self.state.learn(item, attempt)
        rows = self.state.rows(changed) | {POSITION: str(self.position + 1)} if self.in_sync else None
        try:
            written = self.record.append(row, rows, after=self.position)
        except FretsureError:
            self.in_sync = False
            raise
        if written != self.position + 1:
            self._learn_from_others(written, self.first_place)
        if self.replay:
            self.own.append((item, attempt))
        self.position = written

    def _learn_from_others(self, written: int, first_place: Place) -> None:
        """Another program has written meanwhile.

        What it asked during this drill is learnt at once, later than it happened, which is good enough for a drill; the
        replay then learns everything in the right order.
        """
        self.in_sync = False
        news = self.record.news_after(first_place, self.position, MOST_OF_OTHERS)
        for item, attempt in observations(row for row in news if row.id < written):
            self.state.learn(item, attempt)
        if self.replay is None:
            self.uses_snapshot, self.replay = True, Replay(self.record)

    def _use_replay(self) -> None:
        """Take over the replay's state: a complete one as it is, an incomplete one with what was added here."""
        if self.replay is None or (self.uses_snapshot and not self.replay.done):
            return
        done, self.state = self.replay.done, self.replay.state
        if done:
            self.position, self.in_sync = self.replay.last_id, self.replay.is_saved
            self.replay, self.own = None, []
        else:
            self.state = self.state.copy()
            for item, attempt in self.own:
                self.state.learn(item, attempt)


def _time_is_up(clock: Callable[[], float], seconds: float) -> Callable[[], bool]:
    end_s = clock() + seconds
    return lambda: clock() >= end_s
