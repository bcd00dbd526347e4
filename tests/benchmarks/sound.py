"""How long sound takes to make: python tests/benchmarks/sound.py

A loop of twelve seconds must be ready in a quarter of a second, so that nobody waits for it, and a block of frames long
before the sound card has played the one before. Each figure is the best of several, in seconds and as a part of the
time that what was made lasts.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from drill.sound.arrangement import arrange
from drill.sound.midi import midi_bytes
from drill.sound.mix import ClickMix, LoopMix
from drill.sound.noise import burst
from drill.sound.pluck import pluck
from drill.sound.render import RATE, render
from drill.sound.wav import wav_bytes
from drill.theory.chords import parse_chords

TIMES = 7
BLOCK = RATE // 20


def best(make: Callable[[], object], before: Callable[[], object] = lambda: None) -> float:
    """The shortest of several times, in seconds."""
    found = []
    for _ in range(TIMES):
        before()
        start_s = time.perf_counter()
        make()
        found.append(time.perf_counter() - start_s)
    return min(found)


def forget() -> None:
    """Start as a new process does: with no string and no drum made yet."""
    pluck.cache_clear()
    burst.cache_clear()


def main() -> None:
    loop = arrange(parse_chords("Am F C G"), 80)
    rendered = render(loop)
    samples = rendered.mixed()
    rows = (
        ("a loop of 12 s rendered (bar: 0.25 s)", best(lambda: render(loop), forget), loop.seconds),
        ("the same as a WAV file", best(lambda: wav_bytes(samples, RATE)), loop.seconds),
        ("the same as a MIDI file", best(lambda: midi_bytes(loop, None)), loop.seconds),
        ("a block of the loop", best(lambda: LoopMix(rendered, 80)(BLOCK)), BLOCK / RATE),
        ("a block of clicks", best(lambda: ClickMix(80, RATE)(BLOCK)), BLOCK / RATE),
    )
    for name, seconds, lasts_s in rows:
        print(f"{name:<40} {seconds:8.4f} s   {seconds / lasts_s:8.2%} of what it lasts")


if __name__ == "__main__":
    main()
