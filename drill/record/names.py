"""The names of the files that belong to a record. Nothing with another name is ever deleted.

record.sqlite3-wal, -shm, -journal                beside every database: SQLite's own, part of it
.record.sqlite3.4711.new, .restored               unfinished work of the process 4711
daily-2026-11-25.sqlite3 and the like             backups, in their folder
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Literal

Occasion = Literal["daily", "before-migration", "before-merge", "replaced"]
SUFFIX = ".sqlite3"
SIDE_SUFFIXES = ("-wal", "-shm", "-journal")

_DAY = r"\d{4}-\d\d-\d\d"
_MOMENT = rf"{_DAY}T\d{{6}}Z(-\d+)?"
_STEMS: dict[Occasion, str] = {
    "daily": f"daily-{_DAY}",
    "before-migration": f"before-migration-{_MOMENT}",
    "before-merge": f"before-merge-{_MOMENT}",
    "replaced": f"replaced-{_MOMENT}",
}
_ANY_BACKUP = f"({'|'.join(_STEMS.values())}){re.escape(SUFFIX)}"
_SIDE = f"({'|'.join(SIDE_SUFFIXES)})?"


def is_backup(name: str, occasion: Occasion | None = None) -> bool:
    """Whether the program gives this name to a backup, or to one of this occasion."""
    pattern = _ANY_BACKUP if occasion is None else _STEMS[occasion] + re.escape(SUFFIX)
    return re.fullmatch(pattern, name) is not None


def is_unfinished_backup(name: str) -> bool:
    """Whether the program gives this name to a backup it is still making, or SQLite to a side file of that."""
    return re.fullmatch(_unfinished(_ANY_BACKUP), name) is not None


def is_unfinished_record(name: str, record: Path) -> bool:
    """Whether the program gives this name to a file that will become this record, or SQLite to a side file of that."""
    return re.fullmatch(_unfinished(re.escape(record.name)), name) is not None


def _unfinished(finished: str) -> str:
    """A backup that is restored is first copied under a name of its own, hence the second number."""
    return rf"\.{{1,2}}{finished}\.\d+\.(new|restored)(\.\d+\.new)?{_SIDE}"
