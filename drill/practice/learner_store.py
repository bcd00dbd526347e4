"""What the learner knows, kept in step with the record.

The log of attempts is the truth. What the memory derives from it is kept in the record too, row by row with each
answer, so that a start need not replay the log; `position` says up to which attempt it was derived. Where that is not
up to date (another program wrote, rows are missing, damaged or of another version), a `Replay` derives it anew, in
slices: until it is done a drill goes by the older state, or, without one, by what the replay has learnt so far.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from drill.errors import FretsureError
from drill.memory import Attempt, Item, Learner
from drill.memory.calibration import Calibration
from drill.practice import replay
from drill.practice.replay import FORETOLD, Kept, Known, Replay, understood
from drill.record import LATEST, POSITION, AttemptRow, Place, Record

__all__ = ["BEHIND", "FORETOLD", "POSITION", "LearnerStore", "understood"]

START_S = 2.0
"""A start waits for so many seconds at most."""
SLICE_S = 0.02
"""A slice while somebody may type: too short to be noticed."""
LATE = 20
"""So many answers that others gave during a drill are taken in at once, each later than it happened."""
BEHIND = (
    "A part of your long record is still being read; until that is done, your drills and your progress go by the rest."
)


@dataclass(slots=True)
class LearnerStore:
    """A learner and the record it is derived from; `keep` adds one attempt to both in one transaction."""

    record: Record
    learner: Learner
    position: int
    """Id of the last attempt the learner has taken in, or leaves to the replay."""
    in_step: bool = True
    """False once the learner knows other than the record: an answer that could not be written, or those of another
    program in another order."""
    foretold: Calibration = field(default_factory=Calibration)
    """The chances the learner told before each answer, against what came."""
    replay: Replay | None = None
    """What derives the state anew, while it does."""
    begun: Place | None = None
    """Where the first attempt that was kept here stands."""
    stale: bool = False
    """Whether the learner is of an older state, and not of what the replay has learnt so far."""
    own: list[tuple[Item, Attempt]] = field(default_factory=list)
    """What was kept here since the replay began."""

    @classmethod
    def of(cls, record: Record) -> LearnerStore:
        """The learner just as the record knows it, however long that takes."""
        return cls.begin(record, lambda: 0.0)

    @classmethod
    def begin(cls, record: Record, clock: Callable[[], float], wait_s: float = START_S) -> LearnerStore:
        """The learner as far as the record tells it within so many seconds of the clock; see `behind`.

        Raises CannotWrite, RecordDamaged.
        """
        kept, last_id = Kept.on(LATEST, record), record.last_attempt_id()
        known = kept.known if kept else Known()
        recall = cls(record, known.learner, last_id, foretold=known.foretold)
        if not last_id and record.states():
            record.replace_states({})  # derived from nothing that is here
        if not last_id or (kept and kept.last_id == last_id):
            return recall
        recall.in_step, recall.stale, recall.replay = False, kept is not None, Replay(record)
        recall.replay.run(_enough(clock, wait_s), patient=True)
        recall._take_over()
        return recall

    @property
    def behind(self) -> bool:
        """Whether a part of the log is still to be taken in, by `catch_up`."""
        return self.replay is not None

    @property
    def is_current(self) -> bool:
        """Whether the learner knows just what the log tells at this moment."""
        return self.in_step and self.position == self.record.last_attempt_id()

    def catch_up(self, clock: Callable[[], float], seconds: float = SLICE_S) -> None:
        """Take in more of the log, for so many seconds of the clock. `learner` may be another one afterwards."""
        if self.replay is None:
            return
        bases = self.replay.bases
        try:
            self.replay.run(_enough(clock, seconds))
        except FretsureError as error:  # the answers are safe; what is known stays as it is
            self.record.notices.append(str(error))
            self.replay = None
            return
        if self.replay.done or (self.replay.bases > bases and not self.stale):
            self._take_over()

    def rest(self) -> None:
        """A drill is over: from here a replay may begin one day."""
        if self.is_current:
            self.record.renew_base(replay.TAIL)

    def keep(self, row: AttemptRow, item: Item, attempt: Attempt) -> None:
        """Take an attempt in and write it, with all it changed, in one transaction; it is on the disk on return."""
        self.begun = self.begun or row.place
        known = Known(self.learner, self.foretold)
        changed = known.learn(item, attempt)
        states = known.rows(changed) | {POSITION: str(self.position + 1)} if self.in_step else None
        try:
            written = self.record.append(row, states, after=self.position)
        except FretsureError:
            self.in_step = False
            raise
        if written != self.position + 1:
            self._take_in_others(written, self.begun)
        if self.replay:
            self.own.append((item, attempt))
        self.position = written

    def _take_in_others(self, written: int, begun: Place) -> None:
        """Another program has written meanwhile.

        What it asked during this drill is known at once, later than it happened, which is good enough for a drill; the
        replay takes in all it wrote, in order.
        """
        self.in_step = False
        news = self.record.news_after(begun, self.position, LATE)
        for item, attempt in understood(row for row in news if row.id < written):
            Known(self.learner, self.foretold).learn(item, attempt)
        if self.replay is None:
            self.stale, self.replay = True, Replay(self.record)

    def _take_over(self) -> None:
        """Know what the replay knows: all, if it is done; or else what it has learnt so far, and what was kept here."""
        if self.replay is None or (self.stale and not self.replay.done):
            return
        done, known = self.replay.done, self.replay.known
        if done:
            self.position, self.in_step = self.replay.last_id, self.replay.is_kept
            self.replay, self.own = None, []
        else:
            known = known.copy()
            for item, attempt in self.own:
                known.learn(item, attempt)
        self.learner, self.foretold = known.learner, known.foretold


def _enough(clock: Callable[[], float], seconds: float) -> Callable[[], bool]:
    end_s = clock() + seconds
    return lambda: clock() >= end_s
