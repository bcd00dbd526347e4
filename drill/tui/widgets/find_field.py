"""A field above or below a list: letters narrow the list, arrows move its cursor, the field keeps the keyboard."""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar, Protocol, cast

from textual.binding import BindingType
from textual.events import Key

from drill.tui.commands import find
from drill.tui.widgets.line_field import LineField

MOVES = {"down": "cursor_down", "up": "cursor_up", "pagedown": "page_down", "pageup": "page_up"}


class Lister(Protocol):
    """The screen of the list."""

    def list_move(self, name: str) -> None:
        """Move the cursor of the list."""


class FindField(LineField):
    """Arrows move the cursor of the list at once; Space is a command of the screen while nothing is typed."""

    BINDINGS: ClassVar[list[BindingType]] = [replace(find("start").binding(), action="submit")]

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Submit only where the screen would start something."""
        starts = action != "submit" or self.screen.check_action("do_start", parameters)
        return starts and super().check_action(action, parameters)

    async def _on_key(self, event: Key) -> None:
        selects = event.key == "space" and not self.value
        if event.key not in MOVES and not selects:
            await super()._on_key(event)
            return
        event.stop()
        event.prevent_default()
        if selects:
            await self.screen.run_action("do_select")
        else:
            cast("Lister", self.screen).list_move(MOVES[event.key])
