"""What the README says is so."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from drill import __version__
from drill.cli.commands import MODULES
from drill.cli.main import main
from drill.cli.parser import build_parser, parse

README = (Path(__file__).parent.parent / "README.md").read_text(encoding="utf-8")
COMMANDS = README.split("## Commands")[1].split("\n## ")[0]


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.setenv("FRETSURE_RECORD", str(tmp_path / "record.sqlite3"))


def test_every_command_is_listed() -> None:
    rows = re.findall(r"^\| `fretsure ([a-z]+)", COMMANDS, re.MULTILINE)
    assert rows == list(MODULES)


@pytest.mark.parametrize("command", MODULES)
def test_every_option_is_told_where_the_readme_says(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    parser = build_parser()
    own = next(action.choices for action in parser._actions if isinstance(action.choices, dict))[command]
    with pytest.raises(SystemExit):
        main([command, "--help"])
    told = capsys.readouterr().out
    for action in own._actions:
        assert action.help
        assert all(option in told for option in action.option_strings)


@pytest.mark.parametrize("line", re.findall(r"`fretsure ([^`]*)`", README))
def test_every_command_that_is_named_can_be_read(line: str) -> None:
    """As it stands; a name in capitals stands for a value."""
    if line.split()[0] in ("COMMAND", "TOPIC"):
        return
    words = shlex.split(line.replace("TOPIC", "deck"))
    if len(words) == 1:
        assert words[0] in MODULES or words[0].startswith("--")
    else:
        parse(words)


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
