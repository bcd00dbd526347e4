"""A room with a guitar: what is done in it at each call of a round, and what may come of it.

Doing    what is done at a call
Hands    chooses by chance: a landing, a phrase, another note, noise, talk, or nothing
talk     a voice that says nothing
"""

from __future__ import annotations

import random
import re
from typing import NamedTuple

import numpy as np

from drill.sound.pluck import Samples
from drill.theory.keys import Key
from tests.support.playing import knock, noise, note_of, played

RATE = 44_100
MINOR, MAJOR = (0, 3, 5, 7, 10), (0, 2, 4, 7, 9)
"""The notes of the five-note scales, in semitones from the tonic."""
NAME, OUTCOME = r"(?P<name>[A-G][♯♭]? (?:minor|major))", r"(?P<outcome>landed|late|another note|not heard)"
CALLED = re.compile(rf"\d+\. {NAME}(?: \({OUTCOME}[^)]*\))?")
TOLD_LATER = re.compile(rf"{NAME}: {OUTCOME}.*")
KINDS = ("landing", "landing", "landing", "phrase", "other", "late", "noise", "talk", "quiet")
LANDED, LATE, OTHER, NOT_HEARD = "landed", "late", "another", "not heard"


class Doing(NamedTuple):
    """What is done at a call: sounds from so many seconds after it, and the first words of what may come of it."""

    name: str
    after_s: float
    samples: Samples
    may_come: tuple[str, ...]

    def allows(self, outcome: str) -> bool:
        """Whether this is a right verdict, or none."""
        return outcome.startswith(self.may_come)


class Hands:
    """Chooses what is done at each call."""

    def __init__(self, seed: int, bar_s: float, kinds: tuple[str, ...] = KINDS) -> None:
        self._chance, self._bar_s, self._kinds = random.Random(seed), bar_s, kinds

    def at(self, key: Key) -> Doing:
        """What is done at the call of a key."""
        name = self._chance.choice(self._kinds)
        return getattr(self, f"_{name}")(key)  # type: ignore[no-any-return]

    def _tonic(self, key: Key) -> int:
        return self._chance.choice([midi for midi in range(41, 72) if midi % 12 == key.tonic.pitch_class])

    def _in_time(self) -> float:
        return self._chance.uniform(0.36, 0.6) * self._bar_s

    def _landing(self, key: Key) -> Doing:
        return Doing("landing", self._in_time(), note_of(self._tonic(key), 1.0), (LANDED, NOT_HEARD))

    def _late(self, key: Key) -> Doing:
        after_s = self._chance.uniform(1.35, 1.5) * self._bar_s
        return Doing("late", after_s, note_of(self._tonic(key), 0.8), (LATE, NOT_HEARD))

    def _phrase(self, key: Key) -> Doing:
        """The tonic, then eight notes of its scale with strings left ringing."""
        tonic, scale = self._tonic(key), MINOR if key.mode == "minor" else MAJOR
        notes = [tonic, *(tonic + self._chance.choice(scale) for _ in range(8))]
        line = played([(0.375 * number, midi) for number, midi in enumerate(notes)], 3.6, ringing=True)
        return Doing("phrase", self._in_time(), line, (LANDED, NOT_HEARD))

    def _other(self, key: Key) -> Doing:
        midi = self._tonic(key) + self._chance.choice([1, 2, 3, 5, 7, 10])
        return Doing("other", self._in_time(), note_of(midi, 1.0), (OTHER, NOT_HEARD))

    def _noise(self, key: Key) -> Doing:
        """Hiss, and hands on the strings."""
        hiss, seed = noise(3.0, db=-12, seed=self._chance.randrange(999)), self._chance.randrange(999)
        for number in range(4):
            thump, at = knock(seed=seed + number), round(0.6 * number * RATE)
            hiss[at : at + thump.size] += thump
        return Doing("noise", self._in_time(), hiss, (NOT_HEARD,))

    def _talk(self, key: Key) -> Doing:
        return Doing("talk", self._in_time(), talk(3.0, self._chance.randrange(999)), (NOT_HEARD,))

    def _quiet(self, key: Key) -> Doing:
        return Doing("quiet", 0.0, np.zeros(0, dtype=np.float32), (NOT_HEARD,))


def talk(seconds: float, seed: int, loudness: float = 0.1) -> Samples:
    """A voice that says nothing: syllables whose pitch glides, coloured like vowels, with pauses between them.

    Made after the source-filter model of speech (Fant 1960): pulses of the vocal cords, three resonances.
    """
    chance = np.random.default_rng(seed)
    samples, at = np.zeros(round(seconds * RATE), dtype=np.float32), 0
    usual_hz = chance.uniform(90, 220)
    while at < samples.size:
        syllable = _syllable(chance, usual_hz)[: samples.size - at]
        samples[at : at + syllable.size] = syllable
        at += syllable.size + round(chance.uniform(0.03, 0.2) * RATE)
    return (samples * (loudness / np.abs(samples).max())).astype(np.float32)


def _syllable(chance: np.random.Generator, usual_hz: float) -> Samples:
    count = round(chance.uniform(0.1, 0.3) * RATE)
    hertz = usual_hz * np.linspace(chance.uniform(0.9, 1.2), chance.uniform(0.8, 1.1), count)
    turns = np.cumsum(hertz * (1 + 0.01 * chance.standard_normal(count).cumsum() / count**0.5)) / RATE
    pulses = np.diff(np.floor(turns), prepend=0.0) + 0.02 * chance.standard_normal(count)
    spectrum, bins = np.fft.rfft(pulses), np.fft.rfftfreq(count, 1 / RATE)
    vowel = chance.choice([[700, 1200, 2600], [300, 2300, 3000], [500, 900, 2500], [350, 700, 2400]])
    gain = sum(1 / (1 + ((bins - centre) / 80) ** 2) for centre in vowel)
    voiced = np.fft.irfft(spectrum * gain, count) * np.sin(np.pi * np.arange(count) / count) ** 0.5
    return voiced.astype(np.float32)


def outcomes(said: str) -> list[str]:
    """What a round in lines told of each call, in the order of the calls; empty where it told nothing."""
    names: list[str] = []
    told: dict[int, str] = {}
    for line in said.partition("The round is over")[0].splitlines():
        if call := CALLED.match(line):
            names.append(call["name"])
            if call["outcome"]:
                told[len(names) - 1] = call["outcome"]
        elif later := TOLD_LATER.fullmatch(line):
            open_calls = [number for number, name in enumerate(names) if name == later["name"] and number not in told]
            told[open_calls[0]] = later["outcome"]
    return [told.get(number, "") for number in range(len(names))]
