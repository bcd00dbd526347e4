"""The first start: what the program does, how it measures, and the cautions."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from drill.present.cautions import FIRST_CAUTIONS, PLAYING_CAN_HURT
from drill.tui.commands import bindings
from drill.tui.screens.base import BaseScreen, heading
from drill.tui.widgets.big_words import BigWords

ABOUT = "Minutes a day make key, fret and finger a reflex."
ROOM_FOR_LETTERS = 22
"""Rows of a window from which the name of the program stands in block letters."""


class WelcomeScreen(BaseScreen):
    """Shown at the first start; the idea and the questions where to begin follow."""

    where = "welcome"
    caption = "Welcome to fretsure"
    BINDINGS = bindings("welcome")
    DEFAULT_CSS = """
    #way-on { padding: 0 2; height: auto; color: $primary; }
    #page Static { padding: 0 1; }
    #name { margin: 1 0; }
    WelcomeScreen.-low #about, WelcomeScreen.-flat #about { display: none; }
    """

    def body(self) -> ComposeResult:
        with VerticalScroll(id="page", can_focus=False):
            yield BigWords(id="name")
            yield Static(ABOUT, id="about", markup=False)
            yield Static(heading(PLAYING_CAN_HURT), markup=False)
            yield Static("\n".join(f"· {caution}" for caution in FIRST_CAUTIONS), id="cautions", markup=False)
        yield Static(self._way_on(), id="way-on", markup=False)

    def on_mount(self) -> None:
        self.query_one(BigWords).words = "fretsure"

    def on_resize(self) -> None:
        self.query_one(BigWords).display = self.size.height >= ROOM_FOR_LETTERS

    def _way_on(self) -> Content:
        on, back = ((self.key_of(name), "bold") for name in ("continue", "back"))
        return Content.assemble(on, ": the idea. ", back, ": Home.")

    def action_do_continue(self) -> None:
        self.navigator.open("idea")
