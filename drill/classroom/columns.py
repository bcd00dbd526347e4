"""The tables of a class, each column declared once: what `fretsure class --json` and `--csv` write."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from drill.classroom.view import ClassView, SharedMixup, StudentView
from drill.classroom.words import command, label, place_command, sentence
from drill.export.tables import Table
from drill.present.tables import EXACT, Column, Columns, Kind, as_object, inside
from drill.progress import GROUPINGS
from drill.progress.homework import Assignment
from drill.questions.wording import to_ascii

PLAIN, INTEGER, SHARE, SECONDS, DAY, MOMENT = (
    Kind.PLAIN, Kind.INTEGER, Kind.SHARE, Kind.SECONDS, Kind.DAY, Kind.MOMENT
)  # fmt: skip


class Row(NamedTuple):
    """Something of a student, beside the student."""

    student: StudentView
    of: Any
    group: tuple[str, str] = ("", "")


STANDING: Columns = (
    Column("cards", "how many cards of it are in the export: those of its deck, and all others ever asked", INTEGER),
    Column("seen", "how many of them were ever asked, in whatever deck; the means below are over these, and null while "
           "there are none", INTEGER),
    Column("fluent", "how many of them hold and come within their target time", INTEGER),
    Column("strength", "mean chance of recall at the moment of the export, 0 to 1", SHARE, nullable=True),
    Column("speed_s", "mean expected thinking time in seconds", SECONDS, nullable=True),
    Column("in_time", "mean chance of a right answer within the target time, 0 to 1", SHARE, nullable=True),
)  # fmt: skip
_WEAKNESS: Columns = (
    Column("sort", "mix-up, misses or slow"),
    Column("facet", "what its cards share: string, key, side, mode, shape, family, rest, mix-up or whole", PLAIN,
           lambda weakness: weakness.group[0]),
    Column("name", "which of these, or the mix-up", PLAIN, lambda weakness: weakness.group[1]),
    Column("found", "the share of answers that were wrong or mixed up, 0 to 1; of a slow one, times over the target",
           SHARE),
    Column("usual", "what the class and the student's other answers would lead to expect in its place", SHARE),
    Column("answers", "the answers this rests on", INTEGER),
    Column("sentence", "all of it in words", PLAIN, lambda weakness: sentence(weakness, to_ascii)),
    Column("command", "the command that drills it", PLAIN, command),
)  # fmt: skip


def _label(row: Row) -> str:
    return label(row.group, to_ascii, row.student.tuning)


_GROUP: Columns = (
    Column("name", "its name", PLAIN, lambda row: row.group[1]),
    Column("label", "as people say it", PLAIN, _label),
    *inside("of", STANDING),
)


def _groups(key: str, facet: str) -> Column:
    return Column(key, f"one row for each {facet} in the export", Kind.ROWS, lambda student: group_rows(student, facet),
                  columns=_GROUP)  # fmt: skip


def group_rows(student: StudentView, facet: str) -> list[Row]:
    """How a student stands in each group of a facet."""
    return [Row(student, standing, (facet, value)) for value, standing in sorted(student.standings(facet).items())]


def _goal(now: Assignment) -> str:
    return now.homework.goal.written if now.homework.goal else ""


HOMEWORK: Columns = (
    *inside("of", (
        Column("deck", "the deck it is set with"),
        Column("title", "the deck's title; empty in exports of earlier releases"),
        Column("by", "who set it; empty if the deck does not say", PLAIN, "homework.by"),
        Column("until", "the last day", DAY, "homework.until", nullable=True),
        Column("goal", "what is to be reached; empty without a goal", PLAIN, _goal),
        Column("done", "how many keys were ready or cards fluent at the moment of the export", INTEGER, nullable=True),
        Column("wanted", "how many are wanted", INTEGER, nullable=True),
        Column("reached", "whether the goal was reached", Kind.YES_NO, nullable=True),
        Column("seen", "how many cards of the deck had been asked", INTEGER, nullable=True),
        Column("cards", "how many cards the deck has", INTEGER, nullable=True),
    )),
    Column("over", "whether its last day is past today", Kind.YES_NO, "is_over"),
    Column("sentence", "all of it in words"),
)  # fmt: skip
STUDENT: Columns = (
    Column("student", "the name, or the file that the export came in; with a part of the identity where there is no "
           "name, or two share it", PLAIN, "label"),
    Column("learner", "the identity; empty in exports of earlier releases", PLAIN, "gathered.learner"),
    Column("export", "where the newest export lies", PLAIN, "gathered.newest.source.where"),
    Column("exported", "when it was made, UTC", MOMENT, "gathered.newest.created_s"),
    Column("deck", "the deck it was made for", PLAIN, "gathered.newest.deck"),
    Column("last_day", "the day of the last answer", DAY, nullable=True),
    Column("answers", "all answers", INTEGER, "answers.count"),
    Column("played", "how many of them were played on the guitar; only days and numbers of answers count these",
           INTEGER, "answers.played"),
    Column("played_right", "how many of these were right", INTEGER, "answers.played_right"),
    Column("answers_this_week", "answers in the seven days up to the last day of the class", INTEGER,
           "this_week.answers"),
    Column("typed_this_week", "how many of these were typed", INTEGER, "this_week.typed"),
    Column("right_this_week", "typed answers of these that were right", INTEGER, "this_week.right"),
    Column("answers_last_week", "answers in the seven days before", INTEGER, "last_week.answers"),
    Column("typed_last_week", "how many of these were typed", INTEGER, "last_week.typed"),
    Column("right_last_week", "typed answers of these that were right", INTEGER, "last_week.right"),
    Column("in_time", "cards whose newest answer came in time", INTEGER),
    Column("in_time_week_ago", "the same a week ago; null before the first answer", INTEGER, nullable=True),
    Column("in_time_before", "the same four weeks ago, or on the first day", INTEGER, nullable=True),
    Column("grew", "whether in_time has risen by five cards and a quarter since then", Kind.YES_NO),
    Column("stopped_days", "days without an answer, of a student who stopped; null for others", INTEGER, nullable=True),
    Column("strength", "mean strength of all cards ever asked, at the moment of the export, 0 to 1", SHARE,
           "whole.strength", nullable=True),
    Column("strength_shared", "the same of the cards that more than half of the class was asked; null with fewer than "
           "five of them", SHARE, nullable=True),
    Column("strength_before", "the same in the export before, if there is one", SHARE, nullable=True),
)  # fmt: skip
SHARED: Columns = (
    Column("mixup", "its name", PLAIN, "name"),
    Column("count", "how often it happened to them in the last six weeks", INTEGER, "times"),
    Column("opportunities", "their answers to cards where it can happen", INTEGER, "chances"),
    Column("rate", "the lowest of their own rates, 0 to 1: each of them mixes it up at least so often", SHARE),
    Column("command", "the drill that mends it: where it happens most", PLAIN, lambda row: place_command(row.place)),
)
_SHARE: Columns = (
    Column("student", "who"),
    Column("count", "how often it happened to this one", INTEGER, "times"),
    Column("opportunities", "the answers to cards where it can happen", INTEGER, "chances"),
    Column("rate", "the share of these that were this mix-up, 0 to 1", SHARE),
)
SKIPPED: Columns = (
    Column("where", "the file or folder"),
    Column("why", "what is wrong with it"),
    Column("fix", "what to do about it"),
)
CLASS: Columns = (
    Column("today", "the day up to which the class is counted: that of the last answer of all", DAY, "day"),
    Column("students", "everyone, by name", Kind.ROWS, columns=(
        *STUDENT,
        Column("homework", "what was set with decks, and how far it had come", Kind.ROWS, columns=HOMEWORK),
        Column("weaknesses", "what they are stuck on, the clearest first", Kind.ROWS, columns=_WEAKNESS),
        _groups("strings", "string"), _groups("keys", "key"), _groups("shapes", "shape"),
        _groups("families", "family"),
    )),
    Column("mixups", "what several students mix up, what most of them share first", Kind.ROWS, "shared_mixups",
           columns=(*SHARED, Column("students", "who"), Column(
               "shares", "each student's own part in it", Kind.ROWS, columns=_SHARE))),
    Column("skipped", "what was passed over, and why", Kind.ROWS, columns=SKIPPED),
)  # fmt: skip
_WHO: Columns = (
    Column("student", "the student", PLAIN, "student.label"),
    Column("learner", "the identity", PLAIN, "student.gathered.learner"),
)
TABLES = (
    Table("students", "One row a student", "learner", STUDENT),
    Table("standing", "How each student stands by string, key, shape and kind of question", "", (
        *_WHO, Column("facet", "string, key, shape or family", PLAIN, lambda row: row.group[0]), *_GROUP)),
    Table("homework", "What was set, and how far each student had come", "", (*_WHO, *inside("of", HOMEWORK))),
    Table("weaknesses", "What each student is stuck on", "", (*_WHO, *inside("of", _WEAKNESS))),
    Table("mixups", "What several students mix up", "", (
        *SHARED, Column("students", "who", PLAIN, lambda row: "; ".join(row.students)))),
    Table("skipped", "What was passed over", "", SKIPPED),
)  # fmt: skip


def class_object(view: ClassView) -> dict[str, Any]:
    """Everything, with the keys of `CLASS`."""
    return as_object(CLASS, view, EXACT)


def rows_of(table: Table, view: ClassView) -> Iterator[Any]:
    """The rows of one of the `TABLES`."""
    if table.name == "standing":
        return (row for student in view.students for facet in GROUPINGS for row in group_rows(student, facet))
    if table.name == "homework":
        return (Row(student, each) for student in view.students for each in student.homework)
    if table.name == "weaknesses":
        return (Row(student, weakness) for student in view.students for weakness in student.weaknesses)
    rows: tuple[StudentView, ...] | tuple[SharedMixup, ...] | tuple[Any, ...]
    rows = {"students": view.students, "mixups": view.shared_mixups, "skipped": view.skipped}[table.name]
    return iter(rows)
