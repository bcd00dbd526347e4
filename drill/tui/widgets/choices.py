"""A list to choose from, by Enter, which is a command of the screen, or by a click."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.events import Click
from textual.message import Message
from textual.widgets import OptionList

BOX = "[ ] "
TICKED = "[x] "
"""What stands before a line that can be ticked, and before one that is."""


class Choices(OptionList, inherit_bindings=False):
    """An option list without borders that moves by arrow keys."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("down", "cursor_down", "Down", show=False),
        Binding("up", "cursor_up", "Up", show=False),
        Binding("pagedown", "page_down", "Page down", show=False),
        Binding("pageup", "page_up", "Page up", show=False),
        Binding("home", "first", "First", show=False),
        Binding("end", "last", "Last", show=False),
    ]
    DEFAULT_CSS = """
    Choices { border: none; padding: 0; background: $background; scrollbar-size-vertical: 1; scrollbar-gutter: stable; }
    Choices:focus { border: none; }
    Choices > .option-list--option { padding: 0 1; }
    Choices:nocolor > .option-list--option-highlighted { text-style: bold reverse; }
    """

    def on_resize(self) -> None:
        """Keep the line under the cursor in sight where a longer sentence takes room from the list."""
        self.call_after_refresh(self.scroll_to_highlight)

    @property
    def chosen(self) -> str | None:
        """The id of the line under the cursor."""
        option = self.highlighted_option
        return option.id if option is not None else None


class TickList(Choices, can_focus=False):
    """A list whose lines may begin with a box: a click on it ticks the line, a click elsewhere chooses it.

    The keyboard stays with the field that narrows it.
    """

    class Ticked(Message):
        """The learner clicked where the box of a line stands, if it has one."""

        def __init__(self, name: str) -> None:
            super().__init__()
            self.name = name

    async def _on_click(self, event: Click) -> None:
        at = event.style.meta.get("option")
        name = self.options[at].id if at is not None else None
        if name and event.x <= len(BOX):  # a line begins after one cell
            event.prevent_default()
            self.highlighted = at
            self.post_message(self.Ticked(name))
