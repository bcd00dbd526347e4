"""The page of a class: one HTML file that needs no other and no network; every value in it is escaped."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from drill.classroom.lines import grew_lines, mixup_lines, played_lines, skipped_lines, stopped_lines
from drill.classroom.view import FACETS, ClassView, StudentView
from drill.classroom.words import command, label, sentence
from drill.export.pages import templates_in
from drill.present.figures import per_cent
from drill.present.voice import Voice
from drill.system.text import visible

_HERE = Path(__file__).parent
_HEADINGS = {"string": "Strings", "key": "Keys", "shape": "Shapes", "family": "Kinds of question"}
_NO_VALUE = "–"
BANDS = ((0.6, "weak"), (0.85, "middling"))
"""Below these strengths a cell is marked so; the figure stands in it, and the colour only helps the eye."""


def class_page(view: ClassView, voice: Voice) -> str:
    """The whole page."""
    template = templates_in(_HERE, _shown).get_template("page.html.j2")
    style = (_HERE / "page.css").read_text(encoding="utf-8")
    return template.render(
        view=view,
        style=style,
        stuck=[(student, _weaknesses(student, voice)) for student in view.stuck],
        stopped=list(stopped_lines(view)),
        grew=list(grew_lines(view)),
        played=list(played_lines(view)),
        mixups=[line.strip() for line in mixup_lines(view)],
        skipped=list(skipped_lines(view.skipped)),
        tables=[_table(view, facet, voice) for facet in FACETS if view.groups(facet)],
        share=_share,
        percent=lambda share: _NO_VALUE if share is None else per_cent(share),
    )


def _shown(value: Any) -> Any:
    """What stands in the page: control characters as their escapes, and a dash for what nobody measured."""
    if value is None:
        return _NO_VALUE
    return visible(value) if type(value) is str else value


def _share(part: int, whole: int) -> str:
    return per_cent(part / whole) if whole else _NO_VALUE


def _weaknesses(student: StudentView, voice: Voice) -> list[tuple[str, str]]:
    return [(sentence(each, voice, student.tuning), command(each)) for each in student.weaknesses]


def _table(view: ClassView, facet: str, voice: Voice) -> dict[str, Any]:
    """A row a student, a column a group: how strongly its cards are recalled."""
    groups = view.groups(facet)
    tuning = view.students[0].tuning
    return {
        "title": _HEADINGS[facet],
        "heads": [label(group, voice, tuning) for group in groups],
        "rows": [(student.label, [_cell(student, facet, value) for _, value in groups]) for student in view.students],
    }


def _cell(student: StudentView, facet: str, value: str) -> tuple[str, str]:
    standing = student.standings(facet).get(value)
    if standing is None or standing.strength is None:
        return "", _NO_VALUE
    band = next((name for limit, name in BANDS if standing.strength < limit), "strong")
    return band, per_cent(standing.strength)
