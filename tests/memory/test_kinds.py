"""When a kind of card rests, and which misses count."""

from __future__ import annotations

from drill.memory import Attempt, Item, Learner
from drill.memory.board import Board
from drill.memory.constants import DAY_S
from drill.memory.kinds import TIRES_AFTER, Kinds
from tests.memory.drills import NOW

FRET = Item("fret:1", "fret", 0, 1.5, ("spot:1",))
RULES = [Item(f"rule:{k}", "rule", 1 + k, 1.5, ("finger",), (), frozenset({f"key-{k}"})) for k in range(4)]


def missed(kinds: Kinds, times: int, told: bool = True) -> Kinds:
    for _ in range(times):
        kinds.observe(FRET, False, told)
    return kinds


def test_a_kind_rests_after_so_many_misses_running_and_not_one_sooner() -> None:
    assert not missed(Kinds(), TIRES_AFTER - 1).rests("fret")
    kinds = missed(Kinds(), TIRES_AFTER)
    assert kinds.rests("fret")
    assert kinds.any_rests
    assert not kinds.rests("rule")


def test_a_right_answer_ends_the_rest_and_the_count_begins_anew() -> None:
    kinds = missed(Kinds(), TIRES_AFTER)
    kinds.observe(FRET, True, True)
    assert not kinds.any_rests
    assert not missed(kinds, TIRES_AFTER - 1).rests("fret")
    assert missed(kinds, 1).rests("fret")


def test_a_kind_that_rests_has_one_return_and_a_right_answer_gives_it_another() -> None:
    kinds = missed(Kinds(), TIRES_AFTER)
    assert kinds.returns("fret")
    assert not missed(kinds, 1).returns("fret")
    kinds.observe(FRET, True, True)
    assert missed(kinds, TIRES_AFTER).returns("fret")


def test_misses_of_what_had_not_been_told_make_no_kind_rest() -> None:
    assert not missed(Kinds(), 9, told=False).rests("fret")


def test_a_kind_that_came_right_as_often_as_it_was_missed_does_not_rest() -> None:
    learner, kinds = Learner(), Kinds()
    for day in range(TIRES_AFTER):
        learner.observe(FRET, Attempt(FRET.card, NOW + day * DAY_S, True, 1.0))
    kinds.renew(learner, {FRET.card: FRET})
    assert not missed(kinds, TIRES_AFTER).rests("fret")
    assert missed(kinds, 1).rests("fret")


def test_an_answer_was_told_by_the_card_itself_or_as_a_rule_in_another_key() -> None:
    learner = Learner()
    board = Board(learner, [FRET, *RULES], NOW, None)

    def told_before(item: Item, right: bool | None) -> bool:
        learner.observe(item, Attempt(item.card, NOW, right, 1.0))
        return board.was_told(item)

    assert not told_before(FRET, False)
    assert told_before(FRET, False)
    assert not told_before(RULES[0], None)
    assert told_before(RULES[1], False), "the first card of the rule has told it"


def test_a_card_becomes_untried_in_the_middle_of_a_drill() -> None:
    learner = Learner()
    learner.observe(FRET, Attempt(FRET.card, NOW - 2 * DAY_S + 60, True, 1.0))
    board = Board(learner, [FRET], NOW, None)
    assert not list(board.untried())
    board.update([], NOW + 60)
    assert not list(board.untried())
    board.update([], NOW + 61)
    assert list(board.untried()) == [FRET]
