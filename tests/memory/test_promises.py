"""What is said to come back in a drill comes back, in drills of made-up people."""

from __future__ import annotations

import random
from collections import Counter

import pytest

from drill.decks import load_deck
from drill.memory import Learner, Planner
from drill.settings import Settings
from tests.memory.drills import DAY, NOW
from tests.support.reasoning import MINDS, Reasoner

ITEMS = {item.card: item for item in load_deck("two-shapes", Settings().neck, 3.0).items}


@pytest.mark.parametrize("mind", ["slow student", "errs a quarter"])
def test_what_is_said_to_come_back_does_so_in_the_same_drill(mind: str) -> None:
    person, learner, kept = Reasoner(MINDS[mind], random.Random(5)), Learner(), Counter[bool]()
    for day in range(5):
        kept += promises(learner, person, NOW + day * DAY)
    assert kept[True] > 20
    assert kept[False] <= 0.05 * kept[True], "where a part fails once more, or a kind rests after all"


def promises(learner: Learner, person: Reasoner, began_s: float) -> Counter[bool]:
    """How often, in a drill of five minutes, a card that was said to come back did (True), and did not."""
    now, said, kept = began_s, Counter[str](), Counter[bool]()
    planner = Planner(learner, ITEMS.values(), now)
    while choice := planner.next(now, began_s + 300.0 - now):
        item = ITEMS[choice.card]
        attempt = person.watch(item, now) if choice.solved else person.answer(item, now)
        learner.observe(item, attempt)
        planner.observe(attempt)
        kept[True] += said.pop(item.card, 0)
        if attempt.right is False and planner.comes_back(item.card, began_s + 300.0 - attempt.at_s):
            said[item.card] += 1
        now = attempt.at_s + (6.0 if attempt.right is None else 1.5 if attempt.right else 6.0)
    kept[False] += said.total()
    return kept


def test_nothing_is_said_to_come_back_once_too_little_time_is_left() -> None:
    learner = Learner()
    planner = Planner(learner, ITEMS.values(), NOW, "speed")
    missed = Reasoner(MINDS["slow student"], random.Random(1)).answer(ITEMS["shape-anchor:key=Am:shape=string-6"], NOW)
    missed = missed._replace(right=False)
    learner.observe(ITEMS[missed.card], missed)
    planner.observe(missed)
    assert planner.comes_back(missed.card, 120.0)
    assert not planner.comes_back(missed.card, 80.0)
