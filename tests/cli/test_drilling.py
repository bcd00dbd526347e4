"""Which face a drill gets, and what reaches it: the screens on a terminal, else lines of words or of JSON."""

from __future__ import annotations

from typing import Any

import pytest

from drill.cli import json_mode, line_mode
from drill.cli.parser import parse
from drill.decks import Focus
from drill.practice.request import DrillRequest
from drill.practice.session import Session
from drill.system.environment import Environment
from drill.system.steady import SteadyClock

Faces = list[tuple[str, Any]]


@pytest.fixture
def faces(monkeypatch: pytest.MonkeyPatch) -> Faces:
    """The faces that were shown, each with the drill it was given."""
    shown: Faces = []

    def screens(
        environment: Environment, settings: object, record: object, store: object, request: object, first: object
    ) -> None:
        assert isinstance(environment.monotonic, SteadyClock)
        shown.append(("screens", request))

    def words(session: Session, environment: Environment) -> None:
        assert isinstance(environment.monotonic, SteadyClock)
        shown.append(("words", (session.deck.id, session.drill.minutes, session.drill.focus)))

    def objects(session: Session, environment: Environment) -> None:
        assert not isinstance(environment.monotonic, SteadyClock), "a program's clock is taken as it is"
        shown.append(("json", (session.deck.id, session.drill.minutes, session.drill.focus)))

    monkeypatch.setattr("drill.tui.run_app", screens)
    monkeypatch.setattr(line_mode, "drill_in_words", words)
    monkeypatch.setattr(json_mode, "drill_in_json", objects)
    return shown


@pytest.mark.parametrize(
    ("line", "request_"),
    [
        ("", None),
        ("today", DrillRequest()),
        ("today --deck naturals --minutes 3", DrillRequest("naturals", 3)),
        ("focus --string A --minutes 2", DrillRequest(None, 2, Focus(strings=(5,)))),
        ("focus --shape string-6 --deck one-bar", DrillRequest("one-bar", None, Focus(shapes=("string-6",)))),
    ],
)
def test_a_terminal_gets_the_screens(
    line: str, request_: DrillRequest | None, faces: Faces, fake_environment: Environment
) -> None:
    parse(line.split()).run(fake_environment._replace(is_terminal=True))
    assert faces == [("screens", request_)]


@pytest.mark.parametrize(
    ("line", "is_terminal", "face", "drill"),
    [
        ("", False, "words", ("two-shapes", 5, "{}")),
        ("today", False, "words", ("two-shapes", 5, "{}")),
        ("today --plain", True, "words", ("two-shapes", 5, "{}")),
        ("today --json", True, "json", ("two-shapes", 5, "{}")),
        ("today --plain --json --minutes 7 --deck naturals", True, "json", ("naturals", 7, "{}")),
        ("focus --string 6 --plain", True, "words", ("two-shapes", 5, '{"strings": [6]}')),
    ],
)
def test_lines_are_for_pipes_and_for_those_who_ask(
    line: str,
    is_terminal: bool,
    face: str,
    drill: tuple[str, int, str],
    faces: Faces,
    fake_environment: Environment,
) -> None:
    parse(line.split()).run(fake_environment._replace(is_terminal=is_terminal))
    [(shown, (deck, minutes, focus))] = faces
    assert (shown, deck, minutes) == (face, *drill[:2])
    assert focus == drill[2] or (drill[2] != "{}" and '"strings": [6]' in focus)


def test_the_weakest_is_named_before_its_drill(faces: Faces, fake_environment: Environment) -> None:
    parse(["focus", "--weakest", "--plain"]).run(fake_environment)
    assert [shown for shown, _ in faces] == ["words"]
    assert fake_environment.stderr.getvalue().startswith("fretsure: ")  # type: ignore[attr-defined]


@pytest.mark.parametrize("words", ["weak strings", "slow", "what I mix up"])
def test_where_nothing_is_weak_in_that_way_the_drill_begins_as_with_weakest(
    words: str, faces: Faces, fake_environment: Environment
) -> None:
    parse(["focus", *words.split(), "--plain"]).run(fake_environment)
    parse(["focus", "--weakest", "--plain"]).run(fake_environment)
    (_, named), (_, weakest) = faces
    assert named == weakest


def test_the_weakest_does_not_wait_for_the_whole_of_a_long_log(
    faces: Faces, fake_environment: Environment, monkeypatch: pytest.MonkeyPatch
) -> None:
    def read_it_all(record: object) -> object:
        raise AssertionError("reads the log to its end")

    monkeypatch.setattr("drill.practice.learner_store.LearnerStore.of", read_it_all)
    parse(["focus", "--weakest", "--plain"]).run(fake_environment)
    with pytest.raises(AssertionError, match="to its end"):
        parse(["progress"]).run(fake_environment)
