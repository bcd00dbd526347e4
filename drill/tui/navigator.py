"""What a screen may ask of the program: screens know this protocol, and only the program knows the screens."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from drill.decks import Focus
    from drill.errors import FretsureError
    from drill.present.summaries import Summary
    from drill.theory.keys import Key
    from drill.theory.neck import Spot
    from drill.tui.services import Services


class Navigator(Protocol):
    """Leads from screen to screen. Where a screen cannot be shown, the learner reads why and stays."""

    services: Services

    def open(self, name: str) -> None:
        """Open a screen by its name in the table of commands, over the current one."""

    def show_spot(self, spot: Spot) -> None:
        """Open the progress of one spot."""

    def show_key(self, key: Key) -> None:
        """Look a key up."""

    def go_home(self) -> None:
        """Close every other screen and show Home."""

    def start_drill(self, focus: Focus | None = None) -> None:
        """Start a drill; without a focus, today's."""

    def drill_weakest(self) -> None:
        """Start a drill on whatever is weakest now."""

    def after_drill(self, summary: Summary) -> None:
        """Replace the drill by its summary."""

    def report(self, error: FretsureError) -> None:
        """Show what went wrong and how to fix it, in a corner of the screen."""
