"""Where to begin, asked in lines at the first start."""

from __future__ import annotations

import io

import pytest

from drill import settings
from drill.cli.placement import placed
from drill.present.placement import QUESTIONS, place_of
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment
from tests.support.records import attempt, drill


def asked(environment: Environment, record: Record, *lines: str, is_terminal: bool = True) -> tuple[Settings, str]:
    """The settings after these lines were typed, and what was said."""
    stdin, out = io.StringIO("".join(f"{line}\n" for line in lines)), io.StringIO()
    environment = environment._replace(stdin=stdin, stdout=out, is_terminal=is_terminal)
    return placed(Settings(), record, environment), out.getvalue()


@pytest.mark.parametrize(
    ("lines", "start"),
    [
        (["n"], "notes"),
        (["y", "n"], "shapes"),
        (["Yes", " no "], "shapes"),
        (["y", "y", "n"], "shapes"),
        (["y", "y", "y"], "speed"),
        (["perhaps", "y", "", "y"], "undecided"),
        ([], "undecided"),
        ([""], "undecided"),
    ],
)
def test_three_questions_choose_the_place_and_an_empty_line_skips_them(
    lines: list[str], start: str, fake_environment: Environment, record: Record
) -> None:
    chosen, said = asked(fake_environment, record, *lines)
    assert chosen.start == start
    assert settings.load(fake_environment.config_path).start == start
    assert QUESTIONS[0] in said


def test_the_numbers_promise_no_question_that_may_not_come(fake_environment: Environment, record: Record) -> None:
    _, said = asked(fake_environment, record, "n")
    assert "At most three questions" in said
    assert f"1. {QUESTIONS[0]} (y or n)" in said
    assert "of 3" not in said
    _, said = asked(fake_environment, record, "y", "y", "y")
    assert [line[:3] for line in said.splitlines()[1:4]] == ["1. ", "2. ", "3. "]


def test_nobody_is_asked_through_a_pipe_nor_twice_nor_after_the_first_answer(
    fake_environment: Environment, record: Record
) -> None:
    assert asked(fake_environment, record, "n", is_terminal=False) == (Settings(), "")
    decided = Settings(start="speed")
    assert placed(decided, record, fake_environment._replace(is_terminal=True)) is decided
    record.start_drill(drill())
    record.append(attempt(1))
    assert asked(fake_environment, record, "n") == (Settings(), "")


def test_no_more_is_asked_than_needed() -> None:
    assert place_of([]) is place_of([True]) is place_of([True, True]) is None
    assert all(place_of([*before, False]) for before in ([], [True], [True, True]))


def test_settings_that_cannot_be_saved_hold_for_this_drill(fake_environment: Environment, record: Record) -> None:
    fake_environment.config_path.parent.parent.mkdir(parents=True, exist_ok=True)
    fake_environment.config_path.parent.write_text("a file where a folder should be")
    chosen, _ = asked(fake_environment, record, "n")
    assert chosen.start == "notes"
    assert isinstance(fake_environment.stderr, io.StringIO)
    assert "could not be saved" in fake_environment.stderr.getvalue()
