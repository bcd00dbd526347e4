"""A drill is killed; its record, without its side files, is moved, removed or overwritten; then another is put there.

Every file that is put there is read by a process of its own. Nothing of the old record may enter it, and the old record
must be whole again once its side files, which were kept, lie beside it.
"""

from __future__ import annotations

import itertools
import os
import random
import shutil
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path

from drill.record import Record, backups, restore
from drill.record.check import examine_fully
from tests.faults import kills
from tests.support.children import Child, forked, told_by_child
from tests.support.records import attempt, drill

Then = Callable[[Path, Path], None]
OLD = 8
"""Answers in the backup that is restored."""
LOSSES = ("moved", "removed", "overwritten")
LONGEST_S = 0.02


def strike(folder: Path, rounds: int, chance: random.Random) -> str:
    """Kills, takes the main file away, and restores or begins anew, each restoring and beginning cut short once, too.

    Raises AssertionError when an answer strays or is lost, or a file is not sound.
    """
    old, found = folder / "old.sqlite3", Counter[str]()
    backup_of(OLD, old)  # here and not in a child, so that every child has loaded by then what a new record takes
    for number in range(rounds):
        place = folder / str(number)
        place.mkdir()
        loss, then = LOSSES[number % 3], (_restore, _begin)[number // 3 % 2]
        found[f"{loss}, then {then.__name__.strip('_')}"] += 1
        _round(place / "record.sqlite3", old, loss, then, chance)
        shutil.rmtree(place)
    return f"{rounds} rounds, every file placed whole, no answer astray: " + "; ".join(
        f"{count} {what}" for what, count in sorted(found.items())
    )


def _round(path: Path, old: Path, loss: str, then: Then, chance: random.Random) -> None:
    acknowledged = kills.killed(endless_drill(path), chance, LONGEST_S)
    moved = path.with_name("moved.sqlite3")
    path.rename(moved)
    if loss == "overwritten":
        shutil.copy2(old, path)
    cut_short = forked(lambda pipe: then(path, old))
    time.sleep(chance.uniform(0, LONGEST_S))
    cut_short.kill()
    cut_short.rest()
    outcome = told_by_child(lambda: then(path, old))
    assert outcome == "None", outcome
    wanted = 0 if then is _begin and loss != "overwritten" else OLD
    assert told_by_child(lambda: counted(path)) == str(wanted)
    if loss == "removed":
        moved.unlink()
        return
    for kept in backups.folder(path).glob("left-over-*"):
        shutil.copy2(kept, f"{moved}-{kept.name.rpartition('-')[2]}")
    again = told_by_child(lambda: counted(moved))
    assert again in (str(acknowledged), str(acknowledged + 1)), f"{acknowledged} acknowledged, {again} found again"


def backup_of(answers: int, target: Path) -> None:
    """Makes a backup of that many answers at `target`."""
    with Record.open(target.with_name("source") / "record.sqlite3", time.time) as record:
        record.merge([drill()], map(attempt, range(answers)))
        record.backup(target)


def endless_drill(path: Path) -> Child:
    """A victim that appends to one open record, so that its answers lie in the write-ahead log when it is killed."""

    def work(pipe: int) -> None:
        with Record.open(path, time.time) as record:
            record.start_drill(drill())
            for number in itertools.count():
                record.append(attempt(number), {"learner": str(number)})
                os.write(pipe, b".")

    return forked(work)


def _restore(path: Path, old: Path) -> None:
    restore(path, old, time.time())


def _begin(path: Path, old: Path) -> None:
    Record.open(path, time.time).close()


def counted(path: Path) -> int:
    """Opens the record as the program does, appends nothing, and counts what a full check finds."""
    with Record.open(path, time.time) as record:
        count = examine_fully(record.path)
        assert count == record.attempt_count() == sum(1 for _ in record.attempts())
        return count
