"""Which pool a card comes from: what makes it weak, unsteady or only to be deepened."""

from __future__ import annotations

import pytest

from drill.memory import Attempt, Item, Learner, ReasonKind
from drill.memory.board import Board
from drill.memory.front import Front
from drill.memory.pools import FIRST_BELOW, HOPELESS, POOLS, REFRESH_BELOW
from tests.memory.drills import DAY, NOW

WHOLE = Item("whole", "whole", 0, 3.0, ("spot:1", "finger"), ("part",))
PART = Item("part:1", "part", 1, 1.5, ("spot:1",))
LONE = Item("part:2", "part", 2, 1.5, ("spot:2",))
NEW = Item("part:3", "part", 3, 1.5, ("spot:3",))


def standing(
    strength: float = 0.9, speed_s: float = 1.0, rate: float = 1.0, new_rate: float = 1.0
) -> tuple[Board, Front]:
    """A board on which PART, LONE and the whole were met; LONE stands as given."""
    learner = Learner()
    for item in (WHOLE, PART, LONE):
        learner.observe(item, Attempt(item.card, NOW - DAY, True, 2.0))
    board = Board(learner, [WHOLE, PART, LONE, NEW], NOW, "shapes")
    plain = board.prospects[LONE.card]
    board.prospects[LONE.card] = plain._replace(strength=strength, speed_s=speed_s, rate=rate)
    board.prospects[NEW.card] = board.prospects[NEW.card]._replace(rate=new_rate)
    return board, Front(board)


def members(name: ReasonKind, board: Board, front: Front) -> set[str]:
    pool = next(pool for pool in POOLS if pool.name is name)
    return {item.card for item in pool.members(board, front, lambda item: True)}


def test_a_card_is_weak_below_the_strength_from_which_it_can_wait_and_not_at_it() -> None:
    assert LONE.card in members(ReasonKind.FADING, *standing(FIRST_BELOW - 0.01))
    assert LONE.card not in members(ReasonKind.FADING, *standing(FIRST_BELOW))


def test_a_weak_card_waits_only_while_something_new_gains_many_times_as_much() -> None:
    assert LONE.card in members(ReasonKind.FADING, *standing(0.3, rate=1.0, new_rate=HOPELESS))
    assert LONE.card not in members(ReasonKind.FADING, *standing(0.3, rate=1.0, new_rate=1.1 * HOPELESS))


def test_a_part_that_its_whole_carries_is_not_weak_however_faded() -> None:
    board, front = standing(new_rate=0.0)
    for card in (PART.card, WHOLE.card):
        board.prospects[card] = board.prospects[card]._replace(strength=0.3, in_time=0.2)
    assert members(ReasonKind.FADING, board, front) == {WHOLE.card}


@pytest.mark.parametrize(
    ("strength", "speed_s", "comes"),
    [(REFRESH_BELOW - 0.01, 1.0, True), (REFRESH_BELOW, 1.0, False), (REFRESH_BELOW, 3.1, True), (0.99, 3.0, False)],
)
def test_a_card_is_unsteady_if_it_will_soon_fade_or_takes_longer_than_a_bar(strength, speed_s, comes) -> None:
    assert (LONE.card in members(ReasonKind.SLOW, *standing(strength, speed_s))) == comes


def test_cards_that_may_come_are_told_by_their_worth_the_worthiest_first() -> None:
    board, front = standing(0.3, rate=9.0)
    board.prospects[WHOLE.card] = board.prospects[WHOLE.card]._replace(strength=0.3, rate=8.0)
    pool = next(pool for pool in POOLS if pool.name is ReasonKind.FADING)
    assert [item.card for item in pool.members(board, front, lambda item: True)] == [LONE.card, WHOLE.card]
