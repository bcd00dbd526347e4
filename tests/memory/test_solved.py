"""Which cards are shown solved before any of their kind is asked."""

from __future__ import annotations

from drill.memory import Attempt, Item, Learner
from drill.memory.board import Board
from drill.memory.solved import FORGOTTEN_S, MOST, Lessons

FIRST, SECOND, OTHER = Item("a:1", "a"), Item("a:2", "a", 1), Item("b:1", "b", 2)
MORE = [Item(f"a:{number}", "a", number) for number in range(3, 9)]


def lessons_of(learner: Learner, now_s: float = 0.0) -> Lessons:
    return Lessons(Board(learner, [FIRST, SECOND, OTHER, *MORE], now_s, None))


def answered(lessons: Lessons, learner: Learner, item: Item, right: bool | None, at_s: float = 100.0) -> None:
    attempt = Attempt(item.card, at_s, right, 1.0)
    learner.observe(item, attempt)
    lessons.observe(item, attempt)


def test_the_first_card_of_a_kind_is_shown_and_the_next_is_asked() -> None:
    learner = Learner()
    lessons = lessons_of(learner)
    assert lessons.wants(FIRST)
    answered(lessons, learner, FIRST, None)
    assert not lessons.wants(FIRST)
    assert not lessons.wants(SECOND)
    assert lessons.wants(OTHER), "another kind has its own first card"


def test_a_miss_on_a_kind_that_was_never_right_brings_another_solved_card_and_a_later_miss_none() -> None:
    learner = Learner()
    lessons = lessons_of(learner)
    answered(lessons, learner, FIRST, None)
    answered(lessons, learner, FIRST, False)
    assert lessons.wants(SECOND)
    answered(lessons, learner, SECOND, None)
    assert not lessons.wants(FIRST)
    answered(lessons, learner, FIRST, True)
    answered(lessons, learner, FIRST, False)
    assert not lessons.wants(SECOND), "it has been right once, so the kind is understood"


def test_short_drills_of_one_day_show_no_more_of_a_kind_than_one_drill() -> None:
    learner, shown = Learner(), 0
    for drill in range(6):
        lessons, at_s = lessons_of(learner, 600.0 * drill), 600.0 * drill
        for item in MORE:  # whoever misses everything
            if lessons.wants(item):
                shown += 1
                answered(lessons, learner, item, None, at_s)
            answered(lessons, learner, item, False, at_s + 10)
    assert shown == MOST
    lessons = lessons_of(learner, 86_400.0)
    answered(lessons, learner, FIRST, False, 86_400.0)
    assert lessons.wants(SECOND), "a miss on the next day"


def test_a_kind_that_was_never_right_is_shown_again_after_weeks_and_one_that_was_is_not() -> None:
    learner = Learner()
    lessons = lessons_of(learner)
    answered(lessons, learner, FIRST, None)
    answered(lessons, learner, FIRST, False)
    answered(lessons, learner, OTHER, None)
    answered(lessons, learner, OTHER, True)
    assert not lessons_of(learner, FORGOTTEN_S / 2).wants(SECOND)
    later = lessons_of(learner, 2 * FORGOTTEN_S)
    assert later.wants(SECOND)
    assert not later.wants(OTHER)


def test_no_card_is_shown_twice_on_a_day() -> None:
    learner = Learner()
    lessons = lessons_of(learner)
    answered(lessons, learner, FIRST, None)
    answered(lessons, learner, SECOND, False)
    assert not lessons.wants(FIRST), "it was shown a minute ago, and is asked"
    assert not lessons_of(learner, 600.0).wants(FIRST)
    again = lessons_of(learner, 86_400.0)
    answered(again, learner, SECOND, False, 86_400.0)
    assert again.wants(FIRST)


def test_a_card_shown_on_an_earlier_day_and_never_asked_is_shown_again_first() -> None:
    learner, tomorrow = Learner(), 86_400.0
    lessons = lessons_of(learner)
    answered(lessons, learner, FIRST, None)
    answered(lessons, learner, SECOND, True)
    assert not lessons_of(learner, 600.0).wants(FIRST), "a few minutes later it is remembered"
    lessons = lessons_of(learner, tomorrow)
    assert lessons.wants(FIRST)
    assert lessons.is_reminder(FIRST)
    assert not lessons.wants(SECOND), "it was asked"
    answered(lessons, learner, FIRST, None, tomorrow)
    assert not lessons.wants(FIRST)


def test_a_card_shown_on_an_earlier_day_and_asked_today_takes_no_solved_card_from_today() -> None:
    learner, tomorrow = Learner(), 86_400.0
    lessons = lessons_of(learner)
    for item in MORE[:MOST]:
        answered(lessons, learner, item, None)
    lessons = lessons_of(learner, tomorrow)
    for item in MORE[:MOST]:
        answered(lessons, learner, item, False, tomorrow)
    lessons = lessons_of(learner, tomorrow + 600)
    answered(lessons, learner, FIRST, False, tomorrow + 700)
    assert lessons.wants(SECOND), "none was shown today"
