"""Moments on the learner's calendar and in UTC."""

from __future__ import annotations

from datetime import datetime

import pytest

from drill.present.dates import iso_utc, local, relative_day
from drill.system.environment import Environment

DAY_S = 86_400


def test_a_moment_is_shown_by_the_learners_clock(fake_environment: Environment) -> None:
    now_s = fake_environment.now()
    ahead = local(now_s, fake_environment).timestamp() - now_s
    assert ahead == 60 * fake_environment.utc_offset_minutes(now_s)


def test_utc_is_iso_8601_to_the_millisecond() -> None:
    """Unix time 1,700,000,000 is 2023-11-14 22:13:20 UTC (counted by hand: 19,675 days and 80,000 seconds)."""
    assert 19_675 * DAY_S + 80_000 == 1_700_000_000
    assert iso_utc(1_700_000_000.25) == "2023-11-14T22:13:20.250Z"
    assert datetime.fromisoformat(iso_utc(1_700_000_000.25) or "").timestamp() == 1_700_000_000.25
    assert iso_utc(None) is None


@pytest.mark.parametrize(
    ("days", "said"),
    [
        (-400, "today"),
        (0, "today"),
        (1, "tomorrow"),
        (2, "Wednesday"),
        (6, "Sunday"),
        (7, "in 7 days, on 12 January"),
        (28, "in 28 days, on 2 February"),
        (29, "in more than four weeks"),
    ],
)
def test_a_day_is_told_from_today(fake_environment: Environment, days: int, said: str) -> None:
    """Today is Monday, the fifth of January 2026."""
    assert relative_day(fake_environment.now() + days * DAY_S, fake_environment) == said


@pytest.mark.parametrize(("days", "said"), [(28, "in 28 days, on 2 February"), (29, "in more than four weeks")])
def test_four_weeks_over_the_change_of_clocks_in_spring_are_four_weeks(
    fake_environment: Environment, days: int, said: str
) -> None:
    """At 23:30, so many days of 24 hours later, it is half past midnight by a clock put forward in between."""
    begin = fake_environment.now()
    now_s = begin + DAY_S - begin % DAY_S - 1800 - 3600  # 23:30 by a clock an hour ahead of UTC
    change = now_s + 20 * DAY_S
    spring = fake_environment._replace(now=lambda: now_s, utc_offset_minutes=lambda at_s: 60 if at_s < change else 120)
    assert local(now_s, spring).strftime("%H:%M %d") == "23:30 05"
    assert relative_day(now_s + days * DAY_S, spring) == said


def test_tomorrow_begins_at_the_learners_own_midnight(fake_environment: Environment) -> None:
    now = local(fake_environment.now(), fake_environment)
    to_midnight_s = DAY_S - (3600 * now.hour + 60 * now.minute + now.second)
    assert relative_day(fake_environment.now() + to_midnight_s - 1, fake_environment) == "today"
    assert relative_day(fake_environment.now() + to_midnight_s, fake_environment) == "tomorrow"
