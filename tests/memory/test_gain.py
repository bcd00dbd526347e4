"""What asking a card now is worth in a week, beside what an answer in truth leaves behind."""

from __future__ import annotations

import pytest

from drill.memory import Attempt, Item, Learner, dump, load
from drill.memory.gain import HORIZON_S, fluent_chance, gain

ITEM = Item("signature:key=C", "signature", order=0, target_s=2.5)
NOW_S, DAY_S = 1_767_600_000.0, 86_400.0


def in_a_week(learner: Learner) -> float:
    return fluent_chance(learner, ITEM, learner.strength(ITEM, NOW_S + HORIZON_S))


def known_learner() -> Learner:
    """A learner of whom some answers have told what to expect: of a stranger, one answer tells more than it teaches."""
    learner = Learner()
    for k in range(40):
        other = Item(f"other {k % 8}", "relative-minor")
        learner.observe(other, Attempt(other.card, NOW_S - (100 - k // 10) * DAY_S + 60 * k, k % 4 > 0, 1.0))
    return learner


@pytest.mark.parametrize("days_ago", [[1], [30], [3, 2, 1], [*range(90, 0, -9)]])
def test_a_gain_is_most_of_what_a_right_answer_adds_to_recall_in_a_week(days_ago: list[int]) -> None:
    """Not all of it: the answer may be wrong, and a right one also shows the learner to be better than was thought."""
    learner = known_learner()
    for days in days_ago:
        learner.observe(ITEM, Attempt(ITEM.card, NOW_S - days * DAY_S, True, 1.0))
    answered = load(dump(learner))
    answered.observe(ITEM, Attempt(ITEM.card, NOW_S, True, 1.0))
    added = in_a_week(answered) - in_a_week(learner)
    ticks = learner.clock.read(NOW_S, learner.constants)
    assert added / 2 < gain(learner, ITEM, ticks, learner.total(ITEM, ticks)) < added
