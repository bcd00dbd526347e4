"""What a day's answers change on the faces."""

from __future__ import annotations

import pytest

from drill.memory import Attempt, Item, Learner, Settled, Sitting
from drill.memory.sitting import REST_S

DAY_S = 86_400.0
LOW_C, C_BY_NAME, LOW_F = (
    Item("note-at-fret:C", "note-at-fret", facts=("spot:6:8",)),
    Item("fret-of-note:C", "fret-of-note", facts=("spot:6:8",)),
    Item("note-at-fret:F", "note-at-fret", facts=("spot:6:1",)),
)
CARDS = (LOW_C, C_BY_NAME, LOW_F)


@pytest.fixture
def learner() -> Learner:
    """Who has met three cards, two of them about one spot, a week long."""
    learner = Learner()
    for day in range(7):
        for second, item in enumerate(CARDS):
            learner.observe(item, Attempt(item.card, day * DAY_S + 10 * second, True, 1.5))
    return learner


def missed(learner: Learner, at_s: float, times: int = 4) -> Sitting:
    sitting = Sitting.begin(learner, at_s)
    for number in range(times):
        learner.observe(LOW_C, Attempt(LOW_C.card, at_s + 90 * number, False, 4.0))
    return sitting


def test_a_miss_changes_the_card_and_what_shares_its_fact_and_nothing_else(learner: Learner) -> None:
    now_s = 7 * DAY_S + 600
    before = {item.card: learner.strength(item, now_s) for item in CARDS}
    speed = learner.speed(LOW_F, now_s)
    sitting = missed(learner, 7 * DAY_S)
    settled = Settled(learner, sitting)
    after = {item.card: settled.of(item).strength(item, now_s) for item in CARDS}
    assert after[LOW_C.card] < before[LOW_C.card] - 0.05
    assert after[C_BY_NAME.card] < before[C_BY_NAME.card]
    assert after[LOW_F.card] == pytest.approx(before[LOW_F.card], abs=0.005), "only the clock went on"
    assert settled.of(LOW_F).speed(LOW_F, now_s) == pytest.approx(speed, rel=0.02), "the same"
    assert learner.strength(LOW_F, now_s) < before[LOW_F.card] - 0.02, "the planner knows what the faces keep back"


def test_the_next_sitting_begins_with_the_new_belief(learner: Learner) -> None:
    missed(learner, 7 * DAY_S)
    tomorrow_s = 8 * DAY_S
    assert Sitting.begins(learner, tomorrow_s)
    settled = Settled(learner, Sitting.begin(learner, tomorrow_s))
    assert settled.of(LOW_F).strength(LOW_F, tomorrow_s) == learner.strength(LOW_F, tomorrow_s)


def test_two_drills_of_an_evening_are_one_sitting(learner: Learner) -> None:
    assert learner.clock.last_s is not None
    assert not Sitting.begins(learner, learner.clock.last_s + REST_S)
    assert Sitting.begins(Learner(), 0.0), "the first answer of all begins one"


def test_without_a_sitting_all_is_shown_as_it_is(learner: Learner) -> None:
    assert Settled(learner).of(LOW_F) is learner
