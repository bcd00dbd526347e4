"""What is decided on purpose: absence, pauses, slips, clocks set back, odd times, shared facts, key presses."""

import math

import pytest

from drill.memory import (
    DEFAULT,
    KEY_PRESS,
    Attempt,
    Item,
    Learner,
    fades_at,
    is_fresh,
    is_holding,
    state_of,
)
from drill.memory.belief import Belief, logistic, logit
from drill.memory.learner import LEVEL, MISSED, STEEPNESS

NOW, DAY = 1_700_000_000.0, 86_400.0
SPOT_A = Item("note a", "note-at-fret", 0, 2.5, ("spot:6:1",))
BACK_A = Item("fret a", "fret-of-note", 1, 2.5, ("spot:6:1",))
SPOT_B = Item("note b", "note-at-fret", 2, 2.5, ("spot:6:3",))
ANCHOR_A = Item("anchor a", "shape-anchor", 3, 3.0, ("spot:6:1", "finger:minor"))
ALONE = Item("alone", "other", 4, 3.0)


def practised(item, days, right=True, thinking=2.0, learner=None):
    learner = learner or Learner()
    for day in range(days):
        learner.observe(item, Attempt(item.card, NOW + day * DAY, right, thinking))
    return learner


def level(learner):
    return Belief(learner.person.mean[LEVEL], learner.person.covariance[LEVEL][LEVEL])


def test_a_new_learner_is_expected_to_know_little():
    assert 0.1 < Learner().strength(ALONE, NOW) < 0.5
    assert is_fresh(Learner(), ALONE)
    assert state_of(Learner(), ALONE, NOW) == "fresh"


def test_the_gates():
    quick, slow, weak = practised(ALONE, 8), practised(ALONE, 8, thinking=12.0), practised(ALONE, 2, right=False)
    now = NOW + 8 * DAY
    assert [is_holding(x, ALONE, now) for x in (quick, slow, weak)] == [True, True, False]
    assert [state_of(x, ALONE, now) for x in (quick, slow, weak)] == ["fluent", "slow", "fading"]


def test_first_answers_after_an_absence_move_the_learner_more():
    def moved(days_away):
        learner = Learner()
        for k in range(200):
            learner.observe(Item(f"c{k % 40}"), Attempt(f"c{k % 40}", NOW + 8 * k, k % 4 > 0, 2.0))
        item, now, before = Item("c1"), NOW + 1600 + days_away * DAY, learner.person.mean[LEVEL]
        surprise = learner.strength(item, now)
        learner.observe(item, Attempt("c1", now, False, 3.0))
        return (before - learner.person.mean[LEVEL]) / surprise

    assert moved(30) > 2 * moved(1)


def test_certainty_lost_in_an_absence_is_never_more_than_a_new_learner_lacks():
    learner = practised(ALONE, 5)
    learner.observe(ALONE, Attempt("alone", NOW + 4000 * DAY, True, 3.0))
    assert learner.person.covariance[LEVEL][LEVEL] < Learner().person.covariance[LEVEL][LEVEL]


@pytest.mark.parametrize("right", [True, False])
def test_a_first_answer_adds_as_much_certainty_as_its_likelihood_is_curved(right):
    """Laplace's approximation: a belief's precision grows by minus the second derivative of the log-likelihood."""
    learner, before = Learner(), Learner()
    learner.observe(ALONE, Attempt("alone", NOW, right, 2.0))
    log_odds = logit(before.strength(ALONE, NOW))

    def curvature(slope):
        """Numerically, where the log-odds of the answer rise by `slope` for each unit of the belief."""
        h, sign = 1e-3, 1 if right else -1
        low, middle, high = (math.log(logistic(sign * (log_odds + slope * x))) for x in (-h, 0.0, h))
        return (low - 2 * middle + high) / h**2

    beliefs = [
        (level(learner), level(before).variance, DEFAULT.first_sight_share),
        (learner.first_sight, before.first_sight.variance, 1.0),
        (learner.families["other"].first_sight, DEFAULT.first_sight_variance / 2, 1.0),
    ]
    for belief, variance, slope in beliefs:
        assert 1 / belief.variance == pytest.approx(1 / variance - curvature(slope), rel=1e-4)


def test_a_clock_set_back_loses_and_gains_nothing():
    learner = practised(ALONE, 5)
    now = NOW + 4 * DAY
    strength = learner.strength(ALONE, now)
    assert learner.strength(ALONE, now - 3 * DAY) == strength
    learner.observe(SPOT_A, Attempt("note a", now - 3 * DAY, True, 2.0))
    learner.observe(SPOT_B, Attempt("note b", now - 3 * DAY + 20, True, 2.0))
    assert math.isfinite(learner.strength(ALONE, now))
    assert learner.clock.last_s == now - 3 * DAY + 20


@pytest.mark.parametrize("thinking", [None, 0.05, 45.0, 100_000.0])
def test_a_slip_a_pause_or_a_phone_call_says_nothing_about_speed(thinking):
    with_it, without = practised(ALONE, 4), practised(ALONE, 4)
    with_it.observe(ALONE, Attempt("alone", NOW + 5 * DAY, True, thinking))
    without.observe(ALONE, Attempt("alone", NOW + 5 * DAY, True, None))
    assert with_it.speed(ALONE, NOW + 6 * DAY) == without.speed(ALONE, NOW + 6 * DAY)


def test_one_very_slow_answer_counts_only_as_far_as_the_clip():
    slow, slower = practised(ALONE, 6), practised(ALONE, 6)
    slow.observe(ALONE, Attempt("alone", NOW + 7 * DAY, True, 20.0))
    slower.observe(ALONE, Attempt("alone", NOW + 7 * DAY, True, 29.0))
    assert slower.speed(ALONE, NOW + 8 * DAY) == pytest.approx(slow.speed(ALONE, NOW + 8 * DAY))


def test_a_wrong_answer_says_nothing_about_speed():
    learner = practised(ALONE, 6)
    tempo = learner.tempo.mean
    learner.observe(ALONE, Attempt("alone", NOW + 7 * DAY, False, 20.0))
    assert learner.tempo.mean == tempo


def test_a_card_that_was_only_shown_is_no_evidence():
    learner = practised(ALONE, 6)
    offsets = learner.person.mean[LEVEL], learner.cards["alone"].offset.mean
    learner.observe(ALONE, Attempt("alone", NOW + 7 * DAY, None))
    assert (learner.person.mean[LEVEL], learner.cards["alone"].offset.mean) == offsets
    assert (learner.cards["alone"].asked, learner.cards["alone"].right) == (6, 6)


def test_the_learners_own_key_press_is_measured_and_taken_off():
    learner = Learner()
    for k in range(12):
        learner.observe(KEY_PRESS, Attempt("key-press", NOW + k, None, 0.6))
    assert learner.key_press_s == pytest.approx(0.6, abs=0.02)
    assert learner.net_thinking(2.0) == pytest.approx(1.4, abs=0.02)
    assert "key-press" not in learner.cards


@pytest.mark.parametrize(("seconds", "counts"), [(0.09, False), (0.1, True), (2.0, True), (2.01, False)])
def test_a_key_press_counts_from_a_tenth_of_a_second_to_two_seconds(seconds, counts):
    learner = Learner()
    learner.observe(KEY_PRESS, Attempt("key-press", NOW, None, seconds))
    assert (learner.key_press_s != DEFAULT.key_press_s) == counts


def test_an_answer_quicker_than_the_key_press_corrects_it():
    learner = Learner(DEFAULT._replace(key_press_s=0.8))
    for k in range(10):
        learner.observe(ALONE, Attempt("alone", NOW + 10 * k, True, 0.4))
    assert 0.4 <= learner.key_press_s < 0.5


def test_speed_follows_the_learner_the_family_and_the_card():
    learner = Learner()
    for k in range(30):
        learner.observe(SPOT_A, Attempt("note a", NOW + k * DAY, True, 1.2))
        learner.observe(ALONE, Attempt("alone", NOW + k * DAY + 30, True, 6.0))
    now = NOW + 30 * DAY
    assert learner.speed(SPOT_A, now) == pytest.approx(0.9, rel=0.35)
    assert learner.speed(ALONE, now) == pytest.approx(5.7, rel=0.35)
    assert learner.speed(SPOT_B, now) < learner.speed(Item("fresh", "other"), now), "a fresh card takes its family's"


def test_answering_one_card_is_evidence_for_another_on_the_same_fact():
    learner = practised(SPOT_A, 5)
    other = practised(SPOT_B, 5)
    now = NOW + 5 * DAY
    assert learner.strength(BACK_A, now) > other.strength(BACK_A, now) + 0.2
    assert learner.strength(SPOT_A, now) == pytest.approx(other.strength(SPOT_B, now))


def test_a_card_is_only_as_good_as_its_weakest_fact():
    learner = practised(SPOT_A, 8)
    now = NOW + 8 * DAY
    assert learner.strength(ANCHOR_A, now) < 0.5, "where is known, which finger is not"
    finger = Item("finger", "tonic-finger", 9, 2.0, ("finger:minor",))
    practised(finger, 8, learner=learner)
    assert learner.strength(ANCHOR_A, now) > 0.6
    learner.observe(ANCHOR_A, Attempt("anchor a", now, True, 2.0))
    assert learner.weakest_fact(ANCHOR_A, now + 60) in ANCHOR_A.facts
    assert learner.weakest_fact(SPOT_A, now) is None


def test_a_mix_up_counts_against_the_fact_it_points_at_and_no_other():
    """The note of string 5 given for string 6: the spot on string 6 is weaker for it, the finger rule is not."""
    learner = practised(ANCHOR_A, 6)
    spot, finger = (learner.facts[f].offset.mean for f in ANCHOR_A.facts)
    learner.observe(ANCHOR_A, Attempt("anchor a", NOW + 7 * DAY, False, 3.0, mixed_fact="spot:6:1"))
    assert learner.facts["spot:6:1"].offset.mean < spot
    assert learner.facts["finger:minor"].offset.mean >= finger
    assert learner.weakest_fact(ANCHOR_A, NOW + 8 * DAY) == "spot:6:1"


def test_a_mix_up_that_points_elsewhere_is_an_ordinary_miss():
    told, plain = practised(ANCHOR_A, 4), practised(ANCHOR_A, 4)
    told.observe(ANCHOR_A, Attempt("anchor a", NOW + 7 * DAY, False, 3.0, mixed_fact="relative:Cm"))
    plain.observe(ANCHOR_A, Attempt("anchor a", NOW + 7 * DAY, False, 3.0))
    assert told.strength(ANCHOR_A, NOW + 8 * DAY) == plain.strength(ANCHOR_A, NOW + 8 * DAY)


def test_first_sight_is_learned_for_the_family_and_a_little_for_all():
    learner = Learner()
    fresh_same, fresh_other = Item("x", "relative-minor"), Item("y", "signature")
    start = learner.strength(fresh_same, NOW)
    for k in range(8):
        learner.observe(Item(f"r{k}", "relative-minor"), Attempt(f"r{k}", NOW + 10 * k, True, 1.5))
    assert learner.strength(fresh_same, NOW + 100) > learner.strength(fresh_other, NOW + 100) > start


def test_speed_follows_a_learner_who_gets_faster_over_the_months():
    learner = practised(ALONE, 200, thinking=6.0)
    before = learner.speed(ALONE, NOW + 200 * DAY)
    for day in range(200, 215):
        learner.observe(ALONE, Attempt("alone", NOW + day * DAY, True, 1.5))
    assert before == pytest.approx(5.7, rel=0.15)
    assert learner.speed(ALONE, NOW + 215 * DAY) < 2.0


def test_a_card_missed_last_does_not_hold_until_it_has_come_right_again():
    """A minute after the correction it would come right, but nobody has seen that yet."""
    learner = practised(ALONE, 8)
    now = NOW + 8 * DAY
    learner.observe(ALONE, Attempt("alone", now, False, 2.0))
    assert learner.strength(ALONE, now + 60) > 0.8
    assert state_of(learner, ALONE, now + 60) == "fading"
    assert fades_at(learner, ALONE, now + 60) == now + 60
    learner.observe(ALONE, Attempt("alone", now + 60, True, 1.0))
    assert state_of(learner, ALONE, now + 120) == "fluent"


def taught(by_a_miss):
    """A learner for whom a card once missed comes right for ever, or goes on being missed; others are mixed."""
    learner, now = Learner(), NOW
    for k in range(30):
        for answer in (False, by_a_miss, by_a_miss):
            learner.observe(Item(f"m{k}"), Attempt(f"m{k}", now, answer, 2.0))
            now += 200
        for answer in (True, not by_a_miss, True):
            learner.observe(Item(f"r{k}"), Attempt(f"r{k}", now, answer, 2.0))
            now += 200
    return learner


def test_how_much_a_corrected_miss_teaches_is_learned_of_each_learner():
    assert taught(by_a_miss=False).person.mean[MISSED] < -0.2 < 0.1 < taught(by_a_miss=True).person.mean[MISSED]


def test_how_steeply_recall_follows_practice_is_learned_of_each_learner():
    """One always knows what was asked a minute ago and nothing of the day before; the other is the same every day."""

    def met(forgets):
        learner, now = Learner(), NOW
        for k in range(60):
            card = f"c{k}"
            answers = ((0, False), (30, True), (60, True), (5 * DAY, not forgets), (5 * DAY + 30, forgets or k % 2 > 0))
            for wait, answer in answers:
                learner.observe(Item(card), Attempt(card, now + wait, answer, 2.0))
            now += 6 * DAY
        return learner.person.mean[STEEPNESS]

    assert met(forgets=True) > met(forgets=False) + 0.1


def test_the_spread_of_thinking_times_is_the_learners_own():
    """Times whose natural logarithms lie .1 or .9 around the same middle: the chance of being in time tells which."""

    def within(spread, limit_s):
        learner = Learner()
        for k in range(120):
            item = Item(f"c{k % 20}", "f")
            thinking = 0.3 + 2.0 * math.exp(spread if k * 7 % 11 < 5.5 else -spread)
            learner.observe(item, Attempt(item.card, NOW + 600 * k, True, thinking))
        item = Item("c1", "f")
        return learner.in_time(item, learner.strength(item, NOW + 72_060), limit_s)

    assert within(0.1, 3.0) > 0.95 > 0.8 > within(0.9, 3.0)
    assert within(0.1, 1.2) < 0.05 < 0.2 < within(0.9, 1.2)


def test_what_was_known_at_first_sight_is_not_forgotten_like_what_was_learned():
    """Whoever knows nine of ten cards of a family at sight knows them next month, those that were asked among them."""
    learner = Learner()
    for k in range(40):
        learner.observe(Item(f"r{k}", "f"), Attempt(f"r{k}", NOW + 10 * k, k % 10 != 3, 1.5))
    later = NOW + 30 * DAY
    fresh = learner.strength(Item("x", "f"), later)
    assert fresh > 0.75
    assert learner.strength(Item("r1", "f"), later) >= fresh > learner.strength(Item("r3", "f"), later)


def test_a_fact_is_proved_by_the_cards_that_rest_on_it():
    learner, now = practised(ANCHOR_A, 6), NOW + 6 * DAY
    assert learner.proved("spot:6:3", now) == pytest.approx(0.0)
    assert learner.proved("spot:6:1", now) > 0.7
    learner.observe(ANCHOR_A, Attempt("anchor a", now, False, 3.0, mixed_fact="spot:6:1"))
    assert learner.proved("spot:6:1", now + DAY) < learner.proved("finger:minor", now + DAY)
