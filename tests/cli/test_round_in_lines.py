"""A round in a terminal that shows lines alone: Enter says "had it", no pipe is read, Ctrl+C tells what is kept."""

from __future__ import annotations

import io
import os
import pty
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from drill.cli.main import run
from drill.cli.parser import parse
from drill.cli.round_lines import round_in_words
from drill.errors import NoSound
from drill.practice.hearing import OPENED
from drill.practice.round import Round
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment
from drill.system.streams import take_line
from drill.theory.keys import parse_key
from tests.support.microphone import MicrophoneShop
from tests.support.project import ROOT
from tests.support.terminal import Terminal
from tests.support.worlds import HandClock

ROUND = ["round", "--key", "F#m", "--key", "Bb", "--minutes", "1", "--tempo", "120"]
"""A beat of half a second: calls at 2, 6, 10 s and so on; fifteen of them."""


class AtATerminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        return True


def typing(clock: HandClock, *moments: float, end_s: float = 1e9, line: str = "\n") -> Callable[[object], str | None]:
    """Somebody who types a line, Enter alone, so many seconds after the first click, and ends the input at last."""
    left = list(moments)

    def take(stdin: object) -> str | None:
        if left and clock.monotonic_s - 1000.0 >= left[0]:
            left.pop(0)
            return line
        return "" if clock.monotonic_s - 1000.0 >= end_s else None

    return take


@pytest.fixture
def attended(fake_environment: Environment) -> Environment:
    return fake_environment._replace(stdin=AtATerminal(), stdout=AtATerminal())


def written(environment: Environment) -> str:
    assert isinstance(environment.stdout, io.StringIO)
    return environment.stdout.getvalue()


def test_enter_says_had_it_once_a_key(attended: Environment, clock: HandClock) -> None:
    world = attended._replace(take_line=typing(clock, 1.0, 3.5, 3.7, 9.0))
    run(parse(ROUND), world)
    lines = written(world).splitlines()
    assert "Enter says that you had it" in lines[1]
    assert "Had it: F♯ minor. 1 key so far, by your own account." in lines[2]
    assert lines[3] == "F♯ minor: string 6 (low E): fret 2 or 14; string 5 (A): fret 9"
    assert sum("Had it" in line for line in lines) == 2
    assert lines[-1] == "The round is over: 15 keys called, 2 landed by your own account."
    with Record.open(world.record_path, world.now) as record:
        assert [(row.key, row.how, row.landed) for row in record.landings()] == [
            ("F# minor", "self-checked", True),
            ("Bb major", "self-checked", True),
        ]
        assert record.attempt_count() == 0
        [drill] = record.drills()
        assert drill.ended_at is not None


def test_a_call_whose_enter_is_not_shown_gets_a_line_of_its_own(attended: Environment, clock: HandClock) -> None:
    world = attended._replace(stdout=io.StringIO(), take_line=typing(clock, 3.5))
    run(parse(ROUND), world)
    assert "1. F♯ minor\nHad it: F♯ minor. 1 key so far, by your own account.\nF♯ minor: string" in written(world)


def test_end_of_input_ends_a_round_cleanly(attended: Environment, clock: HandClock) -> None:
    world = attended._replace(take_line=typing(clock, 3.5, end_s=7.0))
    run(parse(ROUND), world)
    assert "2. B♭ major" in written(world)
    assert "3. " not in written(world)
    assert clock.monotonic_s < 1007.5
    with Record.open(world.record_path, world.now) as record:
        [drill] = record.drills()
        assert drill.ended_at is not None


def test_quit_ends_a_round_and_says_of_no_key_that_it_was_landed_on(attended: Environment, clock: HandClock) -> None:
    world = attended._replace(take_line=typing(clock, 3.5, line="quit\n"))
    run(parse(ROUND), world)
    assert "Had it" not in written(world)
    assert "2. " not in written(world)


def test_a_round_without_a_word_leaves_nothing(attended: Environment, clock: HandClock) -> None:
    world = attended._replace(take_line=typing(clock))
    run(parse(ROUND), world)
    assert written(world).splitlines()[-1] == "The round is over: 15 keys called."
    with Record.open(world.record_path, world.now) as record:
        assert list(record.drills()) == list(record.landings()) == []


def test_a_pipe_is_not_looked_at(fake_environment: Environment) -> None:
    def never(stdin: object) -> str | None:
        raise AssertionError("a pipe was read")

    run(parse(ROUND), fake_environment._replace(take_line=never))
    assert "had it" not in written(fake_environment)
    assert not fake_environment.record_path.exists()


@pytest.mark.parametrize(("bars", "words"), [(1, "A new key every bar at"), (3, "A new key every 3 bars at")])
def test_how_often_a_key_comes(bars: int, words: str, fake_environment: Environment) -> None:
    called = Round((parse_key("Am"), parse_key("C")), bpm=120, bars=bars)
    round_in_words(called, Settings(), fake_environment)
    assert written(fake_environment).startswith(words)


@pytest.mark.skipif(sys.platform == "win32", reason="has no pseudo-terminals")
def test_a_line_is_taken_only_when_it_is_there() -> None:
    ours, theirs = pty.openpty()
    with os.fdopen(theirs, encoding="utf-8") as stdin:
        assert take_line(stdin) is None
        os.write(ours, b"\n\nhad it\n")
        assert [take_line(stdin) for _ in range(4)] == ["\n", "\n", "had it\n", None]
        os.write(ours, b"\x04")
        assert take_line(stdin) == ""
    os.close(ours)


@pytest.mark.long
@pytest.mark.skipif(sys.platform == "win32", reason="has no pseudo-terminals")
def test_who_interrupts_a_round_hears_of_landings_and_not_of_answers(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "drill", "--record", str(tmp_path / "r.sqlite3"), *ROUND]
    variables = {**os.environ, "TERM": "dumb", "HOME": str(tmp_path), "PYTHONPATH": str(ROOT)}
    with Terminal(command, variables) as terminal:
        terminal.wait("1. F")
        terminal.type("\x03")
        assert terminal.wait_end() == 130
        assert terminal.says("interrupted. Every landing so far is saved.")


# -- heard -------------------------------------------------------------------------------------------------------------

LISTENED = [*ROUND, "--listen"]


@pytest.mark.long
def test_a_round_that_listens_tells_every_call_and_ends_with_a_table(
    fake_environment: Environment, clock: HandClock
) -> None:
    """The tuning is not checked for a pipe, so the first click falls on the first sample."""
    shop = MicrophoneShop(clock, [(3.0, 54), (8.5, 58), (11.0, 48)])
    run(parse(LISTENED), fake_environment._replace(open_duplex=shop))
    lines = written(fake_environment).splitlines()
    assert lines[1].startswith("Wear headphones")
    assert lines[2] == OPENED
    assert lines[3].startswith("The delay of your sound has not been measured")
    assert "1. F♯ minor (landed in time)" in lines[4] and lines[4].endswith("string 5 (A): fret 9")
    assert lines[5].startswith("2. B♭ major - string 6")
    assert lines[6] == "B♭ major: late"
    assert "3. " in lines[7] and "(another note: C)" in lines[7]
    assert lines[9].startswith("5. F♯ minor - string 6") and lines[10] == "B♭ major: not heard"
    assert "The round is over: 1 of 3 calls landed in time. 12 calls not heard: that counts neither way." in lines
    assert lines[-3].split() == ["Key", "in", "time", "late", "other", "unsure"]
    assert fake_environment.stderr.getvalue().endswith("fretsure: The microphone is closed.\n")  # type: ignore[attr-defined]
    assert shop.duplex is not None and not shop.duplex.is_open
    with Record.open(fake_environment.record_path, fake_environment.now) as record:
        assert [row.landed for row in record.landings()][:3] == [True, True, False]
        assert {row.how for row in record.landings()} == {"heard"}


@pytest.mark.long
def test_at_a_terminal_the_tuning_is_checked_first_and_enter_says_nothing(
    attended: Environment, clock: HandClock
) -> None:
    shop = MicrophoneShop(clock)
    world = attended._replace(open_duplex=shop, take_line=typing(clock, 25.0))
    run(parse(LISTENED), world)
    assert "Tuning: " in written(world).splitlines()[1]  # after the offer to measure the sound's way
    assert "Had it" not in written(world)


@pytest.mark.long
def test_a_microphone_that_goes_leaves_the_round_and_enter(attended: Environment, clock: HandClock) -> None:
    shop = MicrophoneShop(clock)

    def sleep(seconds: float) -> None:
        clock.tick(seconds)
        if clock.monotonic_s > 1028.0 and shop.duplex is not None:
            shop.duplex.unplug()

    world = attended._replace(open_duplex=shop, sleep=sleep, take_line=typing(clock, 40.0))
    run(parse(LISTENED), world)
    assert "is gone" in world.stderr.getvalue()  # type: ignore[attr-defined]
    assert written(world).count("Had it: ") == 1
    assert "The round is over: 15 keys called, 1 landed by your own account." in written(world).splitlines()


def test_what_was_heard_before_the_microphone_went_is_told_with_a_table(
    fake_environment: Environment, clock: HandClock
) -> None:
    shop = MicrophoneShop(clock, [(3.0, 54)])

    def sleep(seconds: float) -> None:
        clock.tick(seconds)
        if "landed in time" in written(fake_environment) and shop.duplex is not None:
            shop.duplex.unplug()

    run(parse(LISTENED), fake_environment._replace(open_duplex=shop, sleep=sleep))
    lines = written(fake_environment).splitlines()
    assert lines[-3] == "The round is over: 15 keys called."
    assert lines[-2].split() == ["Key", "in", "time", "late", "other", "unsure"]
    assert lines[-1].split() == ["F♯", "min", "1", "0", "0", "0"]


def test_listening_without_a_microphone_is_refused_in_one_sentence(
    fake_environment: Environment, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(NoSound) as caught:
        run(parse(LISTENED), fake_environment)
    assert caught.value.exit_code == 2
    assert written(fake_environment) == ""
    assert not fake_environment.record_path.exists()
