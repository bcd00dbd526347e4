"""What a drill has brought up comes quicker than it will tomorrow: today's quick answers promise nothing for then."""

from __future__ import annotations

import pytest

from drill.memory import Attempt, Item, Learner, dump, load, readiness
from drill.memory.gain import within_target

NOW, DAY = 1_700_000_000.0, 86_400.0
BOTH = Item("both", "shape-anchor", 0, 3.0, ("spot:6:1", "finger:minor"))
SPOT = Item("spot", "fret-of-note", 1, 3.0, ("spot:6:1",))
ALONE = Item("alone", "signature", 2, 3.0)


def answer(learner: Learner, item: Item, at_s: float, thinking_s: float = 1.5) -> None:
    learner.observe(item, Attempt(item.card, at_s, True, thinking_s))


def two_speeds(first_s: float, again_s: float, days: int = 12) -> Learner:
    """One who takes `first_s` for the first answer of a day, and `again_s` for the four that follow."""
    learner = Learner()
    for day in range(days):
        for k in range(5):
            answer(learner, BOTH, NOW + day * DAY + 60 * k, again_s if k else first_s)
    return learner


@pytest.mark.parametrize("item", [BOTH, ALONE])
def test_what_was_never_met_is_not_cold(item: Item) -> None:
    assert Learner().coldness(item, NOW) == 0.0


@pytest.mark.parametrize("item", [BOTH, ALONE])
def test_what_this_drill_asked_is_warm_until_the_drill_is_over(item: Item) -> None:
    learner = Learner()
    answer(learner, item, NOW)
    assert learner.coldness(item, NOW + 300) == 0.0
    assert learner.coldness(item, NOW + 2 * 3600) == 1.0


def test_another_card_warms_the_facts_that_it_shares() -> None:
    learner = Learner()
    answer(learner, BOTH, NOW)
    answer(learner, SPOT, NOW + DAY)
    assert learner.coldness(BOTH, NOW + DAY + 60) == 0.5
    assert learner.coldness(SPOT, NOW + DAY + 60) == 0.0


def test_who_has_to_work_it_out_each_morning_is_not_promised_the_pace_of_the_evening() -> None:
    """4 s at the first answer of each day and 1.5 s at the others: tomorrow will be nearer to the first."""
    learner, now = two_speeds(4.0, 1.5), NOW + 11 * DAY + 300
    assert learner.speed(BOTH, now) < 1.8
    assert learner.speed(BOTH, now + DAY) > 2.2
    strength = learner.strength(BOTH, now)
    assert within_target(learner, BOTH, strength) < 0.75 < 0.9 < learner.in_time(BOTH, strength, 3.0)


def test_whoever_is_as_quick_in_the_morning_is_soon_promised_the_same_pace() -> None:
    learner, now = two_speeds(1.5, 1.5), NOW + 11 * DAY + 300
    assert learner.cold.mean < Learner().cold.mean / 2
    assert learner.speed(BOTH, now + DAY) < 1.2 * learner.speed(BOTH, now)


def test_a_stranger_to_whom_nothing_was_cold_yet_is_promised_less_surely() -> None:
    """Of one drill nobody knows what the night will cost; after twelve that is known."""
    one, twelve = two_speeds(1.5, 1.5, days=1), two_speeds(1.5, 1.5)
    assert one.cold.variance == Learner().cold.variance
    assert twelve.cold.variance < one.cold.variance / 8
    known = load(dump(one))
    known.cold.variance = twelve.cold.variance
    strength = one.strength(BOTH, NOW + DAY)
    assert 0.5 < within_target(one, BOTH, strength) < within_target(known, BOTH, strength)


def test_readiness_does_not_rise_with_the_last_minutes_practice() -> None:
    """It says what holds a day after the drill, whether one looks at once or in the evening; later it falls."""
    learner = two_speeds(2.0, 1.5)
    last_s = learner.clock.last_s
    assert last_s is not None
    at_once, evening, tomorrow = (readiness(learner, [BOTH], last_s + hours * 3600) for hours in (0.01, 10, 24))
    assert at_once == evening == tomorrow
    assert readiness(learner, [BOTH], last_s + 10 * DAY) < tomorrow


def test_the_beginning_of_the_drill_is_kept_with_the_rest() -> None:
    learner = two_speeds(2.0, 1.5)
    kept, now = load(dump(learner)), NOW + 11 * DAY + 300
    assert (kept.clock.began, kept.cold) == (learner.clock.began, learner.cold)
    assert kept.coldness(BOTH, now) == learner.coldness(BOTH, now) == 0.0
