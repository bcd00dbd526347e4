"""A teacher's deck from the file to the drill: added, listed, drilled, told how far it has come, removed."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest

from drill import settings
from drill.cli.parser import parse
from drill.decks.fields import FIELDS
from drill.errors import BadFile, CannotWrite, UsageProblem
from drill.settings import Settings
from drill.system.environment import Environment

DECK = """title = "Two notes"
about = "For Thursday."
until = 2026-01-08
goal = "1 card fluent"
by = "Ms Adler"
note = "Slowly first."
[[part]]
families = ["note-at-fret"]
strings = [6]
frets = [0, 1]
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "two-notes.toml"
    path.write_text(DECK, encoding="utf-8")
    return path


def run(environment: Environment, *line: str, answers: str = "") -> str:
    """What a command prints, given these lines of input."""
    out = io.StringIO()
    parse(line).run(environment._replace(stdin=io.StringIO(answers), stdout=out))
    return out.getvalue()


def test_a_deck_is_added_listed_and_removed(file: Path, fake_environment: Environment) -> None:
    said = run(fake_environment, "decks", "add", str(file))
    assert said.splitlines() == [
        "Added “Two notes” to your decks as two-notes: 2 cards.",
        "Drill it: fretsure today --deck two-notes",
        "Home shows what it asks of you and how far you have come; h drills it there.",
        "For every day: choose it under Decks in the program.",
    ]
    listed = [json.loads(line) for line in run(fake_environment, "decks", "--json").splitlines()]
    assert listed[-1]["deck"] == "two-notes"
    assert listed[-1]["homework"] == {
        "by": "Ms Adler",
        "until": "2026-01-08",
        "goal": "1 card fluent",
        "note": "Slowly first.",
    }
    assert "Set by Ms Adler until 8 January 2026: 1 card fluent." in run(fake_environment, "decks")
    assert "no longer among your decks" in run(fake_environment, "decks", "remove", "two-notes")
    assert "two-notes" not in run(fake_environment, "decks")


def test_the_daily_deck_falls_back_when_it_is_removed(file: Path, fake_environment: Environment) -> None:
    run(fake_environment, "decks", "add", str(file))
    settings.save(Settings(deck="two-notes", learner="Ana"), fake_environment.config_path)
    said = run(fake_environment, "decks", "remove", "two-notes")
    assert said.splitlines()[-1] == "It was your daily drill, which is now two-shapes again."
    assert settings.load(fake_environment.config_path) == Settings(learner="Ana")


def test_the_deck_of_the_next_week_takes_the_place_of_the_last(file: Path, fake_environment: Environment) -> None:
    first, *_ = run(fake_environment, "decks", "add", str(file), "--replace").splitlines()
    assert first == "Added “Two notes” to your decks as two-notes: 2 cards.", "there was nothing to replace"
    file.write_text(DECK.replace("[0, 1]", "[0, 2]"), encoding="utf-8")
    said, *_ = run(fake_environment, "decks", "add", str(file), "--replace").splitlines()
    assert said == "“Two notes” is now your deck two-notes: 3 cards. Your answers to the one before stay."
    with pytest.raises(UsageProblem, match="--replace goes with add alone"):
        run(fake_environment, "decks", "--replace")


def test_a_second_deck_of_that_name_and_a_faulty_one_are_refused(file: Path, fake_environment: Environment) -> None:
    run(fake_environment, "decks", "add", str(file))
    with pytest.raises(CannotWrite):
        run(fake_environment, "decks", "add", str(file))
    file.write_text(DECK.replace("[0, 1]", "[9, 1]"), encoding="utf-8")
    with pytest.raises(BadFile, match="runs backwards"):
        run(fake_environment, "decks", "add", str(file))


def test_a_broken_deck_is_named_and_the_others_are_listed(
    file: Path, added_decks: Path, fake_environment: Environment
) -> None:
    run(fake_environment, "decks", "add", str(file))
    (added_decks / "broken.toml").write_text("=", encoding="utf-8")
    err = io.StringIO()
    assert "two-notes" in run(fake_environment._replace(stderr=err), "decks")
    assert "broken.toml" in err.getvalue()


def test_a_drill_in_lines_says_what_is_set_before_and_after(file: Path, fake_environment: Environment) -> None:
    said = run(fake_environment, "today", "--plain", "--deck", str(file), answers="E\nF\n").splitlines()
    assert said[0] == "Set by Ms Adler until Thursday: 0 of 1 card fluent."
    assert said[1] == "“Slowly first.”"
    assert "Set by Ms Adler until Thursday" in "".join(said[3:])


def test_the_summary_in_json_says_how_far_it_came(file: Path, fake_environment: Environment) -> None:
    said = run(fake_environment, "today", "--json", "--deck", str(file), answers="E\n")
    homework = json.loads(said.splitlines()[-1])["homework"]
    assert (homework["by"], homework["goal"], homework["wanted"]) == ("Ms Adler", "1 card fluent", 1)
    assert homework["reached"] is (homework["done"] == 1)
    said = run(fake_environment, "focus", "--string", "6", "--json", "--deck", str(file), answers="E\n")
    assert json.loads(said.splitlines()[-1])["homework"] is None, "a part of the deck does not tell of the whole"


def test_the_daily_drill_tells_in_lines_and_in_json_what_is_set_with_every_other_deck(
    file: Path, fake_environment: Environment
) -> None:
    for name in ("one", "two"):
        named = file.with_stem(name)
        named.write_text(file.read_text())
        run(fake_environment, "decks", "add", str(named))
    said = run(fake_environment, "today", "--plain", answers="?\n")
    assert [said.count(f"fretsure today --deck {name}") for name in ("one", "two")] == [1, 1]
    last = json.loads(run(fake_environment, "today", "--json", answers="?\n").splitlines()[-1])
    assert last["homework"] is None
    assert [(each["deck"], each["by"], each["wanted"], each["cards"]) for each in last["other_homework"]] == [
        ("one", "Ms Adler", 1, 2), ("two", "Ms Adler", 1, 2),
    ]  # fmt: skip
    of_one = json.loads(run(fake_environment, "today", "--json", "--deck", "one", answers="?\n").splitlines()[-1])
    assert (of_one["homework"]["deck"], of_one["other_homework"]) == ("one", [])


def test_the_schema_is_printed_as_json(fake_environment: Environment) -> None:
    schema = json.loads(run(fake_environment, "decks", "schema"))
    assert {"title", "until", "goal", "note", "by", "part"} <= schema["properties"].keys()


def test_help_explains_every_field_with_a_clause_and_an_example_and_ends_with_a_whole_file(
    tmp_path: Path, fake_environment: Environment
) -> None:
    said = run(fake_environment, "help", "deck")
    told = " ".join(said.split())
    for name, field in FIELDS.items():
        entry = told.partition(f" {name}: ")[2]
        clause, write, example = entry.partition(". Write ")
        assert clause and write and not clause.startswith("Write "), name
        assert example.startswith(field.example), name
    file = tmp_path / "mine.toml"
    file.write_text("\n".join(line[4:] for line in said.partition("A whole file:")[2].splitlines()), encoding="utf-8")
    assert "no problems found" in run(fake_environment._replace(now=lambda: 0.0), "decks", "check", str(file))


def test_adding_a_deck_whose_day_is_over_says_so(file: Path, fake_environment: Environment) -> None:
    file.write_text(DECK.replace("2026-01-08", "2020-01-08"), encoding="utf-8")
    assert f"Note: {file}, until: 2020-01-08 is over already." in run(fake_environment, "decks", "add", str(file))


def test_after_the_daily_drill_in_lines_homework_of_other_decks_is_told_with_its_command(
    file: Path, fake_environment: Environment
) -> None:
    run(fake_environment, "decks", "add", str(file))
    said = run(fake_environment, "today", "--plain", answers="E\n")
    told = "“Two notes”, set by Ms Adler until Thursday: 0 of 1 card fluent. “Slowly first.”"
    assert f"{told} fretsure today --deck two-notes" in said
    assert told not in run(fake_environment, "focus", "--plain", "--string", "6", answers="E\n"), "that is another wish"
    own = run(fake_environment, "today", "--plain", "--deck", "two-notes", answers="E\n")
    assert "“Two notes”, set" not in own, "it is told as the deck's own"
