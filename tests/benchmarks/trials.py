"""Trials of the listener on recorded notes: alone, in phrases, in a round of keys with its click."""

from __future__ import annotations

import zlib
from typing import NamedTuple

import guitars
import numpy as np
from disturbed import Change, hiss
from guitars import LEAD_S, RANGES, RATE, Note, Recordings, Samples

from drill.listening import Event, Heard, Listener
from drill.listening.verdict import Other, Right, Verdict, verdict
from drill.sound.noise import beat_click

BLOCK = 512
BEAT_S = 60 / 80
EARLY_S = 0.05
"""What is plucked up to so much before its time counts."""
NEVER = 10**9
BEATS_A_KEY = 8
CLICK_DB = -6
"""The peak of a click that leaks in, against the root mean square of the notes."""


class Tally(NamedTuple):
    """What came of some notes."""

    verdicts: list[Verdict]
    lates_ms: list[float]
    """From the pluck to where the listener says it was."""
    waits_ms: list[float]
    """From the pluck to the name."""

    @property
    def right(self) -> int:
        return sum(isinstance(each, Right) for each in self.verdicts)

    @property
    def charged(self) -> int:
        return sum(isinstance(each, Other) for each in self.verdicts)

    def reaches(self, right: float, charged: float) -> bool:
        """Whether so many in a hundred are right, and no more than so many charged."""
        count = len(self.verdicts)
        return 100 * self.right >= right * count and 100 * self.charged <= charged * count

    def __str__(self) -> str:
        count = len(self.verdicts)
        return f"{100 * self.right / count:5.1f} % right, {100 * self.charged / count:.2f} % charged of {count}"


def chance_for(*names: object) -> np.random.Generator:
    """The chance that belongs to a trial, the same in every run."""
    return np.random.default_rng(zlib.crc32(repr(names).encode()))


def heard(samples: Samples, kind: str, rate: int = RATE, block: int = BLOCK) -> list[Event]:
    """The events of samples fed in blocks."""
    listener = Listener(rate, *RANGES[kind])
    return [event for at in range(0, samples.size, block) for event in listener.feed(samples[at : at + block])]


def tried(name: str, change: Change, recordings: Recordings, tries: int = 1, rate: int = RATE) -> Tally:
    """Every note in one condition."""
    found = Tally([], [], [])
    for number, note in enumerate(recordings.notes):
        for attempt in range(tries):
            samples = change(note, recordings, chance_for(name, number, attempt))
            if rate != RATE:
                samples = guitars.resampled(samples, rate / RATE)
            _judge(found, note, heard(samples, note.kind, rate), rate)
    return found


def _judge(found: Tally, note: Note, events: list[Event], rate: int) -> None:
    opened, plucked = round((LEAD_S - EARLY_S) * rate), (LEAD_S + note.attack / RATE) * rate
    found.verdicts.append(verdict(events, note.octaves, opened, NEVER, 0))
    notes = [event for event in events if isinstance(event, Heard) and event.onset >= opened]
    named = [event for event in notes if event.midi in note.octaves]
    if named:
        found.lates_ms.append((named[0].onset - plucked) / rate * 1000)
        found.waits_ms.append((named[0].decided - plucked) / rate * 1000)


def played(recordings: Recordings, kind: str, each_beat: int, rings: bool, number: int) -> list[Verdict]:
    """What comes of the notes of a phrase of 32 by chance, at 80 beats a minute."""
    chance = chance_for("phrase", kind, each_beat, rings, number)
    low = [note for note in recordings.of(kind).notes if note.midi <= 79]
    line = [low[int(at)] for at in chance.integers(len(low), size=32)]
    every_s = BEAT_S / each_beat
    events = heard(guitars.phrase(line, every_s, rings=rings), kind)
    opened = [round((LEAD_S + place * every_s - EARLY_S) * RATE) for place in range(len(line) + 1)]
    return [verdict(events, note.octaves, *opened[place : place + 2], 0) for place, note in enumerate(line)]


class Round(NamedTuple):
    """What came of a round: a verdict for each key, and by how many milliseconds the right landings are off."""

    verdicts: list[Verdict]
    off_ms: list[float]


def round_of(keys: int, recordings: Recordings) -> Round:
    """Every two bars a key; its tonic is plucked up to two beats late, while the click goes on and leaks in."""
    chance = chance_for("round")
    low = [note for note in recordings.of("strat").notes if note.midi <= 76]
    line = [low[int(at)] for at in chance.integers(len(low), size=keys)]
    lates = [round(chance.uniform(-0.03, 2 * BEAT_S) * RATE) for _ in line]
    samples = np.concatenate([_two_bars(note, late, chance) for note, late in zip(line, lates, strict=True)])
    events = heard(samples, "strat")
    beat, early = round(BEAT_S * RATE), round(EARLY_S * RATE)  # whole samples, as they are in the sound: no drift
    opened = [(number * BEATS_A_KEY + 1) * beat - early for number in range(keys + 1)]
    verdicts = [verdict(events, note.octaves, *opened[at : at + 2], 0) for at, note in enumerate(line)]
    off = [
        abs(each.late - early - late - note.attack) / RATE * 1000
        for each, late, note in zip(verdicts, lates, line, strict=True)
        if isinstance(each, Right)
    ]
    return Round(verdicts, off)


def _two_bars(note: Note, late: int, chance: np.random.Generator) -> Samples:
    """Eight clicks, the first on the second beat; with it, or late, the note."""
    beat = round(BEAT_S * RATE)
    samples = hiss(BEATS_A_KEY * beat, note.loudness * 10 ** (-40 / 20), chance)
    for number in range(BEATS_A_KEY):
        click = beat_click(number, RATE) * np.float32(note.loudness * 10 ** (CLICK_DB / 20))
        guitars.add(samples, click, (number + 1) * beat)
    guitars.add(samples, note.samples, beat + late)
    return samples
