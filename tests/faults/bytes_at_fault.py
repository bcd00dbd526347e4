"""A disk that gives back other bytes than it was given: flipped, cut off, overwritten.

After any such damage one of two things must be true: the program says that the file is damaged (or no record of ours)
and leaves it as it is, or every answer reads exactly as it was written.
"""

from __future__ import annotations

import random
import shutil
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from drill.errors import FretsureError
from drill.record import AttemptRow, Record, backups
from drill.record.check import examine_fully
from tests.support.records import without_ids

Damage = tuple[str, bytes]


def flips(sound: bytes, count: int, chance: random.Random) -> Iterator[Damage]:
    """One bit turned over at a random place; every tenth in the file's header, where it does most harm."""
    for number in range(count):
        place = chance.randrange(100 if number % 10 == 0 else len(sound))
        hurt = bytearray(sound)
        hurt[place] ^= 1 << chance.randrange(8)
        yield f"flip at {place}", bytes(hurt)


def cuts(sound: bytes, count: int, chance: random.Random) -> Iterator[Damage]:
    """The end of the file missing, from a random place on."""
    for _ in range(count):
        place = chance.randrange(len(sound))
        yield f"cut at {place}", sound[:place]


def smears(sound: bytes, count: int, chance: random.Random) -> Iterator[Damage]:
    """A stretch of up to one disk block overwritten with noise."""
    for _ in range(count):
        place, length = chance.randrange(len(sound)), chance.randrange(1, 4096)
        end = min(len(sound), place + length)
        yield f"smear at {place}-{end}", sound[:place] + chance.randbytes(end - place) + sound[end:]


def outcome(path: Path, damage: Damage, log: list[AttemptRow]) -> str:
    """What the program made of the damaged file: the kind of error it raised, or "unharmed".

    Raises AssertionError when an answer reads wrong, or when a refused file was changed.
    """
    name, hurt = damage
    path.write_bytes(hurt)
    refused_at_start = True
    try:
        with Record.open(path, time.time, wait_s=0.1) as record:
            refused_at_start = False
            examine_fully(record.path)
            assert without_ids(record.attempts()) == log, f"{name}: answers read wrong and nobody said so"
            return "unharmed"
    except FretsureError as error:
        assert str(path) in str(error), f"{name}: the message does not name the file"
        assert not refused_at_start or path.read_bytes() == hurt, f"{name}: a refused file was changed"
        return type(error).__name__


def tally(sound: Path, folder: Path, count: int, chance: random.Random) -> Counter[str]:
    """Does `count` damages of each kind to copies of a sound record; counts what became of them."""
    with Record.open(sound, time.time) as record:
        log = without_ids(record.attempts())
    content, found = sound.read_bytes(), Counter[str]()
    for kind in (flips, cuts, smears):
        for damage in kind(content, count, chance):
            path = folder / "damaged.sqlite3"
            found[outcome(path, damage, log)] += 1
            for side in folder.glob("damaged.sqlite3-*"):
                shutil.rmtree(side) if side == backups.folder(path) else side.unlink()
    return found
