"""Ears: a microphone and a listener in one, closed whenever nobody listens."""

from __future__ import annotations

import os
import signal
from types import SimpleNamespace

import pytest

from drill.errors import NoSound
from drill.listening import Heard
from drill.listening.events import Samples
from drill.practice.hearing import LOST, NOT_LET, Ears, open_ears, reach, where_to_allow
from drill.practice.round_heard import Stream
from drill.settings import Settings
from drill.system.duplex import Chosen
from drill.system.environment import Environment
from drill.system.signals import STANDS_STILL, pause_while_suspended
from tests.support.microphone import FakeDuplex, MicrophoneShop
from tests.support.worlds import HandClock

RATE = 44_100
LOW, HIGH = 40, 79
"""A guitar of 15 frets."""


def ears_hearing(clock: HandClock, *plucks: tuple[float, int]) -> tuple[Ears, FakeDuplex]:
    fake = FakeDuplex(clock, RATE, plucks)
    return Ears(fake, LOW, HIGH), fake


def named(ears: Ears, clock: HandClock, seconds: float) -> list[Heard]:
    """The notes named in so many seconds, looked at thirty times a second as a screen does."""
    events = []
    for _ in range(round(30 * seconds)):
        clock.tick(1 / 30)
        events += ears.poll()
    return [event for event in events if isinstance(event, Heard)]


def test_plucks_are_named_at_the_samples_at_which_they_were_plucked(clock: HandClock) -> None:
    ears, fake = ears_hearing(clock, (1.0, 45), (2.0, 57), (3.0, 64))
    assert not ears.is_open
    ears.start()
    assert ears.is_open
    assert fake.is_open
    heard = [note for note in named(ears, clock, 4) if not note.held]
    assert [note.midi for note in heard] == [45, 57, 64]
    for note, second in zip(heard, (1.0, 2.0, 3.0), strict=True):
        assert abs(note.onset / RATE - second) < 0.015
    assert ears.position == pytest.approx(4 * RATE, abs=1000)
    assert ears.trouble == ""


def test_it_closes_and_the_count_goes_on_when_it_opens_again(clock: HandClock) -> None:
    ears, fake = ears_hearing(clock, (1.0, 45))
    ears.start()
    named(ears, clock, 2)
    clock.tick(0.5)  # what came in meanwhile counts, though nobody has looked at it
    ears.stop()
    ears.stop()
    assert not fake.is_open
    assert ears.poll() == []
    before = ears.position
    assert before == pytest.approx(2.5 * RATE, abs=1000)
    clock.tick(60)
    ears.start()
    fake.pluck_at(before + RATE, 50)
    heard = named(ears, clock, 2)
    assert heard[0].midi == 50
    assert abs(heard[0].onset - before - RATE) < 0.015 * RATE
    assert heard[0].decided > heard[0].onset


def test_the_microphone_is_closed_while_the_program_is_suspended(
    clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    if STANDS_STILL is None:
        pytest.skip("no program can be suspended here")
    ears, fake = ears_hearing(clock)
    stopped: list[bool] = []
    monkeypatch.setattr(os, "kill", lambda process, number: stopped.append(number == signal.SIGSTOP and fake.is_open))
    ears.start()
    with pause_while_suspended(ears):
        signal.raise_signal(STANDS_STILL)
        assert stopped == [False]
        assert fake.is_open
        ears.stop()
        signal.raise_signal(STANDS_STILL)
        assert not fake.is_open


@pytest.mark.parametrize("moment", ["while it opens", "while it closes"])
def test_who_suspends_the_program_while_the_microphone_opens_or_closes_leaves_none_open(
    clock: HandClock, monkeypatch: pytest.MonkeyPatch, moment: str
) -> None:
    """The system shows a stream before the program has it in hand; a signal that comes between must not be lost."""
    if STANDS_STILL is None:
        pytest.skip("no program can be suspended here")
    ears, fake = ears_hearing(clock)
    open_then: list[bool] = []
    before = signal.signal(STANDS_STILL, lambda number, frame: open_then.append(fake.is_open))
    change = "start" if moment == "while it opens" else "stop"
    undisturbed = getattr(fake, change)

    def disturbed(*given: object) -> None:
        monkeypatch.setattr(fake, change, undisturbed)
        if change == "start":
            undisturbed(*given)
        signal.raise_signal(STANDS_STILL)
        if change == "stop":
            undisturbed(*given)

    try:
        if change == "stop":
            ears.start()
        monkeypatch.setattr(fake, change, disturbed)
        (ears.start if change == "start" else ears.stop)()
        assert open_then == [False]
        assert fake.is_open == (change == "start")
    finally:
        ears.stop()
        signal.signal(STANDS_STILL, before)


def test_a_microphone_that_cannot_be_opened_leaves_the_signal_as_it_was(clock: HandClock) -> None:
    if STANDS_STILL is None:
        pytest.skip("no program can be suspended here")
    before = signal.getsignal(STANDS_STILL)
    ears, fake = ears_hearing(clock)
    fake.unplug()
    with pytest.raises(NoSound):
        ears.start()
    assert signal.getsignal(STANDS_STILL) is before


def test_a_drill_is_paused_too_whoever_heeded_the_signal_first(
    clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    if STANDS_STILL is None:
        pytest.skip("no program can be suspended here")
    told: list[str] = []
    monkeypatch.setattr(os, "kill", lambda process, number: told.append(f"stopped, open: {fake.is_open}"))
    drill = SimpleNamespace(pause=lambda: told.append("paused"), resume=lambda: told.append("resumed"))
    before = signal.getsignal(STANDS_STILL)
    ears, fake = ears_hearing(clock)
    ears.start()
    with pause_while_suspended(drill):
        signal.raise_signal(STANDS_STILL)
    ears.stop()
    assert told == ["paused", "stopped, open: False", "resumed"]
    assert signal.getsignal(STANDS_STILL) is before


def test_a_microphone_that_is_gone_is_one_sentence(clock: HandClock) -> None:
    ears, fake = ears_hearing(clock)
    ears.start()
    fake.unplug()
    assert ears.lost
    assert ears.trouble == LOST
    ears.stop()
    with pytest.raises(NoSound):
        ears.start()
    assert not ears.is_open


def test_two_seconds_of_exact_zeros_mean_that_the_system_does_not_let_it_listen(clock: HandClock) -> None:
    ears = Ears(FakeDuplex(clock, RATE, hiss=0.0), LOW, HIGH)
    ears.start()
    named(ears, clock, 1.9)
    assert not ears.silent
    named(ears, clock, 0.3)
    assert ears.silent
    assert ears.trouble.startswith(NOT_LET)


def test_a_quiet_room_is_not_taken_for_that(clock: HandClock) -> None:
    ears = Ears(FakeDuplex(clock, RATE, hiss=3e-5), LOW, HIGH)
    ears.start()
    named(ears, clock, 5)
    assert not ears.silent


def test_where_to_allow_it_depends_on_the_system(monkeypatch: pytest.MonkeyPatch) -> None:
    from drill.practice import hearing

    monkeypatch.setattr(hearing, "on_macos", lambda: True)
    assert "Privacy & Security, Microphone" in where_to_allow()
    monkeypatch.setattr(hearing, "on_macos", lambda: False)
    monkeypatch.setattr(hearing, "on_windows", lambda: True)
    assert "desktop apps" in where_to_allow()


def test_ears_open_the_devices_that_were_chosen_for_the_learners_neck(
    fake_environment: Environment, clock: HandClock
) -> None:
    shop = MicrophoneShop(clock)
    settings = Settings(tuning="bass", capo=2, microphone="interface", speaker="headphones", path_ms=100)
    ears = open_ears(fake_environment._replace(open_duplex=shop), settings)
    assert shop.chosen == Chosen("interface", "headphones")
    assert ears.path == RATE // 10
    assert reach(settings.neck) == (28 + 2, 43 + 15)
    assert not ears.is_open


def test_without_a_microphone_it_says_so(fake_environment: Environment) -> None:
    with pytest.raises(NoSound, match="No microphone was found"):
        open_ears(fake_environment, Settings())


def test_a_round_is_counted_from_its_own_stream_whatever_was_left_unread_of_the_one_before(clock: HandClock) -> None:
    ears, fake = ears_hearing(clock)
    ears.start()
    named(ears, clock, 1)
    clock.tick(0.5)  # nobody looks
    stream = Stream(ears)
    stream.start(lambda frames: bytes(2 * frames))
    fake.pluck_at(stream.began + RATE, 50)
    heard = named(ears, clock, 2)
    assert stream.began == pytest.approx(1.5 * RATE, abs=1000)
    assert [note.midi for note in heard if not note.held] == [50]
    assert abs(heard[0].onset - stream.began - RATE) < 0.015 * RATE


def test_who_suspends_the_program_while_it_reads_shifts_no_note(clock: HandClock) -> None:
    """Ctrl+Z at the end of a long read: the note before it keeps its place, and the new stream begins at its own."""
    ears, fake = ears_hearing(clock, (0.1, 50))
    ears.start()
    blocks: list[int] = []

    def overhear(block: Samples) -> None:
        blocks.append(block.size)
        if len(blocks) == 40:
            ears.pause()
            ears.resume()

    ears.overhear = overhear
    clock.tick(1.0)
    heard = [event for event in ears.poll() if isinstance(event, Heard)]
    assert fake.starts == 2
    assert abs(heard[0].onset - 0.1 * RATE) < 0.015 * RATE
    assert ears.position == ears.began == sum(blocks)
