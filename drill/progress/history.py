"""Counts from the log of attempts: the trend over days and weeks, and the mix-ups.

They are made by one pass over the log in bounded memory, when first asked for and never at a start.

    LogCounts    one pass: days, weeks, mix-ups (see mixup_counts)
    Period       a day or a week
    with_gaps    weeks with those between them in which nothing was answered
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import NamedTuple

from drill.decks import Deck
from drill.memory import KEY_PRESS
from drill.present.dates import EPOCH, day_in_words
from drill.present.figures import per_cent, seconds
from drill.progress.hows import SLOWEST_MS, HowCounts, HowRow, lower_median
from drill.progress.mixup_counts import MixupCounts, MixupRow
from drill.record import AttemptRow

FEWEST_ANSWERS = 25
"""A figure of a week rests on so many answers at least before it is held against another week's. Of so many, the share
that comes right is known to within a fifth, at 95 % confidence and at worst: 1.96 * sqrt(0.5 * 0.5 / 25) = 0.196."""

FROM_QUESTION_TO_KEY = "These times include reading and the key press."
"""Beside times as they were measured; elsewhere times leave both out."""


class Period(NamedTuple):
    """A day, or the week that begins on it (a Monday), on the learner's own calendar.

    `first_answers` counts each card whose first answer of a day was typed, `first_right` how many of those came right:
    the figure that shows what was still known. `median_ms` is the median thinking time of typed right answers, None
    when none was measured.
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
        """The share of typed first answers that came right, 0 to 1."""
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
        if row.correct and row.thinking_ms is not None and row.how == "typed":
            self.times_ms[min(row.thinking_ms, SLOWEST_MS)] += 1

    def period(self) -> Period:
        return Period(
            self.start,
            self.answers,
            self.right,
            self.first_answers,
            self.first_right,
            lower_median(self.times_ms),
            len(self.drills),
        )


def with_gaps(weeks: Sequence[Period], today: date) -> tuple[Period, ...]:
    """The weeks with every week between them, and up to that of `today`, in which nothing was answered."""
    if not weeks:
        return ()
    by_start = {week.start: week for week in weeks}
    first, last = weeks[0].start, max(weeks[-1].start, monday(today))
    starts = (first + timedelta(weeks=number) for number in range((last - first).days // 7 + 1))
    return tuple(by_start.get(start, Period(start, 0, 0, 0, 0, None, 0)) for start in starts)


def trend_sentence(weeks: Sequence[Period]) -> str:
    """Growth against oneself: the newest week beside the first, of those with enough answers; empty without two.

    >>> old = Period(date(2026, 5, 4), 45, 30, 30, 15, 3400, 1)
    >>> trend_sentence([old, Period(date(2026, 6, 1), 45, 44, 40, 35, 2100, 1)]).split("; ")[0]
    'In the week of 1 June 2026 88% came right at the first try of a day, in 2.1 s'
    """
    measured = [week for week in weeks if min(week.first_answers, week.right) >= FEWEST_ANSWERS and week.median_s]
    if len(measured) < 2:
        return ""
    (now, now_s, newest), (then, then_s, first) = (
        (per_cent(week.first_right_share or 0.0), seconds(week.median_s or 0.0), day_in_words(week.start))
        for week in (measured[-1], measured[0])
    )
    return (
        f"In the week of {newest} {now} came right at the first try of a day, in {now_s}; in that of {first} {then}, "
        f"in {then_s}. {FROM_QUESTION_TO_KEY}"
    )


def local_day(row: AttemptRow) -> date:
    """The day on the learner's own calendar on which the card was asked."""
    return (EPOCH + timedelta(milliseconds=row.asked_at, minutes=row.utc_offset_min)).date()


def monday(day: date) -> date:
    """The Monday that begins the day's week (ISO 8601)."""
    return day - timedelta(days=day.weekday())


class LogCounts:
    """Counts attempts, given in the order in which they were asked.

    Its size grows with the days, the cards and the kinds of mix-up, not with the attempts. A journey west can turn the
    calendar back: such an answer counts for the day that is open.
    """

    def __init__(self) -> None:
        self._day, self._week = _PeriodCounts(date.min), _PeriodCounts(date.min)
        self._days: list[Period] = []
        self._weeks: list[Period] = []
        self._asked_today: set[str] = set()
        self._mixups = MixupCounts()
        self._hows = HowCounts()

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
        typed = row.how == "typed"  # a miss that was played may be misheard
        self._day.add(row, first=first and typed)
        self._week.add(row, first=first and typed)
        self._hows.add(row)
        if typed:  # a note that is heard does not tell what was confused
            self._mixups.add(row)

    @property
    def days(self) -> tuple[Period, ...]:
        """Every day with an answer, the oldest first."""
        return (*self._days, *_closed(self._day))

    @property
    def weeks(self) -> tuple[Period, ...]:
        """Every week with an answer, the oldest first."""
        return (*self._weeks, *_closed(self._week))

    @property
    def hows(self) -> tuple[HowRow, ...]:
        """How the answers came, the most frequent way first."""
        return self._hows.rows

    def mixups(self, deck: Deck) -> tuple[MixupRow, ...]:
        """Every kind of mix-up, the one that stands out most first, with the focus within the deck that cures it."""
        return self._mixups.rows(deck)

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
