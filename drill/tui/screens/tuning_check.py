"""The tuning check: the open strings, each with its cents, before a drill or a round is heard."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from drill.practice.hearing import Ears
from drill.practice.playback import refuse_without_numpy
from drill.system.audio import Source
from drill.tui.commands import bindings
from drill.tui.screens.listening import ListeningScreen
from drill.tui.widgets.listening_sign import ListeningSign

if TYPE_CHECKING:
    from drill.listening import Event
    from drill.practice.tuning_check import StringState, TuningCheck

SEEN_S = 1.5
"""How long it stands when every string is in tune, before it goes on by itself: hands are on the guitar."""


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
            yield Static(id="why", markup=False)
            yield Static(id="strings", markup=False)
            yield Static(id="outcome", markup=False)
        yield Static(id="message", markup=False)

    def begin(self) -> None:
        """Listen at once."""
        self.check: TuningCheck | None = None
        self._is_away = False
        """Whether the microphone waits for the learner to come back."""
        self.watch(self.app, "app_focus", self._focus_changed, init=False)
        self.app.app_resume_signal.subscribe(self, lambda _: self._focus_changed(True))
        self.listen()

    def open_ears(self, source: Source | None) -> Ears:
        """Ears for the strings of the neck, open. Raises NoSound."""
        refuse_without_numpy()
        from drill.practice.tuning_check import WHY, TuningCheck

        if self.check is None:
            self.check = TuningCheck(self.settings.neck, self.settings.voice)
            self.query_one("#why", Static).update(WHY)
            self._show(self.check)
        return super().open_ears(source)

    def on_heard(self, events: list[Event]) -> None:
        """Measure the strings that were played."""
        check = self.check
        assert check is not None, "the ears open after the check is made"
        before = check.strings
        for event in events:
            check.hear(event)
        if check.strings != before:
            self._show(check)
        if check.in_tune:
            self.fall_deaf()
            self._leave_soon()

    def _leave_soon(self) -> None:
        self.set_timer(SEEN_S, self.action_do_skip)

    # -- away and back -------------------------------------------------------------------------------------------------

    def pause(self, reason: str) -> None:
        """Close the microphone until the learner is back."""
        self._is_away = self._is_away or self.ears is not None
        super().pause(reason)

    def on_screen_suspend(self) -> None:
        self._is_away = True

    def on_screen_resume(self) -> None:
        self._come_back()

    def _focus_changed(self, focused: bool) -> None:
        if focused and self.app.screen is self:
            self._come_back()

    def _come_back(self) -> None:
        """Listen again, or go on if every string was in tune before."""
        if not self._is_away:
            return
        self._is_away = False
        if self.check is not None and self.check.in_tune:
            self._leave_soon()
        elif self.listen() and self.check is not None:
            self.say("")
            self._show(self.check)

    @property
    def _without_it(self) -> str:
        return f"{self.key_of('skip')} goes on without it."

    def on_deaf(self) -> None:
        self.query_one("#outcome", Static).update(self._without_it)

    def _show(self, check: TuningCheck) -> None:
        rows = [_row(state) for state in check.strings]
        self.query_one("#strings", Static).update(Content("\n").join(rows))
        ending = "" if check.in_tune else f" {self._without_it}"
        self.query_one("#outcome", Static).update(check.outcome + ending)

    def action_do_skip(self) -> None:
        """Go on, whatever has been heard; not while help covers it, which `is_current` does not tell."""
        if self.app.screen is self:
            self.dismiss()


def _row(state: StringState) -> Content:
    return Content.assemble((f"{state.label:<20}", "bold"), state.words)
