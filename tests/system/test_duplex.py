"""The door to the microphone: what it plays and hears belongs together, and what goes wrong is one sentence."""

from __future__ import annotations

import sys
from collections import deque
from collections.abc import Callable, Generator
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from drill.errors import NoSound
from drill.system.audio import LEAD_S, LOST_S
from drill.system.duplex import UNREAD_S, Chosen, Devices, Duplex, find_devices, names_bluetooth, open_duplex
from tests.support.worlds import HandClock

RATE = 44_100
PERIOD = RATE // 50


class FakeStream:
    """A stream of miniaudio that exchanges one period whenever a test turns it."""

    last: FakeStream

    def __init__(self, **options: Any) -> None:
        self.options, self.closed, self.played = options, False, bytearray()
        self.exchanging: Generator[bytes, bytearray, None] | None = None
        FakeStream.last = self

    def start(self, exchanging: Generator[bytes, bytearray, None]) -> None:
        self.exchanging = exchanging

    def turn(self, level: float) -> None:
        """Give a period of one level, and take a period to be heard."""
        assert self.exchanging is not None
        self.played += self.exchanging.send(bytearray(np.full(PERIOD, level, dtype=np.float32).tobytes()))

    def close(self) -> None:
        self.closed = True


class FakeError(Exception):
    pass


def device(name: str) -> dict[str, str]:
    return {"name": name, "id": f"id of {name}"}


@pytest.fixture
def library(monkeypatch: pytest.MonkeyPatch) -> SimpleNamespace:
    """A miniaudio with two microphones and three speakers, two of one name."""
    devices = SimpleNamespace(
        backend="PulseAudio",
        get_captures=lambda: [device("webcam"), device("interface")],
        get_playbacks=lambda: [device("HDMI"), device("HDMI"), device("headphones")],
    )
    fake = SimpleNamespace(
        MiniaudioError=FakeError,
        SampleFormat=SimpleNamespace(FLOAT32=5),
        Devices=lambda: devices,
        DuplexStream=FakeStream,
        found=devices,
    )
    monkeypatch.setitem(sys.modules, "miniaudio", fake)
    return fake


def counting(frames: int) -> bytes:
    """Plays 1, 1, 1 ..."""
    return np.ones(frames, dtype="<i2").tobytes()


def past_the_lead(stream: FakeStream) -> int:
    """Let the stream run until it heeds what comes in; gives how many periods that took."""
    periods = -(-round(LEAD_S * RATE) // PERIOD)
    for _ in range(periods):
        stream.turn(0.5)
    return periods


def test_sample_n_in_belongs_to_sample_n_out(library: SimpleNamespace, clock: HandClock) -> None:
    duplex = open_duplex(RATE, clock.monotonic)
    duplex.start(counting)
    periods = past_the_lead(FakeStream.last)
    assert duplex.read() == []
    FakeStream.last.turn(0.25)
    FakeStream.last.turn(0.125)
    assert [block[0] for block in duplex.read()] == [0.25, 0.125]
    played = np.frombuffer(FakeStream.last.played, dtype="<i2")
    assert not played[: periods * PERIOD].any()
    assert played[periods * PERIOD :].all()
    assert duplex.read() == []


def test_it_can_be_closed_twice_and_opened_again(library: SimpleNamespace, clock: HandClock) -> None:
    duplex = open_duplex(RATE, clock.monotonic)
    duplex.stop()
    duplex.start(None)
    first = FakeStream.last
    duplex.stop()
    duplex.stop()
    assert first.closed
    duplex.start(None)
    assert FakeStream.last is not first
    assert not FakeStream.last.closed


def test_the_devices_are_those_that_were_chosen(library: SimpleNamespace, clock: HandClock) -> None:
    assert find_devices() == Devices(("webcam", "interface"), ("HDMI", "HDMI (2)", "headphones"))
    open_duplex(RATE, clock.monotonic, Chosen("interface", "headphones")).start(None)
    assert FakeStream.last.options["capture_device_id"] == "id of interface"
    assert FakeStream.last.options["playback_device_id"] == "id of headphones"
    open_duplex(RATE, clock.monotonic).start(None)
    assert FakeStream.last.options["capture_device_id"] is None


def test_a_device_that_is_not_plugged_in_is_named(library: SimpleNamespace, clock: HandClock) -> None:
    with pytest.raises(NoSound, match="The microphone “old one” is not plugged in"):
        open_duplex(RATE, clock.monotonic, Chosen("old one"))
    duplex = open_duplex(RATE, clock.monotonic, Chosen(speaker="headphones"))
    library.found.get_playbacks = lambda: [device("HDMI")]
    with pytest.raises(NoSound, match="The speaker “headphones” is not plugged in"):
        duplex.start(None)


@pytest.mark.parametrize("missing", ["microphone", "speaker", "server", "library", "numpy"])
def test_what_is_missing_is_said(
    missing: str, library: SimpleNamespace, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    match missing:
        case "microphone":
            library.found.get_captures = list
            words = "No microphone was found"
        case "speaker":
            library.found.get_playbacks = list
            words = "No sound card was found"
        case "server":
            library.found.backend = "Null"
            words = "No sound card was found"
        case _:
            monkeypatch.setitem(sys.modules, "miniaudio" if missing == "library" else "numpy", None)
            words = "Sound is not installed"
    with pytest.raises(NoSound, match=words):
        open_duplex(RATE, clock.monotonic)


def test_a_stream_that_cannot_be_opened_says_so(library: SimpleNamespace, clock: HandClock) -> None:
    def refuse(**options: object) -> None:
        raise FakeError("failed to init device")

    library.DuplexStream = refuse
    with pytest.raises(NoSound, match="The microphone cannot be opened"):
        open_duplex(RATE, clock.monotonic).start(None)


def test_a_device_that_is_unplugged_is_noticed(library: SimpleNamespace, clock: HandClock) -> None:
    duplex = open_duplex(RATE, clock.monotonic)
    duplex.start(None)
    past_the_lead(FakeStream.last)
    clock.tick(LOST_S)
    assert not duplex.lost
    clock.tick(0.1)
    assert duplex.lost
    duplex.stop()
    assert not duplex.lost


def test_samples_that_got_lost_are_counted_against_the_clock(library: SimpleNamespace, clock: HandClock) -> None:
    duplex = open_duplex(RATE, clock.monotonic)
    duplex.start(None)

    def run(seconds: float) -> None:
        for _ in range(round(seconds * 50)):
            clock.tick(PERIOD / RATE)
            FakeStream.last.turn(0.1)
        duplex.read()

    run(4)
    assert duplex.overruns == 0
    clock.tick(0.3)  # nothing was exchanged meanwhile
    run(2)
    assert duplex.overruns == 1


def test_what_nobody_reads_does_not_grow(library: SimpleNamespace, clock: HandClock) -> None:
    duplex = open_duplex(RATE, clock.monotonic)
    duplex.start(None)
    past_the_lead(FakeStream.last)
    with pytest.raises(StopIteration):  # the stream takes that for the end
        for _ in range(round(UNREAD_S * 50) + 2):
            FakeStream.last.turn(0.1)
    assert duplex.lost
    assert duplex.read() == []


class Interrupted(deque[Any]):
    """Something happens just before the first block is taken out."""

    happens: Callable[[], object] | None = None

    def popleft(self) -> Any:
        happens, self.happens = self.happens, None
        if happens:
            happens()
        return super().popleft()


@pytest.mark.parametrize("what", ["reading by a signal", "a sound card nobody has read for long"])
def test_what_happens_while_blocks_are_read_breaks_nothing(
    library: SimpleNamespace, clock: HandClock, what: str
) -> None:
    duplex = open_duplex(RATE, clock.monotonic)
    assert isinstance(duplex, Duplex)
    duplex.start(None)
    past_the_lead(FakeStream.last)
    duplex._unread = unread = Interrupted()
    stream, by_signal = FakeStream.last, []
    for _ in range(3):
        stream.turn(0.1)

    def overflow() -> None:
        with pytest.raises(StopIteration):
            for _ in range(round(UNREAD_S * 50) + 2):
                stream.turn(0.1)

    unread.happens = overflow if what.startswith("a sound") else lambda: by_signal.extend(duplex.read())
    assert duplex.read() == []
    assert len(by_signal) == (0 if duplex.lost else 3)


def test_bluetooth_is_told_by_its_name() -> None:
    assert names_bluetooth(["Built-in", "AirPods von Ana"])
    assert names_bluetooth(["bluez_output.00_11"])
    assert not names_bluetooth(["Scarlett 2i2 USB", "Built-in Audio Analog Stereo", ""])
