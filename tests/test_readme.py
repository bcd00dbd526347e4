"""What the README says is so."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

import pytest

from drill import __version__
from drill.cli.main import main
from drill.cli.parser import build_parser

README = (Path(__file__).parent.parent / "README.md").read_text(encoding="utf-8")
COMMANDS = README.split("## Commands")[1].split("\n## ")[0]
FOR_PROGRAMS = README.split("## For programs")[1].split("\n## ")[0]


def documented(row: str) -> set[str]:
    """The keys in the row of the table that begins with this command; words in brackets explain and are no keys."""
    cell = next(line for line in FOR_PROGRAMS.splitlines() if line.startswith(f"| `{row}` |")).split(" | ", 1)[1]
    return set(re.findall(r"`([a-z_]+)`", re.sub(r"\([^)]*\)", "", cell)))


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.setenv("FRETSURE_RECORD", str(tmp_path / "record.sqlite3"))


@pytest.mark.parametrize(
    ("row", "arguments"),
    [
        ("cards", ["cards", "--deck", "naturals", "--json"]),
        ("decks", ["decks", "--json"]),
        ("key", ["key", "Bb", "--json"]),
        ("key --scale", ["key", "Bb", "--scale", "dorian", "--json"]),
    ],
)
def test_every_key_of_an_object_is_named(row: str, arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(arguments) == 0
    for line in capsys.readouterr().out.splitlines():
        assert json.loads(line).keys() == documented(row)


def test_every_key_of_a_loop_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["loop", "Fm", "Db", "Ab", "Eb", "--json"]) == 0
    loop = json.loads(capsys.readouterr().out)
    assert loop.keys() == documented("loop")
    cell = next(line for line in FOR_PROGRAMS.splitlines() if line.startswith("| `loop` |"))
    each = set(re.findall(r"`([a-z]+)`", cell.split("each with")[1].split(")")[0]))
    assert each <= loop["keys"][0].keys()


def test_every_key_of_a_drill_is_named(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("E\nnonsense\n"))
    assert main(["today", "--json", "--deck", "naturals"]) == 0
    lines = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    keys = {key for line in lines for key in line} - {"type"}
    assert keys == documented("today --json") - {"question", "verdict", "summary", "shown"}


def test_every_command_and_option_is_listed() -> None:
    parser = build_parser()
    commands = next(action.choices for action in parser._actions if isinstance(action.choices, dict))
    everywhere = {"--help", "--record", "--demo", "--version"}
    for name, command in commands.items():
        rows = [line for line in COMMANDS.splitlines() if f"`fretsure {name}" in line]
        assert rows, f"{name} is not in the table of commands"
        if "takes the options of `today`" in "".join(rows):
            rows += [line for line in COMMANDS.splitlines() if "`fretsure today" in line]
        options = {option for action in command._actions for option in action.option_strings if option[:2] == "--"}
        for option in options - everywhere:
            assert any(option in row for row in rows), f"{name} {option} is not in the table of commands"


def test_the_example_deck_is_sound(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    deck = tmp_path / "flat-keys.toml"
    deck.write_text(README.split("```toml\n")[1].split("```")[0], encoding="utf-8")
    assert main(["decks", "check", str(deck)]) == 0
    assert main(["cards", "--deck", str(deck)]) == 0
    assert "A♭ major, A-string shape" in capsys.readouterr().out


def test_the_picture_of_a_drill_is_the_one_that_is_drawn(capsys: pytest.CaptureFixture[str]) -> None:
    from drill.decks import load_deck
    from drill.present.neck_drawing import Look, draw, plain
    from drill.theory.neck import STANDARD, Neck

    card = load_deck("two-shapes", Neck(STANDARD)).card("shape-anchor:key=Ab:shape=string-5")
    drawn = plain(draw(Neck(STANDARD), card.answer_picture, Look()))
    shown = README.split("## What a drill looks like")[1].split("```")[1]
    assert [line.strip() for line in drawn.splitlines()] == [line.strip() for line in shown.splitlines()[3:]]


def test_the_newest_change_is_of_this_version() -> None:
    newest = re.search(r"^### (\S+), \d{4}-\d\d-\d\d$", README.split("\n## Changes\n")[1], re.MULTILINE)
    assert newest
    assert newest[1] == __version__
