"""The mouse: one that was moved while its button was down has selected text, and clicks on nothing."""

from __future__ import annotations

from textual.app import App
from textual.events import Event, MouseDown, MouseUp
from textual.geometry import Offset


class DragAwareApp(App[None]):
    """Textual would click on a widget in which the mouse went down and up, however far apart."""

    _pressed_at: Offset | None = None

    async def on_event(self, event: Event) -> None:
        """Forget where the mouse went down, once it goes up elsewhere."""
        if isinstance(event, MouseDown) and not event.is_forwarded:
            self._pressed_at = event.screen_offset
        elif isinstance(event, MouseUp) and event.screen_offset != self._pressed_at:
            self._mouse_down_widget = None
        await super().on_event(event)
