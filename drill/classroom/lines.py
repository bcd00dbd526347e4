"""A class on one screen: who is stuck, who stopped, who grew, the week, the weakest of everyone, shared mix-ups."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from drill.classroom.sources import Skipped
from drill.classroom.view import FACETS, ClassView, SharedMixup, StudentView
from drill.classroom.words import command, label, place_command, sentence
from drill.present.dates import day_in_words
from drill.present.figures import how_many, per_cent
from drill.present.tables import Column, Kind, text_table
from drill.present.voice import Voice

WEAKEST_SEEN = 3
"""A group of which fewer cards were seen is not named as anyone's weakest."""
LONG_PAST_DAYS = 28
"""Homework that has been over for more days is left to the files and stands on no page."""
EXPECTED = "In brackets, what the class and the student's own other answers would lead one to expect."
_NAMES = {"string": "weakest string", "key": "weakest key", "shape": "weakest shape", "family": "weakest kind"}


def class_lines(view: ClassView, voice: Voice) -> Iterator[str]:
    """The whole class in words."""
    yield f"{how_many(len(view.students), 'student')}, up to {day_in_words(view.day)}"
    yield ""
    yield from text_table(_WEEK, view.students)
    yield from _section("Homework", _homework_lines(view))
    yield from _section("Played on the guitar", played_lines(view))
    yield from _section(f"Stuck. {EXPECTED}", _stuck(view, voice))
    yield from _section("Stopped", stopped_lines(view))
    yield from _section("Grew", grew_lines(view))
    yield from _section("Mixed up by several", mixup_lines(view))
    yield ""
    yield from text_table(_weakest_columns(voice), view.students)
    yield from _section("Of one name", namesake_lines(view))
    yield from _section("Passed over", skipped_lines(view.skipped))


def _section(heading: str, lines: Iterable[str]) -> Iterator[str]:
    found = list(lines)
    if found:
        yield ""
        yield heading
        yield from (f"    {line}" for line in found)


def _stuck(view: ClassView, voice: Voice) -> Iterator[str]:
    for student in view.stuck:
        for weakness in student.weaknesses:
            yield f"{student.label}: {sentence(weakness, voice, student.tuning)}"
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
    """Under what was set, how far each student came, as of the student's export; what is long over is left out."""
    found: dict[str, list[str]] = {}
    for student in view.students:
        for each in student.homework:
            if not each.of.homework.is_over(each.day, LONG_PAST_DAYS):
                found.setdefault(each.head, []).append(f"{student.label}: {each.how_far}")
    return found


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
            f"{', '.join(student.label for student in alike)}: two students, or one who began anew. If it is one, let "
            "them put both records together and send a new export: fretsure restore OLDER.zip --mine"
        )


def skipped_lines(skipped: Iterable[Skipped]) -> Iterator[str]:
    """What was passed over, why, and what to do."""
    return (each.sentence for each in skipped)


_WEEK = (
    Column("student", "", heading="Student", value="label"),
    Column("this", "", Kind.INTEGER, "this_week.answers", "this week"),
    Column("last", "", Kind.INTEGER, "last_week.answers", "last week"),
    Column("right", "", Kind.SHARE, "this_week.right_share", "right"),
    Column("before", "", Kind.SHARE, "last_week.right_share", "before"),
    Column("in_time", "", Kind.INTEGER, "in_time", "in time"),
    Column("ago", "", Kind.INTEGER, "in_time_week_ago", "a week ago"),
    Column("strength", "", Kind.SHARE, "whole.strength", "strength"),
    Column("shared", "", Kind.SHARE, "strength_shared", "on shared cards"),
)


def weakest(student: StudentView, facet: str) -> str | None:
    """The group of a facet whose cards hold worst in the student's export; None where there is no other beside it."""
    seen = ((found.strength, value) for value, found in student.standings(facet).items() if found.seen >= WEAKEST_SEEN)
    known = [(strength, value) for strength, value in seen if strength is not None]
    return min(known)[1] if len(known) > 1 else None


def _weakest_columns(voice: Voice) -> tuple[Column, ...]:
    def words(facet: str) -> Column:
        def value(student: StudentView) -> str | None:
            found = weakest(student, facet)
            return None if found is None else label((facet, found), voice, student.tuning)

        return Column(facet, "", Kind.PLAIN, value, _NAMES[facet])

    return (_WEEK[0], *map(words, FACETS))
