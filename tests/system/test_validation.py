"""What fits in a field of a file, and where it does not."""

from __future__ import annotations

import pytest

from drill.system.validation import Check, Field, Problem, line, list_of, number, problems, table, text, word


@pytest.mark.parametrize(
    ("check", "value"),
    [
        (text, ""),
        (line(0, 80), ""),
        (line(0, 80), "  "),
        (line(), "B♭ für alle"),
        (line(), "x" * 300),
        (number(0, 24), 24),
        (number(0.3, 60, (int, float)), 0.3),
        (number(), -(10**30)),
        (list_of(text), []),
        (list_of(text, words=("all",)), "all"),
        (word("naturals"), "naturals"),
        (table(number(1, 2)), {"a": 1, "b": 2}),
    ],
)
def test_what_fits_is_passed_over(check: Check, value: object) -> None:
    assert list(check(value)) == []


@pytest.mark.parametrize(
    ("check", "value", "misfits"),
    [
        (text, 1, [((), 1)]),
        (line(), "", [((), "")]),
        (line(), "  ", [((), "  ")]),
        (line(), "two\nlines", [((), "two\nlines")]),
        (line(), "x" * 301, [((), "x" * 301)]),
        (line(0, 3), "four", [((), "four")]),
        (number(0, 24), True, [((), True)]),
        (number(0, 24), 3.0, [((), 3.0)]),
        (number(0, 24), 25, [((), 25)]),
        (list_of(text, shortest=1), [], [((), [])]),
        (list_of(number(), shortest=2, longest=2), [1, 2, 3], [((), [1, 2, 3])]),
        (list_of(list_of(number())), [[1], [2, "x"]], [((2, 2), "x")]),
        (list_of(text, words=("all",)), "none", [((), "none")]),
        (word("naturals"), ["naturals"], [((), ["naturals"])]),
        (table(number(1, 2)), {"a": 1, "b": 3}, [(("b",), 3)]),
        (table(text), [], [((), [])]),
    ],
)
def test_what_does_not_fit_is_named_with_the_way_to_it(check: Check, value: object, misfits: list[object]) -> None:
    assert list(check(value)) == misfits


FIELDS = {
    "title": Field(line(), 'title = "Mine"', required=True),
    "frets": Field(list_of(number(0, 24)), "frets = [0, 12]"),
}


@pytest.mark.parametrize(
    ("values", "found"),
    [
        ({"title": "Mine", "frets": [0]}, []),
        ({"title": "Mine"}, []),
        ({}, [Problem("title", "is missing.", 'Write title = "Mine".')]),
        (
            {"title": "Mine", "frets": [1, 25, "x"]},
            [
                Problem("frets.2", "“25” does not fit.", "Write frets = [0, 12]."),
                Problem("frets.3", "“x” does not fit.", "Write frets = [0, 12]."),
            ],
        ),
        ({"title": "Mine", "fret": 1}, [Problem("fret", "there is no such field.", "The nearest is “frets”.")]),
        ({"title": "Mine", "\x1b": 1}, [Problem("?", "there is no such field.", "Every field: title, frets.")]),
        (
            {"title": 10**5000},
            [Problem("title", "“a number of thousands of digits” does not fit.", 'Write title = "Mine".')],
        ),
    ],
)
def test_every_mistake_in_a_table_is_named_with_its_fix(values: dict[str, object], found: list[Problem]) -> None:
    assert list(problems(values, FIELDS)) == found


def test_no_table_brings_more_mistakes_than_anybody_reads() -> None:
    strangers = {f"field {number}": number for number in range(1000)}
    assert len(list(problems({"title": "Mine"} | strangers, FIELDS))) == 100
