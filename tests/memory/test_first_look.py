"""The example in the package's docstring runs, and a drill can be planned with it."""

from itertools import pairwise

from drill.memory import (
    Attempt,
    Item,
    Learner,
    Planner,
    calibration_error,
    dump,
    fades_at,
    forecast,
    load,
    readiness,
    state_of,
)
from tests.support.equal_count import equal_count_bins

NOW = 1_700_000_000.0


def test_a_learner_loaded_from_its_rows_goes_on_exactly_as_before():
    items = [Item(f"c{k}", "f", k, facts=(f"x{k % 4}",)) for k in range(10)]
    learner = Learner()
    for k in range(120):
        learner.observe(items[k * 7 % 10], Attempt(f"c{k * 7 % 10}", NOW + 40 * k, k % 3 > 0, 2.0))
    twin = load(dump(learner))
    assert dump(twin) == dump(learner)
    for each in (learner, twin):
        each.observe(items[3], Attempt("c3", NOW + 90_000, False, 3.0, "x3"))
    assert dump(twin) == dump(learner)


def test_a_drill_asks_and_a_missed_card_comes_back():
    items = [Item(f"c{k}", "f", k) for k in range(30)]
    learner, now, asked = Learner(), NOW, []
    planner = Planner(learner, items, now)
    while choice := planner.next(now, NOW + 300 - now):
        now += 5
        attempt = Attempt(choice.card, now, choice.card != "c0" or "c0" in asked, 3.0)
        learner.observe(items[int(choice.card[1:])], attempt)
        planner.observe(attempt)
        asked.append(choice.card)
    assert asked.count("c0") >= 2
    assert all(a != b for a, b in pairwise(asked))


def test_a_practised_card_is_fluent_and_fades_in_the_days_ahead():
    learner, item = Learner(), Item("c", "f", target_s=3.0)
    assert state_of(learner, item, NOW) == "fresh"
    for k in range(6):
        learner.observe(item, Attempt("c", NOW + 86_400 * k, True, 1.5))
    now = NOW + 5 * 86_400
    assert state_of(learner, item, now + 60) == "fluent"
    fades_s = fades_at(learner, item, now + 60)
    assert fades_s is not None and learner.strength(item, fades_s + 3600) < 0.8
    assert sum(forecast(learner, [item], now + 60, days=400)) == 1
    assert 0 < readiness(learner, [item, Item("never")], now) < readiness(learner, [item], now) < 1


def test_calibration_compares_predictions_with_answers():
    bins = equal_count_bins([(0.2, False), (0.2, False), (0.8, True), (0.8, False)], bins=2)
    assert [(b.answers, b.predicted, b.observed) for b in bins] == [(2, 0.2, 0.0), (2, 0.8, 0.5)]
    assert abs(calibration_error(bins) - 0.25) < 1e-12
    assert equal_count_bins([]) == ()
