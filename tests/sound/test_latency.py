"""The latency of a click is found to the sample, and nothing is made up where it cannot be found."""

from __future__ import annotations

import numpy as np
import pytest

from drill.sound.pluck import Samples
from drill.sound.round_trip import CLICKS, SPREAD_S, Clicks, round_trip

RATE = 44_100


def played(clicks: Clicks) -> Samples:
    """What is heard where nothing is lost, as 32-bit numbers."""
    blocks = [np.frombuffer(clicks(882), dtype="<i2") for _ in range(clicks.frames // 882 + 1)]
    return (np.concatenate(blocks) / 32768).astype(np.float32)


def later(samples: Samples, lag: int, loudness: float = 1.0, *, hiss: float = 0.0) -> Samples:
    heard = np.concatenate([np.zeros(lag, dtype=np.float32), samples * np.float32(loudness)])
    return heard + (hiss * np.random.default_rng(3).standard_normal(heard.size)).astype(np.float32)


@pytest.mark.parametrize("lag", [0, 441, 3087, 15_000])
@pytest.mark.parametrize("hiss", [0.0, 1e-3])
def test_every_click_is_found_to_the_sample(lag: int, hiss: float) -> None:
    clicks = Clicks(RATE, -20)
    trip = round_trip(later(played(clicks), lag, 0.2, hiss=hiss), clicks.starts, RATE)
    assert (trip.median, trip.spread, trip.heard) == (lag, 0, CLICKS)
    assert trip.steady
    assert trip.milliseconds == round(1000 * lag / RATE)


def test_a_loudspeaker_that_colours_the_click_changes_little() -> None:
    clicks = Clicks(RATE, -20)
    coloured = np.convolve(played(clicks), np.exp(-np.arange(200) / 20))[: clicks.frames].astype(np.float32)
    trip = round_trip(later(coloured, 3087, hiss=1e-3), clicks.starts, RATE)
    assert trip.steady
    assert abs(trip.median - 3087) < 0.001 * RATE


def test_clicks_that_come_back_unevenly_measure_nothing() -> None:
    clicks = Clicks(RATE, -20)
    heard = played(clicks)
    middle = clicks.starts[4] - 2000
    torn = np.concatenate([heard[:middle], np.zeros(round(1.1 * SPREAD_S * RATE), dtype=np.float32), heard[middle:]])
    trip = round_trip(later(torn, 3000), clicks.starts, RATE)
    assert trip.heard == CLICKS
    assert not trip.steady


@pytest.mark.parametrize("hiss", [0.0, 0.01])
def test_nothing_is_found_where_nothing_comes_back(hiss: float) -> None:
    clicks = Clicks(RATE, -20)
    trip = round_trip(later(played(clicks), 0, 0.0, hiss=hiss), clicks.starts, RATE)
    assert trip.heard == 0
    assert not trip.steady


def test_after_the_clicks_comes_silence() -> None:
    clicks = Clicks(RATE, -20)
    assert np.abs(played(clicks)).max() == pytest.approx(0.1, rel=0.01)  # -20 dBFS
    assert not any(clicks(1000))
