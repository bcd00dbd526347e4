"""Reading an exported log back into a record: into an empty one, or into one that has answers of its own.

inspect    checks every line of a log, and finds out whose it is
take       adds a log to a record; `merge` does both

Every line is checked before the record is touched, and the record takes all of it or nothing. A backup is
checked in the same way: `vet` takes its rows for lines. A log may lie in the zip archive of an export, as mailed.
"""

from __future__ import annotations

from codecs import BOM_UTF8
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import lru_cache, partial
from pathlib import Path, PurePosixPath
from typing import BinaryIO, NamedTuple

from pydantic import ValidationError

from drill.decks import card_of
from drill.errors import BadFile, UnknownName
from drill.export.log_mistakes import field_of, problem_of
from drill.export.model import Row, checked, read
from drill.questions.catalogue import FAMILIES
from drill.questions.ids import family_of
from drill.record import AttemptRow, DrillRow, LandingRow, LearnerRow, Record
from drill.system import archives, input_files
from drill.theory.names import quoted

LONGEST_LINE = 100_000
GIVE = "Give a backup, an attempts.jsonl, or the zip file of an export."
_SQLITE = b"SQLite format 3\x00"
"""How every SQLite file begins: https://www.sqlite.org/fileformat.html"""


def is_backup(path: Path) -> bool:
    """Whether the file is a database rather than a log. Raises BadFile if it cannot be read, or only once."""
    try:
        if (found := input_files.kind(path)) == "a folder":
            log = min(path.glob("*.jsonl"), default=path / "attempts.jsonl")
            raise BadFile(str(path), "", "is a folder.", f"Give a file, such as {log}.")
        if found != input_files.FILE:
            problem = f"is {found}, which can be read only once."
            raise BadFile(str(path), "", problem, "Save it in a file of its own first.")
        with path.open("rb") as file:
            return file.read(len(_SQLITE)) == _SQLITE
    except OSError as error:
        raise BadFile(str(path), "", f"cannot be read ({error.strerror}).", GIVE) from error


class Log(NamedTuple):
    """What is in a log whose every line is as it should be."""

    path: Path
    learner: LearnerRow | None
    """Whose log it is; None where it does not say, or names several."""
    identities: frozenset[str]
    """Every identity that answered in it."""
    drills: dict[str, DrillRow]
    attempts: int
    answers: int
    """How many of the attempts are answers, and not cards that were only shown."""
    first_ms: int | None
    """When its first question was asked, in milliseconds since the epoch."""

    def is_anothers(self, record: Record) -> bool:
        """Whether it is not known to be of the learner whose record this is. Nobody's record is everybody's."""
        return not (self._is_known_to(record) or _is_nobodys(record))

    def is_the_first_of(self, record: Record) -> bool:
        """Whether a record that is nobody's would become that of the log's learner, which nothing in it speaks for."""
        return _is_nobodys(record) and not self._is_known_to(record)

    def _is_known_to(self, record: Record) -> bool:
        """Whether the record has an identity of the log, or while it is empty, its name."""
        if self.identities & record.identities():
            return True
        called = record.owner.name if record.owner else None
        return record.first_moment() is None and bool(called and self.learner and called == self.learner.name)

    def owner(self, record: Record) -> LearnerRow | None:
        """The learner to whom the record belongs once it is merged: of two identities the older one wins."""
        mine, first_ms = record.owner, record.first_moment()
        if self.learner is None or (mine is not None and mine.id == self.learner.id and mine.name):
            return mine
        if mine is None or first_ms is None or _older(self.learner.id, self.first_ms) < _older(mine.id, first_ms):
            return self.learner._replace(name=self.learner.name or (mine.name if mine else None))
        return mine._replace(name=mine.name or self.learner.name)


def _is_nobodys(record: Record) -> bool:
    """Whether nothing was asked in a record, and nobody has given it a name."""
    return record.first_moment() is None and not (record.owner and record.owner.name)


def _older(identity: str, first_ms: int | None) -> tuple[float, str]:
    return (float("inf") if first_ms is None else first_ms), identity


def merge(path: Path, record: Record) -> tuple[int, int]:
    """Add what the record does not have yet. Gives the number of attempts in the file, and how many were new.

    Raises BadFile naming line, field and fix for the first line that is not as it should be.
    """
    return take(inspect(path, record), record)


def take(log: Log, record: Record) -> tuple[int, int]:
    """Add a log that was inspected. Gives the number of attempts in the file, and how many were new."""
    return log.attempts, record.merge(log.drills.values(), _answers(log.path), log.owner(record))


def inspect(path: Path, record: Record) -> Log:
    """Read the whole log and check it. Raises BadFile for the first line that is not as it should be."""
    drills: dict[str, DrillRow] = {}
    named: dict[str, int] = {}
    learner, identities, attempts, answers = None, set[str](), 0, 0
    first_ms: int | None = None
    for number, row in lines(path):
        if isinstance(row, LearnerRow):
            learner = row
        elif isinstance(row, DrillRow):
            drills[row.id] = row
        else:
            attempts += isinstance(row, AttemptRow)
            answers += isinstance(row, AttemptRow) and row.kind == "asked"
            named.setdefault(row.drill, number)
            identities |= {row.learner} if row.learner else set()
            first_ms = row.asked_at if first_ms is None else min(first_ms, row.asked_at)
    _refuse_unknown_drills(path, named, drills.keys() | {drill.id for drill in record.drills()})
    if not drills and not named:
        raise BadFile(str(path), "", "contains no drill and no answer.", GIVE)
    if learner is None and len(identities) == 1:
        learner = LearnerRow(*identities)
    identities |= {learner.id} if learner else set()
    return Log(path, learner, frozenset(identities), drills, attempts, answers, first_ms)


def _refuse_unknown_drills(path: Path, named: dict[str, int], known: set[str]) -> None:
    for drill, number in named.items():
        if drill not in known:
            problem = f"the drill {quoted(drill)} is nowhere in the file."
            raise BadFile(str(path), f"line {number}, drill", problem, "Give the whole file, as it was exported.")


def vet(record: Record, source: Path) -> None:
    """Check every row of a record made of the backup `source` as the lines of a log are checked.

    Raises BadFile naming the row, the field and the fix.
    """
    if owner := record.owner:
        _checked(source, f"learner {quoted(owner.id)}", partial(checked, owner))
    for drill in record.drills():
        _checked(source, f"drill {quoted(drill.id)}", partial(checked, drill))
    for attempt in record.attempts():
        _checked(source, f"answer {quoted(attempt.uid)}", partial(checked, attempt))
    for landing in record.landings():
        _checked(source, f"landing {quoted(landing.uid)}", partial(checked, landing))


def lines(path: Path) -> Iterator[tuple[int, Row]]:
    """The row in every line with the line's number, checked; in a zip archive, of the one log in it. Raises BadFile."""
    try:
        with _opened(path) as file:
            number = 0
            while raw := file.readline(LONGEST_LINE + 1):
                number += 1
                if len(raw) > LONGEST_LINE:
                    raise _bad(path, f"line {number}", "", f"is longer than {LONGEST_LINE} bytes.")
                if number == 1:
                    raw = raw.removeprefix(BOM_UTF8)  # some editors put a mark first
                if raw.strip():
                    yield number, _checked(path, f"line {number}", partial(read, raw.rstrip()))
    except OSError as error:
        raise BadFile(str(path), "", f"cannot be read ({error.strerror}).", GIVE) from error


@contextmanager
def _opened(path: Path) -> Iterator[BinaryIO]:
    """The log as bytes. Raises OSError and BadFile."""
    if archives.is_archive(path):
        with archives.opened(path, _log_in(path)) as member:
            yield member
    else:
        with path.open("rb") as file:
            yield file


def _log_in(archive: Path) -> str:
    """The name of the one log in an archive. Raises BadFile where there is none, or several."""
    names = [PurePosixPath(name) for name in archives.members(archive)]
    logs = [str(name) for name in names if name.suffix.casefold() == ".jsonl" and not name.name.startswith(".")]
    if len(logs) == 1:
        return logs[0]
    problem = "holds several logs." if logs else "holds no log."
    raise BadFile(str(archive), "", problem, "Give the zip file of one export, or unpack it and give the log itself.")


def _answers(path: Path) -> Iterator[AttemptRow | LandingRow]:
    return (row for _, row in lines(path) if isinstance(row, AttemptRow | LandingRow))


def _checked(path: Path, place: str, read: Callable[[], Row]) -> Row:
    """The row that is read at a place in a file, once it is known to make sense. Raises BadFile."""
    try:
        row = read()
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        if place == "line 1" and first["type"] == "json_invalid":
            raise BadFile(str(path), place, "is no line of a log of fretsure.", GIVE) from error
        raise _bad(path, place, field_of(first), problem_of(first)) from error
    if isinstance(row, AttemptRow):
        if (row.correct is None) != (row.kind == "shown"):
            raise _bad(path, place, "correct", f"does not go with “{row.kind}”.")
        if problem := _card_problem(row.card, row.family):
            raise _bad(path, place, "card", problem)
    if isinstance(row, LandingRow) and row.how == "self-checked" and (field := _measured(row)):
        raise _bad(path, place, field, "does not go with “self-checked”.")
    return row


def _measured(landing: LandingRow) -> str | None:
    """The field of a landing that nobody could fill who checked it without a microphone."""
    if landing.landed is None:
        return "landed"
    return next((name for name in ("late_ms", "heard", "path_ms") if getattr(landing, name) is not None), None)


@lru_cache(maxsize=4096)
def _card_problem(card: str, family: str) -> str | None:
    """What is wrong with a card's id, if anything. Cards of families unknown here are kept, and passed over later."""
    if family_of(card) != family:
        return f"{quoted(card)} is not of the family {quoted(family)}."
    if family not in FAMILIES:
        return None
    try:
        if card_of(card).id == card:
            return None
    except (UnknownName, LookupError, ValueError, StopIteration):
        pass
    return f"{quoted(card)} is not a card."


def _bad(path: Path, place: str, field: str, problem: str) -> BadFile:
    where = f"{place}, {field}" if field else place
    return BadFile(str(path), where, problem, "Give the file as it was exported. The record was not touched.")
