"""A one-line field that handles keys in the order in which they were typed."""

from __future__ import annotations

from textual.events import Key
from textual.widgets import Input

AT_ONCE = {"enter": "submit", "backspace": "delete_left", "ctrl+u": "delete_left_all", "ctrl+w": "delete_left_word"}
"""Keys that act at once, with the action of Input that each runs."""


class LineField(Input):
    """An input of one line, marked by a bar at its left.

    Enter and the keys that delete act at once. As bindings they would act too late when several keys arrive in one
    burst, as over a slow connection: after letters that were typed after them.
    """

    DEFAULT_CSS = """
    LineField { height: 1; padding: 0 1; border: none; border-left: outer $primary; background: $panel; }
    LineField:focus { border: none; border-left: outer $primary; }
    LineField:nocolor > .input--cursor { text-style: reverse; }
    LineField:nocolor > .input--selection { text-style: underline; }
    """

    def __init__(self, placeholder: str = "", *, max_length: int, id: str | None = None) -> None:
        super().__init__(placeholder=placeholder, id=id, max_length=max_length, select_on_focus=False)

    async def _on_key(self, event: Key) -> None:
        if event.key not in AT_ONCE:
            return
        event.stop()
        event.prevent_default()
        await self.run_action(AT_ONCE[event.key])
