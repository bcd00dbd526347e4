"""The check of sound and microphone, step by step: quiet, level, latency, and a loop.

SoundCheck   runs the steps one after the other; a face shows what to do and what was found
Finding      what a step found, with advice
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from drill.practice.hearing import open_ears
from drill.practice.sound_steps import Finding, Latency, Level, Loop, Quiet, Step
from drill.settings import Settings
from drill.system.audio import BYTES_A_FRAME, Source
from drill.system.duplex import Devices, names_bluetooth
from drill.system.environment import Environment

if TYPE_CHECKING:
    from drill.listening.events import Samples

READ_S = 2.5
"""Time to read what is to be done, before each step begins."""
BLUETOOTH = "“{}” goes by Bluetooth. Its latency wanders, so how late a note comes cannot be trusted. Use a cable."


class _Switch:
    """Plays one source after the other in one stream, silence between them. Called from a thread of the sound card."""

    def __init__(self) -> None:
        self._source: Source | None = None
        self._given = 0
        self.began: int | None = None
        """The sample of the stream at which the source began; None before that."""

    def play(self, source: Source | None) -> None:
        """Play this from now on, or silence."""
        self._source, self.began = None, None
        self._source = source

    def __call__(self, frames: int) -> bytes:
        source = self._source
        if source is not None and self.began is None:
            self.began = self._given
        self._given += frames
        return source(frames) if source is not None else bytes(BYTES_A_FRAME * frames)


class SoundCheck:
    """From `start` on, `poll` takes what is heard and goes from step to step; `stop` may come at any moment."""

    def __init__(self, environment: Environment, settings: Settings) -> None:
        """Raises NoSound."""
        self.ears = open_ears(environment, settings)
        self.findings: list[Finding] = []
        self.latency_ms: int | None = None
        """How long a click takes out and back in, in milliseconds; None until it is measured."""
        self._switch = _Switch()
        quiet = Quiet(self.ears.rate)
        self._steps: list[Step] = [
            quiet,
            Level(self.ears.rate, quiet),
            Latency(self.ears.rate, settings.decibels_down, self._found_latency),
            Loop(self.ears.rate, settings.tempo_bpm, settings.decibels_down, settings.note_language),
        ]
        self._begins = self._ends = 0
        self._playing = False
        self.ears.overhear = self._overhear

    def start(self) -> None:
        """Open the microphone. Raises NoSound."""
        self.ears.start(self.source)
        self._plan()

    @property
    def source(self) -> Source:
        """What the check plays: clicks, a loop, and silence between them."""
        return self._switch

    def stop(self) -> None:
        """Close the microphone. Safe to call twice."""
        self.ears.stop()

    @property
    def step(self) -> Step | None:
        """What is being done; None once all is done."""
        return self._steps[0] if self._steps else None

    def poll(self) -> list[Finding]:
        """Take what was heard; gives what has been found since the last call."""
        before = len(self.findings)
        events = self.ears.poll()
        if self.ears.trouble:
            self.findings.append(Finding("Microphone", self.ears.trouble, good=False))
            self._steps.clear()
        if (step := self.step) is not None:
            for event in events:
                if self._begins <= event.onset:
                    step.hear(event)
            if self.ears.position >= self._ends:
                self._finish(step)
        if self.step is None:
            self.stop()
        return self.findings[before:]

    def skip(self) -> None:
        """Leave the step out."""
        self._next()

    def _overhear(self, samples: Samples) -> None:
        """Begin the step in time, and let it take the samples; if it plays, from the first that it plays."""
        step, at = self.step, self.ears.position
        if step is None or at < self._begins:
            return
        if step.source is None:
            step.overhear(samples)
        elif not self._playing:
            self._playing = True
            self._switch.play(step.source)
        elif (began := self._switch.began) is not None and (fresh := samples[max(0, began - at) :]).size:
            step.overhear(fresh)

    def _finish(self, step: Step) -> None:
        self.findings.append(step.finding())
        self._next()

    def _next(self) -> None:
        self._steps = self._steps[1:]
        self._plan()

    def _plan(self) -> None:
        """When the step begins and ends, in samples of the stream."""
        self._switch.play(None)
        self._playing = False
        if (step := self.step) is not None:
            self._begins = self.ears.position + round(READ_S * self.ears.rate)
            self._ends = self._begins + round(step.seconds * self.ears.rate)

    def _found_latency(self, milliseconds: int) -> None:
        self.latency_ms = milliseconds


def warnings(settings: Settings, devices: Devices) -> list[str]:
    """What is to be known of the devices before anything is checked, in sentences."""
    chosen = [name for name in (settings.microphone, settings.speaker) if name]
    plugged = (*devices.microphones, *devices.speakers)
    in_use = chosen if len(chosen) == 2 else [*chosen, *plugged]
    return [BLUETOOTH.format(name) for name in dict.fromkeys(in_use) if names_bluetooth([name])]
