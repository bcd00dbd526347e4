"""Looking back and ahead: calibration, what fades when, readiness of a key, what is counted of a card."""

import pytest

from drill.memory import (
    TARGET_STRENGTH,
    Attempt,
    Item,
    Learner,
    calibration_error,
    fades_at,
    forecast,
    readiness,
)
from drill.memory.gain import cost_s, rate, within_target
from tests.support.equal_count import equal_count_bins

NOW, DAY = 1_700_000_000.0, 86_400.0
ITEMS = [Item(f"c{k}", "f", k, 3.0, (f"x{k}",)) for k in range(6)]
KEY = [Item("anchor", "shape-anchor", 0, 3.0, ("spot:6:1", "finger:minor")), Item("relative", "relative-major", 1, 3.0)]


def learner_of(days, items=ITEMS, thinking=2.0):
    learner = Learner()
    for k, item in enumerate(items):
        for day in range(days + k):
            learner.observe(item, Attempt(item.card, NOW + day * DAY + 10 * k, day % 4 != 1, thinking))
    return learner


def test_equal_count_bins_by_hand():
    """Eight answers in four bins: .1 .1 | .4 .6 | .8 .8 | .9 .9 predicted, 0 | 1/2 | 1 | 1/2 came right."""
    predicted = [0.9, 0.1, 0.4, 0.8, 0.6, 0.1, 0.8, 0.9]
    right = [True, False, False, True, True, False, True, False]
    bins = equal_count_bins(zip(predicted, right, strict=True), bins=4)
    assert [b.observed for b in bins] == [0.0, 0.5, 1.0, 0.5]
    assert [b.predicted for b in bins] == pytest.approx([0.1, 0.5, 0.8, 0.9])
    assert calibration_error(bins) == pytest.approx((0.1 + 0.0 + 0.2 + 0.4) / 4)


def test_equal_chances_are_not_sorted_by_what_came():
    assert calibration_error(equal_count_bins([(0.5, k % 2 == 0) for k in range(100)], bins=5)) == pytest.approx(
        0, abs=1e-9
    )


def test_fewer_answers_than_bins_and_none_at_all():
    assert len(equal_count_bins([(0.5, True)], bins=20)) == 1
    assert equal_count_bins([]) == () and calibration_error(()) == 0.0


def test_a_card_fades_when_its_strength_crosses_the_target():
    learner, now = learner_of(6), NOW + 10 * DAY
    holding = [i for i in ITEMS if learner.strength(i, now) >= TARGET_STRENGTH]
    assert holding
    for item in holding:
        at = fades_at(learner, item, now)
        assert learner.strength(item, at - 3600) >= TARGET_STRENGTH > learner.strength(item, at + 3600)
    assert fades_at(learner, Item("never met"), now) is None


def test_a_card_that_has_faded_fades_now():
    learner = Learner()
    learner.observe(ITEMS[0], Attempt("c0", NOW, False, 3.0))
    assert fades_at(learner, ITEMS[0], NOW + DAY) == NOW + DAY


def test_the_forecast_counts_each_card_on_the_day_it_fades():
    learner, now = learner_of(6), NOW + 10 * DAY
    counts = forecast(learner, [*ITEMS, Item("never met")], now, days=400)
    days = [int((fades_at(learner, item, now) - now) // DAY) for item in ITEMS if fades_at(learner, item, now) > now]
    assert list(counts) == [days.count(day) for day in range(400)]
    assert sum(forecast(learner, ITEMS, now, days=1)) <= sum(counts)


def test_readiness_is_the_product_of_right_and_in_time():
    learner, now = learner_of(8, KEY), NOW + 10 * DAY
    each = [learner.strength(i, now) * within_target(learner, i, learner.strength(i, now), 2.4) for i in KEY]
    assert readiness(learner, KEY, now, bar_s=2.4) == pytest.approx(each[0] * each[1])
    assert readiness(learner, KEY, now, bar_s=1.0) < readiness(learner, KEY, now, bar_s=2.4)
    assert readiness(learner, [], now) == 1.0
    assert readiness(Learner(), KEY, now) < 0.1


def test_within_target_is_even_at_the_expected_time():
    learner, now = learner_of(5), NOW + 6 * DAY
    strength = learner.strength(ITEMS[0], now)
    assert within_target(learner, ITEMS[0], strength, learner.speed(ITEMS[0], now)) == pytest.approx(0.5)


def test_a_card_counts_its_answers_and_the_moments_of_the_first_and_the_last():
    card = learner_of(5, KEY).cards["anchor"]
    assert (card.asked, card.right) == (5, 4)
    assert (card.first_s, card.last_s) == (NOW, NOW + 4 * DAY)


def test_asking_is_worth_most_where_something_is_to_be_gained_for_little():
    learner, now = learner_of(6), NOW + 12 * DAY
    solid, ticks = Item("solid", "f"), learner.clock.read(now, learner.constants)
    for day in range(30):
        learner.observe(solid, Attempt("solid", NOW + day * DAY, True, 1.0))
    ticks = learner.clock.read(NOW + 30 * DAY, learner.constants)
    assert rate(learner, ITEMS[1], ticks) > rate(learner, solid, ticks) > 0
    assert cost_s(learner, solid, 0.2) > cost_s(learner, solid, 0.95), "a miss costs reading time"
