"""A round of keys: what is called when, in which order, and what the guitarist says to have landed on."""

from __future__ import annotations

import itertools
import random

import pytest

from drill.decks import Focus
from drill.errors import UsageProblem
from drill.practice.round import Landings, Round, call_order, plan_round
from drill.record import Record
from drill.system.environment import Environment
from drill.theory.keys import PRACTICAL_KEYS, Key, parse_key
from tests.support.worlds import HandClock

C, AM, E = (parse_key(name) for name in ("C", "Am", "E"))
TWO_BARS = Round((C, AM, E), bpm=120, bars=2)
"""A beat of half a second: count-in to 2 s, calls at 2, 6 and 10 s, the end at 14 s."""


@pytest.mark.parametrize(
    ("elapsed_s", "number", "beat", "called", "shown"),
    [
        (0.0, -1, 0, None, None),
        (1.99, -1, 3, None, None),
        (2.0, 0, 0, C, None),
        (3.99, 0, 3, C, None),
        (4.0, 0, 0, C, C),
        (5.99, 0, 3, C, C),
        (6.0, 1, 0, AM, None),
        (8.0, 1, 0, AM, AM),
        (13.99, 2, 3, E, E),
        (14.0, 3, 0, None, None),
    ],
)
def test_what_holds_when(elapsed_s: float, number: int, beat: int, called: Key | None, shown: Key | None) -> None:
    moment = TWO_BARS.at(elapsed_s)
    assert (moment.number, moment.beat, moment.called, moment.shown) == (number, beat, called, shown)


def test_with_a_bar_a_key_the_place_is_shown_while_the_next_is_called() -> None:
    one_bar = TWO_BARS._replace(bars=1)
    assert one_bar.at(2.0)[2:] == (C, None)
    assert one_bar.at(4.0)[2:] == (AM, C)
    assert one_bar.at(6.0)[2:] == (E, AM)
    assert one_bar.end_s == 8.0


@pytest.mark.parametrize("bpm", [40, 97, 133, 240])
@pytest.mark.parametrize("bars", [1, 2, 16])
def test_a_call_begins_and_ends_at_the_moments_it_names(bpm: int, bars: int) -> None:
    round_ = plan_round(PRACTICAL_KEYS, bpm, bars, 10, random.Random(1))
    for number in range(len(round_.keys)):
        start_s = round_.call_s(number)
        assert start_s == pytest.approx((4 + number * bars * 4) * 60 / bpm)
        assert round_.at(start_s).number == number
        assert round_.at(start_s - 0.004).number == number - 1
        assert round_.at(round_.bar_line_s(number)).shown == round_.keys[number]
        if bars > 1:
            assert round_.at(round_.bar_line_s(number) - 0.004).shown is None
    assert round_.end_s == round_.call_s(len(round_.keys))


def test_a_round_lasts_about_as_long_as_it_was_asked_for() -> None:
    assert 590 < plan_round(PRACTICAL_KEYS, 97, 2, 10, random.Random(1)).end_s < 610
    assert len(plan_round((C, AM), 40, 16, 1, random.Random(1)).keys) == 1


@pytest.mark.long(but=19)
@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize("count", [2, 3, 24])
def test_every_key_in_turn_and_never_the_same_twice(count: int, seed: int) -> None:
    weakest_first = PRACTICAL_KEYS[:count]
    called = call_order(weakest_first, 5 * count, random.Random(seed))
    assert called[:count] == weakest_first
    assert all(called.count(key) == 5 for key in weakest_first)
    assert all(before != after for before, after in itertools.pairwise(called))


def test_later_turns_are_not_foreseen() -> None:
    called = call_order(PRACTICAL_KEYS, 48, random.Random(3))
    assert called[24:] != called[:24]


@pytest.mark.parametrize("names", [["Am"], ["Am", "Am"], ["Ebm", "D#m"]])
def test_one_sound_is_called_again_and_again(names: list[str]) -> None:
    keys = [parse_key(name) for name in names]
    assert call_order(keys, 4, random.Random(1)) == (keys[0],) * 4


def test_without_a_key_there_is_no_round() -> None:
    with pytest.raises(UsageProblem, match="needs a key"):
        call_order([], 4, random.Random(1))


@pytest.mark.parametrize(("elapsed_s", "number"), [(1.9, None), (2.9, None), (3.0, 0), (6.9, 0), (7.0, 1), (14.5, 2)])
def test_had_it_is_about_the_key_before_for_two_beats(elapsed_s: float, number: int | None) -> None:
    assert TWO_BARS.checked_at(elapsed_s) == number


def test_landings_are_kept_apart_and_written_once(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    landings = Landings(fake_environment, record, "two-shapes", 5, Focus(keys=(C, AM)))
    start_ms = round(clock.now_s * 1000)
    landings.end()
    assert list(record.drills()) == []  # a round without a word from the guitarist leaves nothing
    clock.tick(4.5)
    assert landings.had_it(TWO_BARS, 0, 4.5)
    assert not landings.had_it(TWO_BARS, 0, 4.5)
    clock.tick(4.0)
    assert landings.had_it(TWO_BARS, 1, 8.5)
    landings.end()
    (drill,) = record.drills()
    assert (drill.deck, drill.started_at) == ("two-shapes", start_ms)
    assert drill.ended_at == round(clock.now_s * 1000)
    found = [(row.key, row.asked_at - start_ms, row.how, row.landed, row.late_ms) for row in record.landings()]
    assert found == [
        ("C major", 2000, "self-checked", True, None),
        ("A minor", 6000, "self-checked", True, None),
    ]
    assert record.attempt_count() == 0
    assert record.states() == {}  # nothing is learnt from them
