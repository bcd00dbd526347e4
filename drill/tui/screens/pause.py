"""The pause: the clock is stopped and the question hidden."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from drill.tui.commands import bindings
from drill.tui.widgets.time_bar import clock


class PauseScreen(ModalScreen[None]):
    """Says why the drill is paused and how to resume it."""

    where = "pause"
    BINDINGS = bindings("pause")
    DEFAULT_CSS = """
    PauseScreen, PauseScreen:ansi { align: center middle; background: $background; }
    #paused { width: auto; max-width: 100%; height: auto; text-align: center; padding: 1 3; background: $surface; }
    """

    def __init__(self, reason: str, left_s: float) -> None:
        super().__init__()
        self._words = Content.assemble(
            ("Paused", "$primary bold"),
            f"\n\n{reason}\n{clock(left_s)} left. Paused time does not count.\n\n",
            ("Space", "bold"),
            " resumes the drill.",
        )

    def compose(self) -> ComposeResult:
        yield Static(self._words, id="paused", markup=False)

    def on_click(self) -> None:
        self.action_do_go_on()

    def action_do_go_on(self) -> None:
        self.dismiss()
