"""A one-line field that handles keys in the order in which they were typed."""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar

from textual.actions import SkipAction
from textual.binding import BindingType
from textual.events import Key
from textual.widgets import Input

from drill.tui.commands import find

AT_ONCE = {"enter": "submit", "backspace": "delete_left", "ctrl+u": "delete_left_all", "ctrl+w": "delete_left_word"}
"""Keys that act at once, with the action of Input that each runs."""

ARROWS = {"left": "cursor_left", "right": "cursor_right"}


class LineField(Input):
    """An input of one line, marked by a bar at its left.

    Enter, Esc and the keys that delete act at once. As bindings they would act too late when several keys arrive in one
    burst, as over a slow connection: after letters that were typed after them.
    """

    DEFAULT_CSS = """
    LineField { height: 1; padding: 0 1; border: none; border-left: outer $primary; background: $panel; }
    LineField:focus { border: none; border-left: outer $primary; background-tint: $foreground 0%; }
    LineField > .input--placeholder { color: $neck-quiet; }
    LineField:nocolor > .input--cursor { text-style: reverse; }
    LineField:nocolor > .input--selection { text-style: underline; }
    """

    def __init__(self, placeholder: str = "", *, in_short: str = "", max_length: int, id: str | None = None) -> None:
        """`in_short` stands in the empty field where the placeholder would be cut."""
        super().__init__(placeholder=placeholder, id=id, max_length=max_length, select_on_focus=False)
        self._hints = (placeholder, in_short)

    def on_resize(self) -> None:
        whole, in_short = self._hints
        if in_short:
            self.placeholder = whole if len(whole) <= self.content_size.width else in_short

    async def _on_key(self, event: Key) -> None:
        if event.key == "escape" and not self.is_covered:
            event.stop()
            event.prevent_default()
            await self._leave()
        elif event.key in AT_ONCE or (self.is_covered and event.is_printable):
            event.stop()
            event.prevent_default()
            if not self.is_covered:
                await self.run_action(AT_ONCE[event.key])

    @property
    def is_covered(self) -> bool:
        """Whether an earlier key of the same burst has led away from the screen of this field.

        What would be typed here is then dropped; other keys are for the screen that is there now.
        """
        return self.app.screen is not self.screen

    async def _leave(self) -> None:
        """Do what Esc does on this screen."""
        if bound := self.screen.active_bindings.get("escape"):
            await self.app.run_action(bound.binding.action, bound.node)

    def action_copy(self) -> None:
        """Copy a part that is selected; a text that is selected whole only waits to be typed over."""
        if self.selected_text == self.value:
            raise SkipAction
        super().action_copy()


class StepField(LineField):
    """A field that leaves ← and → to its screen while nothing in it is being edited: it is empty, or all selected."""

    BINDINGS: ClassVar[list[BindingType]] = [replace(find("show").binding(), action="submit")]

    async def _on_key(self, event: Key) -> None:
        if event.key in ARROWS and self._is_edited:
            event.stop()
            event.prevent_default()
            await self.run_action(ARROWS[event.key])
        else:
            await super()._on_key(event)

    def action_cursor_left(self, select: bool = False) -> None:
        self._leave_to_the_screen(select)
        super().action_cursor_left(select)

    def action_cursor_right(self, select: bool = False) -> None:
        self._leave_to_the_screen(select)
        super().action_cursor_right(select)

    @property
    def _is_edited(self) -> bool:
        return self.selected_text != self.value

    def _leave_to_the_screen(self, select: bool) -> None:
        if not select and not self._is_edited:
            raise SkipAction
