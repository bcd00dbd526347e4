"""Answers played on the guitar: they may raise strength, never lower it, and their times stay out of typed ones."""

from __future__ import annotations

import json
from typing import NamedTuple

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drill.memory import Attempt, Item, dump
from drill.memory.board import Board
from drill.memory.front import PROBE_MISSES, Front
from drill.memory.learner import Learner
from drill.practice.reading import CHOICE_S, LEAST_ANSWERS
from drill.practice.replay import CALIBRATION, PLAYED, READING, DerivedState

NOW, DAY = 1_700_000_000.0, 86_400.0
ITEMS = [
    Item("a", "spots", 0, 2.5, ("spot:1",)),
    Item("b", "spots", 1, 2.5, ("spot:2",)),
    Item("c", "anchors", 2, 3.0, ("spot:1", "finger:minor")),
    Item("d", "alone", 3, 3.0),
]


class Event(NamedTuple):
    """One answer of a history: which card, how long after the one before, what came of it."""

    item: Item
    gap_s: float
    right: bool | None
    thinking_s: float | None
    mixed: str | None
    played: bool


gaps = st.sampled_from([5.0, 40.0, 3600.0, DAY, 9 * DAY, 200 * DAY, -30.0])
events = st.builds(
    Event,
    st.sampled_from(ITEMS),
    gaps,
    st.sampled_from([True, False, None]),
    st.sampled_from([None, 0.05, 0.7, 2.0, 9.0, 500.0]),
    st.sampled_from([None, "spot:1", "finger:minor"]),
    st.booleans(),
)
histories = st.lists(events, max_size=30)


def lived(history: list[Event], state: DerivedState | None = None, now_s: float = NOW) -> tuple[DerivedState, float]:
    state = state or DerivedState()
    for event in history:
        now_s += event.gap_s
        played = event.played and event.right is not None
        attempt = Attempt(event.item.card, now_s, event.right, event.thinking_s, event.mixed, True, played)
        state.learn(event.item, attempt)
    return state, now_s


def log_odds(learner: Learner, item: Item, now_s: float) -> float:
    return learner.log_odds(item, learner.clock.read(now_s, learner.constants))


@pytest.mark.long
@settings(max_examples=80, deadline=None)
@given(histories, st.sampled_from(ITEMS), gaps, st.booleans(), st.floats(1.0, 1e7))
def test_a_played_answer_right_or_wrong_lowers_the_strength_of_no_card(
    history: list[Event], item: Item, gap_s: float, right: bool, wait_s: float
) -> None:
    without, now_s = lived(history)
    with_it = without.copy()
    nothing = Item("no evidence")
    without.learn(nothing, Attempt(nothing.card, now_s + gap_s, None))  # so both clocks agree
    with_it.learn(item, Attempt(item.card, now_s + gap_s, right, 2.0, "spot:1", True, True))
    for other in ITEMS:
        before = log_odds(without.learner, other, now_s + gap_s + wait_s)
        assert log_odds(with_it.learner, other, now_s + gap_s + wait_s) >= before - 1e-9


@pytest.mark.long
@settings(max_examples=60, deadline=None)
@given(histories)
def test_the_times_of_played_answers_change_nothing_but_their_own_baseline(history: list[Event]) -> None:
    timed, _ = lived(history)
    untimed, _ = lived([event._replace(thinking_s=None) if event.played else event for event in history])
    assert dump(timed.learner) == dump(untimed.learner)
    assert timed.reading.times == untimed.reading.times
    assert timed.calibration.dump() == untimed.calibration.dump()


@settings(max_examples=60, deadline=None)
@given(histories, st.integers(0, 30))
def test_a_state_that_was_kept_goes_on_as_one_that_never_stopped(history: list[Event], cut: int) -> None:
    whole, _ = lived(history)
    half, now_s = lived(history[:cut])
    kept = DerivedState.load(half.rows())
    assert lived(history[cut:], kept, now_s)[0].rows() == whole.rows()


@pytest.mark.long
@settings(max_examples=60, deadline=None)
@given(histories)
def test_a_log_of_typed_answers_is_read_as_ever(history: list[Event]) -> None:
    """Beside the learner's own memory, to which nothing is told of how an answer came."""
    state, now_s, learner = DerivedState(), NOW, Learner()
    for event in history:
        now_s += event.gap_s
        attempt = Attempt(event.item.card, now_s, event.right, event.thinking_s, event.mixed)
        net = attempt._replace(thinking_s=state.without_reading(event.item.family, attempt.thinking_s))
        learner.observe(event.item, net)
        state.learn(event.item, attempt)
    assert dump(state.learner) == dump(learner)
    assert not state.played.times


def test_a_played_miss_alone_leaves_a_card_fresh_and_a_played_answer_does_not() -> None:
    for right, asked in ((False, 0), (True, 1)):
        state, _ = lived([Event(ITEMS[0], 5.0, right, 2.0, None, True)])
        assert state.learner.cards["a"].asked == asked


def test_only_typed_answers_are_held_against_the_predictions() -> None:
    """A prediction of which only the right half of the answers counts would look too low."""
    typed, _ = lived([Event(ITEMS[0], 5.0, True, 2.0, None, False)])
    played, _ = lived([Event(ITEMS[0], 5.0, right, 2.0, None, True) for right in (True, False)])
    assert json.loads(typed.rows(())[CALIBRATION])["recall"]
    assert not json.loads(played.rows(())[CALIBRATION])["recall"]


def test_played_answers_have_a_baseline_of_their_own() -> None:
    """Twenty played after 2.1 s and twenty typed after 1 s: of the played ones all but a quick choice is reach."""
    played = [Event(ITEMS[0], 60.0, True, 2.1, None, True)] * LEAST_ANSWERS
    typed = [Event(ITEMS[0], 60.0, True, 1.0, None, False)] * LEAST_ANSWERS
    state, _ = lived(played + typed)
    assert set(state.rows()) >= {PLAYED + "spots", READING + "spots"}
    assert state.without_reach("spots", 4.0) == 4.0 - (2.1 - CHOICE_S)
    assert state.without_reading("spots", 4.0) == 4.0 - (1.0 - CHOICE_S - state.learner.key_press_s)
    assert DerivedState().without_reach("spots", 4.0) == 4.0, "nothing is taken off before it was measured"


def front_after(*attempts: Attempt) -> Front:
    """The front of a first drill with these answers."""
    parts = [Item(f"p{n}", "part", 8 + n, 1.5, (f"spot:{n}",)) for n in range(8)]
    wholes = [Item(f"w{n}", "whole", n, 3.0, (f"spot:{n}", "finger"), ("part",)) for n in range(8)]
    board = Board(Learner(), wholes + parts, NOW, None)
    for attempt in attempts:
        board.diary.add(board.items[attempt.card], attempt, new=True)
    return Front(board)


def answers(right: bool, thinking_s: float, played: bool) -> list[Attempt]:
    return [
        Attempt(f"w{n}", NOW + 5 * n, right, thinking_s, played=played, present_wording=True)
        for n in range(PROBE_MISSES + 1)
    ]


def test_played_misses_bring_no_fewer_new_cards() -> None:
    """What is played may be misheard, so how well a drill goes is told by what is typed."""
    assert not front_after(*answers(False, 2.0, played=False)).goes_well
    front = front_after(*answers(False, 2.0, played=True))
    assert front.goes_well
    assert len(front.board.diary.missed) == PROBE_MISSES + 1, "each comes back to be typed"


def test_a_newcomer_who_plays_is_not_taken_for_late() -> None:
    """A target is for typing; a hand takes longer to reach its note."""
    assert front_after().is_probing
    assert not front_after(*answers(True, 9.0, played=False)).is_probing
    assert front_after(*answers(True, 9.0, played=True)).is_probing


def test_the_share_of_recent_first_answers_is_that_of_typed_ones() -> None:
    """Played misses are looks, so if played right ones counted, whoever plays would always do well."""
    typed = [Event(ITEMS[0], DAY, right, 2.0, None, False) for right in (True, False, False)]
    played = [Event(ITEMS[1], DAY, right, 2.0, None, True) for right in (True, True, False)]
    state, _ = lived(typed + played)
    assert state.learner.recent.first_answers == [False, False], "the first of all was new, not known from before"
