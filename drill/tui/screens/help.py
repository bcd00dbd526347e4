"""Help: the keys of the screen it was called from, the signs on the neck, every other command, the terms."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from drill.present.cautions import CAUTIONS
from drill.present.glossary import NECK, SCREENS, WORDS
from drill.tui.commands import Command, bindings, everywhere, of_screen
from drill.tui.screens.base import BaseScreen, heading

PADDING = 2
ROOMY = 60
"""The least width in cells at which a command and its help share a line."""


class HelpScreen(BaseScreen):
    """A page made from the table of commands."""

    where = "help"
    caption = "Help"
    BINDINGS = bindings("help")
    AUTO_FOCUS = "#page"
    DEFAULT_CSS = """
    #page { scrollbar-gutter: stable; }
    #help { padding: 1; }
    """

    def body(self) -> ComposeResult:
        with VerticalScroll(id="page"):
            yield Static(id="help", markup=False)

    def on_resize(self) -> None:
        page = self.query_one("#page").scrollable_content_region
        self.query_one("#help", Static).update(Content("\n").join(self._lines(self._from, page.width - PADDING)))

    @property
    def _from(self) -> str:
        """The screen that help was called from."""
        below = [getattr(screen, "where", "") for screen in self.app.screen_stack if screen is not self]
        return next((where for where in reversed(below) if where in SCREENS), "home")

    def _lines(self, first: str, width: int) -> Iterator[Content]:
        yield Content.styled(f"{SCREENS[first]}: this screen", "$primary bold")
        yield from self._commands(of_screen(first), width)
        yield heading("On the neck")
        yield from (_hanging(f"  {sign}  ", meaning, 7, width) for sign, meaning in NECK)
        yield heading("Everywhere")
        yield from self._commands(everywhere(), width, first)
        yield _entry("^p", "Palette", "Find a command, a key, a deck or a setting by its name.", width)
        for where, title in SCREENS.items():
            if where != first:
                yield heading(title)
                yield from self._commands(of_screen(where), width)
        yield heading("Words")
        yield from (_hanging(f"  {word}: ", meaning, 4, width) for word, meaning in WORDS)
        yield heading("Take care of yourself")
        yield from (_hanging("  ", caution, 2, width) for caution in CAUTIONS)

    def _commands(self, commands: tuple[Command, ...], width: int, where: str = "") -> Iterator[Content]:
        rebound = self.navigator.rebound
        return (_entry(rebound(each, where).key_shown, each.title, each.help, width) for each in commands)


def _entry(key: str, title: str, help: str, width: int) -> Content:
    """A command on one line where there is room, else its help under its title."""
    if width >= ROOMY:
        return _hanging(f"  {key:<6} {title:<18} ", help, 28, width)
    return Content("\n").join((Content.styled(f"  {key:<6} {title}", "bold"), _hanging(" " * 9, help, 9, width)))


def _hanging(name: str, meaning: str, indent: int, width: int) -> Content:
    """A bold name and its meaning, whose further lines are indented by so many cells."""
    lines = textwrap.wrap(name + meaning, max(width, 2 * indent), subsequent_indent=" " * indent)
    return Content.assemble((name, "bold"), "\n".join(lines)[len(name) :])
