"""A class on one screen: who is stuck, who stopped, who grew, the week, the weakest of everyone, shared mix-ups."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Set
from typing import Any

from drill.classroom.sources import Skipped
from drill.classroom.view import ClassView, SharedMixup, StudentView
from drill.classroom.words import Say, command, label, place_command, sentence
from drill.present.dates import day_in_words
from drill.present.figures import how_many, per_cent
from drill.present.tables import Column, Kind, text_table
from drill.progress import GROUPINGS
from drill.system.text import wrapped

WEAKEST_SEEN = 3
"""A group of which fewer cards were seen is not named as anyone's weakest."""
LONG_PAST_DAYS = 28
"""Homework that has been over for more days is left to the files and stands on no page."""
EXPECTED = "Expected is what the class and the student's own other answers would suggest."
WEEK = (
    "The seven days up to then, and in brackets those before. To compare students, read the strength on shared cards: "
    "those that more than half of the class was asked."
)


def class_lines(view: ClassView, say: Say, width: int | None = None) -> Iterator[str]:
    """The whole class in words, sentences in lines of at most `width` columns; commands stay whole, to be copied."""
    for line in _lines(view, say):
        yield from [line] if line.lstrip().startswith("fretsure ") else wrapped(line, width)


def _lines(view: ClassView, say: Say) -> Iterator[str]:
    yield f"{how_many(len(view.students), 'student')}, up to {day_in_words(view.day)}. {WEEK}"
    yield ""
    yield from text_table(_WEEK, view.students)
    yield from _section("Homework", _homework_lines(view))
    yield from _section("Played on the guitar", played_lines(view))
    yield from _section(f"Stuck. {EXPECTED}", _stuck(view, say))
    yield from _section("Stopped", stopped_lines(view))
    yield from _section("Grew", grew_lines(view))
    yield from _section("Mixed up by several", mixup_lines(view))
    yield from _section("Weakest string, key, shape and kind of question", _weakest_lines(view, say))
    yield from _section("Of one name", namesake_lines(view))
    yield from _section("Passed over", skipped_lines(view.skipped))


def _section(heading: str, lines: Iterable[str]) -> Iterator[str]:
    found = list(lines)
    if found:
        yield ""
        yield heading
        yield from (f"    {line}" for line in found)


def _stuck(view: ClassView, say: Say) -> Iterator[str]:
    for student in view.stuck:
        for weakness in student.weaknesses:
            yield f"{student.label}: {sentence(weakness, say, student.tuning)}"
            yield f"    {command(weakness)}"


def stopped_lines(view: ClassView) -> Iterator[str]:
    """Who stopped, and since when."""
    for student in view.stopped:
        if student.stopped_days and student.last_day:
            since = day_in_words(student.last_day)
            yield f"{student.label}: no answer for {how_many(student.stopped_days, 'day')}, since {since}"


def grew_lines(view: ClassView) -> Iterator[str]:
    """Who grew, and from what to what."""
    for student in view.grew:
        then = "on the first day" if student.began_lately else "four weeks before"
        yield f"{student.label}: {student.in_time} cards in time, {student.in_time_before} {then}"


def homework_by_deck(view: ClassView) -> dict[str, list[str]]:
    """Under what was set, how far each student came, as of the student's export; what is long over is left out.

    Where most have it, those whose export does not tell of it are named at the end: they may not have added the deck.
    """
    found: dict[str, list[tuple[str, str]]] = {}
    for student in view.students:
        for each in student.homework:
            if not each.of.homework.is_over(each.day, LONG_PAST_DAYS):
                found.setdefault(each.head, []).append((student.label, each.how_far))
    return {
        head: [*(f"{label}: {how_far}" for label, how_far in told), *_without({label for label, _ in told}, view)]
        for head, told in found.items()
    }


def _without(told: Set[str], view: ClassView) -> Iterator[str]:
    others = [student.label for student in view.students if student.label not in told]
    if others and len(told) > len(others):
        yield f"not in the export of {', '.join(others)}"


def _homework_lines(view: ClassView) -> Iterator[str]:
    for head, students in homework_by_deck(view).items():
        yield head
        yield from (f"    {line}" for line in students)


def played_lines(view: ClassView) -> Iterator[str]:
    """Who answered on the guitar, and how often; these answers tell nothing of what a student is stuck on."""
    for student in view.students:
        if student.answers.played:
            right = per_cent(student.answers.played_right / student.answers.played)
            yield f"{student.label}: {student.answers.played} of {student.answers.count} answers, {right} right"


def mixup_lines(view: ClassView) -> Iterator[str]:
    """What several mix up, and the drill that mends it."""
    for mixup in view.shared_mixups:
        words, command = mixup_words(mixup)
        yield from (words, f"    {command}")


def mixup_words(mixup: SharedMixup) -> tuple[str, str]:
    """Who share a mix-up, each with their own rate, and the drill that mends it."""
    who = "; ".join(f"{each.student} {per_cent(each.rate)} of {each.chances}" for each in mixup.shares)
    return f"“{mixup.name}”, of the answers where it can happen: {who}", place_command(mixup.place)


def namesake_lines(view: ClassView) -> Iterator[str]:
    """Who are called alike, and what to do if they are one person."""
    for alike in view.namesakes:
        yield (
            f"{', '.join(student.label for student in alike)}: two students, or one who began anew. If it is one, give "
            "them the older file; before the next export it is put together with the newer record: fretsure restore "
            "OLDER.zip --mine"
        )


def skipped_lines(skipped: Iterable[Skipped]) -> Iterator[str]:
    """What was passed over, why, and what to do."""
    return (each.sentence for each in skipped)


def _beside(now: float | int | None, before: float | int | None, write: Callable[[Any], str] = str) -> str:
    """A figure, and in brackets that of the week before."""
    shown, earlier = ("-" if figure is None else write(figure) for figure in (now, before))
    return f"{shown} ({earlier})"


_WEEK = (
    Column("student", "", heading="Student", value="label"),
    Column("answers", "", Kind.PLAIN, lambda one: _beside(one.this_week.answers, one.last_week.answers), "answers"),
    Column(
        "right", "", Kind.PLAIN,
        lambda one: _beside(one.this_week.right_share, one.last_week.right_share, per_cent), "right",
    ),
    Column("in_time", "", Kind.PLAIN, lambda one: _beside(one.in_time, one.in_time_week_ago), "cards in time"),
    Column("strength", "", Kind.SHARE, "whole.strength", "strength"),
    Column("shared", "", Kind.SHARE, "strength_shared", "shared cards"),
)  # fmt: skip


def weakest(student: StudentView, facet: str) -> str | None:
    """The group of a facet whose cards hold worst in the student's export; None where there is no other beside it."""
    seen = ((found.strength, value) for value, found in student.standings(facet).items() if found.seen >= WEAKEST_SEEN)
    known = [(strength, value) for strength, value in seen if strength is not None]
    return min(known)[1] if len(known) > 1 else None


def _weakest_lines(view: ClassView, say: Say) -> Iterator[str]:
    for student in view.students:
        found = [(facet, name) for facet in GROUPINGS if (name := weakest(student, facet)) is not None]
        if found:
            yield f"{student.label}: {', '.join(label(group, say, student.tuning) for group in found)}"
