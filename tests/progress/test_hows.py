"""How answers came, counted apart: in progress, in a card's history, and on the page of a class."""

from __future__ import annotations

from drill.classroom.answers import Answers
from drill.progress.history import LogCounts
from drill.progress.hows import HowRow, how_sentence
from drill.record import AttemptRow
from tests.support.records import attempt

TYPED = [
    attempt(n, correct=n != 2, thinking_ms=1000 * (n + 1), mixup="other string" if n == 2 else None) for n in range(5)
]
PLAYED = [attempt(n, how="played", correct=n != 6, thinking_ms=9000, mixup=None) for n in range(5, 9)]


def exported(row: AttemptRow) -> dict[str, str]:
    """A row of an exported table, as far as a class reads it."""
    return {
        "card": row.card,
        "asked_at": "2026-01-05T08:00:00Z",
        "utc_offset_min": "0",
        "given": row.given,
        "correct": "true" if row.correct else "false",
        "mixup": row.mixup or "",
        "thinking_ms": str(row.thinking_ms),
        "target_ms": "3000",
        "how": row.how,
    }


def test_each_way_has_its_own_count_and_its_own_time() -> None:
    """Of the four typed and right, after 1, 2, 4 and 5 s, the lower middle one took 2 s."""
    assert LogCounts.of(TYPED + PLAYED).hows == (HowRow("typed", 5, 4, 2.0), HowRow("played", 4, 3, 9.0))


def test_times_and_mixups_of_the_weeks_are_those_of_typed_answers() -> None:
    both, typed = LogCounts.of(TYPED + PLAYED), LogCounts.of(TYPED)
    assert [week.median_ms for week in both.weeks] == [week.median_ms for week in typed.weeks]
    assert [week.answers for week in both.weeks] == [9]
    assert both._mixups._answers == typed._mixups._answers


def test_growth_is_told_of_cards_whose_first_answer_of_a_day_was_typed() -> None:
    """Of two cards one is played and missed, then typed; the other is only typed."""
    rows = [
        attempt(0, card="a", how="played", correct=False),
        attempt(1, card="a", correct=True),
        attempt(2, card="b", correct=True),
    ]
    (week,) = LogCounts.of(rows).weeks
    assert (week.answers, week.first_answers, week.first_right) == (3, 1, 1)


def test_who_only_types_reads_nothing_of_it() -> None:
    assert how_sentence(LogCounts.of(TYPED).hows) == ""


def test_a_class_counts_played_answers_apart() -> None:
    """A teacher sees that there are some; what a student is stuck on is told from typed ones alone."""
    both, typed = Answers(), Answers()
    both.read(exported(row) for row in TYPED + PLAYED)
    typed.read(exported(row) for row in TYPED)
    assert (both.count, both.played, both.played_right) == (9, 4, 3)
    assert (both.cells, both.mixups, both.chances) == (typed.cells, typed.mixups, typed.chances)
    (day,), (before,) = both.days.values(), typed.days.values()
    assert (day.answers, day.typed, day.right, day.in_time) == (9, 5, 4, before.in_time)


def test_right_this_week_on_the_page_of_a_class_is_of_typed_answers() -> None:
    both = Answers()
    both.read(exported(row) for row in TYPED + PLAYED)
    week = both.answers_in(range(min(both.days), max(both.days) + 1))
    assert (week.answers, week.right_share) == (9, 4 / 5)
    played = Answers()
    played.read(exported(row) for row in PLAYED)
    assert next(iter(played.days.values())).right_share is None


def test_exports_of_before_played_answers_are_read_as_ever() -> None:
    old = Answers()
    old.read({name: value for name, value in exported(row).items() if name != "how"} for row in TYPED)
    assert (old.count, old.played) == (5, 0)
