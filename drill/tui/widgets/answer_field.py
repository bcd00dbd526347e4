"""The answer field: a line for an answer, where two keys are commands while it is empty."""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar, Protocol

from textual.binding import BindingType
from textual.events import Key, Paste

from drill.tui.commands import find
from drill.tui.widgets.line_field import LineField

SINGLE_KEYS = {"space": find("pause").action, "question_mark": find("not-known").action}
"""Keys that are commands while nothing is typed: no answer begins with a space or a question mark."""
LONGEST_ANSWER = 60


class Examiner(Protocol):
    """The screen that asked. It learns of each key before the next one is read, even when both come in one burst."""

    @property
    def is_stray(self) -> bool:
        """Whether a key comes so soon that it belongs to what was there before."""

    def typed(self) -> None:
        """A key of an answer was pressed."""

    def written(self, text: str) -> None:
        """This text stands in the field, after a key was typed."""

    def pressed(self) -> None:
        """A key was typed while the field is closed."""

    def entered(self, text: str) -> None:
        """Enter was pressed on this text."""


class AnswerField(LineField):
    """Passes keys on to the examiner; while nothing is typed, `SINGLE_KEYS` are commands of the screen."""

    BINDINGS: ClassVar[list[BindingType]] = [
        replace(find("answer").binding(), action="go_on", description="Next"),
        replace(find("answer").binding(), action="submit"),
    ]

    def __init__(self, examiner: Examiner, *, id: str | None = None) -> None:
        super().__init__(id=id, max_length=LONGEST_ANSWER)
        self._examiner = examiner
        self.closed = False
        """Whether typing is ignored, because the answer has been given."""

    def ask(self) -> None:
        """Empty the field for a new answer."""
        self.closed = False
        self.value = ""

    def close(self) -> None:
        """Ignore further typing and leave the answer in sight."""
        self.closed = True

    @property
    def _is_free(self) -> bool:
        """Whether the next key starts a new text: the field is empty, closed, or all of it is selected."""
        return self.closed or sorted(self.selection) == [0, len(self.value)]

    def check_consume_key(self, key: str, character: str | None) -> bool:
        if self._is_free and key in SINGLE_KEYS:
            return False
        return super().check_consume_key(key, character)

    def action_paste(self) -> None:
        if not self.closed:
            self._examiner.typed()
            super().action_paste()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Enter goes on where nothing can be answered; the footer calls it so."""
        return self.closed if action == "go_on" else super().check_action(action, parameters)

    async def action_submit(self) -> None:
        self._examiner.entered(self.value)

    async def action_go_on(self) -> None:
        self._examiner.entered("")

    async def _on_key(self, event: Key) -> None:
        command = SINGLE_KEYS.get(event.key) if self._is_free and not self.is_covered else None
        if command and not self.screen.check_action(command, ()):
            command = None  # one that does nothing now is a key like any other
        if self.is_covered or not (command or event.is_printable):
            return
        event.stop()
        event.prevent_default()
        if command and not self._examiner.is_stray:
            await self.screen.run_action(command)
        elif self.closed:
            self._examiner.pressed()
        elif not self._examiner.is_stray:
            self._examiner.typed()
            self.replace(event.character or "", *self.selection)
            self._examiner.written(self.value)

    def _on_paste(self, event: Paste) -> None:
        if self.closed:
            event.prevent_default()
        elif event.text.strip():
            self._examiner.typed()
