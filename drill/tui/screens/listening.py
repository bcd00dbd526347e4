"""What the screens that listen have in common: the sign, and a microphone that closes whenever they are left."""

from __future__ import annotations

from abc import abstractmethod
from typing import TYPE_CHECKING

from drill.errors import NoSound
from drill.practice.hearing import Ears, open_ears
from drill.system.audio import LOOK_S, Source
from drill.tui.screens.base import BaseScreen
from drill.tui.widgets.listening_sign import ListeningSign

if TYPE_CHECKING:
    from drill.listening import Event


class ListeningScreen(BaseScreen):
    """Listens from `listen` on. Its body yields a `ListeningSign` and a Static with the id "message".

    The microphone closes when the screen is left or covered, when the program is paused, suspended or ended, and when
    the microphone is gone.
    """

    def __init__(self) -> None:
        super().__init__()
        self.ears: Ears | None = None

    @abstractmethod
    def begin(self) -> None:
        """Begin, once the parts of the screen are there."""

    def on_heard(self, events: list[Event]) -> None:
        """React to what was heard since the last call; called many times a second while the microphone is open."""

    def on_deaf(self) -> None:
        """React to the microphone having closed for a reason that `say` has told."""

    def on_mount(self) -> None:
        self.say("")
        self.set_interval(LOOK_S, self._look_now)
        self.begin()

    def listen(self, source: Source | None = None) -> bool:
        """Open the microphone, or say why it cannot be opened; says whether it is open."""
        self.fall_deaf()
        try:
            ears = self.open_ears(source)
        except NoSound as error:
            self._give_up(str(error))
            return False
        self.ears = ears
        self._match_sign()
        return True

    def open_ears(self, source: Source | None) -> Ears:
        """Ears for the learner's devices and neck, open. Raises NoSound."""
        ears = open_ears(self.services.environment, self.settings)
        ears.start(source)
        return ears

    def fall_deaf(self) -> None:
        """Close the microphone."""
        ears, self.ears = self.ears, None
        if ears is not None:
            ears.stop()
            self._match_sign()

    def pause(self, reason: str) -> None:
        """Close the microphone, because the learner is away."""
        if self.ears is not None:
            self._give_up(reason)

    def on_screen_suspend(self) -> None:
        self.fall_deaf()

    def on_unmount(self) -> None:
        self.fall_deaf()

    def _look_now(self) -> None:
        if self.ears is not None:
            self.hear_on(self.ears)

    def hear_on(self, ears: Ears) -> None:
        """Take what was heard since the last look."""
        events = ears.poll()
        if ears.trouble:
            self._give_up(ears.trouble)
        else:
            self.on_heard(events)

    def _give_up(self, why: str) -> None:
        self.fall_deaf()
        self.say(why)
        self.on_deaf()

    def _match_sign(self) -> None:
        for sign in self.query(ListeningSign):
            sign.ears = self.ears
            sign.match()
