"""How well the clicks of a round keep time on a sound card: one of PulseAudio that only records what is played.

    python tests/benchmarks/clicks.py [--minutes N] [--bpm N]

Every click is found in the recording by its rise, to the millisecond, and compared with the beat counted from the first
one, after the drift of the two clocks over the whole run is taken off. Wanted: within 5 ms.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import time

import checkout  # noqa: F401
import numpy as np

from drill.sound.mix import ClickMix
from drill.system.audio import open_speaker
from drill.theory.bars import beat_seconds
from tests.support.null_sink import MISSING, can_run, null_sink

RATE = 44_100
LOUD = 0.3
"""A click rises above this share of the loudest sample."""
WANTED_MS = 5.0


def recorded(minutes: float, bpm: int) -> np.ndarray:
    """What the sound card was given, as samples."""
    with null_sink() as card:
        os.environ.update(card.variables)
        command = ["parec", "-d", "speakers.monitor", "--raw", "--format=s16le", "--channels=1", f"--rate={RATE}"]
        with subprocess.Popen(command, stdout=subprocess.PIPE) as recorder:
            assert recorder.stdout is not None
            os.set_blocking(recorder.stdout.fileno(), False)
            speaker = open_speaker(RATE, time.monotonic)
            speaker.start(ClickMix(bpm, RATE, 1.0))
            taken, until_s = [], time.monotonic() + 60 * minutes
            while time.monotonic() < until_s:
                taken.append(recorder.stdout.read() or b"")
                time.sleep(0.05)
            speaker.stop()
            recorder.kill()
    whole = b"".join(taken)
    return np.frombuffer(whole[: len(whole) // 2 * 2], dtype=np.int16).astype(np.float64)


def onsets_s(samples: np.ndarray, beat_s: float) -> np.ndarray:
    """When each click begins, in seconds."""
    loud = np.flatnonzero(np.abs(samples) > LOUD * np.abs(samples).max()) / RATE
    first = np.concatenate([[True], np.diff(loud) > beat_s / 3])
    return loud[first]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--minutes", type=float, default=2.0)
    parser.add_argument("--bpm", type=int, default=80)
    options = parser.parse_args()
    if not can_run():
        sys.exit(MISSING)
    beat_s = beat_seconds(options.bpm)
    found = onsets_s(recorded(options.minutes, options.bpm), beat_s)
    beats = np.round((found - found[0]) / beat_s)
    slope, start = np.polyfit(beats, found, 1)
    off_ms = 1000 * np.abs(found - start - slope * beats)
    drift = 1e6 * (slope / beat_s - 1)
    missing = int(beats[-1]) + 1 - len(found)
    print(f"clicks heard {len(found)}, missing {missing}, clocks apart {drift:.0f} millionths")
    print(
        f"within {WANTED_MS:.0f} ms: {np.mean(off_ms <= WANTED_MS):.1%}; median {np.median(off_ms):.2f} ms, "
        f"95 in 100 within {np.percentile(off_ms, 95):.2f}, at most {off_ms.max():.2f} ms"
    )


if __name__ == "__main__":
    main()
