"""The drill a learner asks for."""

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from drill.decks import Focus


class DrillRequest(NamedTuple):
    """What is asked of one drill. Whatever is None comes from the settings; no focus means the whole deck."""

    deck: str | None = None
    minutes: float | None = None
    focus: "Focus | None" = None
    listen: bool = False
    """Whether it is to be answered on the guitar, whatever the settings say."""
