"""Moments in words and figures: seconds since the epoch on the learner's own calendar, or as programs read them.

moment        a moment as a date and time in UTC
local         the same on the learner's calendar
in_sight      whether it is near enough to be promised
relative_day  its day in words, seen from now
day_in_words  a day of the calendar in words, whatever the day it is read on
iso_utc       ISO 8601 in UTC
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from drill.system.environment import Environment

DAY_S = 86_400.0
EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
FAR_DAYS = 28
"""No date further ahead is promised. The model calculates strengths for years ahead, and no answer of this learner has
tested them. And a drill in about four weeks is what long memory needs: to still know something after a year it is best
met again after 5 to 10 per cent of that time, 18 to 36 days (Cepeda, Vul, Rohrer, Wixted & Pashler 2008, Psychol Sci
19:1095)."""


def moment(at_s: float) -> datetime:
    """A moment as a date and time in UTC, in the years 1 to 9999. Raises OverflowError beyond.

    It is counted from the epoch because `fromtimestamp` fails on Windows before 1970 and after the year 3000:
    https://docs.python.org/3/library/datetime.html#datetime.datetime.fromtimestamp
    """
    return EPOCH + timedelta(seconds=at_s)


def local(at_s: float, environment: Environment) -> datetime:
    """A moment as the learner's clock and calendar show it. Its time zone says UTC; its figures are local."""
    return moment(at_s) + timedelta(minutes=environment.utc_offset_minutes(at_s))


def in_sight(at_s: float, now_s: float) -> bool:
    """Whether a moment is no further ahead than a date may be promised."""
    return at_s <= now_s + FAR_DAYS * DAY_S


def relative_day(at_s: float, environment: Environment) -> str:
    """The day of a moment in words, to follow a verb: 'today', 'tomorrow', 'Friday', 'in 9 days, on 3 December'."""
    now_s = environment.now()
    today, day = (local(each_s, environment).date() for each_s in (now_s, at_s))
    ahead = (day - today).days
    if ahead <= 0:
        return "today"
    if ahead > FAR_DAYS and in_sight(at_s, now_s):  # four weeks, and an hour more by the change of clocks
        ahead, day = FAR_DAYS, today + timedelta(days=FAR_DAYS)
    if ahead > FAR_DAYS:
        return "in more than four weeks"
    return "tomorrow" if ahead == 1 else f"{day:%A}" if ahead < 7 else f"in {ahead} days, on {day.day} {day:%B}"


def day_in_words(day: date) -> str:
    """A day of the calendar: '26 November 2026'."""
    return f"{day.day} {day:%B} {day.year}"


def iso_utc(at_s: float | None) -> str | None:
    """A moment in UTC, to the millisecond: '2026-01-05T08:00:00.000Z'."""
    if at_s is None:
        return None
    return moment(at_s).isoformat(timespec="milliseconds").replace("+00:00", "Z")
