"""The footer: the keys that work now, as many as fit whole."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.events import Resize
from textual.widgets import Footer
from textual.widgets._footer import FooterKey

FIRST, LAST = ("do_help",), ("do_hear_again", "do_pause", "do_quit")
"""Actions whose keys a narrow footer keeps longest, for they lead to all others, and those that can be done without;
the rest comes between, from the left."""


class FittingFooter(Footer):
    """A footer without keys that are cut at its edge: F1 tells of those it leaves out."""

    _width = 0

    def compose(self) -> ComposeResult:
        self._width = self.size.width or self.screen.size.width
        yield from fitting([key for key in super().compose() if isinstance(key, FooterKey)], self._width)

    def on_resize(self, event: Resize) -> None:
        """Choose anew where the window became wider or narrower."""
        if event.size.width != self._width:
            self.call_after_refresh(self.recompose)


def fitting(keys: list[FooterKey], width: int) -> list[FooterKey]:
    """Of these keys, in their order, those that fit side by side, one cell apart; the most useful find room first."""
    kept: list[FooterKey] = []
    for key in sorted(keys, key=_rank):
        if sum(_cells(each) + 1 for each in (*kept, key)) - 1 <= width:
            kept.append(key)
    return [key for key in keys if key in kept]


def _rank(key: FooterKey) -> int:
    if key.action in FIRST:
        return -1
    return LAST.index(key.action) + 1 if key.action in LAST else 0


def _cells(key: FooterKey) -> int:
    return len(key.key_display) + 1 + len(key.description)
