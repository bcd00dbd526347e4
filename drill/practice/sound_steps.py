"""The steps of the check of sound and microphone: each hears for some seconds, and says what it found.

Finding   what a step found, with advice
Step      one step
Quiet     what is heard while nobody plays
Level     how loud the guitar arrives
Latency   how long a click takes out and back in
Loop      whether the microphone hears a loop as notes
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable
from math import log10
from typing import NamedTuple

import numpy as np

from drill.listening import Event, Heard
from drill.listening.events import Samples
from drill.sound.arrangement import arrange
from drill.sound.mix import LoopMix
from drill.sound.render import render
from drill.sound.round_trip import CLICKS, FEWEST, Clicks, round_trip
from drill.sound.volume import first_volume
from drill.system.audio import Source
from drill.theory.bars import bar_seconds
from drill.theory.chords import parse_chords
from drill.theory.names import NoteLanguage, show_note
from drill.theory.neck import names_of

LOUD_ROOM_DB = -45
"""A room as loud as this hides soft notes. Like all here it is in decibels below the loudest the microphone gives."""
SOFT_DB = -36
"""A guitar whose loudest is below this is played or recorded too softly."""
CLIPPED = 0.99
"""A sample as large as this has been cut off."""
CLIPS = 3
"""One sample may be as large by chance."""
ABOVE_ROOM_DB = 25
"""By so much the loudest note is to be above the room: with less, many a note is missed."""
LOOP = "Am F C G"
HEADPHONES = "Use headphones, or play the loop more quietly: its notes would be taken for yours."


class Finding(NamedTuple):
    """What a step found: a title, what it means in a sentence or two, and whether that is well."""

    title: str
    words: str
    good: bool


class Step(ABC):
    """One step. `source` is what it plays, if anything; it then overhears from the first sample of it on."""

    title = ""
    ask = ""
    """What the learner is to do."""
    seconds = 3.0
    source: Source | None = None

    @abstractmethod
    def overhear(self, samples: Samples) -> None:
        """Take what comes in."""

    @abstractmethod
    def hear(self, event: Event) -> None:
        """Take what the listener made of it."""

    @abstractmethod
    def finding(self) -> Finding:
        """What was found."""


class Quiet(Step):
    """What is heard while nobody plays."""

    title, ask, seconds = "Quiet", "Do not play, and damp the strings.", 3.0

    def __init__(self, rate: int) -> None:
        self._energy, self._count, self._named = 0.0, 0, 0

    def overhear(self, samples: Samples) -> None:
        self._energy += float(np.sum(np.square(samples, dtype=np.float64)))
        self._count += samples.size

    def hear(self, event: Event) -> None:
        self._named += isinstance(event, Heard)

    @property
    def room_db(self) -> int:
        """The root mean square of the room."""
        return _decibels((self._energy / max(1, self._count)) ** 0.5)

    def finding(self) -> Finding:
        if self._named:
            return self._found("Notes are heard while nobody plays. Damp the strings, and silence all that sounds.")
        if self.room_db > LOUD_ROOM_DB:
            return self._found(
                "That is loud: soft notes will be missed. Silence what hums, or move the microphone closer."
            )
        return Finding(self.title, f"The room is at {self.room_db} dB: quiet enough.", good=True)

    def _found(self, words: str) -> Finding:
        return Finding(self.title, f"The room is at {self.room_db} dB. {words}", good=False)


class Level(Step):
    """How loud the guitar arrives."""

    title, seconds = "Level", 8.0
    ask = "Play single notes as hard as you ever will, low and high."

    def __init__(self, rate: int, quiet: Quiet) -> None:
        self._quiet, self._peak, self._clipped, self._named = quiet, 0.0, 0, 0

    def overhear(self, samples: Samples) -> None:
        loudness = np.abs(samples)
        self._peak = max(self._peak, float(loudness.max(initial=0.0)))
        self._clipped += int(np.count_nonzero(loudness >= CLIPPED))

    def hear(self, event: Event) -> None:
        self._named += isinstance(event, Heard) and not event.held

    def finding(self) -> Finding:
        peak_db = _decibels(self._peak)
        if self._clipped >= CLIPS:
            return self._found(
                "That is too loud: it is cut off. Turn the input down, or move the microphone away.", peak_db
            )
        if peak_db < SOFT_DB:
            return self._found("That is too soft. Turn the input up, or bring the microphone closer.", peak_db)
        if peak_db < self._quiet.room_db + ABOVE_ROOM_DB:
            return self._found("That is barely louder than the room. Bring the microphone closer.", peak_db)
        if not self._named:
            return self._found("It is loud enough, but no note was made out. Let single notes ring.", peak_db)
        return Finding(self.title, f"The loudest was at {peak_db} dB: good.", good=True)

    def _found(self, words: str, peak_db: int) -> Finding:
        return Finding(self.title, f"The loudest was at {peak_db} dB. {words}", good=False)


class Latency(Step):
    """How long a click takes out and back in; `found` is called with the milliseconds if it can be told."""

    title = "Latency"
    ask = "Hold a headphone against the microphone or the pickup, and keep quiet: eight clicks will sound."

    def __init__(self, rate: int, decibels_down: int, found: Callable[[int], None]) -> None:
        self._rate, self._found = rate, found
        self._heard: list[Samples] = []
        self._clicks = Clicks(rate, first_volume(-decibels_down))
        self.source = self._clicks
        self.seconds = self._clicks.frames / rate + 0.5

    def overhear(self, samples: Samples) -> None:
        self._heard.append(samples)

    def hear(self, event: Event) -> None:
        """Clicks are no notes."""

    def finding(self) -> Finding:
        heard = np.concatenate([*self._heard, np.zeros(0, dtype=np.float32)])
        self._heard.clear()
        trip = round_trip(heard, self._clicks.starts, self._rate)
        if trip.heard < FEWEST:
            words = f"{trip.heard} of the {CLICKS} clicks came back. Hold it closer, or raise the volume in Set-up."
            return Finding(self.title, words, good=False)
        if not trip.steady:
            spread_ms = round(1000 * trip.spread / self._rate)
            words = f"The clicks came back unevenly, by {spread_ms} ms, so nothing is kept. Close other programs."
            return Finding(self.title, words, good=False)
        self._found(trip.milliseconds)
        return Finding(
            self.title, f"A click takes {trip.milliseconds} ms out and back; lateness leaves it out.", good=True
        )


class Loop(Step):
    """Whether the microphone hears a loop as notes: then nothing could be judged while one plays."""

    title = "Loop"
    ask = "Put the headphones on again and do not play: the loop sounds once."

    def __init__(self, rate: int, bpm: int, decibels_down: int, language: NoteLanguage) -> None:
        arrangement = arrange(parse_chords(LOOP), bpm)
        self.source = LoopMix(render(arrangement, rate), bpm, first_volume(-decibels_down))
        self.seconds = arrangement.seconds + bar_seconds(bpm)
        self._language = language
        self._named: list[int] = []

    def overhear(self, samples: Samples) -> None:
        """Only what is named counts."""

    def hear(self, event: Event) -> None:
        if isinstance(event, Heard) and not event.held:
            self._named.append(event.midi)

    def finding(self) -> Finding:
        if not self._named:
            return Finding(self.title, "The microphone took none of the loop for a note.", good=True)
        names = ", ".join(dict.fromkeys(show_note(names_of(midi % 12)[0], self._language) for midi in self._named[:6]))
        return Finding(self.title, f"The microphone heard the loop: {names}. {HEADPHONES}", good=False)


def _decibels(amplitude: float) -> int:
    """An amplitude in decibels below full scale; -120 stands for nothing."""
    return round(20 * log10(max(amplitude, 1e-6)))
