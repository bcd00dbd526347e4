"""The idea of the whole on one drawn page: one shape, two tonics, two anchors; and what such pages have in common."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from drill.present.idea import headlines, idea_drawing, idea_neck, sentences
from drill.present.neck_drawing import Drawing
from drill.present.verdicts import Line
from drill.tui.commands import bindings
from drill.tui.screens.base import BaseScreen
from drill.tui.verdict_text import lead_in_bold
from drill.tui.widgets.neck_view import NeckView, grown_pitch

BESIDE = 20
"""Rows that all but the neck takes."""


class DrawnPage(BaseScreen):
    """A drawing above a few lines, with Enter to go on."""

    DEFAULT_CSS = """
    #lesson { padding: 0 1; margin-top: 1; }
    #way-on { padding: 0 2; height: auto; color: $primary; }
    DrawnPage.-low #lesson, DrawnPage.-flat #lesson { margin-top: 0; padding: 0; }
    DrawnPage.-low #page, DrawnPage.-flat #page { padding: 0; }
    """

    def drawing(self, width: int, pitch: int) -> Drawing:
        """What is drawn in a width in cells, with strings `pitch` rows apart."""
        raise NotImplementedError

    def lines(self, tall: bool) -> Sequence[Line]:
        """What is told, notes marked: with its words explained where the screen is tall, else in brief."""
        raise NotImplementedError

    def body(self) -> ComposeResult:
        with VerticalScroll(id="page", can_focus=False):
            yield NeckView(id="neck")
            yield Static(id="lesson", markup=False)
        yield Static(Content.assemble((self.key_of("continue"), "bold"), self.way_on), id="way-on", markup=False)

    @property
    def way_on(self) -> str:
        """What Enter does, to follow the name of the key."""
        return " goes back."

    def on_resize(self) -> None:
        pitch = grown_pitch(self.size, BESIDE)
        self.query_one(NeckView).painter = lambda width: self.drawing(width, pitch)
        self.call_after_refresh(self._tell)

    def _tell(self) -> None:
        tall = self.has_class("-tall")
        spoken = (line._replace(rest=self.settings.voice.say(line.rest)) for line in self.lines(tall))
        self.query_one("#lesson", Static).update(Content("\n\n" if tall else "\n").join(map(lead_in_bold, spoken)))

    def action_do_continue(self) -> None:
        self.app.pop_screen()


class IdeaScreen(DrawnPage):
    """Shown at the first start, before the questions where to begin, and from Home and help."""

    where = "idea"
    caption = "The idea"
    BINDINGS = bindings("idea")

    def drawing(self, width: int, pitch: int) -> Drawing:
        return idea_drawing(idea_neck(self.settings.neck), self.look, width, pitch)

    def lines(self, tall: bool) -> Sequence[Line]:
        return (sentences if tall else headlines)(self.settings.neck)

    @property
    def way_on(self) -> str:
        return " asks where to begin." if self.services.places else super().way_on

    def action_do_continue(self) -> None:
        if self.services.places:
            self.navigator.open("placement")
        else:
            super().action_do_continue()
