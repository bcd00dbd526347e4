"""An independent reader of rendered loops: it knows nothing of how they are made.

Chords are read from pitch class profiles and binary templates: Fujishima 1999, "Realtime chord recognition of musical
sound", Proc. ICMC, 464-467. Here the energy of each line of the spectrum goes to the nearest semitone, with A4 = 440 Hz
(ISO 16).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

TEMPLATES = {"": (0, 4, 7), "m": (0, 3, 7)}


def energies(samples: NDArray[np.float32], rate: int, low_hz: float, high_hz: float) -> dict[int, float]:
    """The energy at each MIDI number in a band."""
    power = np.abs(np.fft.rfft(samples * np.hanning(samples.size))) ** 2
    hertz = np.fft.rfftfreq(samples.size, 1 / rate)
    inside = (hertz > low_hz) & (hertz < high_hz)
    midi = np.rint(69 + 12 * np.log2(hertz[inside] / 440)).astype(int)
    return {int(number): float(power[inside][midi == number].sum()) for number in set(midi.tolist())}


def triad(samples: NDArray[np.float32], rate: int) -> tuple[int, str]:
    """The pitch class of the root and the kind of the triad that fits best."""
    profile = np.zeros(12)
    for number, energy in energies(samples, rate, 160, 1000).items():
        profile[number % 12] += energy**0.5
    scores = {
        (root, kind): sum(profile[(root + tone) % 12] for tone in tones)
        for root in range(12)
        for kind, tones in TEMPLATES.items()
    }
    return max(scores, key=lambda each: scores[each])


def lowest_note(samples: NDArray[np.float32], rate: int) -> int:
    """The MIDI number with the most energy between 40 and 160 Hz: the bass."""
    found = energies(samples, rate, 40, 160)
    return max(found, key=lambda number: found[number])


def onsets(samples: NDArray[np.float32], rate: int, quiet_s: float = 0.05) -> list[int]:
    """The frames at which sound begins after a silence."""
    loud = np.flatnonzero(np.abs(samples) > 0.02 * np.abs(samples).max())
    gaps = np.flatnonzero(np.diff(loud) > quiet_s * rate)
    return [int(loud[0]), *(int(loud[gap + 1]) for gap in gaps)]


def flatness(samples: NDArray[np.float32], rate: int, low_hz: float, high_hz: float) -> float:
    """Spectral flatness of a band: the geometric mean of the power spectrum over the arithmetic one, 0 for a tone.

    White noise has e^-0.577 = 0.56, its power being exponentially distributed: Johnston 1988, IEEE J-SAC 6(2):314-323.
    """
    hertz = np.fft.rfftfreq(samples.size, 1 / rate)
    power = np.abs(np.fft.rfft(samples))[(hertz > low_hz) & (hertz < high_hz)] ** 2
    return float(np.exp(np.log(power + 1e-30).mean()) / power.mean())
