"""Which screen a drill is answered on: typed, or played on the guitar."""

from __future__ import annotations

from typing import TYPE_CHECKING

from drill.tui.screens.drill import DrillScreen

if TYPE_CHECKING:
    from drill.decks import Deck, Focus
    from drill.tui.services import Services


def drill_screen(services: Services, focus: Focus, deck: Deck | None = None) -> DrillScreen:
    """Begin a drill, and give its screen. Raises FretsureError."""
    if services.listens:
        from drill.tui.screens.drill_listening import heard_drill  # a drill that is typed starts without it

        return heard_drill(services, focus, deck)
    return DrillScreen(services.start(focus, deck))
