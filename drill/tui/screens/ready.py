"""Ready: what the answers decided, and a moment to take the guitar before the first drill."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from drill.present.placement import BEGINS, READY, READY_TO_PLAY, UNDECIDED
from drill.tui.commands import bindings
from drill.tui.screens.base import BaseScreen
from drill.tui.widgets.big_words import BigWords

ROOM_FOR_LETTERS = 20
"""Rows of a window from which the question stands in block letters."""


class ReadyScreen(BaseScreen):
    """Comes between the questions where to begin and the first drill, whose clock starts with Enter."""

    where = "ready"
    caption = "First drill"
    BINDINGS = bindings("ready")
    DEFAULT_CSS = """
    #decided { text-style: bold; padding: 1 1 0 1; }
    #ready { padding: 1 1; }
    #way-on { padding: 0 2; height: auto; color: $primary; }
    ReadyScreen.-tall #page { align-vertical: middle; }
    ReadyScreen.-low #decided, ReadyScreen.-low #ready { padding: 0 1; }
    """

    def body(self) -> ComposeResult:
        place, minutes = self.settings.place, round(self.services.minutes)
        with VerticalScroll(id="page", can_focus=False):
            yield BigWords(id="big")
            yield Static(BEGINS[place] if place else UNDECIDED, id="decided", markup=False)
            yield Static(READY_TO_PLAY if self.services.listens else READY, id="ready", markup=False)
        begins = f" starts {'one minute' if minutes == 1 else f'{minutes} minutes'}."
        yield Static(Content.assemble((self.key_of("begin"), "bold"), begins), id="way-on", markup=False)

    def on_mount(self) -> None:
        self.query_one(BigWords).words = "Ready"

    def on_resize(self) -> None:
        self.query_one(BigWords).display = self.size.height >= ROOM_FOR_LETTERS

    def action_do_begin(self) -> None:
        self.navigator.start_drill()
