"""Everything that can go wrong and be told to the learner.

    FretsureError            something the learner can read and act on
    ├── UsageProblem         exit 2   the request cannot be met as given
    │   ├── UnknownName               no such note, key, chord, tuning, deck, family ...
    │   └── TheoreticalKey            a key no signature can write; the playable one is offered
    ├── BadFile              exit 65  a file says something it may not
    ├── CannotWrite          exit 73  the disk, or its permissions, refuse
    ├── RecordDamaged        exit 74  the record on disk is not what was written
    └── ProgramFault         exit 70  the program itself is wrong; `faults` makes it of any other exception

Every error carries two sentences: what happened and what to do about it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path


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
    """A name that means nothing here; `fix` says what would."""


class TheoreticalKey(UsageProblem):
    """A key that would need more than seven sharps or flats; `fix` names the playable key of the same sound."""


class BadFile(FretsureError):
    """A file that says something it may not."""

    exit_code = 65

    def __init__(self, file: str, field: str, problem: str, fix: str = "") -> None:
        where = f"{file}, {field}" if field else file
        super().__init__(f"{where}: {problem}", fix)
        self.file, self.field, self.problem = file, field, problem


class CannotWrite(FretsureError):
    """The disk, or its permissions, refuse."""

    exit_code = 73


class RecordDamaged(FretsureError):
    """The record on disk is not what was written. `backup` is the last good copy, when there is one."""

    exit_code = 74

    def __init__(self, record: Path, reason: str, fix: str = "", backup: Path | None = None) -> None:
        super().__init__(f"The record {record} is damaged ({reason}).", fix)
        self.record, self.reason, self.backup = record, reason, backup


class ProgramFault(FretsureError):
    """The program itself is wrong: nothing the learner did."""

    exit_code = 70
