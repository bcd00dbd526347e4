"""The page of a class: one HTML file that needs no other and no network; every value in it is escaped."""

from __future__ import annotations

from typing import Any

from drill.classroom.answers import Group
from drill.classroom.lines import (
    EXPECTED,
    grew_lines,
    homework_by_deck,
    mixup_words,
    namesake_lines,
    played_lines,
    skipped_lines,
    stopped_lines,
)
from drill.classroom.view import ClassView, StudentView
from drill.classroom.words import command, label, sentence
from drill.export.pages import day_in_short, day_in_words, page
from drill.present.figures import how_many, hundredths, per_cent
from drill.present.voice import Voice
from drill.theory.keys import parse_key
from drill.theory.names import show_note

_HEADINGS = {"string": "Strings", "shape": "Shapes", "family": "Kinds of question", "key": "Keys"}
"""The tables, as they stand: the narrow ones beside each other."""
_NO_VALUE = "–"
BANDS = ((60, "weak"), (85, "middling"))
"""Below these strengths, in whole per cent, a cell is marked so; its figure tells all, and the colour helps the eye."""


def class_page(view: ClassView, voice: Voice) -> str:
    """The whole page."""
    return page(
        "class",
        title="The class",
        count=how_many(len(view.students), "student"),
        today=day_in_words(view.day),
        expected=EXPECTED.replace("'", "’"),
        stuck=[(student.label, _weaknesses(student, voice)) for student in view.stuck],
        stopped=list(stopped_lines(view)),
        grew=list(grew_lines(view)),
        homework=list(homework_by_deck(view).items()),
        played=list(played_lines(view)),
        mixups=[mixup_words(mixup) for mixup in view.shared_mixups],
        weeks=[(student.label, _week(student)) for student in view.students],
        notes=[
            ("Of one name", list(namesake_lines(view))),
            ("Passed over", list(skipped_lines(view.skipped))),
        ],
        tables=[_table(view, facet, voice) for facet in _HEADINGS if view.groups(facet)],
        bands={name: limit for limit, name in BANDS},
    )


def _week(student: StudentView) -> list[str]:
    """The week in figures, each with that of the time before after it; then the last answer and the export."""
    this, last = student.this_week, student.last_week
    figures = (
        this.answers, last.answers, _chance(this.right_share), _chance(last.right_share), student.in_time,
        student.in_time_week_ago, _chance(student.whole.strength), _chance(student.strength_before),
        _chance(student.strength_shared), student.last_day and day_in_short(student.last_day),
        day_in_short(student.exported_day),
    )  # fmt: skip
    return [_NO_VALUE if figure is None else str(figure) for figure in figures]


def _chance(share: float | None) -> str | None:
    return None if share is None else per_cent(share)


def _weaknesses(student: StudentView, voice: Voice) -> list[tuple[str, str]]:
    return [(sentence(each, voice.say, student.tuning), command(each)) for each in student.weaknesses]


def _table(view: ClassView, facet: str, voice: Voice) -> dict[str, Any]:
    """A row a student, a column a group: how strongly its cards are recalled."""
    groups = view.groups(facet)
    tuning = view.students[0].tuning
    return {
        "title": _HEADINGS[facet],
        "heads": [_head(group, voice, tuning) for group in groups],
        "rows": [(student.label, [_cell(student, facet, value) for _, value in groups]) for student in view.students],
    }


def _head(group: Group, voice: Voice, tuning: str) -> str:
    """A group at the head of a narrow column; a key as on a lead sheet: 'B♭m'."""
    facet, name = group
    if facet != "key":
        return label(group, voice.say, tuning)
    key = parse_key(name)
    return show_note(key.tonic, voice.language) + ("m" if key.mode == "minor" else "")


def _cell(student: StudentView, facet: str, value: str) -> tuple[str, str]:
    standing = student.standings(facet).get(value)
    if standing is None or standing.strength is None:
        return "", _NO_VALUE
    strength = hundredths(standing.strength)
    return next((name for limit, name in BANDS if strength < limit), ""), str(strength)
