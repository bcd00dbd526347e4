"""What every screen has in common: the frame around its body, the styles, and the way to the rest of the program."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Self, cast

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.events import Click
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Static

from drill.present.neck_drawing import Look
from drill.settings import Settings
from drill.tui.commands import find, of_screen
from drill.tui.widgets.key_footer import KeyFooter

if TYPE_CHECKING:
    from drill.tui.navigator import Navigator
    from drill.tui.services import Services

SCROLL_LINES = 3
FOOTER_FROM = 20
"""Rows of a window that has a footer; the styles below hide it in a lower one."""
BACK = "‹ Back"
COPIED = "Copied."


class BaseScreen(Screen[None]):
    """A screen that knows its name in the table of commands: a bar with a title, a body, a footer.

    Textual gives it the classes -slim, -middling or -broad, and -flat, -low or -tall. Styles that several screens use
    are here; a style that only one screen uses is in its module, so that a start reads none that it does not need.
    """

    where: ClassVar[str] = ""
    caption: str = ""
    """The words in the bar at the top."""
    DEFAULT_CSS = """
    #title { height: 1; padding: 0 1; background: $panel; color: $primary; text-style: bold; }
    #title:nocolor { text-style: bold reverse; }
    #page { height: 1fr; scrollbar-size-vertical: 1; padding: 0 1; }
    #message { height: auto; color: $text-warning; padding: 0 1; }
    #hint { height: auto; min-height: 1; max-height: 4; padding: 0 1; color: $primary; background: $surface; }
    #legend { text-align: center; color: $neck-quiet; }
    BaseScreen.-low KeyFooter, BaseScreen.-flat KeyFooter, BaseScreen.-flat #title { display: none; }
    """

    @classmethod
    def at(cls, services: Services) -> Self:
        """The screen with all it needs to begin with. Raises FretsureError where that cannot be had."""
        return cls()

    def compose(self) -> ComposeResult:
        yield self.bar()
        yield from self.body()
        yield KeyFooter()

    def bar(self) -> Widget:
        """The line at the top."""
        return Static(self.caption, id="title", markup=False)

    def on_resize(self) -> None:
        if self.caption:
            self.entitle(self.caption)

    def entitle(self, caption: str) -> None:
        """Show these words in the bar; in a window too low for a footer, the bar also leads back and to the keys."""
        self.caption = caption
        words = self._way_back if self.leads_back else Content(caption)
        self.query_one("#title", Static).update(words + self._way_to_help(len(words)))

    @property
    def leads_back(self) -> bool:
        """Whether the bar has to lead back by mouse: there is a way back, and no footer that shows it."""
        return self.size.height < FOOTER_FROM and any(each.id == "back" for each in of_screen(self.where))

    async def _on_click(self, event: Click) -> None:
        """Go on where a click hits the line that tells how to go on."""
        if any(line.region.contains_point(event.screen_offset) for line in self.query("#way-on, .way-on")):
            on = next(each for each in of_screen(self.where) if each.key == "enter")
            self.call_later(self.run_action, on.action)

    @property
    def _way_back(self) -> Content:
        return Content.from_markup(f"[@click=screen.do_back]{BACK}[/] $caption", caption=self.caption)

    def _way_to_help(self, taken: int) -> Content:
        """F1 at the end of the bar, if there is no footer to name it and room beside so many cells."""
        room = self.size.width - 2 - taken - len(self.words_of_help)
        if self.size.height >= FOOTER_FROM or self.where == "help" or room < 1:
            return Content()
        return Content.from_markup(f"{' ' * room}[@click=app.do_help]$words[/]", words=self.words_of_help)

    @property
    def words_of_help(self) -> str:
        """The key that lists all others, with its word."""
        return f"{self.key_of('help')} Help"

    def body(self) -> ComposeResult:
        """All between the bar and the footer."""
        yield from ()

    @property
    def navigator(self) -> Navigator:
        """The program, as far as screens know it."""
        return cast("Navigator", self.app)

    @property
    def services(self) -> Services:
        """Everything a screen asks of decks, record and memory."""
        return self.navigator.services

    @property
    def settings(self) -> Settings:
        """The learner's settings."""
        return self.services.settings

    @property
    def look(self) -> Look:
        """How the learner wants a neck drawn."""
        return self.settings.look

    def key_of(self, command: str) -> str:
        """The key of a command by its id, as it is shown: the shipped one or the learner's own."""
        return self.navigator.rebound(find(command), self.where).key_shown

    def say(self, sentence: str) -> None:
        """Show a sentence in the line for messages, or no line; only some screens have one."""
        self.show_or_hide("message", sentence)

    def show_or_hide(self, name: str, words: str) -> None:
        """Put words in a line, and hide it while there are none: empty, it would push others off a low screen."""
        line = self.query_one(f"#{name}", Static)
        line.update(words)
        line.display = bool(words)

    def pause(self, reason: str) -> None:
        """Stop the clock, because the learner is away; most screens have none."""

    @property
    def unfinished(self) -> bool:
        """Whether this is a drill that is not over."""
        return False

    def holds_back(self) -> bool:
        """Whether Ctrl+C does not end the program here; a drill pauses instead."""
        return False

    def on_text_selected(self) -> None:
        """Copy what the mouse has selected, as it is let go."""
        if self.get_selected_text():
            self.action_copy_text()

    def action_copy_text(self) -> None:
        """Copy the selection; Textual hands the key on where nothing is selected."""
        super().action_copy_text()
        self.notify(COPIED, timeout=2, markup=False)

    def refresh_view(self) -> None:
        """Show anew what the record and the settings say; most screens show nothing of them that changes."""

    def action_do_idea(self) -> None:
        """Show the idea of the whole; only some screens bind it."""
        self.navigator.open("idea")

    def action_do_letters(self) -> None:
        """Show the letters of the notes; only some screens bind it."""
        self.navigator.open("letters")

    def action_do_back(self) -> None:
        """Return to the previous screen."""
        self.app.pop_screen()

    def action_do_scroll_up(self) -> None:
        self.query_one("#page", VerticalScroll).scroll_relative(y=-SCROLL_LINES, animate=False)

    def action_do_scroll_down(self) -> None:
        self.query_one("#page", VerticalScroll).scroll_relative(y=SCROLL_LINES, animate=False)


def heading(words: str) -> Content:
    """A heading after an empty line."""
    return Content.assemble("\n", (words, "$primary bold"))
