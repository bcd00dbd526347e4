"""When today's minutes are done."""

from __future__ import annotations

import pytest

from drill.practice.done_today import LONGEST_S, drilled_s, is_done, of_today
from drill.practice.pace import answers_in
from drill.record import AttemptRow, Record
from drill.system.environment import Environment
from tests.support.records import attempt, drill
from tests.support.worlds import HandClock


def answers(record: Record, clock: HandClock, count: int, every_s: float = 5.0, name: str = "d") -> None:
    """A drill of so many answers, one in so many seconds."""
    record.start_drill(drill(id=name, started_at=round(1000 * clock.now_s)))
    for number in range(count):
        asked_at = round(1000 * clock.now_s)
        clock.tick(every_s)
        at = {"asked_at": asked_at, "answered_at": round(1000 * clock.now_s)}
        record.append(attempt(number, uid=f"{name}-{number}", drill=name, **at))


def test_five_minutes_are_done_when_no_answer_fits_any_more(
    record: Record, clock: HandClock, fake_environment: Environment
) -> None:
    answers(record, clock, 40)
    assert not is_done(of_today(record, fake_environment), 5), "200 seconds"
    clock.tick(3600)
    answers(record, clock, 15, name="later")
    assert is_done(of_today(record, fake_environment), 5), "275 seconds, in two drills"
    assert not is_done(of_today(record, fake_environment), 10)


def test_another_day_begins_anew(record: Record, clock: HandClock, fake_environment: Environment) -> None:
    answers(record, clock, 60)
    assert is_done(of_today(record, fake_environment), 5)
    clock.tick(86_400)
    assert not is_done(of_today(record, fake_environment), 5)


@pytest.mark.parametrize(("every_s", "fit"), [(3.0, 100), (5.0, 60), (11.0, 25)])
def test_the_pace_is_that_of_the_newest_answers(record: Record, clock: HandClock, every_s: float, fit: int) -> None:
    answers(record, clock, 19, every_s)
    assert answers_in(300, record) is None, "too few to tell"
    answers(record, clock, 120, every_s, name="next")
    assert answers_in(300, record) == fit
    answers(record, clock, 100, 6.0, name="later")
    assert answers_in(300, record) == 50


def row(asked_s: float, answered_s: float, of: str = "d") -> AttemptRow:
    return attempt(0, asked_at=round(1000 * asked_s), answered_at=round(1000 * answered_s), drill=of)


@pytest.mark.parametrize(
    ("rows", "seconds"),
    [
        ([], 0),
        ([row(0, 4), row(6, 9)], 9),  # the verdict is read from 4 to 6
        ([row(0, 4), row(3600, 3604, "e")], 8),  # nothing between two drills
        ([row(0, 4), row(3600, 3604)], 4 + LONGEST_S),  # a long pause
        ([row(0, 4), row(-9, -5)], 4),  # a clock set back
    ],
)
def test_time_runs_from_answer_to_answer_and_not_in_pauses(rows: list[AttemptRow], seconds: float) -> None:
    assert drilled_s(rows) == seconds


def test_the_evening_before_the_clocks_go_forward_is_not_today(
    record: Record, clock: HandClock, fake_environment: Environment
) -> None:
    """In Berlin 29 March 2026 has 23 hours: at 02:00 it is 03:00."""
    spring_s = 1_774_746_000.0  # 2026-03-29 01:00 UTC
    there = fake_environment._replace(utc_offset_minutes=lambda at_s: 120 if at_s >= spring_s else 60)
    clock.now_s = spring_s - 2.5 * 3600  # 23:30 on 28 March
    answers(record, clock, 60)
    assert is_done(of_today(record, there), 5)
    clock.tick(9 * 3600)
    assert not is_done(of_today(record, there), 5)


def test_the_night_in_which_the_clocks_go_back_is_today(
    record: Record, clock: HandClock, fake_environment: Environment
) -> None:
    """In Berlin 25 October 2026 has 25 hours: at 03:00 it is 02:00."""
    autumn_s = 1_792_890_000.0  # 2026-10-25 01:00 UTC
    there = fake_environment._replace(utc_offset_minutes=lambda at_s: 60 if at_s >= autumn_s else 120)
    clock.now_s = autumn_s - 2.9 * 3600  # 00:06 on 25 October
    answers(record, clock, 60)
    clock.tick(9 * 3600)
    assert is_done(of_today(record, there), 5)
