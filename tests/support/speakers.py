"""A sound card for tests: it takes what it is given as a clock moved by hand goes on, and can be unplugged."""

from __future__ import annotations

from collections.abc import Callable

from drill.system.audio import Source, Speaker
from tests.support.worlds import HandClock


class FakeSpeaker:
    """Asks for frames whenever its position is looked at; `heard` holds the bytes it was given."""

    def __init__(self, rate: int, clock: HandClock) -> None:
        self.rate, self.heard, self.stopped, self.lost = rate, bytearray(), False, False
        self._clock = clock
        self._source: Source | None = None
        self._start_s = self._end_s = 0.0

    def start(self, source: Source) -> None:
        self._source, self._start_s = source, self._clock.monotonic_s

    def stop(self) -> None:
        self.stopped = True

    def unplug(self) -> None:
        """As when the headphones are pulled out: nothing is asked for any more."""
        self._end_s, self.lost = self._clock.monotonic_s, True

    @property
    def position_s(self) -> float:
        assert self._source is not None
        elapsed_s = (self._end_s if self.lost else self._clock.monotonic_s) - self._start_s
        while (left := round(elapsed_s * self.rate) - len(self.heard) // 2) > 0:
            self.heard += self._source(min(left, 1024))
        return elapsed_s


class SpeakerShop:
    """Opens fake speakers; the last one opened is `speaker`."""

    def __init__(self, clock: HandClock) -> None:
        self.clock = clock
        self.speaker: FakeSpeaker | None = None

    def __call__(self, rate: int, monotonic: Callable[[], float]) -> Speaker:
        self.speaker = FakeSpeaker(rate, self.clock)
        return self.speaker
