"""Look up: type a key or a chord loop, and see both anchor shapes on one neck."""

from __future__ import annotations

from typing import get_args

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Input, Static

from drill.decks import Focus
from drill.errors import FretsureError
from drill.lookup.query import HINT, Found, look_up, look_up_key, next_rest
from drill.present.neck_drawing import Show, draw
from drill.theory.chords import Chord
from drill.theory.keys import Key
from drill.tui.commands import bindings
from drill.tui.screens.base import BaseScreen
from drill.tui.widgets.line_field import LineField
from drill.tui.widgets.neck_view import NeckView

EMPTY = "Type a key or the chords of a loop, and press Enter: both shapes appear on one neck."
LEGEND = "◆m minor tonic  ●M major tonic  dots show {show} (F2)"
LONGEST_QUERY = 200


class LookUpScreen(BaseScreen):
    """A field to type in, the result in words, a neck."""

    where = "look-up"
    caption = "Look up"
    BINDINGS = bindings("look-up")
    AUTO_FOCUS = "#query"
    DEFAULT_CSS = """
    #neck { margin-top: 1; }
    #found { padding: 1 1 0 1; }
    LookUpScreen.-low #found { padding: 0 1; }
    LookUpScreen.-low #neck { margin-top: 0; }
    """

    def __init__(self, key: Key | None = None) -> None:
        super().__init__()
        self._first = key
        self._looked_up = ""
        self.found: Found | None = None
        self.show: Show | None = None

    def body(self) -> ComposeResult:
        with VerticalScroll(id="page", can_focus=False):
            yield NeckView(id="neck")
            yield Static(id="legend", markup=False)
            yield Static(EMPTY, id="found", markup=False)
        yield Static(id="message", markup=False)
        yield LineField(self.settings.voice.hint(HINT), max_length=LONGEST_QUERY, id="query")

    def on_mount(self) -> None:
        self.query_one("#message").display = False
        if self._first is not None:
            self.found = look_up_key(self._first, self.settings)
            self._draw()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        self.find(event.value)

    def action_do_show(self) -> None:
        self.find(self.query_one("#query", Input).value)

    def action_do_dots(self) -> None:
        kinds = get_args(Show)
        now = self.show or self.settings.show
        self.show = kinds[(kinds.index(now) + 1) % len(kinds)]
        self._draw()

    def action_do_rests(self) -> None:
        """Say on which chord the loop rests, one chord after the other, and at the end on none."""
        if self.found is not None and self.found.chords:
            self.find(self._looked_up, next_rest(self.found))

    def action_do_drill_key(self) -> None:
        if self.found is not None:
            self.navigator.start_drill(Focus(keys=self.found.keys))

    def find(self, text: str, rests_on: Chord | None = None) -> None:
        """Show the key or loop in `text`; if there is none, clear the screen and say what may be typed."""
        message = self.query_one("#message", Static)
        self.query_one("#query", Input).select_all()
        self._looked_up = text
        try:
            self.found, refusal = look_up(text, self.settings, rests_on), ""
        except FretsureError as error:
            self.found, refusal = None, str(error)
        message.update(refusal)
        message.display = bool(refusal)
        self.query_one("#page", VerticalScroll).scroll_home(animate=False)
        self._draw()

    def _draw(self) -> None:
        found = self.found
        if found is None:
            self.query_one(NeckView).painter = None
            self.query_one("#legend", Static).update("")
            self.query_one("#found", Static).update(EMPTY)
            return
        show = self.show or self.settings.show
        look = self.look._replace(show=show)
        self.query_one("#found", Static).update("\n".join(found.sentences))
        self.query_one(NeckView).painter = lambda width: draw(
            found.neck, found.picture, look, width=width, home=found.home
        )
        self.query_one("#legend", Static).update(LEGEND.format(show=show))
