"""A list to choose from, by Enter, which is a command of the screen, or by a click."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.widgets import OptionList


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

    @property
    def chosen(self) -> str | None:
        """The id of the line under the cursor."""
        option = self.highlighted_option
        return option.id if option is not None else None
