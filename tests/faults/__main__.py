"""The long fault runs, each with its count printed: python -m tests.faults [--only NAME] [--but NAME] [--kills N].

Exits with 0 when everything survived. The test suite runs the same faults with small counts.
"""

from __future__ import annotations

import argparse
import random
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from drill.record import Record
from tests.faults import bytes_at_fault, drills, hostile_backups, kills, orphans, screens
from tests.support.records import attempt, drill

Fault = Callable[[Path, argparse.Namespace], str]


def kill_the_record(folder: Path, asked: argparse.Namespace) -> str:
    """kill -9 of a process that appends through the record's own API."""
    path = folder / "record.sqlite3"
    toll = kills.strike(kills.appender, path, asked.kills, random.Random(asked.seed))
    kills.assert_unbroken(path)
    return str(toll)


def kill_a_restore(folder: Path, asked: argparse.Namespace) -> str:
    """kill -9 of a process that restores backups."""
    return kills.strike_restores(folder, asked.kills, random.Random(asked.seed))


def orphan_the_log(folder: Path, asked: argparse.Namespace) -> str:
    """kill -9 of a drill whose record is then moved, removed or overwritten without its log, and replaced."""
    return orphans.strike(folder, asked.kills, random.Random(asked.seed))


def damage_the_file(folder: Path, asked: argparse.Namespace) -> str:
    """Flipped bits, cut ends and overwritten stretches of a record of 500 answers."""
    sound = folder / "sound.sqlite3"
    with Record.open(sound, time.time) as record:
        record.merge([drill()], (attempt(number) for number in range(500)))
    found = bytes_at_fault.tally(sound, folder, asked.damages, random.Random(asked.seed))
    told = ", ".join(f"{count} {kind}" for kind, count in found.most_common())
    return f"{found.total()} damages, 0 wrong answers unnoticed: {told}"


def kill_a_drill(folder: Path, asked: argparse.Namespace) -> str:
    """kill -9 of the program in a running drill, by lines of JSON; its next start knows what the log says."""
    path = folder / "record.sqlite3"
    toll = kills.strike(drills.Driller, path, asked.kills, random.Random(asked.seed), longest_s=0.1)
    assert drills.assert_remembered(path) == toll.found
    return str(toll)


def kill_a_start(folder: Path, asked: argparse.Namespace) -> str:
    """kill -9 of the program while it starts and begins its record."""
    return kills.strike_starts(drills.Driller, folder, asked.kills // 2, random.Random(asked.seed))


def kill_a_screen(folder: Path, asked: argparse.Namespace) -> str:
    """kill -9 of the full-screen program in a running drill, in a terminal."""
    path = folder / "record.sqlite3"
    toll = kills.strike(drills.ScreenDriller, path, asked.screens, random.Random(asked.seed), longest_s=1.0)
    assert drills.assert_remembered(path) == toll.found
    return str(toll)


def stop_a_screen(folder: Path, asked: argparse.Namespace) -> str:
    """Signals to stop, at random moments of the full-screen program."""
    return screens.strike(folder / "record.sqlite3", 2 * asked.screens, random.Random(asked.seed))


def storm_a_screen(folder: Path, asked: argparse.Namespace) -> str:
    """Bursts of changes of the window's size; the drill goes on after each."""
    return screens.storm(folder / "record.sqlite3", asked.screens, random.Random(asked.seed))


def freeze_a_screen(folder: Path, asked: argparse.Namespace) -> str:
    """Terminals that take no more output, and are closed."""
    return screens.freeze(folder / "record.sqlite3", max(1, asked.screens // 30))


def restore_from_strangers(folder: Path, asked: argparse.Namespace) -> str:
    """Backups that a stranger made to do harm, each restored into a record in use, which then drills."""
    sound = hostile_backups.backup_at(folder / "sound.sqlite3")
    refused = 0
    for number, kind in enumerate(hostile_backups.KINDS):
        (folder / str(number)).mkdir()
        refused += hostile_backups.ordeal(folder / str(number), sound, kind)
        (opened := folder / f"{number} opened").mkdir()
        for command in (("progress",), ("progress", "--card", attempt(3).card), ("export", str(opened / "out"))):
            hostile_backups.look_at_opened(opened, sound, kind, command)
    return f"{len(hostile_backups.KINDS)} kinds, {refused} refused, the others harmless, 0 answers lost"


def lock_the_record(folder: Path, asked: argparse.Namespace) -> str:
    """Another program keeps the record to itself while the program drills, by lines and on the screen."""
    return screens.lock(folder / "record.sqlite3")


FAULTS: dict[str, Fault] = {
    "kill-record": kill_the_record,
    "kill-restore": kill_a_restore,
    "orphan-log": orphan_the_log,
    "damage": damage_the_file,
    "kill-drill": kill_a_drill,
    "kill-start": kill_a_start,
    "kill-screen": kill_a_screen,
    "stop-screen": stop_a_screen,
    "storm-screen": storm_a_screen,
    "freeze-screen": freeze_a_screen,
    "lock": lock_the_record,
    "strangers": restore_from_strangers,
}


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.faults", description=__doc__)
    parser.add_argument("--only", action="append", choices=FAULTS, help="run this one; may be given again")
    parser.add_argument("--but", action="append", choices=FAULTS, default=[], help="leave this one out, likewise")
    parser.add_argument("--kills", type=int, default=200, help="how many times to kill (200)")
    parser.add_argument("--screens", type=int, default=30, help="how many terminals to hurt in each way (30)")
    parser.add_argument("--damages", type=int, default=500, help="how many damages of each of three kinds (500)")
    parser.add_argument("--seed", type=int, default=6, help="seed of the random moments and places (6)")
    asked = parser.parse_args()
    for name in (name for name in asked.only or FAULTS if name not in asked.but):
        began = time.monotonic()
        with tempfile.TemporaryDirectory() as folder:
            result = FAULTS[name](Path(folder), asked)
        print(f"{name:12} survived: {result} ({time.monotonic() - began:.1f} s)", flush=True)


if __name__ == "__main__":
    main()
