"""`--listen` and the setting for it: who hears, who is told that nothing is heard, and what a pipe may not start."""

from __future__ import annotations

import io

import pytest

from drill import settings as settings_file
from drill.cli.commands.drilling import TodayRequest, drill_focus, drill_today
from drill.cli.requests import FocusRequest
from drill.cli.tuning_lines import UNCHECKED
from drill.errors import NoSound, UsageProblem
from drill.practice.hearing import CLOSED, OPENED
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment
from tests.support.asking import answers
from tests.support.microphone import MicrophoneShop
from tests.support.worlds import HandClock

TODAY = TodayRequest(minutes=1, deck=None, plain=True, json=False)


@pytest.fixture
def environment(fake_environment: Environment) -> Environment:
    return fake_environment._replace(stdin=io.StringIO("?\n?\n"), stdout=io.StringIO(), stderr=io.StringIO())


def text(stream: object) -> str:
    assert isinstance(stream, io.StringIO)
    return stream.getvalue()


def listening(families: tuple[str, ...]) -> FocusRequest:
    return FocusRequest(1, None, True, False, (), (), families, (), False, listen=True)


def test_listening_is_said_when_the_microphone_opens_and_when_it_closes(
    environment: Environment, clock: HandClock
) -> None:
    shop = MicrophoneShop(clock)
    drill_today(TODAY._replace(listen=True), environment._replace(open_duplex=shop))
    assert OPENED in text(environment.stdout)
    assert "104 of 112 cards can be played; the others are typed" in text(environment.stdout)
    assert UNCHECKED in text(environment.stderr)
    assert CLOSED in text(environment.stderr)
    assert shop.duplex
    assert not shop.duplex.is_open


def test_lines_from_a_pipe_are_answers_as_ever(environment: Environment, clock: HandClock) -> None:
    drill_today(TODAY._replace(listen=True), environment._replace(open_duplex=MicrophoneShop(clock)))
    with Record.open(environment.record_path, environment.now) as record:
        assert [(row.how, row.given) for row in answers(record)] == [("typed", "")] * 2


def test_without_a_microphone_nothing_begins_and_the_fix_is_told(environment: Environment) -> None:
    with pytest.raises(NoSound, match="No microphone was found"):
        drill_today(TODAY._replace(listen=True), environment)
    assert not environment.record_path.exists()


def test_a_program_does_not_listen(environment: Environment, clock: HandClock) -> None:
    with pytest.raises(UsageProblem, match="--json is for programs"):
        drill_today(TODAY._replace(listen=True, json=True), environment._replace(open_duplex=MicrophoneShop(clock)))


def test_a_focus_on_what_cannot_be_heard_is_refused_before_the_microphone_opens(
    environment: Environment, clock: HandClock
) -> None:
    shop = MicrophoneShop(clock)
    with pytest.raises(UsageProblem, match=r"^No card of “.+” can be answered on the guitar\. Type its answers, or"):
        drill_focus(listening(("tonic-finger",)), environment._replace(open_duplex=shop))
    assert shop.duplex is None or not shop.duplex.starts


def test_the_setting_opens_no_microphone_for_a_pipe(environment: Environment, clock: HandClock) -> None:
    settings_file.save(Settings(answers="played"), environment.config_path)
    shop = MicrophoneShop(clock)
    drill_today(TODAY, environment._replace(open_duplex=shop))
    assert shop.duplex is None
    assert OPENED not in text(environment.stdout)


def test_with_the_setting_but_no_microphone_the_drill_is_typed(environment: Environment) -> None:
    settings_file.save(Settings(answers="played", start="shapes"), environment.config_path)
    attended = type("Attended", (io.StringIO,), {"isatty": lambda self: True})("\n?\n\n?\n\n")
    drill_today(TODAY, environment._replace(stdin=attended))
    assert "No microphone was found. This drill is typed." in text(environment.stderr)
    with Record.open(environment.record_path, environment.now) as record:
        assert answers(record)


def test_hands_free_leaves_out_what_is_typed(environment: Environment, clock: HandClock) -> None:
    settings_file.save(Settings(answers="hands free"), environment.config_path)
    drill_today(TODAY._replace(listen=True), environment._replace(open_duplex=MicrophoneShop(clock)))
    assert "104 of 112 cards can be played; the others are left out." in text(environment.stdout)
