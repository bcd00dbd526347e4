"""Help: every command and its key, and the words the program uses."""

from __future__ import annotations

from collections.abc import Iterator

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Footer, Static

from drill.tui.commands import Command, bindings, everywhere, of_screen
from drill.tui.screens.after import heading
from drill.tui.screens.face import Face
from drill.tui.words import CAUTIONS

SCREENS = {
    "welcome": "First start",
    "key-press": "Key press",
    "home": "Home",
    "drill": "Drill",
    "pause": "Pause",
    "after": "After a drill",
    "focus": "Focus",
    "look-up": "Look up",
    "progress": "Progress",
    "decks": "Decks",
    "set-up": "Set-up",
}

WORDS = (
    ("card", "one question with its accepted answers"),
    ("thinking time", "from the question to the first key of the answer"),
    ("strength", "the chance, now, that the answer would come right"),
    ("fresh", "never asked"),
    ("fading", "strength has dropped below the aim"),
    ("holding", "strength is at the aim or above it"),
    ("fluent", "holding, and as fast as the card's aim"),
    ("mix-up", "the named reason behind a wrong answer"),
    ("readiness", "the chance that all you need to play in a key comes right within one bar"),
)

NECK = (
    ("◆1m", "the minor tonic, under finger 1"),
    ("●4M", "the major tonic, under finger 4"),
    ("(3)", "another note of the shape, under finger 3"),
    ("[?]", "the place that is asked about"),
    ("▇83", "strength on the map: a block that grows, and per cent"),
    ("◂ ▸", "more lies beyond the edge"),
)


class HelpScreen(Face):
    """Made from the table of commands."""

    where = "help"
    BINDINGS = bindings("help")
    AUTO_FOCUS = "#page"

    def compose(self) -> ComposeResult:
        yield Static("Help", id="title", markup=False)
        with VerticalScroll(id="page"):
            yield Static(Content("\n").join(_lines()), id="help", markup=False)
        yield Footer(compact=True, show_command_palette=False)


def _lines() -> Iterator[Content]:
    yield Content.styled("Everywhere", "$primary bold")
    yield from map(_command, everywhere())
    yield Content.assemble(("  ^p     ", "bold"), (f"{'Palette':<18} ", "bold"), "Find any command by its name.")
    for where, title in SCREENS.items():
        yield heading(title)
        yield from map(_command, of_screen(where))
    yield heading("On the neck")
    yield from (Content.assemble((f"  {sign}  ", "bold"), meaning) for sign, meaning in NECK)
    yield heading("Words")
    yield from (Content.assemble((f"  {word}: ", "bold"), meaning) for word, meaning in WORDS)
    yield heading("Take care of yourself")
    yield from (Content(f"  {caution}") for caution in CAUTIONS)


def _command(command: Command) -> Content:
    return Content.assemble((f"  {command.key_shown:<6} ", "bold"), (f"{command.title:<18} ", "bold"), command.help)
