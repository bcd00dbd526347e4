"""Every error the learner can meet, with its exit code.

    FretsureError            something the learner can read and act on
    ├── UsageProblem         exit 2   the request cannot be met as given
    │   ├── UnknownName               no such note, key, chord, tuning, deck, family ...
    │   ├── NoSound                   nothing can be played or heard here
    │   └── TheoreticalKey            a key no signature can write; the playable one is offered
    ├── BadFile              exit 65  a file holds something that is not allowed
    ├── CannotWrite          exit 73  the disk or its permissions do not allow it
    ├── RecordDamaged        exit 74  the record on disk is not what was written to it
    └── ProgramFault         exit 70  an internal error; `crash_report` makes it of any other exception

Every error carries two sentences: what happened and what to do about it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

ALL_SAVED = "Every answer given so far is saved."
"""What calms whoever is interrupted."""


class FretsureError(Exception):
    """Something the learner can read and act on: `message` says what happened, `fix` what to do next."""

    exit_code = 1

    def __init__(self, message: str, fix: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.fix = fix

    def __str__(self) -> str:
        return f"{self.message} {self.fix}".strip()


class UsageProblem(FretsureError):
    """The request cannot be met as given."""

    exit_code = 2


class UnknownName(UsageProblem):
    """A name that is not known; `fix` offers known ones."""


class NoSound(UsageProblem):
    """Nothing can be heard: the extra is not installed, or there is no sound card."""


class TheoreticalKey(UsageProblem):
    """A key that would need more than seven sharps or flats; `fix` names the playable key of the same sound."""


class BadFile(FretsureError):
    """A file holds something that is not allowed, or cannot be read."""

    exit_code = 65

    def __init__(self, file: str, field: str, problem: str, fix: str = "") -> None:
        where = f"{file}, {field}" if field else file
        super().__init__(f"{where}: {problem}", fix)
        self.file, self.field, self.problem = file, field, problem


class CannotWrite(FretsureError):
    """The disk or its permissions do not allow it."""

    exit_code = 73


class RecordDamaged(FretsureError):
    """The record on disk is not what was written to it. `backup` is the last good copy, if there is one."""

    exit_code = 74

    def __init__(self, record: Path, reason: str, fix: str = "", backup: Path | None = None) -> None:
        super().__init__(f"The record {record} is damaged ({reason}).", fix)
        self.record, self.reason, self.backup = record, reason, backup


class ProgramFault(FretsureError):
    """An internal error: nothing the learner did wrong."""

    exit_code = 70
