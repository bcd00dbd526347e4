"""The door to the microphone: one stream both ways, so that what is heard is timed by what is played.

Duplex         plays a source and hands over what comes in
Chosen         the microphone and the speaker that the learner chose
Devices        those that are plugged in
find_devices   asks the system for them
open_duplex    the learner's microphone and speaker

Nothing that comes in is kept here, but for what has not been read yet; nothing is written, and nothing is sent.
"""

from collections import deque
from collections.abc import Callable, Generator, Sequence
from contextlib import suppress
from typing import TYPE_CHECKING, Any, NamedTuple

from drill.errors import NoSound
from drill.system.audio import (
    BYTES_A_FRAME,
    EXTRA,
    LEAD_S,
    LOST_S,
    NOT_INSTALLED,
    PERIODS,
    Source,
    Timing,
    hushed,
    no_card,
)

if TYPE_CHECKING:
    import numpy as np
    from miniaudio import DuplexStream
    from numpy.typing import NDArray

    Samples = NDArray[np.float32]

PERIOD_MS = 20
"""So much goes in and out at a time: short, because a name for a note comes no sooner than its samples."""
TO_LISTEN = "Plug in a microphone and headphones, or go on without listening."
"""What to do where there is no sound card."""
UNREAD_S = 20.0
"""Whoever reads nothing for so long listens no more. The rest is let go, and the stream counts as lost."""


class Chosen(NamedTuple):
    """The names of a microphone and a speaker, as the system gives them; an empty name is the system's own choice."""

    microphone: str = ""
    speaker: str = ""


SYSTEM_CHOICE = Chosen()


class Devices(NamedTuple):
    """The names of the microphones and of the speakers that are plugged in."""

    microphones: tuple[str, ...]
    speakers: tuple[str, ...]


def open_duplex(rate: int, monotonic: Callable[[], float], chosen: Chosen = SYSTEM_CHOICE) -> "Duplex":
    """Prepare the learner's microphone and speaker. Raises NoSound."""
    try:
        import miniaudio  # noqa: F401
        import numpy  # noqa: F401
    except ImportError as error:
        raise NoSound(NOT_INSTALLED, EXTRA) from error
    _plugged_in(chosen)
    return Duplex(rate, monotonic, chosen)


def find_devices() -> Devices:
    """The microphones and speakers that are plugged in. Raises NoSound where there are none, or no extra."""
    microphones, speakers = _listed()
    return Devices(tuple(microphones), tuple(speakers))


def _listed() -> tuple[dict[str, Any], dict[str, Any]]:
    """The ids of microphones and of speakers by their names."""
    try:
        import miniaudio
    except ImportError as error:
        raise NoSound(NOT_INSTALLED, EXTRA) from error
    try:
        with hushed():
            found = miniaudio.Devices()
            if found.backend == "Null":
                raise no_card(TO_LISTEN)
            ins, outs = found.get_captures(), found.get_playbacks()
    except miniaudio.MiniaudioError as error:
        raise no_card(TO_LISTEN) from error
    if not ins:
        raise NoSound("No microphone was found.", "Plug one in, or do without listening.")
    if not outs:
        raise no_card(TO_LISTEN)
    return _by_name(ins), _by_name(outs)


def _by_name(devices: list[dict[str, Any]]) -> dict[str, Any]:
    """The ids of devices by their names; two of one name are told apart by a number."""
    ids: dict[str, Any] = {}
    for device in devices:
        name, alike = device["name"], sum(device["name"] == known.partition(" (")[0] for known in ids)
        ids[f"{name} ({alike + 1})" if alike else name] = device["id"]
    return ids


def _plugged_in(chosen: Chosen) -> tuple[Any, Any]:
    """The ids of what was chosen, None for the system's choice. Raises NoSound for what is not there."""
    ins, outs = _listed()
    return _id(ins, chosen.microphone, "microphone"), _id(outs, chosen.speaker, "speaker")


def _id(ids: dict[str, Any], name: str, kind: str) -> Any:
    if name and name not in ids:
        raise NoSound(f"The {kind} “{name}” is not plugged in.", "Plug it in, or choose another in Set-up.")
    return ids[name] if name else None


class Duplex:
    """A microphone and a speaker by way of miniaudio, whose thread calls `_exchange`.

    They are counted in samples of one stream: sample n in and sample n out are simultaneous.
    """

    def __init__(self, rate: int, monotonic: Callable[[], float], chosen: Chosen) -> None:
        self.rate = rate
        """Samples a second, both ways."""
        self.overruns = 0
        """How often samples were lost because the machine was too busy."""
        self._monotonic, self._chosen = monotonic, chosen
        self._device: DuplexStream | None = None
        self._unread: deque[Samples] = deque()  # its ends may be used from two threads at once
        self._waiting, self._exchanged_at_s, self._unheeded = 0, 0.0, False

    def start(self, source: Source | None) -> None:
        """Open the microphone, and play; without a source, silence. Raises NoSound. It may follow a `stop`."""
        self.stop()
        self._unread.clear()
        self._waiting, self._exchanged_at_s, self._unheeded = 0, self._monotonic(), False
        exchanging = self._exchange(source or _silence)
        next(exchanging)
        self._device = _device(self.rate, self._chosen)
        try:
            with hushed():
                self._device.start(exchanging)
        except Exception as error:  # whatever it is that miniaudio raises, nothing is heard
            self.stop()
            raise no_card(TO_LISTEN) from error

    def _exchange(self, source: Source) -> Generator[bytes, bytearray, None]:
        import numpy as np

        heard, lead = (yield b""), round(LEAD_S * self.rate)
        timing, counted = Timing(self.rate), 0
        while not self._unheeded:
            samples = np.frombuffer(heard, dtype=np.float32)
            now_s = self._exchanged_at_s = self._monotonic()
            if lead > 0:
                lead -= samples.size
                heard = yield _silence(samples.size)
                continue
            if missed := timing.missed(now_s, counted):
                self.overruns += 1
            counted += missed + samples.size
            self._keep(samples)
            heard = yield source(samples.size)

    def _keep(self, samples: "Samples") -> None:
        self._unread.append(samples)
        self._waiting += samples.size
        if self._waiting > UNREAD_S * self.rate:
            self._unheeded = True

    def read(self) -> "list[Samples]":
        """What has come in since the last call, in order: one channel, full scale is 1."""
        self._waiting, found = 0, []
        with suppress(IndexError):  # Ctrl+Z, which closes the microphone, may read the rest meanwhile
            while True:
                found.append(self._unread.popleft())
        return [] if self._unheeded else found

    def stop(self) -> None:
        """Close the microphone and fall silent. Safe to call twice."""
        device, self._device = self._device, None
        if device is not None:
            with suppress(Exception):  # a device that is gone cannot be closed
                device.close()

    @property
    def lost(self) -> bool:
        """Whether the microphone or the speaker is gone: it has stopped calling, or nobody has read for long."""
        return self._device is not None and (self._unheeded or self._monotonic() - self._exchanged_at_s > LOST_S)


def _silence(frames: int) -> bytes:
    return bytes(BYTES_A_FRAME * frames)


def _device(rate: int, chosen: Chosen) -> "DuplexStream":
    import miniaudio

    microphone, speaker = _plugged_in(chosen)
    try:
        with hushed():
            return miniaudio.DuplexStream(
                playback_channels=1,
                capture_channels=1,
                capture_format=miniaudio.SampleFormat.FLOAT32,
                sample_rate=rate,
                buffersize_msec=PERIOD_MS,
                callback_periods=PERIODS,
                capture_device_id=microphone,
                playback_device_id=speaker,
                app_name="fretsure",
            )
    except miniaudio.MiniaudioError as error:
        raise NoSound("The microphone cannot be opened.", "Plug it in again, or choose another in Set-up.") from error


OpenDuplex = Callable[[int, Callable[[], float], Chosen], Duplex]
"""Prepares a stream; nothing is heard before it starts. Raises NoSound where there is nothing to open."""


def names_bluetooth(names: Sequence[str]) -> bool:
    """Whether a name tells of Bluetooth, whose delay wanders. Not every system's names do."""
    return any(word in name.casefold() for name in names for word in ("bluetooth", "bluez", "airpods"))
