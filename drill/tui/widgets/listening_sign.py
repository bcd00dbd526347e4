"""The sign that stands whenever the microphone is open."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.widgets import Static

from drill.system.audio import LOOK_S

if TYPE_CHECKING:
    from drill.practice.hearing import Ears

WORDS = "◉ listening: only note names are kept"


class ListeningSign(Static):
    """A line that is there as long as its ears are open, and no longer; it asks them and keeps no state of its own."""

    DEFAULT_CSS = """
    ListeningSign { height: 1; width: 100%; padding: 0 1; color: $background; background: $warning; display: none; }
    ListeningSign:nocolor { text-style: bold reverse; }
    """

    def __init__(self, ears: Ears | None = None, *, id: str | None = None) -> None:
        super().__init__(WORDS, id=id, markup=False)
        self.ears = ears

    def on_mount(self) -> None:
        self.match()
        self.set_interval(LOOK_S, self.match)

    def match(self) -> None:
        """Show or hide the sign; also called where the ears open or close, so that it is never late."""
        self.display = self.ears is not None and self.ears.is_open
