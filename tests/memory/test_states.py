"""What state a card is in: it follows from its strength and its speed alone."""

from __future__ import annotations

from drill.memory import Attempt, Item, Learner, is_fresh, is_holding, state_of

ITEM = Item("signature:key=C", "signature", order=0, target_s=2.5)
NOW_S, DAY_S = 1_767_600_000.0, 86_400.0


def learner_with(thinking_s: float) -> Learner:
    """A learner who was right once a day for ten days, up to now, after so much thought each time."""
    learner = Learner()
    for day in range(-9, 1):
        learner.observe(ITEM, Attempt(ITEM.card, NOW_S + day * DAY_S, True, thinking_s))
    return learner


def test_a_card_never_seen_is_fresh_and_nothing_else() -> None:
    assert is_fresh(Learner(), ITEM)
    assert not is_holding(Learner(), ITEM, NOW_S)
    assert state_of(Learner(), ITEM, NOW_S) == "fresh"


def test_a_card_just_learnt_holds_and_years_later_it_has_faded() -> None:
    learner, later_s = learner_with(thinking_s=1.0), NOW_S + 3000 * DAY_S
    assert learner.strength(ITEM, NOW_S) > 0.8 > learner.strength(ITEM, later_s)
    assert (is_holding(learner, ITEM, NOW_S), is_holding(learner, ITEM, later_s)) == (True, False)
    assert (state_of(learner, ITEM, NOW_S), state_of(learner, ITEM, later_s)) == ("fluent", "fading")


def test_who_knows_a_card_but_thinks_long_is_slow() -> None:
    learner = learner_with(thinking_s=20.0)
    assert is_holding(learner, ITEM, NOW_S)
    assert state_of(learner, ITEM, NOW_S) == "slow"
