"""The reader of one window: sounds whose pitch is known from their making."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from drill.listening.events import Samples
from drill.listening.pitch import Reader, Reading

RATE = 44_100
READER = Reader(RATE, 40, 86)
NOTHING = READER.power(np.zeros(READER.size, np.float32))


def _tone(hertz: float, *loud: float) -> Samples:
    """A window of a tone whose partials are so loud."""
    at = np.arange(READER.size) / RATE
    partials = [each * np.sin(2 * np.pi * hertz * (number + 1) * at + number) for number, each in enumerate(loud)]
    return (0.1 * np.sum(partials, axis=0)).astype(np.float32)


def _pitch(reading: Reading | None) -> float:
    assert reading is not None
    return reading.pitch


# A4 is 440 Hz (ISO 16); the others by their equal-tempered frequencies in Young 1939, JASA 11, table of frequencies.
@pytest.mark.parametrize(
    ("hertz", "midi"), [(440.0, 69), (82.407, 40), (110.0, 45), (246.942, 59), (659.255, 76), (1174.659, 86)]
)
@pytest.mark.parametrize("partials", [(1, 0.7, 0.5, 0.3), (0.15, 1, 0.9, 0.7, 0.6), (1,)], ids=["full", "thin", "pure"])
def test_tones_of_known_frequency_are_read_within_three_cents(
    hertz: float, midi: int, partials: tuple[float, ...]
) -> None:
    assert _pitch(READER.read(_tone(hertz, *partials), NOTHING)) == pytest.approx(midi, abs=0.03)


def test_an_octave_in_doubt_is_refused_and_never_named_wrong() -> None:
    """From a tone with both octaves to one that is all even partials: the lower, then nothing, then the upper."""
    named = [READER.read(_tone(110, odd, 1, odd, 0.8, odd, 0.6), NOTHING) for odd in np.linspace(1, 0, 41)]
    pitches = [0 if reading is None else reading.midi for reading in named]
    assert set(pitches) == {45, 0, 57}
    changes = [(before, now) for before, now in pairwise(pitches) if before != now]
    assert changes == [(45, 0), (0, 57)]


def test_what_rang_before_is_taken_off() -> None:
    ringing, new = _tone(110, 1, 0.6, 0.4), _tone(329.628, 1, 0.5, 0.3)
    alone = READER.read(ringing + new, NOTHING)
    assert alone is None or alone.midi != 64
    assert _pitch(READER.read(ringing + new, READER.power(ringing))) == pytest.approx(64, abs=0.1)


def test_where_nothing_new_sounds_there_is_nothing_to_read() -> None:
    ringing = _tone(110, 1, 0.6, 0.4)
    assert READER.read(ringing, READER.power(ringing)) is None
    assert READER.read(np.zeros(READER.size, np.float32), NOTHING) is None


def test_noise_has_no_pitch() -> None:
    for seed in range(50):
        noise = np.random.default_rng(seed).standard_normal(READER.size).astype(np.float32)
        assert READER.read(noise, NOTHING) is None


@pytest.mark.parametrize("hertz", [65.4, 1480.0])
def test_tones_beyond_the_range_are_not_read_as_some_note_within(hertz: float) -> None:
    reading = READER.read(_tone(hertz, 1, 0.5, 0.3), NOTHING)
    assert reading is None


def test_a_window_holds_three_periods_of_the_lowest_note() -> None:
    for rate in (22_050, 44_100, 48_000):
        for low in (23, 28, 35, 40, 60):
            assert Reader(rate, low, low + 40).size >= 3 * rate / (440 * 2 ** ((low - 69) / 12))
