"""How long reading a kind of question takes, and what it does to thinking times."""

from __future__ import annotations

import json

import pytest

from drill.decks import load_deck
from drill.memory import Attempt, Item
from drill.practice.attempts import attempt_of
from drill.practice.reading import LEAST_ANSWERS, MOST_S, NEWEST, ReadingTimes
from drill.practice.replay import READING, DerivedState
from drill.practice.session import Session
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.neck import STANDARD, Neck
from tests.support.asking import answers, ask
from tests.support.records import attempt

KEY_PRESS_S = 0.3
SPOT = Item("note-at-fret:string=6:fret=3", "note-at-fret", facts=("spot:6:3",))


def read(*times_s: float) -> ReadingTimes:
    times = ReadingTimes()
    for time_s in times_s:
        times.add("a", time_s)
    return times


def test_reading_is_what_the_quickest_answers_have_beside_key_press_and_choice() -> None:
    """Of 20 answers the third quickest takes 1.4 s: .3 s are the key press, .5 s a quick choice, .6 s reading."""
    times = read(1.2, 1.3, *[1.4] * 2, *[3.0] * 16)
    assert times.of("a", KEY_PRESS_S) == pytest.approx(0.6)


def test_too_few_answers_say_nothing() -> None:
    assert read(*[1.4] * (LEAST_ANSWERS - 1)).of("a", KEY_PRESS_S) == 0.0


@pytest.mark.parametrize(("always_s", "reading_s"), [(1.8, MOST_S), (2.3, 0.5), (2.8, 0.0), (3.05, 0.0), (6.0, 0.0)])
def test_who_is_always_slow_thinks_and_is_not_thought_to_read(always_s: float, reading_s: float) -> None:
    assert read(*[always_s] * 30).of("a", KEY_PRESS_S) == pytest.approx(reading_s)


def test_only_the_newest_answers_count() -> None:
    assert read(*[6.0] * 30, *[1.4] * NEWEST).of("a", KEY_PRESS_S) == pytest.approx(0.6)


@pytest.mark.parametrize(("thinking_s", "left_s"), [(3.0, 2.0), (2.0, 1.0), (1.2, 0.6), (0.5, 0.3), (0.2, 0.2)])
def test_at_least_half_of_a_time_is_left_and_never_less_than_a_key_press(thinking_s: float, left_s: float) -> None:
    assert read(*[1.8] * 30).without("a", thinking_s, KEY_PRESS_S) == pytest.approx(left_s)


def drilled(present_wording: bool) -> DerivedState:
    """Thirty right answers after 1.8 s each, to questions as they are worded now or as they were before."""
    state = DerivedState()
    for number in range(1, 31):
        state.learn(SPOT, Attempt(SPOT.card, 60.0 * number, True, 1.8, None, present_wording))
    return state


def test_the_learner_learns_from_times_without_reading_and_the_state_keeps_raw_ones() -> None:
    """With .3 s for the key press, 1.8 s leave 1 s beside a quick choice: that counts as reading."""
    state = drilled(present_wording=True)
    assert json.loads(state.rows()[READING + "note-at-fret"]) == [1.8] * 30
    assert state.without_reading("note-at-fret", 2.0) == pytest.approx(1.0)
    assert state.learner.speed(SPOT, 2000.0) < drilled(present_wording=False).learner.speed(SPOT, 2000.0)


def test_answers_to_the_longer_questions_of_before_do_not_feed_it() -> None:
    state = drilled(present_wording=False)
    assert state.without_reading("note-at-fret", 2.0) == 2.0
    assert not any(name.startswith(READING) for name in state.rows())


def test_the_log_tells_in_which_wording_a_question_was_asked(fake_environment: Environment, record: Record) -> None:
    """Also after it went through an export, which keeps names: an answer of an earlier release has no mark."""
    deck = load_deck("naturals", Neck(STANDARD))
    session = Session.start(fake_environment, Settings(), record, deck)
    question = ask(session)
    assert question is not None
    session.answer(question.card.accepts[0])
    (row,) = answers(record)
    assert attempt_of(row).present_wording
    assert not attempt_of(attempt(1)).present_wording


def test_the_state_comes_back_as_it_was() -> None:
    rows = drilled(present_wording=True).rows()
    assert DerivedState.load(dict(rows)).rows() == rows
    assert DerivedState.load(dict(rows)).copy().rows() == rows
