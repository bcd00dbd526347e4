"""Which cards are shown solved before any of their kind is asked."""

from __future__ import annotations

from drill.memory import Attempt, Item, Learner
from drill.memory.board import Board
from drill.memory.solved import Lessons

FIRST, SECOND, OTHER = Item("a:1", "a"), Item("a:2", "a", 1), Item("b:1", "b", 2)


def lessons_of(learner: Learner) -> Lessons:
    return Lessons(Board(learner, [FIRST, SECOND, OTHER], 0.0, None))


def answered(lessons: Lessons, learner: Learner, item: Item, right: bool | None) -> None:
    attempt = Attempt(item.card, 100.0, right, 1.0)
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
