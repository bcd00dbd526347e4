"""Which faults in the program no test would notice: a random sample of mutants, each put to the tests.

    python tests/benchmarks/mutants.py [--rooms theory,lookup] [--count 200] [--seed 1] [--out FILE]

A room's own tests come first; the whole suite judges what these let live. The same seed draws the same sample from the
same sources, and a FILE of results is gone on with. A survivor is a missing test, or a change that nobody can notice.

With --passing one run of the whole suite tells which tests pass through the place of each mutant, and these alone judge
it: that takes a tenth of the time.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import re
import signal
import sys
import tempfile
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor, as_completed
from itertools import islice
from pathlib import Path
from queue import SimpleQueue
from typing import NamedTuple

import checkout  # noqa: F401
from mutations import Mutation, can_be_parsed, mutations
from reaching import LEAVES_MARKS, MARKED, MARKS, Passing, marked
from tree_copies import ROOT, Copy, end_all

TESTS = {
    "theory": ["tests/theory", "tests/questions"],
    "questions": ["tests/questions", "tests/decks"],
    "memory": ["tests/memory"],
    "record": ["tests/record", "tests/export/test_round_trip.py"],
    "decks": ["tests/decks", "tests/fuzz/test_files.py"],
    "lookup": ["tests/lookup", "tests/cli/test_command_line.py"],
    "present": ["tests/present"],
    "progress": ["tests/progress"],
    "practice": ["tests/practice"],
    "export": ["tests/export"],
    "classroom": ["tests/classroom"],
    "sound": ["tests/sound", "tests/cli/test_sound.py"],
    "listening": ["tests/listening"],
    "system": ["tests/system"],
    "cli": ["tests/cli"],
    "tui": ["tests/tui"],
    "settings": ["tests/test_settings.py"],
    "errors": ["tests/cli"],
    "__main__": ["tests/cli"],
    "__init__": ["tests/test_architecture.py"],
}
"""The tests that judge a room's mutants first."""

WHOLE = ("tests",)
PATIENCE = 6
"""A run counts as hanging once it takes this many times as long as the same tests without a fault, ..."""
LEAST_S = 60
"""... and at least this long, in seconds: the machine may be busy."""
S_FOR_A_TEST = 0.5
"""Where no run without a fault was measured: what each test is given on top, in seconds."""


FAILED = re.compile(r"^FAILED (.*?)(?: - .*)?$", re.M)


class Mutant(NamedTuple):
    """A mutation in its module."""

    module: str
    mutation: Mutation

    @property
    def room(self) -> str:
        return Path(self.module).parts[1].removesuffix(".py")

    @property
    def name(self) -> str:
        """Tells it from every other mutant of the same sources."""
        return (
            f"{self.module}:{self.mutation.line} [{self.mutation.kind}] {self.mutation.change} @{self.mutation.start}"
        )


def sample(rooms: Iterable[str], count: int, seed: int, least: int = 3) -> list[Mutant]:
    """So many mutants: at least `least` from each room, more by the number of its lines, of each kind as many."""
    sources = {room: _sources(room) for room in rooms}
    lines = {room: sum(text.count("\n") for text in texts.values()) for room, texts in sources.items()}
    drawn: list[Mutant] = []
    for room, texts in sources.items():
        chance = random.Random(f"{seed} {room}")
        wanted = max(least, round(count * lines[room] / sum(lines.values())))
        found = [Mutant(name, each) for name, text in texts.items() for each in mutations(text)]
        drawn += islice(_shuffled(found, chance), wanted)
    return drawn


def _sources(room: str) -> dict[str, str]:
    where = ROOT / "drill" / room
    paths = sorted(where.rglob("*.py")) if where.is_dir() else [where.with_suffix(".py")]
    return {str(path.relative_to(ROOT)): path.read_text(encoding="utf-8") for path in paths}


def _shuffled(mutants: list[Mutant], chance: random.Random) -> Iterator[Mutant]:
    """All mutants in a random order, in which every kind comes as often as any other while it lasts."""
    by_kind: dict[str, list[Mutant]] = defaultdict(list)
    for each in mutants:
        by_kind[each.mutation.kind].append(each)
    while by_kind:
        kind = chance.choice(sorted(by_kind))
        mutant = by_kind[kind].pop(chance.randrange(len(by_kind[kind])))
        if not by_kind[kind]:
            del by_kind[kind]
        if can_be_parsed(mutant.mutation.applied((ROOT / mutant.module).read_text(encoding="utf-8"))):
            yield mutant


class Judge:
    """Puts mutants to the tests, in as many copies of the tree as run at once."""

    def __init__(self, folder: Path, jobs: int, *, whole: bool) -> None:
        self._copies: SimpleQueue[Copy] = SimpleQueue()
        self._whole = whole
        self._limits: dict[tuple[str, ...], float] = {}
        self._passing: dict[str, list[str]] = {}
        for number in range(jobs):
            self._copies.put(Copy(folder / str(number)))

    def measure(self, mutants: Iterable[Mutant]) -> None:
        """Runs what will be run without a fault, for its time. Raises SystemExit if a test fails as it is."""
        own = {tuple(TESTS[each.room]) for each in mutants if not self._passing.get(each.name)}
        copy = self._copies.get()
        for stage in [*own, *([WHOLE] if own and self._whole else [])]:
            ended = copy.run([*stage], 3600)
            if ended.how != "passed":
                raise SystemExit(f"{' '.join(stage)} fails without a fault:\n{ended.said}")
            self._limits[stage] = max(LEAST_S, PATIENCE * ended.seconds)
            print(f"{ended.seconds:6.1f} s without a fault: {' '.join(stage)}", flush=True)
        self._copies.put(copy)

    def find_passing(self, mutants: list[Mutant]) -> None:
        """Runs the whole suite once, to see which tests pass through the place of each mutant.

        No test does where it is run at an import, or in a program of its own.
        """
        copy = self._copies.get()
        numbered: dict[str, dict[int, Mutation]] = defaultdict(dict)
        for number, mutant in enumerate(mutants):
            numbered[mutant.module][number] = mutant.mutation
        for module, places in numbered.items():
            copy.write(module, marked((ROOT / module).read_text(encoding="utf-8"), places))
        copy.write(MARKS, LEAVES_MARKS)
        said = copy.run([*WHOLE, "-n", "2", "--maxfail=0", "--durations=0"], 3600).said
        passing = Passing((copy.folder / MARKED).read_text(encoding="utf-8").splitlines(), said)
        self._passing = {each.name: passing.through(n, TESTS[each.room]) for n, each in enumerate(mutants)}
        for module in numbered:
            copy.write(module, (ROOT / module).read_text(encoding="utf-8"))
        (copy.folder / MARKS).unlink()
        self._copies.put(copy)

    def _stages(self, mutant: Mutant) -> Iterator[tuple[list[str], float]]:
        """The arguments of each run, and its limit in seconds."""
        room = mutant.room
        if tests := self._passing.get(mutant.name):
            yield tests, LEAST_S + S_FOR_A_TEST * len(tests)
            return
        yield TESTS[room], self._limits[tuple(TESTS[room])]
        if self._whole:
            yield [*WHOLE, *(f"--ignore={name}" for name in TESTS[room])], self._limits[WHOLE]

    def judge(self, mutant: Mutant) -> dict[str, str | float]:
        """What became of it: its name, "killed", "hung" or "survived", and the test that noticed it."""
        copy = self._copies.get()
        source = (ROOT / mutant.module).read_text(encoding="utf-8")
        copy.write(mutant.module, mutant.mutation.applied(source))
        try:
            for arguments, limit_s in self._stages(mutant):
                ended = copy.run(arguments, limit_s)
                if ended.how != "passed":
                    return _result(mutant, "hung" if ended.how == "out of time" else "killed", ended.said)
            return _result(mutant, "survived", "")
        finally:
            copy.write(mutant.module, source)
            self._copies.put(copy)

    def fails_without(self, results: Iterable[dict[str, str | float]]) -> list[str]:
        """The tests that noticed a fault and fail without one too: what they noticed was nothing."""
        tests = sorted({match[1] for each in results if (match := FAILED.match(str(each["by"])))})
        copy = self._copies.get()
        failing: list[str] = []
        while tests and (ended := copy.run([*tests, "--maxfail=0"], 3600)).how != "passed":
            bad = FAILED.findall(ended.said) or tests
            failing += bad
            tests = [each for each in tests if each not in bad]
        self._copies.put(copy)
        return failing

    def judge_all(self, mutants: list[Mutant]) -> Iterator[dict[str, str | float]]:
        """What becomes of each, as it is known. Whoever stops before the end leaves no test running."""
        with ThreadPoolExecutor(self._copies.qsize()) as pool:
            try:
                for done in as_completed([pool.submit(self.judge, each) for each in mutants]):
                    yield done.result()
            finally:
                pool.shutdown(wait=False, cancel_futures=True)
                end_all()


def _result(mutant: Mutant, fate: str, said: str) -> dict[str, str | float]:
    by = next((line for line in said.splitlines() if line.startswith(("FAILED", "ERROR"))), "")
    return {"mutant": mutant.name, "room": mutant.room, "fate": fate, "by": by}


def table(results: list[dict[str, str | float]]) -> Iterator[str]:
    """Per room: mutants, killed, share; then each survivor."""
    mutants, killed = Counter(), Counter()  # type: ignore[var-annotated]
    for each in results:
        for room in (each["room"], "all"):
            mutants[room] += 1
            killed[room] += each["fate"] != "survived"
    yield f"{'room':12}{'mutants':>9}{'killed':>9}{'share':>8}"
    for room, count in sorted(mutants.items(), key=lambda item: (item[0] == "all", item[0])):
        yield f"{room:12}{count:9}{killed[room]:9}{killed[room] / count:8.0%}"
    yield f"\n{sum(each['fate'] == 'hung' for each in results)} of the killed ran out of time."
    yield from (f"survived: {each['mutant']}" for each in results if each["fate"] == "survived")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--rooms", default=",".join(TESTS), help="rooms, separated by commas; all if not given")
    parser.add_argument("--count", type=int, default=200, help="mutants to draw")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--out", type=Path, help="results, one JSON object a line; what stands there is not run again")
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1, help="runs at once")
    parser.add_argument("--least", type=int, default=3, help="mutants of a small room at the least")
    parser.add_argument("--passing", action="store_true", help="ask only the tests that pass through a mutant's place")
    parser.add_argument("--own", action="store_true", help="ask a room's own tests alone, not the whole suite")
    chosen = parser.parse_args()
    rooms = chosen.rooms.split(",")
    if unknown := set(rooms) - TESTS.keys():
        parser.error(f"no such room: {', '.join(sorted(unknown))}; rooms are {', '.join(TESTS)}")
    signal.signal(signal.SIGTERM, lambda *_: sys.exit("Stopped."))
    drawn = sample(rooms, chosen.count, chosen.seed, chosen.least)
    lines = chosen.out.read_text(encoding="utf-8").splitlines() if chosen.out and chosen.out.exists() else []
    known = {each["mutant"]: each for each in map(json.loads, lines)}
    with tempfile.TemporaryDirectory(prefix="mutants-") as folder:
        judge = Judge(Path(folder), chosen.jobs, whole=not chosen.own)
        left = [each for each in drawn if each.name not in known]
        if chosen.passing:
            judge.find_passing(left)
        judge.measure(left)
        for result in judge.judge_all(left):
            print(f"{result['fate']:9} {result['mutant']}", flush=True)
            known[result["mutant"]] = result
            if chosen.out:
                with chosen.out.open("a", encoding="utf-8") as file:
                    file.write(json.dumps(result) + "\n")
        for test in judge.fails_without(known.values()):
            print(f"fails without a fault: {test}")
    print("", *table([known[each.name] for each in drawn]), sep="\n")


if __name__ == "__main__":
    main()
