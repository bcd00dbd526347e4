"""What every screen has in common."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Self, cast

from textual.containers import VerticalScroll
from textual.screen import Screen

from drill.present.neck_drawing import Look
from drill.settings import Settings

if TYPE_CHECKING:
    from drill.tui.app import FretsureApp
    from drill.tui.services import Services

SCROLL_LINES = 3


class BaseScreen(Screen[None]):
    """A screen that knows its name in the table of commands, the desk it asks, and the learner's settings."""

    where: ClassVar[str] = ""
    DEFAULT_CSS = """
    #title { height: 1; padding: 0 1; background: $panel; color: $primary; text-style: bold; }
    #title:nocolor { text-style: bold reverse; }
    #page { height: 1fr; scrollbar-size-vertical: 1; padding: 0 1; }
    #message { height: auto; color: $text-warning; padding: 0 1; }
    #laid-out, #sentence { height: auto; min-height: 1; max-height: 4; padding: 0 1; }
    #laid-out, #sentence { color: $primary; background: $surface; }
    BaseScreen.-low Footer, BaseScreen.-flat Footer, BaseScreen.-flat #title { display: none; }
    """
    """What screens have in common. They carry -slim, -middling or -broad, and -flat, -low or -tall; what is a screen's
    or a widget's own stands with it, so that a start reads no style of what it does not show."""

    @classmethod
    def at(cls, desk: Services) -> Self:
        """The screen with what it needs from the desk to begin with. Raises FretsureError where that fails."""
        return cls()

    @property
    def fretsure(self) -> FretsureApp:
        """The program this screen belongs to."""
        return cast("FretsureApp", self.app)

    @property
    def desk(self) -> Services:
        """What the screen asks the rest of the program for."""
        return self.fretsure.desk

    @property
    def settings(self) -> Settings:
        """What the learner has set."""
        return self.desk.settings

    @property
    def look(self) -> Look:
        """How the learner wants a neck drawn."""
        return self.settings.look

    def pause(self, reason: str) -> None:
        """The learner is away: what runs against the clock stands still. Most screens have nothing that does."""

    def on_caught_up(self) -> None:
        """All of a long record has been read: most screens show nothing that changes by it."""

    def action_do_back(self) -> None:
        """Go back to the screen before."""
        self.app.pop_screen()

    def action_do_scroll_up(self) -> None:
        self.query_one("#page", VerticalScroll).scroll_relative(y=-SCROLL_LINES, animate=False)

    def action_do_scroll_down(self) -> None:
        self.query_one("#page", VerticalScroll).scroll_relative(y=SCROLL_LINES, animate=False)
