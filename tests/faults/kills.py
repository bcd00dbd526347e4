"""kill -9 at random moments of a process that keeps answers; nothing it has acknowledged may be lost.

A victim is any process that writes one byte for each answer it has been told is kept. `strike` starts it, kills it at a
random moment, looks at the record, and starts it again on the same record.
"""

from __future__ import annotations

import os
import random
import shutil
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from drill.record import Record, backups, restore
from drill.record.check import examine_fully
from tests.support.asking import answers
from tests.support.children import Child, forked
from tests.support.records import attempt, drill


class Victim(Protocol):
    """A process that can be heard, one byte an answer, killed, and heard to its end."""

    def heard(self, seconds: float) -> bytes: ...
    def kill(self) -> None: ...
    def rest(self) -> bytes: ...


Start = Callable[[Path], Victim]
LONGEST_S = 0.02
"""After its first acknowledged answer a victim lives for at most this long: some forty answers."""
LONGEST_RESTORE_S = 0.15
"""After its first restore a victim lives for about one more, which is cut short."""
LONGEST_START_S = 0.25
"""A program that is loaded already has put its first question by then."""


@dataclass(frozen=True, slots=True)
class Toll:
    """What a run of kills did: the answers its victims acknowledged, and those the record holds after the last."""

    kills: int
    acknowledged: int
    found: int

    def __str__(self) -> str:
        unheard = self.found - self.acknowledged
        return f"{self.kills} kills, {self.acknowledged} answers acknowledged, 0 lost, {unheard} kept but not yet told"


def strike(start: Start, path: Path, kills: int, chance: random.Random, longest_s: float = LONGEST_S) -> Toll:
    """Kills `kills` victims in a row, each within `longest_s` seconds of its first answer.

    Raises AssertionError when an answer is lost or the record is not sound.
    """
    acknowledged = found = 0
    for number in range(1, kills + 1):
        told = killed(start(path), chance, longest_s)
        with Record.open(path, time.time) as record:
            examine_fully(record.path)
            now_found = len(answers(record))
        new = now_found - found
        assert told <= new <= told + 1, f"kill {number}: {told} answers acknowledged, {new} found"
        acknowledged, found = acknowledged + told, now_found
    return Toll(kills, acknowledged, found)


def appender(path: Path) -> Child:
    """A victim that appends numbered attempts, each with its state, as a drill does; it opens the record ever anew."""

    def work(pipe: int) -> None:
        while True:
            with Record.open(path, time.time) as record:
                first = record.attempt_count()
                name = f"drill-{os.getpid()}-{first}"
                record.start_drill(drill(id=name))
                for number in range(first, first + 15):
                    states = {"learner": str(number), f"card-{number % 7}": str(number)}
                    record.append(attempt(number, drill=name), states)
                    os.write(pipe, b".")
                record.end_drill(name)

    return forked(work)


def strike_restores(folder: Path, kills: int, chance: random.Random) -> str:
    """Kills a process that puts a backup of 20 answers and one of 50 in the record's place by turns.

    Raises AssertionError unless the record opens after every kill and holds one of the two, whole.
    """
    path, sources = folder / "record.sqlite3", [_numbered(folder / f"{count}.sqlite3", count) for count in (20, 50)]
    found = Counter[int]()

    def work(pipe: int) -> None:
        while True:
            for source in sources:
                restore(path, source, time.time())
                os.write(pipe, b".")
            shutil.rmtree(backups.folder(path))

    for _ in range(kills):
        killed(forked(work), chance, LONGEST_RESTORE_S)
        with Record.open(path, time.time) as record:
            found[examine_fully(record.path)] += 1
    assert set(found) <= {20, 50}, f"the record held {found}"
    return f"{kills} kills while restoring, every record whole: {found[20]} the one, {found[50]} the other"


def _numbered(path: Path, count: int) -> Path:
    with Record.open(path, time.time) as record:
        record.merge([drill()], map(attempt, range(count)))
    return path


def assert_unbroken(path: Path) -> None:
    """The numbered attempts of `appender` are all there in order, and the derived state is that of the last of them."""
    with Record.open(path, time.time) as record:
        numbers = [int(row.uid.removeprefix("uid-")) for row in record.attempts()]
        assert numbers == list(range(len(numbers)))
        assert record.states()["learner"] == str(numbers[-1])


def strike_starts(start: Start, folder: Path, kills: int, chance: random.Random) -> str:
    """Kills victims within `LONGEST_START_S` of their start, each on a record it has to begin.

    Raises AssertionError unless every next start works and finds what was acknowledged.
    """
    begun = 0
    for number in range(kills):
        path = folder / str(number) / "record.sqlite3"
        path.parent.mkdir()
        victim = start(path)
        told = _heard_for(victim, chance.uniform(0, LONGEST_START_S))
        victim.kill()
        told += len(victim.rest())
        begun += path.exists()
        with Record.open(path, time.time) as record:
            examine_fully(record.path)
            assert told <= len(answers(record)) <= told + 1
    return f"{kills} kills at the start, {begun} with the record begun, every next start works"


def killed(victim: Victim, chance: random.Random, longest_s: float) -> int:
    """Waits for a sign of life, then for a random while, then kills; gives the number of acknowledged answers."""
    told = len(victim.heard(10.0))
    assert told, "the victim fell before it was struck"
    told += _heard_for(victim, chance.uniform(0, longest_s))
    victim.kill()
    return told + len(victim.rest())


def _heard_for(victim: Victim, seconds: float) -> int:
    """The number of answers acknowledged within this time."""
    told, deadline = 0, time.monotonic() + seconds
    while (left := deadline - time.monotonic()) > 0:
        told += len(victim.heard(left))
    return told
