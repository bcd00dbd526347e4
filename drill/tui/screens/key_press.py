"""Measures how long a key press takes: the learner presses each key as it appears."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.events import Key
from textual.widgets import Static

from drill.errors import FretsureError
from drill.tui.commands import bindings
from drill.tui.screens.base import BaseScreen

KEYS = "abcdefg12345678"
"""Letters of notes and figures of frets: the keys that answers begin with."""
PRESSES = 8
"""How many keys are shown; the first is a warm-up and does not count."""
SAVED = "A key press takes you about this long. It will not count as thinking time."


class KeyPressScreen(BaseScreen):
    """Shows one key after another and records how many seconds each press took."""

    where = "key-press"
    caption = "How long a key press takes you"
    BINDINGS = bindings("key-press")
    DEFAULT_CSS = """
    KeyPressScreen.-tall #page { align: center middle; }
    KeyPressScreen.-tall #page Static { text-align: center; }
    #wanted { text-align: center; text-style: bold; color: $primary; padding: 2 0; }
    """

    def __init__(self) -> None:
        super().__init__()
        self.wanted = ""
        self.done = 0
        self._seconds: list[float] = []

    def body(self) -> ComposeResult:
        with VerticalScroll(id="page", can_focus=False):
            yield Static("Rest your fingers on the keyboard. When a key is shown, press it.", markup=False)
            yield Static(id="wanted", markup=False)
            yield Static(id="message", markup=False)

    def on_mount(self) -> None:
        self._show_next()

    def on_key(self, event: Key) -> None:
        if not event.is_printable or not self.wanted:
            return
        event.stop()
        event.prevent_default()
        if (event.character or "").casefold() == self.wanted:
            self._pressed()
        else:
            self.query_one("#message", Static).update(f"That was a different key. Press {self.wanted}.")

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Keep out of the footer what does nothing before the end."""
        return not (action == "do_measured" and self.wanted) and super().check_action(action, parameters)

    def action_do_measured(self) -> None:
        self.action_do_back()

    def _show_next(self) -> None:
        choice = self.services.environment.rng.choice([key for key in KEYS if key != self.wanted])
        self.wanted, self._shown_at = choice, self.services.environment.monotonic()
        self.query_one("#wanted", Static).update(f"press  {choice}")
        self.query_one("#message", Static).update(f"{self.done} of {PRESSES}")

    def _pressed(self) -> None:
        if self.done:
            self._seconds.append(self.services.environment.monotonic() - self._shown_at)
        self.done += 1
        if self.done < PRESSES:
            self._show_next()
        else:
            self._finish()

    def _finish(self) -> None:
        self.wanted = ""
        self.refresh_bindings()
        try:
            known_s = self.services.record_key_presses(self._seconds)
        except FretsureError as error:
            self.navigator.report(error)
            return
        self.query_one("#wanted", Static).update(f"{known_s:.2f} s")
        self.query_one("#message", Static).update(SAVED)
