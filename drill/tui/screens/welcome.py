"""The first start: what this is, what to take care of, and the offer to measure a key press."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from drill.tui.commands import bindings
from drill.tui.screens.base import BaseScreen, heading
from drill.tui.verdict_text import CAUTIONS

ABOUT = (
    "A backing loop starts. Within one bar you want to know the tonic, its fret, the finger, the relative key. "
    "This drill asks for just that, a few minutes a day, and comes back to each fact shortly before you would lose it."
)
MEASURED = (
    "Right or wrong and your thinking time are measured; you never rate yourself. To count thinking alone, "
    "the program can first measure how long a key press takes you: half a minute, and only once."
)


OFFER = Content.assemble(("Enter", "bold"), " measures a key press. ", ("Esc", "bold"), " goes on without.")


class WelcomeScreen(BaseScreen):
    """Shown at the first start."""

    where = "welcome"
    caption = "Welcome to fretsure"
    BINDINGS = bindings("welcome")
    DEFAULT_CSS = """
    #offer { padding: 0 2; height: auto; color: $primary; }
    #page Static { padding: 0 1; }
    """

    def body(self) -> ComposeResult:
        with VerticalScroll(id="page", can_focus=False):
            yield Static(ABOUT, markup=False)
            yield Static(heading("Before you play"), markup=False)
            yield Static("\n".join(f"· {caution}" for caution in CAUTIONS), id="cautions", markup=False)
            yield Static(heading("How it measures"), markup=False)
            yield Static(MEASURED, markup=False)
        yield Static(OFFER, id="offer", markup=False)

    def action_do_measure(self) -> None:
        self.app.pop_screen()
        self.navigator.open("key-press")
