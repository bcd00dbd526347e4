"""A record whose path is given by hand: where none is there that is said, for the path may be mistyped."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest

from drill.cli.parser import parse
from drill.system.environment import Environment
from drill.tui import FretsureApp
from tests.support.asking import introduce
from tests.support.screens import reads

BEGINS = "A new record begins at {}: there was none. If you have one elsewhere, correct --record."


class Screenful(io.StringIO):
    """What is written to a terminal."""

    def isatty(self) -> bool:
        return True


def given(
    environment: Environment, path: Path, *, typed: bool = True, stderr: type[io.StringIO] = Screenful
) -> Environment:
    """The world in which a record's path was typed, with standard error on a terminal."""
    return environment._replace(
        record_path=path, is_record_typed=typed, stdin=io.StringIO(), stdout=io.StringIO(), stderr=stderr()
    )


def run(environment: Environment, line: str) -> tuple[list[dict[str, object]], str]:
    """Run a command; gives its objects and what it said beside them."""
    parse(line.split()).run(environment)
    out, err = environment.stdout.getvalue(), environment.stderr.getvalue()  # type: ignore[attr-defined]
    return [json.loads(row) for row in out.splitlines() if row.startswith("{")], err


@pytest.mark.parametrize("command", ["today --json", "progress --json", "progress", "today --plain"])
def test_a_new_record_is_said_once_and_json_carries_it(
    command: str, fake_environment: Environment, tmp_path: Path
) -> None:
    path = tmp_path / "anna.sqlite3"
    objects, err = run(given(fake_environment, path), command)
    assert err.count(BEGINS.format(path)) == 1
    assert "A new record begins" not in run(given(fake_environment, path), command)[1]
    if "--json" in command:
        assert objects[-1]["new_record"] == str(path)


def test_json_carries_it_until_there_is_an_answer(fake_environment: Environment, tmp_path: Path) -> None:
    there = given(fake_environment, tmp_path / "anna.sqlite3")
    there.stdin.write("?\n")
    there.stdin.seek(0)
    objects, _ = run(there, "today --json")
    assert (objects[-1]["answered"], objects[-1]["new_record"]) == (1, str(there.record_path))
    for command in ("today --json", "progress --json"):
        (*_, last), _ = run(given(fake_environment, there.record_path), command)
        assert last["new_record"] is None


def test_a_script_that_reads_standard_error_reads_nothing_there(fake_environment: Environment, tmp_path: Path) -> None:
    objects, err = run(given(fake_environment, tmp_path / "anna.sqlite3", stderr=io.StringIO), "today --json")
    assert (err, objects[-1]["new_record"]) == ("", str(tmp_path / "anna.sqlite3"))


def test_where_no_path_is_typed_nothing_is_said(fake_environment: Environment) -> None:
    """Everybody begins with a new record there."""
    _, err = run(given(fake_environment, fake_environment.record_path, typed=False), "progress")
    assert "A new record begins" not in err


def test_a_folder_that_is_missing_too_is_made_and_named(fake_environment: Environment, tmp_path: Path) -> None:
    path = tmp_path / "recrods" / "anna.sqlite3"
    assert BEGINS.format(path) in run(given(fake_environment, path), "progress")[1]
    assert path.exists()


async def test_home_says_it(fake_environment: Environment, tmp_path: Path) -> None:
    """Once the program is left, standard error says it again; see `cli.learner.open_record`."""
    from drill.cli.learner import load_settings, open_record

    there = given(fake_environment, tmp_path / "anna.sqlite3")
    with open_record(there, on_screens=True) as record:
        assert not there.stderr.getvalue()  # type: ignore[attr-defined]
        introduce(record, there.now())
        app = FretsureApp(there, load_settings(there), record)
        async with app.run_test(size=(80, 24)) as pilot:
            await reads(pilot, "A new record begins at")
    assert "A new record begins at" in there.stderr.getvalue()  # type: ignore[attr-defined]
