"""Whose a log or a backup is: asked at a terminal before it meets a record that may be another's.

ask_whose   the question for a log, `ask_whose_backup` that for a backup
taken_over  what is said when an empty record has become somebody's
named       a learner by name and the beginning of the identity
ask         a question, to be answered on the next line
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from drill.errors import UsageProblem
from drill.system.environment import Environment

if TYPE_CHECKING:
    from drill.export.reading import Log
    from drill.record import LearnerRow, Record, Whose

IS_THIS_YOU = "Is this you? Type yes to go on from there."
BESIDE = "To keep it beside yours: fretsure restore FILE --record theirs.sqlite3"
THEIRS = f"To see how students do: fretsure class FOLDER. {BESIDE}"


def ask_whose(log: Log, record: Record, environment: Environment) -> None:
    """Ask at a terminal whether a log is the learner's own, unless that is known. Raises UsageProblem if it is not.

    Without a terminal, an empty record takes the log of anybody: that is how one's second machine begins.
    """
    found = f"{log.path} is the log of {named(log.learner)}"
    if log.is_anothers(record):
        here = f"{found}, and this record belongs to {named(record.owner, 'another learner')}"
        together = "Is this you, on another machine? Type yes to merge the two."
        _confirm(here, together, f"Nothing was merged. If both are yours, add --mine. {THEIRS}", environment)
    elif log.is_the_first_of(record) and _begins_own_record(environment):
        refused = f"Nothing was restored. If it is yours, add --mine. {THEIRS}"
        _confirm(f"{found}, and your record is empty", IS_THIS_YOU, refused, environment)


def ask_whose_backup(source: Path, there: Whose, here: Whose | None, environment: Environment) -> None:
    """Ask at a terminal whether a backup takes the place of the record, unless it is known to be the learner's own.

    Raises UsageProblem if it does not.
    """
    found = f"{source} is a backup of {named(there.owner)}"
    if here and here.is_anothers(there):
        refused = f"Nothing was restored. To replace this record with it, add --mine. {BESIDE}"
        found += f", and this record belongs to {named(here.owner, 'another learner')}"
        replace = "Type yes to replace this record with it; a copy of this one is kept."
        _confirm(found, replace, refused, environment)
    elif _is_anew(there, here, environment.record_path) and _begins_own_record(environment):
        refused = f"Nothing was restored. If it is yours, add --mine. {BESIDE}"
        _confirm(f"{found}, and your record is empty", IS_THIS_YOU, refused, environment)


def _is_anew(there: Whose, here: Whose | None, record: Path) -> bool:
    """Whether a backup of somebody comes where nobody's record is; of a record that cannot be read nobody knows."""
    if here is None:
        return not record.exists() and not there.is_nobodys
    return here.is_nobodys and not (there.is_nobodys or here.identities & there.identities)


def _begins_own_record(environment: Environment) -> bool:
    """Whether somebody at a terminal fills their own record, and none beside it that was named for the purpose."""
    return environment.is_terminal and not environment.is_record_typed


def _confirm(here: str, question: str, refused: str, environment: Environment) -> None:
    """Ask a question at a terminal. Raises UsageProblem with `refused` unless somebody there says yes."""
    if environment.is_terminal:
        ask(environment, f"{here}. {question}")
        if environment.stdin.readline().strip().casefold() in ("yes", "y"):
            return
    raise UsageProblem(f"{here}.", refused)


def taken_over(owner: LearnerRow, source: Path, environment: Environment, *, is_sure: bool) -> str:
    """Whose an empty record has become, and unless somebody has said that it is theirs, the way back."""
    if environment.is_record_typed:
        return f"{environment.record_path} is now the record of {named(owner)}."
    told = f"The record was empty and now belongs to {named(owner)}."
    if is_sure:
        return told
    return (
        f"{told} If you are somebody else, move {environment.record_path} away before you drill, and see how a student "
        f"does with: fretsure class {source}"
    )


def named(learner: LearnerRow | None, unknown: str = "somebody") -> str:
    """A learner by name and the beginning of the identity; `unknown` for none."""
    if learner is None:
        return unknown
    return f"{learner.name} ({learner.id[:8]})" if learner.name else f"a learner without a name ({learner.id[:8]})"


def ask(environment: Environment, question: str) -> None:
    """Ask somebody at a terminal; the answer is the next line of standard input."""
    environment.stderr.write(f"{question}\n> ")
    environment.stderr.flush()
