"""The first start: what the program does, cautions, and the offer to measure a key press."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from drill.present.cautions import CAUTIONS
from drill.tui.commands import bindings
from drill.tui.screens.base import BaseScreen, heading

ABOUT = (
    "A backing loop starts. Within one bar you want to know the tonic, its fret, the finger and the relative key. "
    "This drill asks for just that, a few minutes a day, and returns to each fact shortly before you would forget it."
)
MEASURED = (
    "The program measures whether you are right and how long you think; you never rate yourself. To time thinking "
    "alone, it can first measure how long a key press takes you: half a minute, just once."
)

OFFER = Content.assemble(("Enter", "bold"), " measures a key press. ", ("Esc", "bold"), " skips it.")


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
