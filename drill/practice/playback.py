"""Something played in time: through the sound card where there is one, in silence where there is none.

Playback             what is being played, and how much of it has been heard
play_loop            a loop after its count-in
play_clicks          the clicks of a round
refuse_without_numpy

Where a sound card plays, it is the clock, so that what is seen stays with what is heard.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from drill.errors import NoSound
from drill.sound.volume import first_volume
from drill.system.audio import EXTRA, NOT_INSTALLED, Speaker

if TYPE_CHECKING:
    from drill.sound.arrangement import Arrangement
    from drill.sound.mix import ClickMix, LoopMix, Mix
    from drill.system.environment import Environment

LOST = "The sound card is gone."


class Playback:
    """One playing, from its start on. `silent_because` says why nothing is heard; it is empty while something is."""

    def __init__(self, monotonic: Callable[[], float], speaker: Speaker | None, silent_because: str = "") -> None:
        self._monotonic, self._speaker, self.silent_because = monotonic, speaker, silent_because
        self._start_s, self._heard_s = monotonic(), 0.0

    @classmethod
    def start(cls, environment: Environment, mix: Mix) -> Playback:
        """Play a mix, or nothing where no sound card can be had."""
        try:
            speaker = environment.open_speaker(mix.rate, environment.monotonic)
            speaker.start(mix)
        except NoSound as error:
            return cls(environment.monotonic, None, str(error))
        return cls(environment.monotonic, speaker)

    @property
    def elapsed_s(self) -> float:
        """Seconds since the start, as they are heard."""
        if self._speaker is not None and self._speaker.lost:
            self.stop(LOST)
        if self._speaker is None:
            return self._monotonic() - self._start_s
        self._heard_s = self._speaker.position_s
        return self._heard_s

    def stop(self, silent_because: str = "") -> None:
        """Fall silent; time goes on from what was heard last."""
        if self._speaker is not None:
            self._speaker.stop()
            self._speaker, self.silent_because = None, silent_because
            self._start_s = self._monotonic() - self._heard_s


def play_loop(
    environment: Environment, arrangement: Arrangement, decibels_down: int
) -> tuple[Playback, LoopMix | None]:
    """Play a loop after a bar of clicks; the mix, which can switch its parts, is None where nothing is heard."""
    try:
        refuse_without_numpy()
    except NoSound as error:
        return Playback(environment.monotonic, None, str(error)), None
    from drill.sound.mix import LoopMix
    from drill.sound.render import render

    mix = LoopMix(render(arrangement), arrangement.bpm, first_volume(-decibels_down))
    return Playback.start(environment, mix), mix


def play_clicks(environment: Environment, bpm: int, decibels_down: int) -> tuple[Playback, ClickMix | None]:
    """Click on every beat; the mix is None where nothing is heard."""
    try:
        refuse_without_numpy()
    except NoSound as error:
        return Playback(environment.monotonic, None, str(error)), None
    from drill.sound.mix import ClickMix
    from drill.sound.render import RATE

    mix = ClickMix(bpm, RATE, first_volume(-decibels_down))
    return Playback.start(environment, mix), mix


def refuse_without_numpy() -> None:
    """Raise NoSound where numpy, which makes the samples, is not installed."""
    try:
        import numpy  # noqa: F401
    except ImportError as error:
        raise NoSound(NOT_INSTALLED, EXTRA) from error
