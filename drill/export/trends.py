"""Growth over weeks: what is better than before, what is worse, and the values of the two trends."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date, timedelta
from typing import NamedTuple

from drill.export.pages import NO_BREAK, day_in_short, day_in_words
from drill.export.svg import Scale
from drill.present.figures import how_many, per_cent, seconds
from drill.progress import Period
from drill.progress.history import FEWEST_ANSWERS

TREND_WEEKS = 26
"""As far back as a trend reaches, in weeks before the newest."""
PAUSE_DAYS = 14
"""From so many days without a drill on, the report says so."""


class Measure(NamedTuple):
    """A figure of each week: its name, where it stands, how it is written, and whether more of it is better.

    `answers` counts those that the figure of a week rests on.
    """

    name: str
    title: str
    get: Callable[[Period], float | None]
    answers: Callable[[Period], int]
    write: Callable[[float], str]
    more_is_better: bool
    least: float
    """The least change worth telling, as a share of the figure."""


class Trend(NamedTuple):
    """The values of a measure, each at the Monday of its week, oldest first."""

    name: str
    title: str
    sentence: str
    values: Sequence[tuple[date, float]]
    scale: Scale


KNOWN = Measure(
    "Right at first",
    "Share of each day's first typed answers that came right",
    lambda week: week.first_right_share,
    lambda week: week.first_answers,
    per_cent,
    True,
    0.03,
)
TIME = Measure(
    "Time of a right answer, reading included",
    "Median time of right answers, reading and the key press included",
    lambda week: week.median_s,
    lambda week: week.right,
    seconds,
    False,
    0.1,
)


def grew(weeks: Sequence[Period]) -> list[str]:
    """What is better in the newest week than in the one before it, and than in the first; a sentence each."""
    return list(_changes(weeks, better=True))


def fell(weeks: Sequence[Period]) -> list[str]:
    """What is worse in the newest week than in the one before it."""
    return list(_changes(weeks[-2:], better=False))


def _changes(weeks: Sequence[Period], *, better: bool) -> Iterator[str]:
    if len(weeks) < 2:
        return
    for measure in (KNOWN, TIME):
        now = _sure(measure, weeks[-1])
        for earlier in dict.fromkeys((weeks[-2], weeks[0])):
            before = _sure(measure, earlier)
            if before is None or now is None or not _is_news(measure, before, now):
                continue
            if ((now > before) == measure.more_is_better) == better:
                yield f"{_moved(measure, before, now)} in the week of {day_in_short(earlier.start)}."


def can_tell(week: Period) -> bool:
    """Whether the week has enough answers to be held against another."""
    return any(_sure(measure, week) is not None for measure in (KNOWN, TIME))


def _sure(measure: Measure, week: Period) -> float | None:
    """The figure of a week, if it rests on enough answers."""
    return measure.get(week) if measure.answers(week) >= FEWEST_ANSWERS else None


def _is_news(measure: Measure, before: float, now: float) -> bool:
    """Whether a change is large enough to tell, and can be seen in the figures as they are written."""
    return abs(now - before) >= measure.least * before and measure.write(now) != measure.write(before)


def _moved(measure: Measure, before: float, now: float) -> str:
    way = "up" if now > before else "down"
    return f"{measure.name}: {_told(measure, now)}, {way} from {_told(measure, before)}"


def _told(measure: Measure, value: float) -> str:
    return measure.write(value).replace(" ", NO_BREAK)


def pause_sentence(last: date, today: date) -> Iterator[str]:
    """Say that the last drill was long ago, if it was."""
    if (today - last).days >= PAUSE_DAYS:
        weeks = (today - last).days // 7
        yield f"No drill for {how_many(weeks, 'week')}: the last was on {day_in_words(last)}."


def trends(weeks: Sequence[Period]) -> Iterator[Trend]:
    """The share known and the time it took, over the last half year."""
    recent = [week for week in weeks if weeks[-1].start - week.start <= timedelta(weeks=TREND_WEEKS)]
    for name, measure in (("trend-known", KNOWN), ("trend-time", TIME)):
        values = [(week.start, value) for week in recent if (value := measure.get(week)) is not None]
        if values:
            yield Trend(
                name, measure.title, _sentence(values, measure), values, Scale(_top(values, measure), measure.write)
            )


def _top(values: Sequence[tuple[date, float]], measure: Measure) -> float:
    """Where the axis ends: at certainty, or a second above the slowest week."""
    return 1.0 if measure is KNOWN else float(max(2, round(max(value for _, value in values) + 0.5)))


def _sentence(values: Sequence[tuple[date, float]], measure: Measure) -> str:
    """The trend for a screen reader."""
    (first, start), (last, end) = values[0], values[-1]
    return (
        f"From {measure.write(start)} in the week of {day_in_words(first)} to {measure.write(end)} "
        f"in the week of {day_in_words(last)}."
    )
