"""An hour of simulated playing through the whole program, over a sound card that only records.

    python tests/benchmarks/hour.py [--minutes N] [--seed N]

A round of keys is started as a learner starts it, and listens. Its lines are read, and at each call something is done
on a guitar that is not there: a landing in time or late, a phrase with ringing strings, another note, noise and hands
on the strings, talk, or nothing. Bars: no crash, no growth of memory, under 5 % of a core, every verdict right or "not
heard".
"""

from __future__ import annotations

import argparse
import os
import re
import subprocess
import sys
import tempfile
import time
from collections import Counter, deque
from pathlib import Path
from threading import Event, Lock, Thread
from typing import NamedTuple

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[2]))

from drill.theory.bars import bar_seconds
from drill.theory.keys import parse_key
from tests.support.busy_room import RATE, Doing, Hands, outcomes
from tests.support.null_sink import MISSING, Card, can_run, null_sink
from tests.support.project import ROOT

BPM = 80
KEYS = ("Am", "C", "F#m", "Bb", "E", "Dm", "G", "Ebm", "B", "Gm", "D", "Cm")
CALL = re.compile(r"\b\d+\. ([A-G][♯♭]? (?:minor|major))")
BLOCK = RATE // 50
SETTLE_S = 2.5
"""A null sink that has been idle has silence in store for two seconds."""
LATENCY_MS, AHEAD_S = 400, 0.45
"""So much is given to the sound server before its time: a busy machine may keep it waiting."""
WAY_S = 0.52
"""So long the sound server keeps what it is given, as it was measured."""
HISS = 1e-4
LOOK_S, SETTLED_S = 5.0, 30.0
MOST_GROWTH = 2**20
TICKS = os.sysconf("SC_CLK_TCK")
PAGE = os.sysconf("SC_PAGE_SIZE")


class Guitar:
    """Plays into the null sink in real time: hiss, and whatever is added."""

    def __init__(self, card: Card) -> None:
        self._keeper = card.keeper()
        time.sleep(SETTLE_S)
        self._player = card.player(RATE, LATENCY_MS)
        self._waiting: deque[tuple[int, np.ndarray]] = deque()
        self._lock, self._over, self._given = Lock(), Event(), 0
        self._start_s = time.monotonic()
        self._feeding = Thread(target=self._feed, daemon=True)
        self._feeding.start()

    def play(self, doing: Doing) -> None:
        """Play it so many seconds from now as it says."""
        at = round((time.monotonic() + doing.after_s - WAY_S - self._start_s) * RATE)
        with self._lock:
            self._waiting.append((at, doing.samples))

    def stop(self) -> None:
        self._over.set()
        self._feeding.join()
        for process in (self._player, self._keeper):
            process.kill()
            process.wait()

    def _feed(self) -> None:
        chance = np.random.default_rng(1)
        assert self._player.stdin is not None
        while not self._over.is_set():
            block = (HISS * chance.standard_normal(BLOCK)).astype(np.float32)
            with self._lock:
                for at, samples in self._waiting:
                    first, last = max(self._given, at), min(self._given + BLOCK, at + samples.size)
                    if first < last:
                        block[first - self._given : last - self._given] += samples[first - at : last - at]
                while self._waiting and sum(map(len, self._waiting[0][1:])) + self._waiting[0][0] < self._given:
                    self._waiting.popleft()
            self._player.stdin.write(block.tobytes())
            self._player.stdin.flush()
            self._given += BLOCK
            time.sleep(max(0.0, self._start_s + self._given / RATE - AHEAD_S - time.monotonic()))


class Usage(NamedTuple):
    """What a process has used: seconds of a core, and bytes of memory."""

    cpu_s: float
    memory: int

    @classmethod
    def of(cls, pid: int) -> Usage:
        stat = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
        resident = int(Path(f"/proc/{pid}/statm").read_text().split()[1])
        return cls((int(stat[11]) + int(stat[12])) / TICKS, resident * PAGE)


def watch(pid: int, used: list[tuple[float, Usage]], over: Event) -> None:
    """Note what a process uses, every few seconds."""
    while not over.wait(LOOK_S):
        try:
            used.append((time.monotonic(), Usage.of(pid)))
        except (FileNotFoundError, ProcessLookupError):
            return


def start(card: Card, folder: Path, minutes: int) -> subprocess.Popen[bytes]:
    """The program, listening to a round of keys."""
    command = [sys.executable, "-m", "drill", "round", "--listen", "--tempo", str(BPM), "--minutes", str(minutes)]
    for key in KEYS:
        command += ["--key", key]
    variables = {**os.environ, **card.variables, "XDG_CONFIG_HOME": str(folder / "config"), "PYTHONUTF8": "1"}
    command += ["--record", str(folder / "record.sqlite3")]
    pipe = subprocess.PIPE
    return subprocess.Popen(command, cwd=ROOT, env=variables, stdin=pipe, stdout=pipe, stderr=subprocess.STDOUT)


def play_along(child: subprocess.Popen[bytes], guitar: Guitar, hands: Hands) -> tuple[str, list[Doing]]:
    """Do something at every call; gives all that the program said, and what was done."""
    assert child.stdout is not None
    said, done = b"", []
    while piece := os.read(child.stdout.fileno(), 65536):
        said += piece
        calls = CALL.findall(said.decode(errors="ignore"))
        for name in calls[len(done) :]:
            doing = hands.at(parse_key(name.replace("♯", "#").replace("♭", "b")))
            guitar.play(doing)
            done.append(doing)
    return said.decode(), done


def report(said: str, done: list[Doing], used: list[tuple[float, Usage]]) -> bool:
    """Print the figures; whether every bar is met."""
    found = outcomes(said)
    pairs = list(zip(done, found, strict=False))
    for (name, told), times in sorted(Counter((doing.name, told) for doing, told in pairs).items()):
        print(f"  {name:<8} {told:<13} {times:4}")
    wrong = [
        f"{number}: {doing.name}, {told}" for number, (doing, told) in enumerate(pairs, 1) if not doing.allows(told)
    ]
    print(f"calls {len(done)}, verdicts {len(found)}, neither right nor “not heard”: {len(wrong)}  {'; '.join(wrong)}")
    minutes, core, growth = spent(used)
    print(f"over {minutes:.1f} min: {core:.1%} of a core (bar: 5 %), memory grew by {growth / 1024:.0f} KiB")
    return not wrong and len(found) == len(done) and core < 0.05 and growth < MOST_GROWTH and "Traceback" not in said


def spent(used: list[tuple[float, Usage]]) -> tuple[float, float, int]:
    """After the start: for how many minutes, what part of a core, and by how many bytes memory grew."""
    settled = [usage for usage in used if usage[0] - used[0][0] > SETTLED_S] or used
    (begin_s, begin), (end_s, end) = settled[0], settled[-1]
    return (end_s - begin_s) / 60, (end.cpu_s - begin.cpu_s) / max(end_s - begin_s, 1e-9), end.memory - begin.memory


def main() -> int:
    options = _options()
    if not can_run():
        sys.exit(MISSING)
    with tempfile.TemporaryDirectory() as name, null_sink() as card:
        guitar, over, used = Guitar(card), Event(), []
        child = start(card, Path(name), options.minutes)
        watching = Thread(target=watch, args=(child.pid, used, over), daemon=True)
        watching.start()
        try:
            said, done = play_along(child, guitar, Hands(options.seed, bar_seconds(BPM)))
        finally:
            over.set()
            guitar.stop()
            child.stdin.close()
            code = child.wait()
    print(*[line for line in said.splitlines() if "round is over" in line])
    met = report(said, done, used)
    print(f"exit code {code}; {'all bars met' if met and not code else 'a bar is missed'}")
    return 0 if met and not code else 1


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--minutes", type=int, default=60, help="how long to play: 1 to 60")
    parser.add_argument("--seed", type=int, default=1)
    return parser.parse_args()


if __name__ == "__main__":
    raise SystemExit(main())
