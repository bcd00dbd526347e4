"""The door to the sound card: miniaudio is imported here and in `duplex` alone, where something is to be heard.

Source        gives the next frames to be heard, whenever it is called
Speaker       plays a source
NoSound       why nothing can be heard, in a sentence
open_speaker  the learner's sound card
"""

from __future__ import annotations

import os
import sys
from collections import deque
from collections.abc import Callable, Generator, Iterator
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING, Protocol

from drill.errors import NoSound

if TYPE_CHECKING:
    from miniaudio import PlaybackDevice

Source = Callable[[int], bytes]
"""Gives so many frames: 16-bit numbers of one channel, lowest byte first. Called from a thread of the sound card."""
NOT_INSTALLED = "Sound is not installed."
EXTRA = "In your clone of fretsure, run: pip install '.[sound]'"
BYTES_A_FRAME = 2
STANDARD_ERROR = 2
"""The descriptor that C libraries write their complaints to."""
PERIOD_MS = 50
"""The sound card asks for so much at a time."""
PERIODS = 4
"""How many periods the sound card has room for. A screen that is being painted may keep it waiting."""
STORE_S = 0.1
"""What the sound card has in store when it asks for more, as PulseAudio was seen to."""
LEAD_S = 0.25
"""Silence that is given first: some sound cards ask for a little and then make a pause before they begin in earnest."""
LATE_S = 0.01
"""A gap longer than this was heard; what comes after it is moved back to its time."""
QUESTIONS = 10
"""So many of a sound card's questions in a row, half a second of them, tell whether there was a gap."""
SETTLE_S = 1.0
"""At first a sound card asks for more than it will later have in store."""
DRIFT = 0.001
"""By so much, in seconds a second, a sound card's clock may differ from ours without being taken for a gap."""
LOOK_S = 1 / 30
"""Between two looks at what is heard: what is played, and what comes in through a microphone."""
LOST_S = 3.0
"""A sound card that asks for nothing so long has been unplugged, or its sound server has ended."""


class Speaker(Protocol):
    """A sound card that plays one source until it is stopped."""

    def start(self, source: Source) -> None:
        """Play. Raises NoSound."""

    def stop(self) -> None:
        """Fall silent, and give the sound card back. Safe to call twice."""

    @property
    def position_s(self) -> float:
        """How much of the source has been heard, in seconds."""

    @property
    def lost(self) -> bool:
        """Whether the sound card is gone."""


OpenSpeaker = Callable[[int, Callable[[], float]], Speaker]
"""Opens a sound card for a rate in frames a second, with the clock that tells whether it is lost. Raises NoSound."""


def open_speaker(rate: int, monotonic: Callable[[], float]) -> Speaker:
    """Open the learner's sound card. Raises NoSound."""
    try:
        import miniaudio
    except ImportError as error:
        raise NoSound(NOT_INSTALLED, EXTRA) from error
    try:
        with hushed():
            device = miniaudio.PlaybackDevice(
                nchannels=1, sample_rate=rate, buffersize_msec=PERIOD_MS, callback_periods=PERIODS, app_name="fretsure"
            )
    except miniaudio.MiniaudioError as error:
        raise no_card() from error
    if device.backend == "Null":  # what miniaudio plays to where there is no sound card
        device.close()
        raise no_card()
    return SoundCard(device, rate, monotonic)


@contextmanager
def hushed() -> Iterator[None]:
    """Keep ALSA, a sound system of Linux, from writing lines about missing cards over the learner's screen.

    It writes to the descriptor of standard error, whatever Python has there.
    """
    if not sys.platform.startswith("linux"):
        yield
        return
    kept, nowhere = os.dup(STANDARD_ERROR), os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, STANDARD_ERROR)
        yield
    finally:
        os.dup2(kept, STANDARD_ERROR)
        os.close(kept)
        os.close(nowhere)


def no_card(fix: str = "Plug in headphones or loudspeakers, or leave the sound out.") -> NoSound:
    return NoSound("No sound card was found.", fix)


class Timing:
    """Notices when a sound card had to wait for us: what it asks for next then belongs to a later moment.

    A late question alone is no gap, for the sound card has a store and asks the faster afterwards. So only what it is
    behind by at every one of its last questions counts.
    """

    def __init__(self, rate: int) -> None:
        self._rate = rate
        self._behind_s: deque[float] = deque(maxlen=QUESTIONS)
        self._usual_s: float | None = None
        self._asked_at_s = self._settled_at_s = 0.0

    def missed(self, now_s: float, given: int) -> int:
        """How many frames to leave out, at the moment when frames are asked for and so many have been given."""
        since_s, self._asked_at_s = now_s - self._asked_at_s, now_s
        self._settled_at_s = self._settled_at_s or now_s + SETTLE_S
        if now_s >= self._settled_at_s:
            self._behind_s.append(now_s - given / self._rate)
        if len(self._behind_s) < QUESTIONS:
            return 0
        least_s = min(self._behind_s)
        usual_s = least_s if self._usual_s is None else self._usual_s
        gap_s = least_s - usual_s
        if gap_s > LATE_S:
            self._behind_s.clear()
            return round(gap_s * self._rate)
        self._usual_s = usual_s + min(max(gap_s, -DRIFT * since_s), DRIFT * since_s)
        return 0


class SoundCard:
    """A sound card by way of miniaudio."""

    def __init__(self, device: PlaybackDevice, rate: int, monotonic: Callable[[], float]) -> None:
        self._device, self._rate, self._monotonic = device, rate, monotonic
        self._given, self._given_at_s = 0, monotonic()
        self._playing = False
        self._timing = Timing(rate)

    def start(self, source: Source) -> None:
        """Play. Raises NoSound."""
        feeding = self._feed(source)
        next(feeding)
        self._given_at_s, self._playing = self._monotonic(), True
        try:
            self._device.start(feeding)
        except Exception as error:  # miniaudio is not imported here; whatever it says, nothing is heard
            self.stop()
            raise no_card() from error

    def _feed(self, source: Source) -> Generator[bytes, int, None]:
        frames = yield b""
        lead = round(LEAD_S * self._rate)
        while lead > 0:
            lead, self._given_at_s = lead - frames, self._monotonic()
            frames = yield bytes(BYTES_A_FRAME * frames)
        while True:
            now_s = self._monotonic()
            if missed := self._timing.missed(now_s, self._given):
                source(missed)
            block = source(frames)
            self._given, self._given_at_s = self._given + missed + frames, now_s
            frames = yield block

    def stop(self) -> None:
        """Fall silent, and give the sound card back."""
        self._playing = False
        with suppress(Exception):  # a sound card that is gone cannot be closed
            self._device.close()

    @property
    def position_s(self) -> float:
        """What was given, less what the sound card still has in store."""
        since_s = min(self._monotonic() - self._given_at_s, PERIOD_MS / 1000)
        return max(0.0, self._given / self._rate - PERIOD_MS / 1000 - STORE_S + since_s)

    @property
    def lost(self) -> bool:
        """Whether the sound card has stopped asking."""
        return self._playing and self._monotonic() - self._given_at_s > LOST_S
