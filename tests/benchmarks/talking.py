"""How often somebody who talks in the room answers by mistake.

    python tests/benchmarks/talking.py [--seconds N] [--seed N]

Voices that say nothing are made after the source-filter model of speech (Fant 1960): pulses of the vocal cords, whose
pitch glides and trembles, through three resonances that move. They talk in a quiet room, and over noise 20 and 10 dB
under them. Of each kind it is told how many syllables were taken for plucks, how many of these would be right if their
note were wanted by chance (in truth it is one note of twelve), and how many would be charged.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterable
from typing import NamedTuple

import checkout  # noqa: F401  puts the checkout on the path, so that no installation is needed
import disturbed
import guitars
import numpy as np
from guitars import RANGES, RATE, Samples

from drill.listening import Event, Heard, listen
from drill.listening.verdict import Other, Right, verdict_on

VOWELS = (
    (700, 1200, 2600),
    (300, 2300, 3000),
    (500, 900, 2500),
    (350, 700, 2400),
    (550, 1800, 2500),
    (450, 1100, 2300),
)
LOUDEST, QUIET_ROOM = 0.1, 1e-4


class Voice(NamedTuple):
    """A way to talk: pitch in hertz, semitones it glides, how long a syllable and a pause are, and how it begins."""

    hertz: tuple[float, float]
    glides: float = 2.0
    lasts_s: tuple[float, float] = (0.1, 0.3)
    pauses_s: tuple[float, float] = (0.03, 0.2)
    begins_hard: bool = False
    """As after p, t or k: at once, and fading after that, which is much like a pluck."""


VOICES = {
    "man": Voice((85, 140)),
    "woman": Voice((160, 240), 2.5),
    "child": Voice((240, 380), 3),
    "hard": Voice((90, 230), begins_hard=True),
    "monotonous": Voice((90, 230), 0.7, (0.12, 0.35)),
    "monotonous, hard": Voice((90, 230), 0.7, (0.12, 0.35), (0.05, 0.3), begins_hard=True),
    "slow": Voice((90, 230), 1.5, (0.2, 0.5), (0.2, 0.9)),
    "slow, hard": Voice((90, 230), 1.5, (0.2, 0.5), (0.4, 1.2), begins_hard=True),
}


def talk(voice: Voice, seconds: float, chance: np.random.Generator) -> Samples:
    """So many seconds of a voice, each syllable about as loud as a soft pluck."""
    samples, at = guitars.silence(seconds), 0
    while at < samples.size:
        syllable = _syllable(voice, chance)
        loudness = LOUDEST * chance.uniform(0.3, 1) / np.abs(syllable).max()
        guitars.add(samples, (loudness * syllable).astype(np.float32), at)
        at += syllable.size + round(chance.uniform(*voice.pauses_s) * RATE)
    return samples


def _syllable(voice: Voice, chance: np.random.Generator) -> Samples:
    count = round(chance.uniform(*voice.lasts_s) * RATE)
    along = np.linspace(0, 1, count)
    first, middle, last = chance.uniform(-voice.glides, voice.glides, 3) * (1, 1 / 3, 1)
    semitones = first * (1 - along) + last * along + middle * np.sin(np.pi * along)
    trembling = 1 + 0.01 * chance.standard_normal(count).cumsum() / count**0.5
    turns = np.cumsum(chance.uniform(*voice.hertz) * 2 ** (semitones / 12) * trembling) / RATE
    pulses = np.diff(np.floor(turns), prepend=0.0) + 0.02 * chance.standard_normal(count)
    before, after = (_coloured(pulses, VOWELS[int(chance.integers(len(VOWELS)))]) for _ in range(2))
    moved = np.clip((along - chance.uniform(0, 0.4)) / chance.uniform(0.2, 0.6), 0, 1)
    return ((before * (1 - moved) + after * moved) * _envelope(voice, count, chance)).astype(np.float32)


def _coloured(pulses: Samples, vowel: Iterable[float]) -> Samples:
    bins = np.fft.rfftfreq(pulses.size, 1 / RATE)
    gain = sum((500 / centre) ** 0.5 / (1 + ((bins - centre) / (50 + 0.04 * centre)) ** 2) for centre in vowel)
    return np.fft.irfft(np.fft.rfft(pulses) * gain / (1 + bins / 2500), pulses.size)


def _envelope(voice: Voice, count: int, chance: np.random.Generator) -> Samples:
    at = np.arange(count) / RATE
    if not voice.begins_hard:
        return np.sin(np.pi * np.arange(count) / count) ** 0.5
    rise = np.minimum(1, at / chance.uniform(0.005, 0.03))
    fall = np.minimum(1, (count / RATE - at) / chance.uniform(0.03, 0.08))
    return rise * fall * np.exp(-at * chance.uniform(0, 4))


def judged(events: list[Event]) -> tuple[int, int, int]:
    """How many plucks there were, how many would be right if their note were wanted, and how many charged."""
    onsets = sorted({event.onset for event in events})
    right = sum(any(_is_right(onset, events, name) for name in range(12)) for onset in onsets)
    charged = sum(isinstance(verdict_on(onset, events, (), RATE), Other) for onset in onsets)
    return len(onsets), right, charged


def _is_right(onset: int, events: list[Event], name: int) -> bool:
    is_heard = any(isinstance(event, Heard) and event.onset == onset for event in events)
    return is_heard and isinstance(verdict_on(onset, events, lambda midi: midi % 12 == name, RATE), Right)


def main() -> None:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--seconds", type=float, default=60)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    for room, db in (("a quiet room", None), ("noise 20 dB under", -20), ("noise 10 dB under", -10)):
        for name, voice in VOICES.items():
            chance = np.random.default_rng([options.seed, *name.encode()])
            samples = talk(voice, options.seconds, chance)
            level = QUIET_ROOM if db is None else guitars.rms(samples) * 10 ** (db / 20)
            plucks, right, charged = judged(
                listen(samples + disturbed.hiss(samples.size, level, chance), RATE, *RANGES["strat"])
            )
            print(f"{room:<20}{name:<18}{plucks:4} plucks {right:4} of any note {charged:4} charged", flush=True)


if __name__ == "__main__":
    main()
