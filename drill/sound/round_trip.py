"""How long sound takes out through the sound card and back in: clicks to be played, and where they are heard.

Clicks       what to play
round_trip   the time from each click to its return

The clicks are noise, which is found even where loudspeaker and microphone colour it: by correlation, as in Oppenheim &
Schafer, Discrete-Time Signal Processing (matched filter).
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from drill.sound.noise import ACCENT, burst
from drill.sound.pluck import Samples
from drill.sound.render import PEAK
from drill.sound.volume import factor
from drill.sound.wav import pcm

CLICKS = 8
APART_S = 0.6
LONGEST_S = 0.5
"""No return is looked for later than this after its click."""
STANDS_OUT = 8.0
"""How often the usual correlation its peak must be, to count as a click: in noise alone it is four to five times."""
FEWEST = 6
"""So many clicks must have come back."""
SPREAD_S = 0.005
"""Returns that differ by more than this measure nothing."""


class Clicks:
    """Plays eight clicks, then silence."""

    def __init__(self, rate: int, volume_db: int) -> None:
        self.starts = tuple(round((0.1 + APART_S * number) * rate) for number in range(CLICKS))
        self.frames = round((0.1 + APART_S * CLICKS) * rate)
        """How long they take with their returns, in samples."""
        self._given = 0
        self._track = np.zeros(self.frames, dtype=np.float32)
        click = burst(ACCENT, rate) * np.float32(PEAK * factor(volume_db))
        for start in self.starts:
            self._track[start : start + click.size] = click

    def __call__(self, frames: int) -> bytes:
        """The next frames, as 16-bit numbers of one channel."""
        block = np.zeros(frames, dtype=np.float32)
        part = self._track[self._given : self._given + frames]
        block[: part.size] = part
        self._given += frames
        return pcm(block)


class RoundTrip(NamedTuple):
    """How many samples the clicks took, half of them less and half more, and by how much they differed."""

    median: int
    spread: int
    heard: int
    """How many of the clicks came back."""
    rate: int

    @property
    def steady(self) -> bool:
        """Whether it measures anything."""
        return self.heard >= FEWEST and self.spread <= SPREAD_S * self.rate

    @property
    def milliseconds(self) -> int:
        """The median in thousandths of a second."""
        return round(1000 * self.median / self.rate)


def round_trip(heard: Samples, starts: tuple[int, ...], rate: int) -> RoundTrip:
    """Find clicks that were played at `starts` in what was heard from sample 0 on."""
    found = [lag for start in starts if (lag := _lag(heard[start:], rate)) is not None]
    if not found:
        return RoundTrip(0, 0, 0, rate)
    return RoundTrip(round(float(np.median(found))), max(found) - min(found), len(found), rate)


def _lag(heard: Samples, rate: int) -> int | None:
    """After how many samples a click comes back; None where it does not."""
    click = burst(ACCENT, rate)
    window = heard[: round(LONGEST_S * rate) + click.size]
    if window.size <= click.size:
        return None
    matched = np.abs(_correlation(window, click))
    at = int(np.argmax(matched))
    usual = float(np.sqrt(np.mean(np.square(matched))))
    return at if matched[at] > STANDS_OUT * usual > 0 else None


def _correlation(window: Samples, click: Samples) -> NDArray[np.float64]:
    size = 1 << (window.size + click.size).bit_length()
    product = np.fft.rfft(window, size) * np.conj(np.fft.rfft(click, size))
    return np.fft.irfft(product, size)[: window.size - click.size]
