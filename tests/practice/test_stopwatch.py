"""Time inside a drill, and the clock that stands still while the program does."""

from __future__ import annotations

import threading

import pytest

from drill.practice.stopwatch import LONGEST_THOUGHT_S, Stopwatch
from drill.system.steady import ASLEEP_S, SteadyClock, steady_clock
from tests.support.worlds import HandClock


@pytest.fixture
def watch(clock: HandClock) -> Stopwatch:
    return Stopwatch(clock.now, clock.monotonic, 60.0)


def test_time_runs_down_to_nothing_and_no_further(watch: Stopwatch, clock: HandClock) -> None:
    clock.tick(25.0)
    assert (watch.spent_s, watch.seconds_left) == (25.0, 35.0)
    clock.tick(100.0)
    assert watch.seconds_left == 0.0


def test_only_the_first_key_ends_thinking(watch: Stopwatch, clock: HandClock) -> None:
    watch.start_thinking()
    clock.tick(1.5)
    watch.stop_thinking()
    clock.tick(4.0)
    watch.stop_thinking()
    assert watch.thinking_s == 1.5


def test_a_pause_holds_the_time_however_often_it_is_asked_for(watch: Stopwatch, clock: HandClock) -> None:
    clock.tick(10.0)
    watch.pause()
    clock.tick(500.0)
    watch.pause()
    assert watch.paused
    watch.resume()
    watch.resume()
    clock.tick(5.0)
    assert watch.spent_s == 15.0


def test_a_pause_in_a_question_leaves_its_thinking_time_unknown(watch: Stopwatch, clock: HandClock) -> None:
    watch.start_thinking()
    watch.pause()
    watch.resume()
    watch.stop_thinking()
    assert watch.thinking_s is None


def test_a_question_that_nobody_can_have_thought_about_for_so_long_is_a_pause(
    watch: Stopwatch, clock: HandClock
) -> None:
    clock.tick(10.0)
    for waited_s, thinking_s in [(LONGEST_THOUGHT_S, LONGEST_THOUGHT_S), (LONGEST_THOUGHT_S + 600, None)]:
        watch.start_thinking()
        spent_s = watch.spent_s
        clock.tick(waited_s)
        watch.heed_absence()
        watch.stop_thinking()
        assert watch.thinking_s == thinking_s
        assert watch.spent_s == spent_s + (thinking_s or 0.0)


def test_the_next_question_is_measured_again(watch: Stopwatch, clock: HandClock) -> None:
    watch.start_thinking()
    watch.pause()
    watch.start_thinking()
    clock.tick(0.75)
    watch.stop_thinking()
    assert watch.thinking_s == 0.75


@pytest.mark.parametrize("jump_s", [ASLEEP_S + 0.1, -ASLEEP_S - 0.1])
def test_a_sleep_is_noticed_once(watch: Stopwatch, clock: HandClock, jump_s: float) -> None:
    clock.tick(100.0)
    assert not watch.slept()
    clock.jump(jump_s)
    assert watch.slept()
    assert not watch.slept()


def test_a_sleep_in_a_pause_interrupts_nothing(watch: Stopwatch, clock: HandClock) -> None:
    watch.pause()
    clock.jump(3600.0)
    watch.resume()
    assert not watch.slept()


def test_a_clock_that_drifts_a_little_has_not_slept(watch: Stopwatch, clock: HandClock) -> None:
    clock.jump(ASLEEP_S - 0.1)
    assert not watch.slept()


def test_a_clock_looked_at_often_grows_as_the_system_s_does(clock: HandClock) -> None:
    steady = SteadyClock(clock.monotonic)
    began = steady()
    for _ in range(100):
        clock.tick(0.75 * ASLEEP_S)
        steady()
    assert steady() - began == pytest.approx(75 * ASLEEP_S)


def test_a_time_in_which_nobody_looked_is_left_out(clock: HandClock) -> None:
    steady = SteadyClock(clock.monotonic)
    watch = Stopwatch(clock.now, steady, 60.0)
    watch.start_thinking()
    clock.tick(1.0)
    steady()
    clock.tick(ASLEEP_S + 5.0)
    watch.stop_thinking()
    assert (watch.thinking_s, watch.spent_s) == (None, 1.0)
    watch.start_thinking()
    clock.tick(1.5)
    watch.stop_thinking()
    assert (watch.thinking_s, watch.spent_s) == (1.5, 2.5)


def test_a_thread_looks_at_the_clock_until_it_is_not_needed() -> None:
    threads, looks, enough = threading.active_count(), 0, threading.Event()

    def monotonic() -> float:
        nonlocal looks
        looks += 1
        if looks == 3:
            enough.set()
        return float(looks)

    with steady_clock(monotonic):
        assert enough.wait(60)
    assert threading.active_count() == threads
