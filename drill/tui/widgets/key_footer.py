"""The footer: the keys that work now, as many as fit whole; a click on one presses it.

The library's own makes a widget of each key, anew whenever what works changes; a start and a verdict would wait.
"""

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, NamedTuple, cast

from textual.content import Content
from textual.events import Click
from textual.screen import Screen
from textual.widget import Widget

from drill.tui.commands import find

if TYPE_CHECKING:
    from drill.tui.navigator import Navigator

FIRST, LAST = ("do_help",), ("do_hear_again", "do_pause", "do_quit")
"""Actions whose keys a narrow footer keeps longest, for they lead to all others, and those that can be done without;
the rest comes between, from the left."""
BARE = ("do_help", "submit", "go_on")
"""Actions whose keys say enough by themselves: a narrow footer leaves their words out if one more key fits then."""
MORE = "More"
"""What the footer calls the key for the rest of what is longer than its place."""


class ShownKey(NamedTuple):
    """A key that works now, as it is shown: 'F1 Help'."""

    key: str
    shown: str
    does: str
    action: str

    @property
    def cells(self) -> int:
        """How many cells of the row it takes."""
        return len(self.words)

    @property
    def bare(self) -> "ShownKey":
        """The key without its word, if it needs none."""
        return self._replace(does="") if self.action in BARE else self

    @property
    def words(self) -> str:
        """The key and what it does, as they stand in the footer."""
        return f"{self.shown} {self.does}".rstrip()

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
        keys = (*keys[:1], *self._for_the_rest(), *keys[1:])
        if keys != self.keys:
            self.keys = keys
            self.refresh()

    def _for_the_rest(self) -> Iterator[ShownKey]:
        """The key that moves the page, where something is longer than its place."""
        if self.screen.query(".long"):
            command = cast("Navigator", self.app).rebound(find("scroll-down"))
            yield ShownKey(command.key.split(",")[0], command.key_shown, MORE, command.action)


def fitting(keys: Iterable[ShownKey], width: int) -> list[ShownKey]:
    """Of these keys, in their order, those that fit side by side, one cell apart; the most useful find room first."""
    every = list(keys)
    whole, bare = _kept(every, width), _kept([key.bare for key in every], width)
    return bare if _useful(bare) > _useful(whole) else whole


def _useful(keys: list[ShownKey]) -> int:
    return sum(key.action != LAST[-1] for key in keys)


def _kept(keys: list[ShownKey], width: int) -> list[ShownKey]:
    kept: list[ShownKey] = []
    for key in sorted(keys, key=lambda each: each.rank):
        if sum(each.cells + 1 for each in (*kept, key)) - 1 <= width:
            kept.append(key)
    return [key for key in keys if key in kept]


def _content(key: ShownKey) -> Content:
    return Content.assemble((key.shown, "bold $footer-key-foreground"), key.words.removeprefix(key.shown))
