"""The tuning check: the open strings, each with its cents, before a drill or a round is heard."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from drill.practice.tuning_check import WHY, StringState, TuningCheck
from drill.tui.commands import bindings
from drill.tui.screens.listening import ListeningScreen
from drill.tui.widgets.listening_sign import ListeningSign

if TYPE_CHECKING:
    from drill.listening import Event

SEEN_S = 1.5
"""How long it stands when every string is in tune, before it goes on by itself: hands are on the guitar."""
GO_ON = "Enter goes on without it."


class TuningCheckScreen(ListeningScreen):
    """Shows every open string. It is dismissed by one key, or by itself once every string is in tune.

    Push it with a callback: `app.push_screen(TuningCheckScreen(), lambda _: begin())`.
    """

    where = "tuning-check"
    caption = "Tuning check"
    BINDINGS = bindings("tuning-check")
    DEFAULT_CSS = """
    #strings { height: auto; padding: 1 0; }
    #outcome { height: auto; }
    TuningCheckScreen.-low #strings, TuningCheckScreen.-flat #strings { padding: 0; }
    """

    def body(self) -> ComposeResult:
        yield ListeningSign(id="listening")
        with VerticalScroll(id="page", can_focus=False):
            yield Static(WHY, id="why", markup=False)
            yield Static(id="strings", markup=False)
            yield Static(id="outcome", markup=False)
        yield Static(id="message", markup=False)

    def begin(self) -> None:
        """Listen at once."""
        self.check = TuningCheck(self.settings.neck, self.settings.voice)
        self._leaving = False
        self._show()
        self.listen()

    def on_heard(self, events: list[Event]) -> None:
        """Measure the strings that were played."""
        before = self.check.strings
        for event in events:
            self.check.hear(event)
        if self.check.strings != before:
            self._show()
        if self.check.in_tune and not self._leaving:
            self._leaving = True
            self.fall_deaf()
            self.set_timer(SEEN_S, self.action_do_skip)

    def on_deaf(self) -> None:
        self.query_one("#outcome", Static).update(GO_ON)

    def _show(self) -> None:
        rows = [_row(state) for state in self.check.strings]
        self.query_one("#strings", Static).update(Content("\n").join(rows))
        ending = "" if self.check.in_tune else f" {GO_ON}"
        self.query_one("#outcome", Static).update(self.check.outcome + ending)

    def action_do_skip(self) -> None:
        """Go on, whatever has been heard."""
        if self.is_current:
            self.dismiss()


def _row(state: StringState) -> Content:
    return Content.assemble((f"{state.label:<20}", "bold"), state.words)
