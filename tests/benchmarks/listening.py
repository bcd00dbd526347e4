"""How well the listener hears real guitars: python tests/benchmarks/listening.py FOLDER [--bars 1,4]

FOLDER holds recordings (22,050 samples a second, one channel, 16 bits) and a manifest.csv with the columns file and
midi. Each row prints what is wanted and what is reached. A note is right if the verdict on its name is, in any octave,
and charged if the verdict names another note. All chance is seeded, so a second run prints the same, but for times.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path

import checkout  # noqa: F401  puts the checkout on the path, so that no installation is needed
import disturbed
import guitars
import numpy as np
from guitars import RANGES, RATE, Recordings
from trials import BLOCK, NEVER, Tally, chance_for, heard, played, round_of, tried

from drill.listening import Event, Heard, Listener
from drill.listening.verdict import Other, Right, verdict

TRIES = 3
"""Each note is tried so often in each condition, every time with other noise, strings and hands."""
GUITARS = ("strat", "flat", "nylon")
KEYS = 180


def row(bar: int, what: str, wanted: str, reached: str, met: bool) -> None:
    print(f"{bar}  {what:<46}{wanted:<33}{reached}{'' if met else '   MISSED'}", flush=True)


def clean_notes(recordings: Recordings) -> None:
    for kind in RANGES:
        found = tried("clean", disturbed.clean, recordings.of(kind))
        row(1, f"clean notes, {kind}", ">= 98 % right, none charged", str(found), found.reaches(98, 0))


def disturbed_notes(recordings: Recordings) -> None:
    for name, change in disturbed.CONDITIONS.items():
        found = tried(name, change, recordings, TRIES)
        row(2, name, ">= 98 % right, <= 0.3 % charged", str(found), found.reaches(98, 0.3))


def each_guitar(recordings: Recordings) -> None:
    """Each kind for itself, at its worst; the guitar of the bar is none of these."""
    names = ("noise 20 dB under", "noise 10 dB under", "another open string 12 dB under")
    changes = {"clean": disturbed.clean, **{name: disturbed.CONDITIONS[name] for name in names}}
    for kind in RANGES:
        parts = {name: tried(name, change, recordings.of(kind)) for name, change in changes.items()}
        worst = min(parts, key=lambda name: parts[name].right)
        met = all(part.reaches(91, 0) for part in parts.values())
        row(3, f"{kind}, worst of four: {worst}", ">= 91 % right, none charged", str(parts[worst]), met)


def phrases(recordings: Recordings) -> None:
    for each_beat, rings in ((1, False), (2, False), (4, False), (1, True)):
        found = Tally([], [], [])
        for kind in GUITARS:
            for number in range(4):
                found.verdicts.extend(played(recordings, kind, each_beat, rings, number))
        wanted = ">= 95 % right, <= 1 % charged" if rings else ">= 99 % right"
        met = found.reaches(95, 1) if rings else found.reaches(99, 100)
        row(4, f"{'ringing' if rings else 'damped'} phrases, {each_beat} a beat", wanted, str(found), met)


def times(recordings: Recordings) -> None:
    found = tried("clean", disturbed.clean, recordings.of(*GUITARS))
    middle, late = np.percentile(found.waits_ms, [50, 95])
    met = middle <= 70 and late <= 130
    row(5, "pluck to name", "median <= 70 ms, p95 <= 130 ms", f"{middle:.0f} ms, {late:.0f} ms", bool(met))
    noisy = tried("noise", disturbed.noisy(-20), recordings.of(*GUITARS))
    for what, tally, most in (("clean", found, 10), ("noise 20 dB under", noisy, 25)):
        early, late = np.percentile(tally.lates_ms, [5, 95])
        reached = f"{early:.1f} to {late:.1f} ms"
        row(5, f"pluck told, {what}", f"within {most} ms (p5 to p95)", reached, bool(-most <= early and late <= most))


def blocks_and_rates(recordings: Recordings) -> None:
    samples = guitars.phrase(recordings.of("strat").notes[:12], 0.4, rings=False)
    same = len({tuple(heard(samples, "strat", block=block)) for block in (128, 512, 1024, 4096)}) == 1
    row(6, "blocks of 128, 512, 1024, 4096", "the same events", "the same" if same else "others", same)
    for rate in (22_050, 44_100, 48_000):
        found = tried("clean", disturbed.clean, recordings, 1, rate)
        row(6, f"clean notes, {rate} a second", ">= 98 % right, none charged", str(found), found.reaches(98, 0))


def no_notes(recordings: Recordings) -> None:
    chance = chance_for("quiet")
    sounds = {"silence": guitars.silence(30), "noise": disturbed.hiss(30 * RATE, 0.02, chance)}
    sounds |= {f"hum of {hertz} Hz": disturbed.hum(30 * RATE, hertz, 0.02, chance) for hertz in (50, 60)}
    for name, samples in sounds.items():
        named = sum(_named(heard(samples, kind)) for kind in ("strat", "bass"))
        row(7, f"{name}, 30 s as guitar and 30 s as bass", "none named", f"{named} named", not named)
    rulings = [verdict(heard(guitars.alone(hand), "strat"), set(), 0, NEVER, 0) for hand in recordings.hands]
    charged = sum(isinstance(ruling, Other) for ruling in rulings)
    row(7, f"{len(rulings)} noises of the hand", "none charged", f"{charged} charged", not charged)


def _named(events: list[Event]) -> int:
    return sum(isinstance(event, Heard) for event in events)


def load_and_memory(recordings: Recordings) -> None:
    """A minute of notes, two a beat, at 44,100 samples a second."""
    low = [note for note in recordings.of("strat").notes if note.midi <= 79]
    samples = guitars.resampled(guitars.phrase([low[at % len(low)] for at in range(160)], 0.375, rings=False), 2)
    listener = Listener(2 * RATE, *RANGES["strat"])
    spent_s, held = 0.0, []
    for at in range(0, samples.size, BLOCK):
        start_s = time.process_time()
        listener.feed(samples[at : at + BLOCK])
        spent_s += time.process_time() - start_s
        held.append(_bytes(listener))
    ms = spent_s * 1000 / len(held)
    row(8, "a block of 512, 44,100 a second", "<= 0.35 ms of one core", f"{ms:.2f} ms", ms <= 0.35)
    grown = max(held) - max(held[: len(held) // 10])
    row(8, "what it holds in a minute of playing", "as in the first six seconds", f"{grown:+,} bytes", grown <= 0)


def _bytes(thing: object) -> int:
    """The bytes of a thing and of all it holds."""
    inside = list(vars(thing).values()) if hasattr(thing, "__dict__") else []
    inside += list(thing) if isinstance(thing, list | tuple) or type(thing).__name__ == "deque" else []
    return sys.getsizeof(thing) + sum(map(_bytes, inside))


def a_round(recordings: Recordings) -> None:
    found = round_of(KEYS, recordings)
    right = sum(isinstance(each, Right) for each in found.verdicts)
    charged = sum(isinstance(each, Other) for each in found.verdicts)
    row(9, f"a round of {KEYS} keys, its click 6 dB under", ">= 178 right", f"{right}, {charged} charged", right >= 178)
    most, middle = max(found.off_ms), float(np.median(found.off_ms))
    reached = f"{most:.1f} ms at most, median {middle:.1f} ms"
    row(9, "landings off by", "<= 50 ms, median <= 5 ms", reached, most <= 50 and middle <= 5)


BARS: Sequence[Callable[[Recordings], None]] = (
    clean_notes,
    disturbed_notes,
    each_guitar,
    phrases,
    times,
    blocks_and_rates,
    no_notes,
    load_and_memory,
    a_round,
)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--bars", default="1,2,3,4,5,6,7,8,9", help="which bars, with commas")
    arguments = parser.parse_args()
    if not (arguments.folder / "manifest.csv").is_file():
        print(f"There are no recordings in {arguments.folder}, so nothing was measured.")
        return
    recordings = guitars.load(arguments.folder)
    for number in arguments.bars.split(","):
        BARS[int(number) - 1](recordings)


if __name__ == "__main__":
    main()
