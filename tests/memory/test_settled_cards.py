"""When a card is settled, so that a drill need not ask it: what is predicted has to have been proved."""

from __future__ import annotations

import pytest

from drill.memory import Attempt, Item, Learner
from drill.memory.board import LASTING, WEEK_S, Board
from tests.memory.drills import DAY, NOW

CARDS = [Item(f"card {number}", order=number, target_s=3.0) for number in range(16)]
CARD = CARDS[0]


def stood(days, thinking=1.5):
    """The board of a day on which every card came right once more, after so many days without a question.

    Answers take `thinking` seconds, or a third less or more in turn.
    """
    learner = Learner()
    for drill, before in enumerate((days + 3.0, days + 2.0, days, 0.0)):
        for number, item in enumerate(CARDS):
            took_s = thinking * (2 / 3 if (number + drill) % 2 else 4 / 3)
            learner.observe(item, Attempt(item.card, NOW - before * DAY + 10 * number, True, took_s))
    return Board(learner, CARDS, NOW + 600, "speed")


@pytest.mark.parametrize(("days", "settled"), [(3.0, False), (4.0, True)])
def test_a_weekend_away_does_not_settle_a_card_for_a_week(days, settled):
    """Whoever drills on weekdays would otherwise end drills early with cards that are gone by Monday."""
    board = stood(days)
    assert board.is_steady(CARD)
    assert board.is_settled(CARD) == settled


def test_what_will_come_late_in_a_week_is_not_settled_however_surely_it_comes():
    board = stood(4.0, thinking=2.7)
    assert board.is_steady(CARD)
    assert not board.is_slow(CARD)
    assert board.learner.strength(CARD, board.now_s + WEEK_S) >= LASTING
    assert not board.is_settled(CARD)
