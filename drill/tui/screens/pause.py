"""The pause: the clock is stopped and the question hidden; look something up, go on, or end the drill."""

from __future__ import annotations

from collections.abc import Callable

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.events import Click, Key
from textual.widgets import Static

from drill.tui.commands import bindings, find
from drill.tui.screens.base import BaseScreen
from drill.tui.widgets.big_words import BigWords
from drill.tui.widgets.time_bar import clock

ON_ITS_WAY_S = 1.0
"""A key so soon after the drill paused by itself was meant for the question."""

HELD_DOWN_S = 0.5
"""A Ctrl+C so soon after the pause began comes from the key press that began it."""


class PauseScreen(BaseScreen):
    """Says why the drill is paused and what can be done; `end` ends the drill.

    Where it came `by_itself`, a key that was on its way to the question still gets there.
    """

    where = "pause"
    caption = "Pause"
    BINDINGS = bindings("pause")
    DEFAULT_CSS = """
    #cover { height: 1fr; align: center middle; }
    #paused { width: 100%; height: auto; text-align: center; padding: 1 2; }
    #state { text-align: center; text-style: bold; color: $primary; }
    PauseScreen.-flat #big, PauseScreen.-low #big, PauseScreen.-tall #state { display: none; }
    PauseScreen.-low #paused, PauseScreen.-flat #paused { padding: 0 1; }
    """

    def __init__(self, reason: str, left_s: float, end: Callable[[], None], *, by_itself: bool = False) -> None:
        super().__init__()
        self._by_itself = by_itself
        self._reason, self._left_s, self._end = reason, left_s, end
        self._since_s = 0.0

    def body(self) -> ComposeResult:
        big = BigWords(id="big")
        big.words = "Paused"
        with Vertical(id="cover"):
            yield big
            yield Static("Paused", id="state", markup=False)
            yield Static(self._words(), id="paused", markup=False)

    def on_mount(self) -> None:
        self._since_s = self.services.environment.monotonic()

    def _words(self) -> Content:
        return Content.assemble(
            (self._reason, "bold"),
            f"\n{clock(self._left_s)} left. Paused time does not count.\n\n",
            Content("\n").join(self._way(name) for name in ("go-on", "look-up", "end-drill")),
        )

    def holds_back(self) -> bool:
        """Only a key that is held down is ignored: whoever presses Ctrl+C once more means it."""
        return self._since_began_s < HELD_DOWN_S

    def on_key(self, event: Key) -> None:
        if self._by_itself and self.app.screen is self and self._since_began_s < ON_ITS_WAY_S:
            event.stop()
            event.prevent_default()
            self.action_do_go_on()
            self.app.post_message(Key(event.key, event.character))

    @property
    def _since_began_s(self) -> float:
        return self.services.environment.monotonic() - self._since_s

    def on_click(self, event: Click) -> None:
        if self.query_one("#cover").region.contains_point(event.screen_offset):  # the footer has clicks of its own
            self.action_do_go_on()

    def action_do_go_on(self) -> None:
        self.app.pop_screen()

    def action_do_look_up(self) -> None:
        self.navigator.open("look-up")

    def action_do_end_drill(self) -> None:
        self.app.pop_screen()
        self._end()

    def _way(self, name: str) -> Content:
        """A command with its key."""
        return Content.assemble((f"{self.key_of(name):>5}  ", "$primary bold"), f"{find(name).title:<14}")
