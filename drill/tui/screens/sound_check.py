"""Sound and microphone: what is plugged in, and the check step by step. The latency is kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from drill.errors import FretsureError, NoSound
from drill.practice.hearing import Ears
from drill.practice.playback import refuse_without_numpy
from drill.present.setting_words import title_of, value_of
from drill.system.audio import Source
from drill.tui.commands import bindings
from drill.tui.screens.listening import ListeningScreen
from drill.tui.widgets.listening_sign import ListeningSign

if TYPE_CHECKING:
    from drill.practice.sound_check import SoundCheck

GOOD, NOT_GOOD = "✓", "!"


class SoundCheckScreen(ListeningScreen):
    """The devices that are set, what is to be known of them, and what each step finds."""

    where = "sound-check"
    caption = "Sound and microphone"
    BINDINGS = bindings("sound-check")
    DEFAULT_CSS = """
    #devices, #findings, #ask { height: auto; }
    #ask { color: $primary; text-style: bold; padding: 1 0; }
    SoundCheckScreen.-low #ask, SoundCheckScreen.-flat #ask { padding: 0; }
    """

    @property
    def _start(self) -> str:
        key = self.key_of("check-on")
        return f"{key} begins the check. It takes about a minute; {key} skips a step."

    @property
    def _done(self) -> str:
        return f"That is all. {self.key_of('check-again')}: check again. {self.key_of('back')}: back."

    def body(self) -> ComposeResult:
        yield ListeningSign(id="listening")
        with VerticalScroll(id="page", can_focus=False):
            yield Static(id="devices", markup=False)
            yield Static(self._start, id="ask", markup=False)
            yield Static(id="findings", markup=False)
        yield Static(id="message", markup=False)

    def begin(self) -> None:
        """Show the devices; nothing is opened yet."""
        self.check: SoundCheck | None = None
        lines = [
            f"{title_of(name)}: {value_of(name, getattr(self.settings, name))}" for name in ("microphone", "speaker")
        ]
        self.query_one("#devices", Static).update("\n".join([*lines, *self._warnings()]))

    def _warnings(self) -> list[str]:
        """What is to be known of the devices, or that nothing can be heard at all."""
        try:
            refuse_without_numpy()
        except NoSound as error:
            return [str(error)]
        from drill.practice.sound_check import warnings

        return list(warnings(self.settings, self.services.devices))

    def open_ears(self, source: Source | None) -> Ears:
        """Those of a new check. Raises NoSound."""
        refuse_without_numpy()
        from drill.practice.sound_check import SoundCheck

        self.check = SoundCheck(self.services.environment, self.settings)
        self.check.start()
        return self.check.ears

    def hear_on(self, ears: Ears) -> None:
        """Let the check go on, and show how far it is."""
        if self.check is not None:
            self.check.poll()
            self._show(self.check)

    def _show(self, check: SoundCheck) -> None:
        rows = [
            Content.assemble((f"{GOOD if found.good else NOT_GOOD} {found.title}: ", "bold"), found.words)
            for found in check.findings
        ]
        self.query_one("#findings", Static).update(Content("\n").join(rows))
        step = check.step
        self.query_one("#ask", Static).update(f"{step.title}: {step.ask}" if step else self._done)
        if step is None:
            self._end(check)

    def _end(self, check: SoundCheck) -> None:
        self.fall_deaf()
        if check.latency_ms is None:
            return
        try:
            self.services.change("path_ms", check.latency_ms)
        except FretsureError as error:
            self.navigator.report(error)

    def on_deaf(self) -> None:
        """Drop a check that was broken off: Enter begins another."""
        self.check = None
        self.query_one("#ask", Static).update(self._start)

    def on_screen_suspend(self) -> None:
        if self.check is not None and self.check.step is not None:
            self.on_deaf()

    def action_do_check_on(self) -> None:
        """Begin, or leave the step out that is running."""
        if self.check is not None and self.ears is not None:
            self.check.skip()
            self._show(self.check)
        elif self.check is None:
            self.action_do_check_again()

    def action_do_check_again(self) -> None:
        """Begin from the beginning."""
        self.say("")
        self.fall_deaf()
        self.query_one("#findings", Static).update("")
        if self.listen() and self.check is not None:
            self._show(self.check)
