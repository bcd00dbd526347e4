"""After a drill: what changed most, what was mixed up, what was slow, when to come back."""

from __future__ import annotations

from collections.abc import Iterator

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from drill.decks import Focus
from drill.present import summaries
from drill.present.cautions import CAUTIONS
from drill.present.neck_drawing import band
from drill.present.summaries import Summary
from drill.tui.commands import bindings
from drill.tui.screens.base import BaseScreen, heading
from drill.tui.verdict_text import LONG_DRILL_S, lead_in_bold, reading
from drill.tui.widgets.neck_view import STYLES


class AfterScreen(BaseScreen):
    """The summary of a drill."""

    where = "after"
    caption = "After the drill"
    BINDINGS = bindings("after")
    DEFAULT_CSS = """
    #after { padding: 1; }
    """

    def __init__(self, summary: Summary, focus: Focus) -> None:
        super().__init__()
        self.summary, self.focus_was = summary, focus

    def body(self) -> ComposeResult:
        with VerticalScroll(id="page", can_focus=False):
            yield Static(Content("\n").join(self.lines()), id="after", markup=False)

    def lines(self) -> Iterator[Content]:
        """The report, line by line."""
        if self.summary.is_known:
            yield Content(summaries.NOTHING_URGENT)
        if not self.summary.answered:
            yield Content(summaries.NOTHING_ANSWERED)
            return
        yield from self._result()
        yield from self._moves()
        yield from self._mixups()
        yield from self._slow()
        yield from self._next_time()

    def _result(self) -> Iterator[Content]:
        yield lead_in_bold(summaries.result(self.summary))
        if self.summary.growth and (grown := summaries.growth_sentence(self.summary.growth)):
            yield Content(grown)

    def _moves(self) -> Iterator[Content]:
        if self.summary.moved:
            yield heading("Biggest changes (chance of recall, before the drill and just after)")
        for move in self.summary.moved:
            yield Content.assemble(
                f"{move.start:>4} → ",
                (reading(move.after), STYLES[band(move.after)]),
                f"  {self.settings.voice.say(move.prompt)}",
            )

    def _mixups(self) -> Iterator[Content]:
        yield heading("Mix-ups")
        if not self.summary.mixups:
            yield Content("No recognised mix-ups.")
        for mixup in self.summary.mixups:
            yield lead_in_bold(summaries.mixup(mixup, self.settings.voice))

    def _slow(self) -> Iterator[Content]:
        if self.summary.slowest:
            yield heading("Slowest")
            yield Content(summaries.slowest(self.summary, self.settings.voice))

    def _next_time(self) -> Iterator[Content]:
        yield heading("When to come back")
        if self.summary.returns_at_s is not None:
            yield Content(summaries.come_back(self.summary.returns_at_s, self.services.environment))
        if not self.focus_was and (step := self.services.next_step(self.summary.is_known)):
            yield Content(summaries.next_step_sentence(step))
        yield Content("A few minutes a day beat an hour a week.")
        if self.summary.seconds >= LONG_DRILL_S:
            yield heading("That was a long drill: rest your hands")
            yield from (Content(caution) for caution in CAUTIONS)

    def action_do_home(self) -> None:
        self.navigator.go_home()

    def action_do_again(self) -> None:
        self.navigator.start_drill(self.focus_was)

    def action_do_weakest(self) -> None:
        self.navigator.drill_weakest()
