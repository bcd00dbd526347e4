"""The ears through a sound card that only records: python tests/benchmarks/null_sink.py

Plays notes into a null sink of PulseAudio, and hears them through the program's own door while a loop plays: every note
is to be named. Then it measures the latency of eight clicks, several times: the spread is to be 1 ms at most.
"""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[2]))

from drill.listening import Heard
from drill.practice.hearing import RATE, Ears
from drill.sound.arrangement import arrange
from drill.sound.mix import LoopMix
from drill.sound.render import render
from drill.sound.round_trip import Clicks, round_trip
from drill.system.duplex import Chosen, open_duplex
from drill.theory.chords import parse_chords
from tests.support.null_sink import MISSING, can_run, null_sink
from tests.support.playing import played

NOTES = (40, 45, 50, 55, 59, 64, 43, 48, 52, 57, 60, 67, 42, 47, 54, 62)
APART_S = 0.75
TIMES = 3
LOOK_S = 0.03


def hear_over_a_loop(card) -> list[int]:  # type: ignore[no-untyped-def]
    """The notes that were named while a loop played, in their order."""
    loop = LoopMix(render(arrange(parse_chords("Am F C G"), 80)), 80)
    ears = Ears(open_duplex(RATE, time.monotonic), 40, 79)
    ears.start(loop)
    named: list[int] = []
    wait_until_open(ears)
    line = played([(0.5 + APART_S * number, midi) for number, midi in enumerate(NOTES)], APART_S * (len(NOTES) + 1))
    with card.guitar(line, RATE):
        end_s = time.monotonic() + line.size / RATE + 1
        while time.monotonic() < end_s:
            named += [event.midi for event in ears.poll() if isinstance(event, Heard) and not event.held]
            time.sleep(LOOK_S)
    print(f"  lost samples: {ears.overruns} times")
    ears.stop()
    return named


def wait_until_open(ears: Ears) -> None:
    """A null sink begins in earnest after two seconds."""
    while ears.position == 0 and not ears.lost:
        ears.poll()
        time.sleep(LOOK_S)


def latency() -> tuple[int, int, int]:
    """How many clicks came back, their median way and their spread, in samples."""
    clicks = Clicks(RATE, -20)
    duplex = open_duplex(RATE, time.monotonic, Chosen("Monitor of speakers", "speakers"))
    duplex.start(clicks)
    blocks = []
    while sum(block.size for block in blocks) < clicks.frames and not duplex.lost:
        time.sleep(LOOK_S)
        blocks += duplex.read()
    duplex.stop()
    trip = round_trip(np.concatenate(blocks), clicks.starts, RATE)
    return trip.heard, trip.median, trip.spread


def main() -> None:
    if not can_run():
        sys.exit(MISSING)
    with null_sink() as card:
        os.environ.update(card.variables)
        named = hear_over_a_loop(card)
        found, bar = right(named), len(NOTES)
        print(f"named over a loop (bar: {bar} of {bar}): {found}, others: {len(named) - found}")
        for _ in range(TIMES):
            heard, median, spread = latency()
            ways = f"{1000 * median / RATE:.2f} ms, spread {1000 * spread / RATE:.2f} ms (bar: 1)"
            print(f"clicks back: {heard} of 8, after {ways}")


def right(named: list[int]) -> int:
    """How many of the notes were named, in their order."""
    rest = iter(named)
    return sum(1 for midi in NOTES if midi in rest)


if __name__ == "__main__":
    main()
