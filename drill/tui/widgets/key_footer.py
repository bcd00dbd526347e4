"""The footer: the keys that work now, as many as fit whole; a click on one presses it.

The library's own makes a widget of each key, anew whenever what works changes; a start and a verdict would wait.
"""

from collections.abc import Iterable
from typing import NamedTuple

from textual.content import Content
from textual.events import Click
from textual.screen import Screen
from textual.widget import Widget

FIRST, LAST = ("do_help",), ("do_hear_again", "do_pause", "do_quit")
"""Actions whose keys a narrow footer keeps longest, for they lead to all others, and those that can be done without;
the rest comes between, from the left."""


class ShownKey(NamedTuple):
    """A key that works now, as it is shown: 'F1 Help'."""

    key: str
    shown: str
    does: str
    action: str

    @property
    def cells(self) -> int:
        """How many cells of the row it takes."""
        return len(self.shown) + 1 + len(self.does)

    @property
    def rank(self) -> int:
        """The lower, the longer a narrow footer keeps it."""
        if self.action in FIRST:
            return -1
        return LAST.index(self.action) + 1 if self.action in LAST else 0


class KeyFooter(Widget):
    """One row of keys, none of them cut: F1 tells of those left out."""

    ALLOW_SELECT = False
    DEFAULT_CSS = """
    KeyFooter {
        dock: bottom;
        height: 1;
        color: $footer-description-foreground;
        background: $footer-background;
    }
    """
    keys: tuple[ShownKey, ...] = ()
    """Those that work now, whether they fit or not."""

    def on_mount(self) -> None:
        self.screen.bindings_updated_signal.subscribe(self, self._renew)

    def render(self) -> Content:
        return Content(" ").join(_content(key) for key in fitting(self.keys, self.size.width))

    def on_click(self, event: Click) -> None:
        start = 0
        for key in fitting(self.keys, self.size.width):
            if start <= event.x < start + key.cells:
                self.app.simulate_key(key.key)
            start += key.cells + 1

    def _renew(self, screen: Screen[object]) -> None:
        """Show what works now on the screen, an action once however many keys it has."""
        works = [active.binding for active in screen.active_bindings.values() if active.enabled and active.binding.show]
        first = {binding.action: binding for binding in reversed(works)}
        shown = (binding for binding in works if first[binding.action] is binding)
        keys = tuple(
            ShownKey(each.key, self.app.get_key_display(each), each.description, each.action) for each in shown
        )
        if keys != self.keys:
            self.keys = keys
            self.refresh()


def fitting(keys: Iterable[ShownKey], width: int) -> list[ShownKey]:
    """Of these keys, in their order, those that fit side by side, one cell apart; the most useful find room first."""
    every = list(keys)
    kept: list[ShownKey] = []
    for key in sorted(every, key=lambda each: each.rank):
        if sum(each.cells + 1 for each in (*kept, key)) - 1 <= width:
            kept.append(key)
    return [key for key in every if key in kept]


def _content(key: ShownKey) -> Content:
    return Content.assemble((key.shown, "bold $footer-key-foreground"), f" {key.does}")
