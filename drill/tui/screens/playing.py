"""What the screens that play in time have in common: they follow what is heard, and fall silent when they are left."""

from __future__ import annotations

from abc import abstractmethod
from contextlib import suppress
from typing import TYPE_CHECKING

from textual.widgets import Static

from drill.errors import FretsureError
from drill.practice.playback import Playback
from drill.sound.volume import louder
from drill.system.audio import LOOK_S
from drill.tui.screens.base import BaseScreen

if TYPE_CHECKING:
    from drill.sound.mix import Mix


READING_S = 10.0
"""For so long stands why nothing is heard."""


class PlayingScreen(BaseScreen):
    """Plays something from `begin` on; `show_now` is called many times a second."""

    def __init__(self) -> None:
        super().__init__()
        self.playback: Playback | None = None
        self._mix: Mix | None = None
        self._silence = ""

    @abstractmethod
    def begin(self) -> None:
        """Start playing."""

    @abstractmethod
    def show_now(self, playback: Playback) -> None:
        """Show what is heard now."""

    def on_leave(self) -> None:
        """React to being left."""

    def on_mount(self) -> None:
        self.say("")
        self.call_after_refresh(self.begin)  # painting a new screen would keep the sound card waiting
        self.set_interval(LOOK_S, self._look_now)

    def on_unmount(self) -> None:
        self.stop()
        self.on_leave()

    def play(self, playback: Playback, mix: Mix | None) -> None:
        """Follow what has just been started; say why nothing is heard if nothing is."""
        self.playback, self._mix, self._silence = playback, mix, ""

    def stop(self) -> None:
        """Fall silent."""
        if self.playback is not None:
            self.playback.stop()
            self.playback = None

    def _look_now(self) -> None:
        playback = self.playback
        if playback is None:
            return
        self.show_now(playback)
        if playback.silent_because != self._silence:
            self._silence = playback.silent_because
            self._say_silent()

    def _say_silent(self) -> None:
        """Say why nothing is heard, for so long that it can be read: it may cover a part of the neck."""
        told = f"{self._silence} It goes on in silence."
        self.say(told)
        self.set_timer(READING_S, lambda: self.say("") if self.query_one("#message", Static).content == told else None)

    def action_do_page_up(self) -> None:
        self.query_one("#page").scroll_page_up(animate=False)

    def action_do_page_down(self) -> None:
        self.query_one("#page").scroll_page_down(animate=False)

    def action_do_louder(self) -> None:
        self._change_volume(1)

    def action_do_softer(self) -> None:
        self._change_volume(-1)

    def _change_volume(self, steps: int) -> None:
        """Change the volume by small steps, and remember it: the next time starts no louder."""
        if self._silence:
            self._say_silent()
            return
        if self._mix is None:
            return
        self._mix.volume_db = louder(self._mix.volume_db, steps)
        self.say(f"Volume {self._mix.volume_db} dB. Keep it low, most of all on headphones.")
        with suppress(FretsureError):  # a volume that cannot be saved is no reason to stop playing
            self.services.change("decibels_down", max(20, -self._mix.volume_db))

    def action_do_back(self) -> None:
        self.navigator.leave_page()
