"""The ways on from Home: a grid of commands with a cursor, opened by a click, or by Enter as a command of the screen.

Only the names stand there, each after its key; what the one under the cursor does is told beside the grid.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content
from textual.events import Click
from textual.geometry import Region, Size
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from drill.tui.commands import Command

CURSOR = "▸"
GAP = 1
"""Cells at least between two names."""


class Ways(Widget, can_focus=True):
    """Shows `commands` in as many columns as fit; posts `Moved` with the cursor and `Opened` for a click."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "move(-1)", "Left", show=False),
        Binding("right", "move(1)", "Right", show=False),
        Binding("up", "move_row(-1)", "Up", show=False),
        Binding("down", "move_row(1)", "Down", show=False),
        Binding("home", "move(-99)", "First", show=False),
        Binding("end", "move(99)", "Last", show=False),
    ]
    DEFAULT_CSS = """
    Ways { width: 100%; height: auto; }
    """
    at = reactive(0)

    class Moved(Message):
        """The cursor is on another way."""

    class Opened(Message):
        """The learner clicked on a way."""

        def __init__(self, command: Command) -> None:
            super().__init__()
            self.command = command

    def __init__(self, commands: Sequence[Command], *, by_rows: bool = True, id: str | None = None) -> None:
        super().__init__(id=id)
        self.commands, self._by_rows = tuple(commands), by_rows

    def offer(self, commands: Sequence[Command]) -> None:
        """Show other ways; the cursor stays on the command where it is, if that is among them."""
        if (offered := tuple(commands)) == self.commands:
            return
        here, self.commands = self.chosen.id, offered
        self.at = next((at for at, each in enumerate(offered) if each.id == here), 0)
        self.refresh(layout=True)

    @property
    def chosen(self) -> Command:
        """The way under the cursor."""
        return self.commands[self.at]

    def columns(self, width: int) -> int:
        """How many names stand side by side: as many as fit, spread evenly over the rows."""
        most = max(1, min(len(self.commands), width // self._least_cell))
        return -(-len(self.commands) // self._rows(most))

    def _rows(self, columns: int) -> int:
        return -(-len(self.commands) // columns)

    @property
    def _least_cell(self) -> int:
        return max(len(_name(command)) for command in self.commands) + len(CURSOR) + GAP

    def _cell(self, width: int) -> int:
        return max(width // self.columns(width), 1)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return self._rows(self.columns(width))

    def render(self) -> Content:
        return Content("\n").join(self._lines(self.size.width))

    def _lines(self, width: int) -> Iterator[Content]:
        columns, cell = self.columns(width), self._cell(width)
        for start in range(0, len(self.commands), columns):
            row = range(start, min(start + columns, len(self.commands)))
            yield Content("").join(self._way(at, cell) for at in row).truncate(width)

    def _way(self, at: int, cell: int) -> Content:
        command, here = self.commands[at], at == self.at
        gap = " " * (cell - len(CURSOR) - len(_name(command)))
        name = "bold reverse" if here and self.has_focus else "bold" if here else ""
        return Content.assemble(
            (f"{CURSOR if here else ' '}{command.key_shown} ", "$primary bold"), (command.title, name), gap
        )

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Leave the keys up and down to a page above the grid, unless the cursor moves `by_rows`."""
        return super().check_action(action, parameters) if self._by_rows or action != "move_row" else False

    # -- moving --------------------------------------------------------------------------------------------------------

    def action_move(self, steps: int) -> None:
        """Move the cursor along the ways, and stop at the ends."""
        self.at = min(max(self.at + steps, 0), len(self.commands) - 1)

    def action_move_row(self, rows: int) -> None:
        """Move the cursor up or down, if there is a way."""
        at = self.at + rows * self.columns(self.size.width)
        if 0 <= at < len(self.commands):
            self.at = at

    def watch_at(self) -> None:
        self.post_message(self.Moved())
        if isinstance(self.parent, Widget) and self.size.width:
            row = self.at // self.columns(self.size.width)
            self.parent.scroll_to_region(Region(0, row, 1, 1), animate=False)

    # -- the mouse -----------------------------------------------------------------------------------------------------

    def on_click(self, event: Click) -> None:
        columns, cell = self.columns(self.size.width), self._cell(self.size.width)
        column, at = event.x // cell, event.y * columns + event.x // cell
        if column < columns and at < len(self.commands):
            self.at = at
            self.post_message(self.Opened(self.commands[at]))


def told(way: Command, *, narrow: bool) -> Content:
    """What Enter does on a way; in a `narrow` window, where each word may cost a row, only that."""
    return Content(way.help) if narrow else Content.assemble(("Enter", "$primary bold"), f"  {way.help}")


def _name(command: Command) -> str:
    return f"{command.key_shown} {command.title}"
