"""Moments, told: seconds since the epoch as the learner's own calendar has them, or as programs read them.

local     a moment on the learner's calendar
day_of    its day, in words, seen from now
utc       ISO 8601 in UTC
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from drill.environment import Environment

FAR_DAYS = 183
"""Further ahead a date would promise more than the memory's model can know."""


def local(at_s: float, environment: Environment) -> datetime:
    """A moment as the learner's clock and calendar show it; its time zone says UTC, but the figures are local."""
    return datetime.fromtimestamp(at_s, UTC) + timedelta(minutes=environment.utc_offset_minutes(at_s))


def day_of(at_s: float, environment: Environment) -> str:
    """The day of a moment in words, to follow a verb: 'today', 'tomorrow', 'Friday', 'in 9 days, on 03 December'."""
    today, day = (local(moment, environment).date() for moment in (environment.now(), at_s))
    ahead = (day - today).days
    if ahead <= 0:
        return "today"
    if ahead > FAR_DAYS:
        return "in more than half a year"
    return "tomorrow" if ahead == 1 else f"{day:%A}" if ahead < 7 else f"in {ahead} days, on {day:%d %B}"


def utc(at_s: float | None) -> str | None:
    """A moment in UTC, to the millisecond: '2026-01-05T08:00:00.000Z'."""
    if at_s is None:
        return None
    return datetime.fromtimestamp(at_s, UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
