"""The first start: what the program does, how it measures, and the cautions."""

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
MEASURED = "It measures whether you are right and how long you think; you never rate yourself."

WAY_ON = Content.assemble(("Enter", "bold"), " shows the idea. ", ("Esc", "bold"), " skips to Home.")


class WelcomeScreen(BaseScreen):
    """Shown at the first start; the idea and the questions where to begin follow."""

    where = "welcome"
    caption = "Welcome to fretsure"
    BINDINGS = bindings("welcome")
    DEFAULT_CSS = """
    #way-on { padding: 0 2; height: auto; color: $primary; }
    #page Static { padding: 0 1; }
    WelcomeScreen.-low #about, WelcomeScreen.-flat #about { display: none; }
    """

    def body(self) -> ComposeResult:
        with VerticalScroll(id="page", can_focus=False):
            yield Static(f"{ABOUT} {MEASURED}", id="about", markup=False)
            yield Static(heading("Before you play"), markup=False)
            yield Static("\n".join(f"· {caution}" for caution in CAUTIONS), id="cautions", markup=False)
        yield Static(WAY_ON, id="way-on", markup=False)

    def action_do_continue(self) -> None:
        self.app.pop_screen()
        self.navigator.open("idea")
