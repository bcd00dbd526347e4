"""All exports of a class, gathered: each student once, with the newest export in full and the older ones in short."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

from drill.classroom.answers import Answers
from drill.classroom.exports import Export, Standing, read_answers, read_export
from drill.classroom.sources import ASK, FOREIGN, Log, Skipped, find
from drill.errors import BadFile, FretsureError

_LINE = re.compile(r"line (?P<number>[0-9]+)\b")
Unpack = Callable[[Log], Export]
"""Makes an export of a bare log, by working out what its answers lead to."""


class Gathered(NamedTuple):
    """A student with their exports."""

    name: str
    """The name in the newest export that has one; empty if none has."""
    learner: str
    newest: Export
    answers: Answers
    earlier: tuple[tuple[float, Standing], ...]
    """The whole as of each earlier export, the oldest first: its moment, and how it stood."""
    label: str = ""
    """The name, with a part of the identity where two share it; without a name, the file that it came in."""

    @property
    def identities(self) -> frozenset[str]:
        """Every identity that this student has answered under."""
        return frozenset(filter(None, (self.learner, *self.answers.identities)))


class Roll(NamedTuple):
    """Everyone whose export was found, by name, and what was passed over."""

    students: tuple[Gathered, ...]
    skipped: tuple[Skipped, ...]


def gather(paths: Iterable[Path], unpack: Unpack) -> Roll:
    """Read every export below these paths. Raises BadFile where a path does not exist, or nothing can be read."""
    paths, skipped = list(paths), list[Skipped]()
    by_learner: dict[str, list[Export]] = {}
    for export in _exports(paths, unpack, skipped):
        by_learner.setdefault(export.learner or f"at {export.source.where}", []).append(export)
    read = filter(None, (_student(exports, skipped) for exports in by_learner.values()))
    students = sorted(_labelled(_joined(read)), key=lambda student: (student.label.casefold(), student.learner))
    if not students:
        raise BadFile(" ".join(map(str, paths)), "", "holds no readable export.", _what_to_do(skipped))
    return Roll(tuple(students), tuple(skipped))


def _what_to_do(skipped: Iterable[Skipped]) -> str:
    """What helps where nothing can be read: of each export found what is wrong with it, else where to look."""
    found = "\n".join(each.sentence for each in skipped)
    return f"Passed over:\n{found}" if found else "Give the folder in which the students' exports lie."


def _exports(paths: Iterable[Path], unpack: Unpack, skipped: list[Skipped]) -> Iterator[Export]:
    for found in find(paths):
        if isinstance(found, Skipped):
            skipped.append(found)
            continue
        try:
            yield unpack(found) if isinstance(found, Log) else read_export(found)
        except FretsureError as error:
            where = str(found.path)
            skipped.append(_log_passed_over(error, where) if isinstance(found, Log) else _passed_over(error, where))


def _student(exports: list[Export], skipped: list[Skipped]) -> Gathered | None:
    """The student of these exports, from the newest that can be read."""
    exports = sorted(exports, key=lambda each: each.created_s)
    while exports:
        *earlier, newest = exports
        try:
            answers = read_answers(newest)
        except FretsureError as error:
            skipped.append(_passed_over(error, newest.source.where))
            exports = earlier
            continue
        known = sorted(answers.identities)
        learner = newest.learner or (known[0] if len(known) == 1 else "")
        name = newest.name or next((each.name for each in reversed(earlier) if each.name), "")
        return Gathered(name, learner, newest, answers, tuple((each.created_s, each.whole) for each in earlier))
    return None


def _passed_over(error: FretsureError, where: str) -> Skipped:
    if isinstance(error, BadFile):
        return Skipped(error.file, error.problem, error.fix or ASK)
    return Skipped(where, error.message, error.fix)


def _log_passed_over(error: FretsureError, where: str) -> Skipped:
    """What is wrong with a log in a teacher's words; which field of which line it is helps only whoever restores it."""
    place = _LINE.match(error.field) if isinstance(error, BadFile) else None
    if place is None:
        return _passed_over(error, where)._replace(fix=ASK)
    if place["number"] == "1":
        return Skipped(where, "is not a log of fretsure.", FOREIGN)
    return Skipped(where, f"is cut short, or was changed since it was exported (line {place['number']}).", ASK)


def _joined(students: Iterable[Gathered]) -> list[Gathered]:
    """Each learner once, with the newest export.

    Who began anew and put both records together has exports of before under either identity, and the answers of the
    newest name both; an export of an early release shows by its answers alone whose it is.
    """
    found: list[Gathered] = []
    for student in sorted(students, key=lambda each: each.newest.created_s):
        others = [each for each in found if not each.identities & student.identities]
        found = [*others, student]
    return found


def _labelled(students: list[Gathered]) -> list[Gathered]:
    names = [student.name for student in students]
    return [student._replace(label=_label(student, names.count(student.name) > 1)) for student in students]


def _label(student: Gathered, shared: bool) -> str:
    place = student.newest.source.file
    if not student.name:
        return f"{place} ({student.learner[:8]})" if student.learner else place
    return f"{student.name} ({student.learner[:8] or place})" if shared else student.name
