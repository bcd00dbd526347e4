"""Time inside a drill."""

from __future__ import annotations

import pytest

from drill.stopwatch import Stopwatch
from tests.conftest import HandClock


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


def test_the_next_question_is_measured_again(watch: Stopwatch, clock: HandClock) -> None:
    watch.start_thinking()
    watch.pause()
    watch.start_thinking()
    clock.tick(0.75)
    watch.stop_thinking()
    assert watch.thinking_s == 0.75
