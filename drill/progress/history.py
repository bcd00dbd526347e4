"""Counts from the log of attempts: the trend over days and weeks, and the mix-ups.

They are made by one pass over the log in bounded memory, when first asked for and never at a start.

    LogCounts    one pass: days, weeks, mix-ups
    Period       a day or a week
    MixupRow     what was confused with what, how often, the focus that cures it, and an example
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import lru_cache
from typing import NamedTuple

from drill.decks import Deck, Focus, entry_of
from drill.errors import FretsureError
from drill.memory import KEY_PRESS
from drill.present.dates import EPOCH
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.questions.facets import string_of
from drill.record import AttemptRow

SLOWEST_MS = 30_000
"""Longer thinking counts as this long in a median: the learner was elsewhere."""


class Period(NamedTuple):
    """A day, or the week that begins on it (a Monday), on the learner's own calendar.

    `first_answers` counts each card once a day, `first_right` how many of those came right: the figure that shows what
    was still known. `median_ms` is the median thinking time of right answers, None when none was measured.
    """

    start: date
    answers: int
    right: int
    first_answers: int
    first_right: int
    median_ms: int | None
    drills: int

    @property
    def first_right_share(self) -> float | None:
        """The share of first answers that came right, 0 to 1."""
        return self.first_right / self.first_answers if self.first_answers else None

    @property
    def median_s(self) -> float | None:
        """The median thinking time in seconds."""
        return None if self.median_ms is None else self.median_ms / 1000


@dataclass(slots=True)
class _PeriodCounts:
    start: date
    answers: int = 0
    right: int = 0
    first_answers: int = 0
    first_right: int = 0
    drills: set[str] = field(default_factory=set)
    times_ms: Counter[int] = field(default_factory=Counter)

    def add(self, row: AttemptRow, *, first: bool) -> None:
        self.answers += 1
        self.right += bool(row.correct)
        self.first_answers += first
        self.first_right += first and bool(row.correct)
        self.drills.add(row.drill)
        if row.correct and row.thinking_ms is not None:
            self.times_ms[min(row.thinking_ms, SLOWEST_MS)] += 1

    def period(self) -> Period:
        return Period(
            self.start,
            self.answers,
            self.right,
            self.first_answers,
            self.first_right,
            _median(self.times_ms),
            len(self.drills),
        )


def local_day(row: AttemptRow) -> date:
    """The day on the learner's own calendar on which the card was asked."""
    return (EPOCH + timedelta(milliseconds=row.asked_at, minutes=row.utc_offset_min)).date()


def monday(day: date) -> date:
    """The Monday that begins the day's week (ISO 8601)."""
    return day - timedelta(days=day.weekday())


class LogCounts:
    """Counts attempts, given in the order in which they were asked.

    Its size grows with the days and the kinds of mix-up, not with the attempts. A journey west can turn the calendar
    back: such an answer counts for the day that is open.
    """

    def __init__(self) -> None:
        self._day, self._week = _PeriodCounts(date.min), _PeriodCounts(date.min)
        self._days: list[Period] = []
        self._weeks: list[Period] = []
        self._asked_today: set[str] = set()
        self._mixups: dict[str, _MixupCounts] = {}

    @classmethod
    def of(cls, rows: Iterable[AttemptRow]) -> LogCounts:
        """The counts of these attempts."""
        counts = cls()
        for row in rows:
            counts.add(row)
        return counts

    def add(self, row: AttemptRow) -> None:
        """Count one attempt more."""
        if not is_answer(row):
            return
        self._turn_to(local_day(row))
        first = row.card not in self._asked_today
        self._asked_today.add(row.card)
        self._day.add(row, first=first)
        self._week.add(row, first=first)
        if row.mixup is not None:
            self._mixups.setdefault(row.mixup, _MixupCounts()).add(row)

    @property
    def days(self) -> tuple[Period, ...]:
        """Every day with an answer, the oldest first."""
        return (*self._days, *_closed(self._day))

    @property
    def weeks(self) -> tuple[Period, ...]:
        """Every week with an answer, the oldest first."""
        return (*self._weeks, *_closed(self._week))

    def mixups(self, deck: Deck) -> tuple[MixupRow, ...]:
        """Every kind of mix-up, the most frequent first, with the focus within the deck that cures it."""
        rows = (_mixup_row(name, counts, deck) for name, counts in self._mixups.items())
        return tuple(sorted((row for row in rows if row), key=lambda row: (-row.times, row.name)))

    def _turn_to(self, day: date) -> None:
        if day <= self._day.start:
            return
        self._days += _closed(self._day)
        self._day, self._asked_today = _PeriodCounts(day), set()
        if monday(day) > self._week.start:
            self._weeks += _closed(self._week)
            self._week = _PeriodCounts(monday(day))


def _closed(counts: _PeriodCounts) -> tuple[Period, ...]:
    return (counts.period(),) if counts.answers else ()


def is_answer(row: AttemptRow) -> bool:
    """Whether the row is an answer to a card, not a card shown or a key press measured."""
    return row.correct is not None and row.card != KEY_PRESS.card


def _median(times_ms: Counter[int]) -> int | None:
    """The lower median of counted values."""
    left = (times_ms.total() + 1) // 2
    for value in sorted(times_ms):
        left -= times_ms[value]
        if left <= 0:
            return value
    return None


# -- mix-ups -----------------------------------------------------------------------------------------------------------


class MixupRow(NamedTuple):
    """A kind of mix-up: how often, the focus within the deck that cures it, if there is one, and an example of that.

    The cure is the kind of question, on the string, where it happens most; the example is the newest from there.
    `prompt` and `sentence` carry marked notes; `given` is the canonical answer.
    """

    name: str
    times: int
    last_at_ms: int
    card: Card
    given: str
    sentence: str
    focus: Focus | None


_Place = tuple[str, int | None]
"""A family and the string its card is about, None where it is about none."""


@dataclass(slots=True)
class _MixupCounts:
    last_at_ms: int = 0
    places: Counter[_Place] = field(default_factory=Counter)
    newest: dict[_Place, AttemptRow] = field(default_factory=dict)

    def add(self, row: AttemptRow) -> None:
        try:
            place = (row.family, _string(row.card))
        except FretsureError:  # a card no family knows any more
            return
        self.last_at_ms = row.answered_at
        self.places[place] += 1
        self.newest[place] = row


def _mixup_row(name: str, counts: _MixupCounts, deck: Deck) -> MixupRow | None:
    if not counts.places:
        return None
    places = [(place, _drill_of(place)) for place, _ in counts.places.most_common()]
    curable = ((place, focus) for place, focus in places if any(map(focus.holds, deck.entries.values())))
    place, cure = next(curable, (places[0][0], None))
    row = counts.newest[place]
    entry, neck = entry_of(row.card)
    card = FAMILIES[entry.item.family].card(entry.facets, neck)
    sentence = next((mixup.sentence for mixup in card.mixups_behind(row.given) if mixup.name == name), "")
    return MixupRow(name, counts.places.total(), counts.last_at_ms, card, row.given, sentence, cure)


def _drill_of(place: _Place) -> Focus:
    family, string = place
    return Focus(strings=() if string is None else (string,), families=(family,))


@lru_cache(maxsize=4096)
def _string(card: str) -> int | None:
    return string_of(entry_of(card)[0].facets)
