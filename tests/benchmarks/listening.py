"""How well the listener hears real guitars: python tests/benchmarks/listening.py FOLDER [--bars 1,4]

FOLDER holds recordings (22,050 samples a second, one channel, 16 bits) and a manifest.csv with the columns file and
midi. Each row prints what is wanted and what is reached. A note is right if the verdict on its pitch class is, and
charged if the verdict names another note. Every chance is seeded, so that a second run prints the same, but for times.
"""

from __future__ import annotations

import argparse
import sys
import time
import zlib
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import NamedTuple

import checkout  # noqa: F401  puts the checkout on the path, so that no installation is needed
import guitars
import numpy as np
from guitars import LEAD_S, RANGES, RATE, Note, Recordings, Samples

from drill.listening import Event, Heard, Listener
from drill.listening.verdict import Other, Right, Verdict, verdict
from drill.sound.noise import beat_click

BLOCK = 512
BPM = 80
MANY = 10**9
TRIES = 3
"""Each note is tried so often in each condition, every time with other noise."""
PHRASE = 32


class Tally(NamedTuple):
    """What came of some notes."""

    verdicts: list[Verdict]
    lates_ms: list[float]
    """From the pluck to the pluck heard."""
    waits_ms: list[float]
    """From the pluck to the name."""

    @property
    def right(self) -> float:
        return 100 * sum(isinstance(each, Right) for each in self.verdicts) / max(len(self.verdicts), 1)

    @property
    def charged(self) -> float:
        return 100 * sum(isinstance(each, Other) for each in self.verdicts) / max(len(self.verdicts), 1)

    def __str__(self) -> str:
        return f"{self.right:5.1f} % right, {self.charged:.2f} % charged of {len(self.verdicts)}"


def row(bar: int, what: str, wanted: str, reached: str, met: bool) -> None:
    print(f"{bar:>2}  {what:<46} {wanted:<34} {reached}{'' if met else '   MISSED'}", flush=True)


def chance_for(*names: object) -> np.random.Generator:
    return np.random.default_rng(zlib.crc32(repr(names).encode()))


def heard(samples: Samples, kind: str, rate: int = RATE, block: int = BLOCK) -> list[Event]:
    """The events of samples fed in blocks."""
    listener = Listener(rate, *RANGES[kind])
    return [event for at in range(0, samples.size, block) for event in listener.feed(samples[at : at + block])]


# --- single notes ---

Change = Callable[[Note, Recordings, np.random.Generator], Samples]


def _clean(note: Note, recordings: Recordings, chance: np.random.Generator) -> Samples:
    return guitars.alone(note.samples)


def _noisy(db: float) -> Change:
    def change(note: Note, recordings: Recordings, chance: np.random.Generator) -> Samples:
        samples = guitars.alone(note.samples)
        return samples + guitars.hiss(samples.size, note.loudness * 10 ** (db / 20), chance)

    return change


def _humming(hertz: float) -> Change:
    def change(note: Note, recordings: Recordings, chance: np.random.Generator) -> Samples:
        samples = guitars.alone(note.samples)
        return samples + guitars.hum(samples.size, hertz, note.loudness * 10 ** (-10 / 20), chance)

    return change


def _over_an_open_string(note: Note, recordings: Recordings, chance: np.random.Generator) -> Samples:
    others = [each for each in recordings.of(note.kind) if each.midi in guitars.OPEN and each.midi != note.midi]
    other = others[int(chance.integers(len(others)))]
    ring = guitars.ringing(other, 1.5) * np.float32(10 ** (-12 / 20) * note.loudness / other.loudness)
    samples = guitars.alone(note.samples)
    guitars.add(samples, ring, round(0.1 * RATE))
    return samples


def _detuned(cents: float) -> Change:
    def change(note: Note, recordings: Recordings, chance: np.random.Generator) -> Samples:
        return guitars.alone(guitars.resampled(note.samples, 2 ** (-cents / 1200)))

    return change


def _after_a_hand(note: Note, recordings: Recordings, chance: np.random.Generator) -> Samples:
    hand = recordings.hands[int(chance.integers(len(recordings.hands)))]
    noise = guitars.damped(hand, round(0.35 * RATE)) * np.float32(note.loudness / guitars.rms(hand))
    samples = guitars.alone(note.samples)
    guitars.add(samples, noise, round((LEAD_S - 0.05) * RATE) - noise.size)
    return samples


CONDITIONS: Mapping[str, Change] = {
    "noise 20 dB under": _noisy(-20),
    "noise 10 dB under": _noisy(-10),
    "hum of 50 Hz 10 dB under": _humming(50),
    "hum of 60 Hz 10 dB under": _humming(60),
    "another open string 12 dB under": _over_an_open_string,
    "30 cents flat": _detuned(-30),
    "30 cents sharp": _detuned(30),
    "a hand on the strings before": _after_a_hand,
}


def tally(name: str, change: Change, recordings: Recordings, tries: int = TRIES, rate: int = RATE) -> Tally:
    """Try every note in one condition."""
    found = Tally([], [], [])
    for number, note in enumerate(recordings.notes):
        for attempt in range(tries):
            samples = change(note, recordings, chance_for(name, number, attempt))
            if rate != RATE:
                samples = guitars.resampled(samples, rate / RATE)
            _judge(found, note, heard(samples, note.kind, rate), LEAD_S - 0.05, LEAD_S, rate)
    return found


def _judge(found: Tally, note: Note, events: list[Event], opened_s: float, plucked_s: float, rate: int = RATE) -> None:
    opened, plucked = round(opened_s * rate), plucked_s * rate
    right = {midi for midi in range(128) if midi % 12 == note.midi % 12}
    found.verdicts.append(verdict(events, right, opened, MANY, 0))
    named = [event for event in events if isinstance(event, Heard) and event.midi in right and event.onset >= opened]
    if named:
        found.lates_ms.append((named[0].onset - plucked) / rate * 1000)
        found.waits_ms.append((named[0].decided - plucked) / rate * 1000)


def bar_1(recordings: Recordings) -> None:
    for kind in RANGES:
        found = tally("clean", _clean, Recordings(recordings.of(kind), recordings.hands), 1)
        row(
            1, f"clean notes, {kind}", ">= 98 % right, none charged", str(found), found.right >= 98 > found.charged == 0
        )


def bar_2(recordings: Recordings) -> None:
    for name, change in CONDITIONS.items():
        found = tally(name, change, recordings)
        met = found.right >= 98 and found.charged <= 0.3
        row(2, name, ">= 98 % right, <= 0.3 % charged", str(found), met)


def bar_3(recordings: Recordings) -> None:
    """Each kind of guitar for itself, in four conditions; the guitar that counts is not among these."""
    for kind in RANGES:
        one = Recordings(recordings.of(kind), recordings.hands)
        names = ("noise 20 dB under", "noise 10 dB under", "another open string 12 dB under")
        parts = [tally("clean", _clean, one, 1), *(tally(name, CONDITIONS[name], one) for name in names)]
        worst, charged = min(part.right for part in parts), max(part.charged for part in parts)
        reached = (
            f"{worst:5.1f} % right at worst, {charged:.2f} % charged of {sum(len(part.verdicts) for part in parts)}"
        )
        row(3, f"{kind}, four conditions", ">= 91 % right, none charged", reached, worst >= 91 and not charged)


# --- phrases ---


def bar_4(recordings: Recordings) -> None:
    for each_beat, rings in ((1, False), (2, False), (4, False), (1, True)):
        found = Tally([], [], [])
        for kind in ("strat", "flat", "nylon"):
            for number in range(4):
                _play_phrase(found, recordings, kind, each_beat, rings, number)
        wanted = ">= 95 % right, <= 1 % charged" if rings else ">= 99 % right"
        met = found.right >= 95 and found.charged <= 1 if rings else found.right >= 99
        row(4, f"{'ringing' if rings else 'damped'} phrases, {each_beat} a beat", wanted, str(found), met)


def _play_phrase(found: Tally, recordings: Recordings, kind: str, each_beat: int, rings: bool, number: int) -> None:
    chance = chance_for("phrase", kind, each_beat, rings, number)
    low = [note for note in recordings.of(kind) if note.midi <= 79]
    line = [low[int(at)] for at in chance.integers(len(low), size=PHRASE)]
    every_s = 60 / BPM / each_beat
    events = heard(guitars.phrase(line, every_s, rings=rings), kind)
    for place, note in enumerate(line):
        opened = round((LEAD_S + place * every_s - 0.05) * RATE)
        right = {midi for midi in range(128) if midi % 12 == note.midi % 12}
        found.verdicts.append(verdict(events, right, opened, opened + round(every_s * RATE), 0))


# --- time, blocks, rates, quiet ---


def bar_5(recordings: Recordings) -> None:
    guitars_only = Recordings([note for note in recordings.notes if note.kind != "bass"], recordings.hands)
    clean, noisy = tally("clean", _clean, guitars_only, 1), tally("noise", _noisy(-20), guitars_only, 1)
    middle, late = np.percentile(clean.waits_ms, [50, 95])
    row(
        5,
        "pluck to name",
        "median <= 70 ms, p95 <= 130",
        f"{middle:.0f} ms, {late:.0f} ms",
        middle <= 70 and late <= 130,
    )
    for what, found, most in (("clean", clean, 10), ("20 dB", noisy, 25)):
        early, late = np.percentile(found.lates_ms, [5, 95])
        reached = f"p5 {early:.1f} ms, p95 {late:.1f} ms"
        row(5, f"pluck told, {what}", f"within {most} ms (p5 to p95)", reached, -most <= early and late <= most)


def bar_6(recordings: Recordings) -> None:
    line = recordings.of("strat")[:12]
    samples = guitars.phrase(line, 0.4, rings=False)
    all_same = len({tuple(heard(samples, "strat", block=block)) for block in (128, 512, 1024, 4096)}) == 1
    row(6, "blocks of 128, 512, 1024, 4096", "the same events", "the same" if all_same else "others", all_same)
    for rate in (22_050, 44_100, 48_000):
        found = tally("clean", _clean, recordings, 1, rate)
        row(
            6,
            f"clean notes at {rate}",
            ">= 98 % right, none charged",
            str(found),
            found.right >= 98 > found.charged == 0,
        )


def bar_7(recordings: Recordings) -> None:
    count = 30 * RATE
    chance = chance_for("quiet")
    sounds = {"silence": guitars.silence(30), "noise": guitars.hiss(count, 0.02, chance)}
    sounds |= {f"hum of {hertz} Hz": guitars.hum(count, hertz, 0.02, chance) for hertz in (50, 60)}
    for name, samples in sounds.items():
        named = {kind: _named(heard(samples, kind)) for kind in ("strat", "bass")}
        row(7, f"{name}, 30 s, as guitar and as bass", "nothing named", str(named), not any(named.values()))
    charged = sum(
        isinstance(verdict(heard(guitars.alone(hand), "strat"), set(), 0, MANY, 0), Other) for hand in recordings.hands
    )
    row(7, f"{len(recordings.hands)} noises of the hand", "none charged", f"{charged} charged", not charged)


def _named(events: list[Event]) -> int:
    return sum(isinstance(event, Heard) for event in events)


def bar_8(recordings: Recordings) -> None:
    """A minute of notes an eighth long, at 44,100 samples a second; then what the listener holds, counted in bytes."""
    low = [note for note in recordings.of("strat") if note.midi <= 79]
    line = [low[at % len(low)] for at in range(160)]
    samples = guitars.resampled(guitars.phrase(line, 0.375, rings=False), 2)
    listener = Listener(2 * RATE, *RANGES["strat"])
    before = _bytes(listener)
    start_s = time.perf_counter()
    for at in range(0, samples.size, BLOCK):
        listener.feed(samples[at : at + BLOCK])
    ms = (time.perf_counter() - start_s) * 1000 / (samples.size / BLOCK)
    row(8, "a block of 512 samples at 44,100", "<= 0.35 ms", f"{ms:.2f} ms", ms <= 0.35)
    grown = _bytes(listener) - before
    row(8, "what it holds after a minute of playing", "no more than at first", f"{grown:+,} bytes", grown <= 0)


def _bytes(thing: object, depth: int = 0) -> int:
    """The bytes of all arrays below a thing."""
    if isinstance(thing, np.ndarray):
        return int(thing.nbytes)
    if depth > 4:
        return 0
    parts = list(vars(thing).values()) if hasattr(thing, "__dict__") else []
    parts += list(thing) if isinstance(thing, list | tuple) or type(thing).__name__ == "deque" else []
    return sum(_bytes(part, depth + 1) for part in parts) + sys.getsizeof(thing)


# --- a round of keys ---

KEYS = 180
BARS_A_KEY = 2
CLICK_DB = -6
"""The peak of a click that leaks in, against the root mean square of the notes."""


def bar_9(recordings: Recordings) -> None:
    """Every two bars a key; its tonic is plucked up to two beats late, while the click goes on."""
    chance = chance_for("round")
    beats = BARS_A_KEY * 4
    length = round(beats * 60 / BPM * RATE)
    low = [note for note in recordings.of("strat") if note.midi <= 76]
    line = [low[int(at)] for at in chance.integers(len(low), size=KEYS)]
    lates = [round(chance.uniform(-0.03, 2 * 60 / BPM) * RATE) for _ in line]
    samples = np.concatenate([_bars(note, late, length, beats, chance) for note, late in zip(line, lates, strict=True)])
    events = heard(samples, "strat")
    verdicts = [_landing(events, note, number * length) for number, note in enumerate(line)]
    errors = [
        abs(each.late - 2205 - late) / RATE * 1000
        for each, late in zip(verdicts, lates, strict=True)
        if isinstance(each, Right)
    ]
    right, charged = len(errors), sum(isinstance(each, Other) for each in verdicts)
    row(9, f"a round of {KEYS} keys with its click", ">= 178 right", f"{right} right, {charged} charged", right >= 178)
    most, middle = max(errors), float(np.median(errors))
    reached = f"{most:.1f} ms, median {middle:.1f} ms"
    row(9, "landings off by", "<= 50 ms, median <= 5 ms", reached, most <= 50 and middle <= 5)


def _bars(note: Note, late: int, length: int, beats: int, chance: np.random.Generator) -> Samples:
    samples = guitars.hiss(length, note.loudness * 10 ** (-40 / 20), chance)
    for beat in range(beats):
        click = beat_click(beat, RATE) * np.float32(note.loudness * 10 ** (CLICK_DB / 20))
        guitars.add(samples, click, round((beat + 1) * 60 / BPM * RATE))
    guitars.add(samples, note.samples, round(60 / BPM * RATE) + late)
    return samples


def _landing(events: list[Event], note: Note, start: int) -> Verdict:
    right = {midi for midi in range(128) if midi % 12 == note.midi % 12}
    opened = start + round(60 / BPM * RATE) - 2205
    return verdict(events, right, opened, opened + round(BARS_A_KEY * 4 * 60 / BPM * RATE), 0)


BARS: Sequence[Callable[[Recordings], None]] = (bar_1, bar_2, bar_3, bar_4, bar_5, bar_6, bar_7, bar_8, bar_9)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--bars", default="1,2,3,4,5,6,7,8,9", help="which bars, with commas")
    arguments = parser.parse_args()
    if not (arguments.folder / "manifest.csv").is_file():
        print(f"No recordings in {arguments.folder}: nothing to measure.")
        return
    recordings = guitars.load(arguments.folder)
    for number in arguments.bars.split(","):
        BARS[int(number) - 1](recordings)


if __name__ == "__main__":
    main()
