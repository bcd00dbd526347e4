"""The steady noise of a room is what is left between the sounds."""

from __future__ import annotations

import numpy as np
import pytest

from drill.listening.events import Samples
from drill.listening.noise import Noise
from tests.support.busy_room import talk
from tests.support.playing import RATE, noise

SIZE, HOP = 1024, 256


def _power(samples: Samples) -> float:
    found, past = Noise(RATE, SIZE, HOP), np.concatenate([np.zeros(SIZE, np.float32), samples])
    for end in range(SIZE + HOP, past.size + 1, HOP):
        found.take(past[end - SIZE : end])
    return found.power


def test_steady_noise_is_told_with_its_power() -> None:
    hiss = noise(1.0)
    assert _power(hiss) == pytest.approx(np.mean(np.square(hiss)), rel=0.2)


def test_a_quiet_room_in_which_somebody_talks_is_quiet() -> None:
    voice, hiss = talk(2.0, seed=3), noise(2.0, db=-50)
    assert _power(voice[: hiss.size] + hiss) == pytest.approx(np.mean(np.square(hiss)), rel=0.2)


def test_a_room_that_has_become_quiet_is_quiet_at_once_and_one_that_has_become_loud_after_a_second() -> None:
    loud, quiet = noise(1.5), noise(1.5, db=-50)
    assert _power(np.concatenate([loud, quiet[: 3 * SIZE]])) < np.mean(np.square(loud)) / 100
    assert _power(np.concatenate([quiet, loud[: RATE // 2]])) < np.mean(np.square(loud)) / 100
    assert _power(np.concatenate([quiet, loud])) > np.mean(np.square(loud)) / 2


def test_nothing_is_known_before_the_stream_has_begun() -> None:
    assert _power(np.zeros(0, np.float32)) == 0
    assert _power(noise(0.01)) == 0
