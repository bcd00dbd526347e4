"""The names of a screen's pages on one line, with the current one marked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from textual.content import Content
from textual.events import Click
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget


class PageBar(Widget):
    """Shows `pages` with the one at `current` in brackets; where they do not fit, only that one and its number.

    A click turns to the page under it, or to the next where the others are not shown. With `back`, the way back stands
    before them; with `help`, the way to the keys at the end of the line.
    """

    current = reactive(0)
    back = reactive("")
    help = reactive("")

    class Left(Message):
        """The learner clicked on the way back."""

    class Turned(Message):
        """The learner clicked on a page."""

        def __init__(self, page: int) -> None:
            super().__init__()
            self.page = page

    def __init__(self, pages: Sequence[str], *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.pages = tuple(pages)

    def render(self) -> Content:
        if self._is_short:
            end = self._help_shown.rjust(self.size.width - len(self._before) - len(self._place))
            return Content.assemble(self._before, (self._place[: self.size.width] + end, "$primary bold"))
        return Content("").join((Content(self._before), *self._names()))

    @property
    def _before(self) -> str:
        return f"{self.back} " if self.back else ""

    @property
    def _place(self) -> str:
        return f"[{self.pages[self.current]}] {self.current + 1} of {len(self.pages)}"

    @property
    def _help_shown(self) -> str:
        """The way to the keys where the line is short and has room for it."""
        taken = len(self._before) + len(self._place) + len(self.help)
        return self.help if self._is_short and taken < self.size.width else ""

    @property
    def _is_short(self) -> bool:
        return len(self._before) + sum(len(page) + 2 for page in self.pages) > self.size.width

    def _names(self) -> Iterator[Content]:
        for at, page in enumerate(self.pages):
            if at == self.current:
                yield Content.styled(f"[{page}]", "$primary bold")
            else:
                yield Content.styled(f" {page} ", "$foreground not bold")

    def on_click(self, event: Click) -> None:
        right = len(self._before)
        if event.x < right:
            self.post_message(self.Left())
            return
        if self._help_shown and event.x >= self.size.width - len(self._help_shown):
            self.call_later(self.app.run_action, "do_help")
            return
        if self._is_short:
            self.post_message(self.Turned((self.current + 1) % len(self.pages)))
            return
        for at, page in enumerate(self.pages):
            right += len(page) + 2
            if event.x < right:
                self.post_message(self.Turned(at))
                return
