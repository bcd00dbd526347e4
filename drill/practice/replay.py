"""Replays the log, a slice at a time, to derive what is known of a learner.

Attempts count in the order they were asked. A replay continues from the newest snapshot in the record. Where new
attempts belong before the end of that one, it continues from the base: a snapshot of an earlier moment, which a replay
saves as it goes, so that a program that is killed does not start over. The base stays behind the newest attempts,
because attempts of other programs that drill at the same time arrive among those.

    DerivedState    the learner, how well the predictions matched the answers, reading times, the day's beginning
    Snapshot        a derived state as the record stores it
    Replay          one replay; call `run` until it is `done`
    observations    rows of the log as `Learner.observe` takes them
"""

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from types import MappingProxyType
from typing import Any, NamedTuple

from drill.decks import entry_of
from drill.errors import CannotWrite, FretsureError
from drill.memory import KEY_PRESS, Attempt, Item, Learner, Sitting, UnreadableState, dump, load
from drill.memory.calibration import Calibration
from drill.memory.learner import LEARNER_ROW
from drill.practice.attempts import attempt_of
from drill.practice.reading import MOST_PLAYED_S, ReadingTimes
from drill.questions.catalogue import FAMILIES
from drill.record import BASE, BEFORE_ALL, LATEST, PLACE, POSITION, AttemptRow, Place, Record

CALIBRATION = "calibration"
"""The name of the row that holds the calibration."""
SITTING = "sitting"
"""The name of the row that holds the beginning of the newest sitting."""
READING = "reading:"
"""Before the name of a family, that of the row that holds its reading times."""
PLAYED = "played:"
"""The same of answers that were played."""
PAGE = 200
"""Attempts read at a time: few enough for a slice of some milliseconds."""
BASE_EVERY = 2_000
"""A replay saves its base after so many attempts, about half a second's work: a kill costs no more than that."""
TAIL = 1_000
"""The newest attempts; the base stays behind them."""
ROWS_AT_A_TIME = 10


@dataclass(slots=True)
class DerivedState:
    """Everything that is derived from attempts."""

    learner: Learner = field(default_factory=Learner)
    calibration: Calibration = field(default_factory=Calibration)
    reading: ReadingTimes = field(default_factory=ReadingTimes)
    played: ReadingTimes = field(default_factory=lambda: ReadingTimes(MOST_PLAYED_S))
    """What answers that are played take beside thinking: reading the question, reaching the note, plucking it."""
    sitting: Sitting | None = None

    def learn(self, item: Item, attempt: Attempt) -> tuple[str, ...]:
        """Compare the prediction with the answer, then learn from it; returns the names of the changed rows."""
        began = Sitting.begins(self.learner, attempt.at_s)
        if began:
            self.sitting = Sitting.begin(self.learner, attempt.at_s)
        learnt = attempt.learnable
        net = learnt._replace(thinking_s=self.without_reading(item.family, learnt.thinking_s))
        if attempt.right is not None and not attempt.played and item != KEY_PRESS:
            self.calibration.compare(self.learner, item, net)
        changed = self.learner.observe(item, net) + self._learn_reading(item, attempt)
        return (*changed, SITTING) if began else changed

    def without_reading(self, family: str, thinking_s: float | None) -> float | None:
        """A thinking time without reading the question, as far as that is known; the key press is still in it."""
        return thinking_s and self.reading.without(family, thinking_s, self.learner.key_press_s)

    def without_reach(self, family: str, thinking_s: float | None) -> float | None:
        """The time of a played answer without reading, reaching and plucking, as far as these are known."""
        return thinking_s and self.played.without(family, thinking_s, 0.0)

    def _learn_reading(self, item: Item, attempt: Attempt) -> tuple[str, ...]:
        if not attempt.right or not attempt.present_wording or attempt.thinking_s is None:
            return ()
        name, times = (PLAYED, self.played) if attempt.played else (READING, self.reading)
        times.add(item.family, attempt.thinking_s)
        return (name + item.family,)

    @property
    def _timed(self) -> tuple[tuple[str, ReadingTimes], ...]:
        """Both kinds of reading times, by what begins the names of their rows."""
        return (READING, self.reading), (PLAYED, self.played)

    @property
    def names(self) -> list[str]:
        """The names of all rows, without that of the calibration."""
        sitting = [SITTING] if self.sitting else []
        return [*dump(self.learner), *(name + family for name, each in self._timed for family in each.times), *sitting]

    def rows(self, names: Iterable[str] | None = None) -> dict[str, str]:
        """The named rows, or all of them, as JSON text for the record; the calibration is always among them."""
        wanted = self.names if names is None else list(names)
        own = {name: self._row(name) for name in wanted if name == SITTING or name.startswith((READING, PLAYED))}
        rows = dump(self.learner, (name for name in wanted if name not in own)) | own
        return {name: json.dumps(value) for name, value in (rows | {CALIBRATION: self.calibration.dump()}).items()}

    def _row(self, name: str) -> Any:
        if name == SITTING:
            return self.sitting
        return next(each.times[name.removeprefix(start)] for start, each in self._timed if name.startswith(start))

    @classmethod
    def load(cls, rows: dict[str, str]) -> "DerivedState":
        """The state from all its `rows`. Raises UnreadableState."""
        try:
            values = {name: json.loads(value) for name, value in rows.items()}
            calibration = Calibration.load(values.pop(CALIBRATION, None))
            sitting = _sitting(values.pop(SITTING, None))
            reading, played = ReadingTimes(), ReadingTimes(MOST_PLAYED_S)
            for start, times in ((READING, reading), (PLAYED, played)):
                for name in [name for name in values if name.startswith(start)]:
                    times.load(name.removeprefix(start), values.pop(name))
            if LEARNER_ROW not in values:  # only this row holds the version
                raise ValueError(f"no row {LEARNER_ROW}")
            return cls(load(values), calibration, reading, played, sitting)
        except (ValueError, TypeError, RecursionError) as error:
            raise UnreadableState(f"The remembered state cannot be read ({error}).") from error

    def copy(self) -> "DerivedState":
        """An independent copy."""
        learner = load(dump(self.learner))
        calibration = Calibration.load(self.calibration.dump())
        return DerivedState(learner, calibration, self.reading.copy(), self.played.copy(), self.sitting)


def _sitting(value: Any) -> Sitting | None:
    """The sitting of its row. Raises ValueError, TypeError, UnreadableState for what no row holds."""
    if value is None:
        return None
    began_s, before = value
    load({LEARNER_ROW: before})
    return Sitting(float(began_s), before)


class Snapshot(NamedTuple):
    """A state with where it ends: it follows from all attempts up to `last_id` and up to `place`."""

    state: DerivedState
    last_id: int
    place: Place

    @classmethod
    def read(cls, record: Record, name: str) -> "Snapshot | None":
        """The snapshot of this name, LATEST or BASE; None if it is missing, damaged or of another version.

        Raises RecordDamaged.
        """
        rows = record.states(name)
        try:
            last_id = int(rows.pop(POSITION, 0))
            place = json.loads(rows.pop(PLACE, "null"))
            if not 0 < last_id <= record.last_attempt_id():
                return None
            state = DerivedState.load(rows)
            return cls(state, last_id, (int(place[0]), str(place[1])) if place else record.last_place(last_id))
        except (ValueError, TypeError, LookupError, RecursionError, UnreadableState):
            return None


class Replay:
    """Derives a state from the log; `state` is complete once the replay is `done`."""

    def __init__(self, record: Record) -> None:
        self.record = record
        self.done = False
        self.is_saved = False
        """Whether the record holds the complete state, once the replay is done."""
        self.bases = 0
        """How often the base was saved."""
        self._continue_from(Snapshot(DerivedState(), 0, BEFORE_ALL))
        self._patient = False
        self._edge = record.last_place(before=TAIL)
        self._work = self._steps()

    def run(self, enough: Callable[[], bool], *, patient: bool = False) -> None:
        """Work until the replay is done or `enough` says so; it is asked after every attempt.

        Only a `patient` run waits for other programs that write, and raises CannotWrite. Raises RecordDamaged.
        """
        self._patient = patient
        for _ in self._work:
            if enough():
                return
        self.done = True

    def _begin(self) -> None:
        """Start from the latest snapshot to which no new attempt has to be added before its end."""
        snapshots = filter(None, (Snapshot.read(self.record, name) for name in (LATEST, BASE)))
        usable = (each for each in snapshots if not self.record.has_news_before(each.place, each.last_id))
        start = Snapshot(DerivedState(), 0, BEFORE_ALL)
        self._continue_from(max(usable, key=lambda each: each.place, default=start))

    def _continue_from(self, snapshot: Snapshot) -> None:
        self.state, self.last_id, self.place = snapshot
        self._rows: dict[str, str] = {}
        self._changed = set(self.state.names)
        """Names of the rows that have changed since `_rows` was brought up to date."""
        self._since_base = 0

    def _steps(self) -> Iterator[None]:
        self._begin()
        while True:
            while rows := self._next_page():
                page_start = self.place
                yield from self._learn(rows)
                if self._base_is_due(page_start):
                    yield from self._update_rows()
                    self.bases += self._save(BASE, {PLACE: json.dumps(self.place)})
            yield from self._update_rows()
            if self.last_id == self.record.last_attempt_id():
                self.is_saved = self._save(LATEST)
                return

    def _next_page(self) -> list[AttemptRow]:
        """The next attempts; the replay starts over if new ones have come in that belong before its place."""
        last_id = self.record.last_attempt_id()
        if last_id != self.last_id and self.record.has_news_before(self.place, self.last_id):
            self._begin()
        self.last_id = last_id
        return self.record.page_after(self.place, last_id, PAGE)

    def _learn(self, rows: Iterable[AttemptRow]) -> Iterator[None]:
        for row in rows:
            for item, attempt in observations([row]):
                self._changed.update(self.state.learn(item, attempt))
            self.place = row.place
            self._since_base += 1
            yield

    def _base_is_due(self, page_start: Place) -> bool:
        """Whether to save the base: every BASE_EVERY attempts, and where the newest attempts begin."""
        return page_start < self._edge and self._since_base >= (BASE_EVERY if self.place < self._edge else TAIL)

    def _update_rows(self) -> Iterator[None]:
        """Write the changed rows as JSON text, a few at a time."""
        while self._changed:
            some = [self._changed.pop() for _ in range(min(ROWS_AT_A_TIME, len(self._changed)))]
            self._rows |= self.state.rows(some)
            yield

    def _save(self, name: str, more: Mapping[str, str] = MappingProxyType({})) -> bool:
        """Save the state; returns False if another program is writing now, in which case the next save will do."""
        self._since_base = 0
        rows = self._rows | self.state.rows(()) | {POSITION: json.dumps(self.last_id), **more}
        try:
            self.record.replace_states(rows, name, patient=self._patient)
        except CannotWrite:
            if self._patient:
                raise
            return False
        return True


def observations(rows: Iterable[AttemptRow]) -> Iterator[tuple[Item, Attempt]]:
    """Rows of the log as `Learner.observe` takes them; skips cards that no family knows any more."""
    for row in rows:
        try:
            yield _item(row.card), attempt_of(row, _mixed_fact(row))
        except FretsureError:
            continue


@lru_cache(maxsize=4096)
def _item(card_id: str) -> Item:
    return KEY_PRESS if card_id == KEY_PRESS.card else entry_of(card_id)[0].item


def _mixed_fact(row: AttemptRow) -> str | None:
    """The fact that a recorded mix-up points at. The log holds only its name, so the card has to derive it again."""
    if row.mixup is None:
        return None
    entry, neck = entry_of(row.card)
    mixups = FAMILIES[entry.item.family].card(entry.facets, neck).mixups_behind(row.given)
    return next((mixup.fact for mixup in mixups if mixup.name == row.mixup), None)
