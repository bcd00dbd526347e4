"""The idea of the whole on one drawn page: one shape, two tonics, two anchors."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from drill.present.idea import headlines, idea_drawing, idea_neck, sentences
from drill.tui.commands import bindings
from drill.tui.screens.base import BaseScreen
from drill.tui.verdict_text import lead_in_bold
from drill.tui.widgets.neck_view import NeckView, grown_pitch

BESIDE = 20
"""Rows that all but the neck takes."""


class IdeaScreen(BaseScreen):
    """Shown at the first start, before the questions where to begin, and from Home and help."""

    where = "idea"
    caption = "The idea"
    BINDINGS = bindings("idea")
    DEFAULT_CSS = """
    #idea { padding: 0 1; margin-top: 1; }
    #way-on { padding: 0 2; height: auto; color: $primary; }
    IdeaScreen.-low #idea, IdeaScreen.-flat #idea { margin-top: 0; padding: 0; }
    IdeaScreen.-low #page, IdeaScreen.-flat #page { padding: 0; }
    """

    def body(self) -> ComposeResult:
        self.neck = idea_neck(self.settings.neck)
        with VerticalScroll(id="page", can_focus=False):
            yield NeckView(id="neck")
            yield Static(id="idea", markup=False)
        yield Static(self._way_on(), id="way-on", markup=False)

    def on_resize(self) -> None:
        pitch = grown_pitch(self.size, BESIDE)
        self.query_one(NeckView).painter = lambda width: idea_drawing(self.neck, self.look, width, pitch)
        self.call_after_refresh(self._tell)

    def _tell(self) -> None:
        """Explain the words where there is room; else say the three lines alone."""
        tall = self.has_class("-tall")
        lines = sentences(self.neck) if tall else headlines(self.neck)
        spoken = (line._replace(rest=self.settings.voice.say(line.rest)) for line in lines)
        self.query_one("#idea", Static).update(Content("\n\n" if tall else "\n").join(map(lead_in_bold, spoken)))

    def _way_on(self) -> Content:
        goal = " leads to three questions." if self.services.places else " goes back."
        return Content.assemble((self.key_of("continue"), "bold"), goal)

    def action_do_continue(self) -> None:
        asks = self.services.places
        self.app.pop_screen()
        if asks:
            self.navigator.open("placement")
