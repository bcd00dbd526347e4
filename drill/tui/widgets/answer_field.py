"""The answer field: one line that takes an answer, and on an empty line two single keys that no answer starts with."""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar

from textual.binding import BindingType
from textual.events import Key, Paste
from textual.message import Message

from drill.tui.commands import find
from drill.tui.widgets.line_field import LineField

SINGLE_KEYS = ("space", "question_mark")
"""Keys that are commands while nothing is typed: no answer begins with a space or a question mark."""
LONGEST_ANSWER = 60


class AnswerField(LineField):
    """Posts `Begun` at the first key of an answer; lets `SINGLE_KEYS` through while it is empty."""

    BINDINGS: ClassVar[list[BindingType]] = [replace(find("answer").binding(), action="submit")]

    class Begun(Message):
        """The first key of an answer was pressed: thinking has ended."""

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id, max_length=LONGEST_ANSWER)
        self.closed = False
        """Whether typing is ignored, because the answer has been given."""

    def ask(self, hint: str) -> None:
        """Empty the field for a new answer; `hint` says what it takes."""
        self.closed = False
        self.value = ""
        self.placeholder = hint

    def close(self) -> None:
        """Take no more typing; what was typed stays in sight."""
        self.closed = True

    def rest(self, hint: str) -> None:
        """Show no more what was typed; `hint` says what Enter does now."""
        self.value = ""
        self.placeholder = hint

    def check_consume_key(self, key: str, character: str | None) -> bool:
        if not self.value and key in SINGLE_KEYS:
            return False
        return super().check_consume_key(key, character)

    async def _on_key(self, event: Key) -> None:
        if (self.closed and event.is_printable) or (not self.value and event.key in SINGLE_KEYS):
            event.prevent_default()
        elif not self.value and event.is_printable:
            self.post_message(self.Begun())

    def _on_paste(self, event: Paste) -> None:
        if self.closed:
            event.prevent_default()
        elif event.text.strip():
            self.post_message(self.Begun())
