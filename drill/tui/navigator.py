"""What a screen may ask of the program: screens know this protocol, and only the program knows the screens."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Sequence

    from drill.decks import Deck, Focus
    from drill.errors import FretsureError
    from drill.lookup.charts import Chart
    from drill.present.summaries import Summary
    from drill.theory.keys import Key
    from drill.theory.neck import Spot
    from drill.tui.commands import Command
    from drill.tui.services import Services


class Navigator(Protocol):
    """Leads from screen to screen. Where a screen cannot be shown, the learner reads why and stays."""

    services: Services

    @property
    def is_drilling(self) -> bool:
        """Whether a drill that is not over waits below this screen."""

    def rebound(self, command: Command, where: str = "") -> Command:
        """The command with the key that the learner gave it, as this screen or the one that `where` names shows it."""

    def open(self, name: str) -> None:
        """Open a screen by its name in the table of commands, over the current one."""

    def show_spot(self, spot: Spot) -> None:
        """Open the progress of one spot."""

    def show_key(self, key: Key) -> None:
        """Look a key up."""

    def show_setting(self, name: str) -> None:
        """Open Set-up at a setting."""

    def choose_deck(self, name: str) -> None:
        """Use a deck for the daily drill."""

    def start_round(self, keys: Sequence[Key] = ()) -> None:
        """Open a round of these keys; without any, of the deck's, the weakest first."""

    def play_loop(self, loop: Chart) -> None:
        """Play a loop, with the shapes of its key beside it: where the chart says that it rests, or the likeliest."""

    def leave_page(self) -> None:
        """Return to the screen below; leave the program where there is none."""

    def go_home(self) -> None:
        """Close every other screen and show Home."""

    def start_drill(self, focus: Focus | None = None, deck: Deck | None = None, *, narrow: bool = False) -> None:
        """Start a drill; without a focus, today's. A focus of few cards is offered wider first, unless `narrow`."""

    def drill_weakest(self) -> None:
        """Start a drill on whatever is weakest now."""

    def after_drill(self, summary: Summary) -> None:
        """Replace the drill by its summary."""

    def report(self, error: FretsureError) -> None:
        """Show what went wrong and how to fix it, in a corner of the screen."""
