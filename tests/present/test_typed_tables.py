"""Tables with typed cells: every figure below was worked out by hand."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

import pytest

from drill.present.tables import EXACT, Column, Kind, as_object, cell_text, inside, pick, text_table
from drill.questions.wording import named, to_screen
from drill.theory.pitch import Note
from tests.support.meanings import meanings

B_FLAT = f"{named(Note.of('B', -1))} string"


class Row(NamedTuple):
    """One value for a cell of every kind."""

    value: object


def cell(kind: Kind) -> Column:
    return Column("value", "what it is", kind)


@pytest.mark.parametrize(
    ("kind", "value", "text", "exact"),
    [
        (Kind.PLAIN, "fading", "fading", "fading"),
        (Kind.SENTENCE, B_FLAT, "B♭ string", "Bb string"),
        (Kind.INTEGER, 0, "0", 0),
        (Kind.YES_NO, False, "False", False),
        (Kind.SHARE, 0.834, "83%", 0.834),
        (Kind.SHARE, 0.9999, "99%", 0.9999),
        (Kind.SHARE, 0.0, "0%", 0.0),
        (Kind.SECONDS, 1.26, "1.3 s", 1.26),
        (Kind.SECONDS, 0.04, "0.0 s", 0.04),
        (Kind.MILLISECONDS, 1260, "1260", 1260),
        (Kind.DAY, date(2026, 1, 5), "2026-01-05", "2026-01-05"),
        # Unix time 86,400 is one day after the beginning of 1970
        (Kind.MOMENT, 86_400.5, "86400.5", "1970-01-02T00:00:00.500Z"),
    ],
)
def test_a_cell_is_rounded_for_people_and_exact_for_programs(
    kind: Kind, value: object, text: str, exact: object
) -> None:
    assert cell_text(cell(kind), Row(value), to_screen) == text
    assert as_object((cell(kind),), Row(value)) == {"value": exact}


@pytest.mark.parametrize("kind", Kind)
def test_a_cell_without_a_value_is_a_dash_for_people_and_null_for_programs(kind: Kind) -> None:
    column = cell(kind)._replace(columns=(cell(Kind.PLAIN),))
    assert cell_text(column, Row(None)) == "-"
    assert as_object((column,), Row(None)) == {"value": None}


class Tally(NamedTuple):
    """A row with a part of its own."""

    name: str
    right: int
    share: float | None
    best: Row
    rows: tuple[Row, ...] = ()


TALLY = (
    Column("name", "its name", heading="Key"),
    Column("half", "half of the right answers", Kind.INTEGER, lambda row: row.right // 2, heading="half"),
    Column("share", "right answers", Kind.SHARE, heading="known"),
    Column("best", "the best of it", Kind.OBJECT, columns=(cell(Kind.INTEGER),)),
    Column("first", "the value of the best", Kind.INTEGER, "best.value"),
    Column("rows", "all of it", Kind.ROWS, columns=(cell(Kind.COMMAND),)),
)
A, B = Tally("A", 5, 0.5, Row(3)), Tally("B minor", 24, None, Row(4), (Row("x"), Row(None)))


def test_words_stand_flush_left_and_figures_flush_right_and_what_has_no_heading_is_left_out() -> None:
    assert list(text_table(TALLY, [A, B])) == ["Key      half  known", "A           2    50%", "B minor    12      -"]
    assert list(text_table(TALLY, [])) == ["Key  half  known"]
    assert list(text_table((Column("name", "", heading="Key"), TALLY[0]), [A])) == ["Key  Key", "A    A"]


def test_rows_inside_rows_become_objects_inside_objects() -> None:
    writers = {**EXACT, Kind.COMMAND: lambda focus: f"drill {focus}"}
    assert as_object(TALLY, B, writers) == {
        "name": "B minor",
        "half": 12,
        "share": None,
        "best": {"value": 4},
        "first": 4,
        "rows": [{"value": "drill x"}, {"value": None}],
    }


def test_columns_are_picked_in_the_order_of_the_keys_and_found_inside_another_row() -> None:
    picked = pick(TALLY, "share", "name")
    assert [column.key for column in picked] == ["share", "name"]
    assert as_object(inside("value", picked), Row(A)) == {"share": 0.5, "name": "A"}


def test_every_key_has_its_path_and_its_meaning() -> None:
    assert meanings(TALLY) == {
        "name": "its name",
        "half": "half of the right answers",
        "share": "right answers",
        "best": "the best of it",
        "best.value": "what it is",
        "first": "the value of the best",
        "rows": "all of it",
        "rows[].value": "what it is",
    }
    assert TALLY[0].sentence == "Its name."
    assert Column("a", "Its name.").sentence == "Its name."
