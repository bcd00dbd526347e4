"""A focus of few cards in lines and in JSON: told on standard error, and widened by whoever sits there."""

from __future__ import annotations

import io
import json
from itertools import pairwise

import pytest

from drill.cli.parser import parse
from drill.errors import UnknownName, UsageProblem
from drill.settings import Settings, save
from drill.system.environment import Environment


def run(environment: Environment, line: str, typed: str = "") -> tuple[str, str]:
    """Run a command with these lines on standard input; gives what it said on standard output and standard error."""
    there = environment._replace(stdin=io.StringIO(typed))
    parse(line.split()).run(there)
    return there.stdout.getvalue(), there.stderr.getvalue()  # type: ignore[attr-defined]


@pytest.mark.parametrize("face", ["--json", "--plain"])
def test_a_pipe_gets_the_narrow_focus_and_is_told_on_standard_error(face: str, fake_environment: Environment) -> None:
    out, err = run(fake_environment, f"focus --key Ebm --string A {face}")
    assert "This focus has only 1 card, so it comes up again and again. Wider: " in err
    assert "with string 6 (low E), F♯ major, B♭ minor and G♯ minor: 8 cards" in err
    assert "only 1 card" not in out


def test_a_focus_that_leaves_nothing_names_other_decks_before_it_is_refused(fake_environment: Environment) -> None:
    with pytest.raises(UsageProblem, match="no card for this focus"):
        run(fake_environment, "focus --string 1 --json")
    assert "the deck “The whole neck”: 30 cards" in fake_environment.stderr.getvalue()  # type: ignore[attr-defined]


def test_a_focus_in_drop_d_says_that_shapes_are_for_other_tunings(fake_environment: Environment) -> None:
    save(Settings(tuning="drop-d"), fake_environment.config_path)
    with pytest.raises(UsageProblem, match="no card for this focus"):
        run(fake_environment, "focus Eb minor on the A string --plain")
    told = fake_environment.stderr.getvalue()  # type: ignore[attr-defined]
    assert (
        "In this tuning (Guitar, drop D) you drill notes and relative keys; shapes are for strings in fourths" in told
    )


def test_two_cards_take_turns(fake_environment: Environment) -> None:
    """The same card never comes twice in a row while there is another."""
    out, _ = run(fake_environment, "focus --key Am --family shape-anchor --json", "?\n" * 30)
    lines = map(json.loads, out.splitlines())
    asked = [each["card"] for each in lines if each["type"] in ("question", "shown")]
    assert len(set(asked)) == 2
    assert all(one != other for one, other in pairwise(asked))


@pytest.mark.parametrize(
    ("focus", "typed", "deck", "opening"),
    [
        ("--key Ebm --string A", "\n", "Two shapes, every key", "has only 1 card"),
        ("--key Ebm --string A", "99\n00031\n3\n", "Two shapes, every key", "Type a number from 1 to "),
        ("--key Ebm", "4\n", "All five shapes", "4. the deck “All five shapes”: 9 cards"),
    ],
)
def test_whoever_sits_there_chooses(
    focus: str, typed: str, deck: str, opening: str, fake_environment: Environment
) -> None:
    terminal = fake_environment._replace(is_terminal=True, stdin=io.StringIO(typed))
    parse(["focus", *focus.split(), "--plain"]).run(terminal)
    said = terminal.stdout.getvalue()  # type: ignore[attr-defined]
    assert opening in said
    assert f"\n{deck}. 5 min." in said


def test_a_key_that_is_asked_by_its_other_name_is_told(fake_environment: Environment) -> None:
    _, err = run(fake_environment, "focus --key Ebm --json")
    assert "E♭ minor is asked as D♯ minor: the same frets." in err


@pytest.mark.parametrize("line", ["focus --key Es --json", "focus Es --json", "round --key Es"])
def test_a_key_in_the_names_of_another_language_is_told_so(line: str, fake_environment: Environment) -> None:
    with pytest.raises(UnknownName, match="“Es” is a key in German note names, but yours are English"):
        run(fake_environment, line)
