"""The made-up learners: that they learn, forget, differ, and repeat themselves for the same source of chance."""

from dataclasses import replace
from random import Random

import pytest

from drill.memory import Item
from tests.support.reasoning import MINDS, Reasoner
from tests.support.simulated import Correcting, Counts, HalfLife, PowerLaw, SimulatedLearner, Temper

NOW, DAY = 1_700_000_000.0, 86_400.0
KINDS = [PowerLaw, Correcting, HalfLife, Counts]
NOTE = Item("note", "note-at-fret", facts=("spot:6:1",))
FRET = Item("fret", "fret-of-note", facts=("spot:6:1",))
ANCHOR = Item("anchor", "shape-anchor", facts=("spot:6:1", "finger:minor"))


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_starts_ignorant_learns_with_study_and_forgets_with_time(kind):
    fact = kind(0.0)
    assert fact.chance(NOW) < 0.3
    for day in range(8):
        fact.study(NOW + day * DAY, recalled=day > 0)
    soon, later, much_later = (fact.chance(NOW + (7 + wait) * DAY) for wait in (0.01, 5, 500))
    assert soon > 0.8
    assert soon > later > much_later


@pytest.mark.parametrize("kind", [PowerLaw, Correcting, HalfLife])
def test_study_spread_over_days_lasts_longer_than_study_in_one_go(kind):
    """The spacing effect (Cepeda et al. 2006), to which the logistic kind is blind but for its count of days."""
    spread, massed = kind(0.0), kind(0.0)
    for k in range(6):
        spread.study(NOW + k * DAY, recalled=True)
        massed.study(NOW + 5 * DAY + k * 20, recalled=True)
    assert spread.chance(NOW + 40 * DAY) > massed.chance(NOW + 40 * DAY)


@pytest.mark.parametrize("kind", KINDS)
def test_the_same_source_of_chance_makes_the_same_learner(kind):
    def answers(seed):
        learner = SimulatedLearner(kind, Temper(), Random(seed))
        return [learner.answer(item, NOW + 60 * k) for k in range(20) for item in (NOTE, ANCHOR)]

    assert answers(1) == answers(1)
    assert answers(1) != answers(2)


def test_what_is_learned_on_one_card_serves_another_unless_cards_are_learned_whole():
    def carried_over(temper):
        learner = SimulatedLearner(HalfLife, temper, Random(3))
        before = learner.chance(FRET, NOW)
        for k in range(5):
            learner.answer(NOTE, NOW + k * 60)
        return learner.chance(FRET, NOW + 301) - before

    assert carried_over(Temper()) > 0.5
    assert carried_over(Temper(whole_cards=True)) == 0.0


def test_a_failed_fact_is_sometimes_named_and_only_when_it_failed_alone():
    learner = SimulatedLearner(Correcting, Temper(slips=0.0), Random(4))
    for k in range(12):
        learner.answer(NOTE, NOW + k * DAY)
    named = [learner.answer(ANCHOR, NOW + (12 + 40 * k) * DAY).mixed_fact for k in range(60)]
    assert {"finger:minor", None} <= set(named)


def test_slips_spoil_what_is_known():
    careful, careless = (SimulatedLearner(HalfLife, Temper(slips=s), Random(5)) for s in (0.0, 0.3))
    for learner in (careful, careless):
        for k in range(30):
            learner.answer(NOTE, NOW + k * 10)
    now = NOW + 301
    assert careful.chance(NOTE, now) > careless.chance(NOTE, now) + 0.2
    rights = [sum(bool(x.answer(NOTE, now + k).right) for k in range(100)) for x in (careful, careless)]
    assert rights[0] > 90 > rights[1]


def test_thinking_shortens_with_practice_and_an_advanced_learner_is_quick():
    novice = SimulatedLearner(Counts, Temper(), Random(6))
    before = novice.thinking(NOTE, NOW)
    for k in range(20):
        novice.answer(NOTE, NOW + k * DAY)
    assert novice.thinking(NOTE, NOW + 20 * DAY) < before / 2
    advanced = SimulatedLearner(HalfLife, Temper(known=1.0), Random(6))
    assert advanced.chance(NOTE, NOW) > 0.5
    assert advanced.within(NOTE, NOW, 3.0) > 0.4 > novice.within(ANCHOR, NOW, 0.6)


MAJOR = Item("major anchor", "shape-anchor", facts=("spot:6:1", "relative:Fm", "finger:minor"))


def test_who_has_the_rules_works_out_what_is_not_recalled_and_takes_longer():
    knowing = Reasoner(replace(MINDS["understands"], slips=0.0, careful=1.0), Random(1))
    without = Reasoner(replace(MINDS["understands"], slips=0.0, rules=0.0), Random(1))
    assert knowing.chance(MAJOR, NOW) == pytest.approx(1.0)
    assert without.chance(MAJOR, NOW) < 0.1
    assert knowing.within(MAJOR, NOW, 3.0) < 0.7 < knowing.within(MAJOR, NOW, 6.0)
    for day in range(8):
        knowing.answer(MAJOR, NOW + day * DAY)
    assert knowing.within(MAJOR, NOW + 7 * DAY + 3600, 3.0) > 0.9


def test_a_rule_comes_from_an_explanation_and_not_from_a_right_answer():
    learner = Reasoner(replace(MINDS["understands"], rules=0.0, insight=1.0), Random(2))
    before = learner.chance(FRET, NOW)
    learner.watch(NOTE, NOW)
    assert before < 0.1
    other = Item("other", "note-at-fret", facts=("spot:6:8",))
    assert learner.chance(other, NOW) > 0.9, "the rule serves every spot"


def test_time_and_chance_of_the_simulation_agree_with_many_answers():
    def fresh(seed):
        return Reasoner(replace(MINDS["student"], rules=0.5, insight=0.0), Random(seed))

    expected = sum(fresh(seed).within(ANCHOR, NOW, 3.0) for seed in range(600)) / 600
    answers = [fresh(seed).answer(ANCHOR, NOW) for seed in range(600)]
    in_time = sum(bool(a.right) and a.thinking_s <= 3.0 for a in answers) / 600
    assert in_time == pytest.approx(expected, abs=0.06)


def test_one_on_a_plateau_is_right_and_never_in_time():
    learner = Reasoner(MINDS["plateau"], Random(3))
    answers = [learner.answer(NOTE, NOW + k * 600) for k in range(200)]
    assert min(a.thinking_s for a in answers) > 3.0
    assert 0.8 < sum(bool(a.right) for a in answers) / 200 < 0.96
    assert learner.within(NOTE, NOW + 200 * 600, 3.0) == 0.0
