"""What a choice would drill, beside the list that it stands in: on the neck, by kind, and its questions."""

from __future__ import annotations

from collections.abc import Iterator

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Static

from drill.decks.preview import Preview
from drill.present.figures import how_many
from drill.present.neck_drawing import Look, draw
from drill.present.voice import Voice
from drill.theory.neck import Neck
from drill.tui.widgets.neck_view import NeckView, grown_pitch

BESIDE_FROM = 110
"""Columns of a window in which there is room beside a list."""
HEADS = 5
"""Rows of the two headings, of the empty lines above them, and of the fret numbers."""
WORDS = 8
"""Rows of questions that the neck leaves room for before it grows."""


class FocusPreview(Vertical):
    """Fills the room beside a list; `put` shows another drill."""

    DEFAULT_CSS = """
    FocusPreview { width: 3fr; height: 1fr; padding: 1 1 0 2; }
    FocusPreview Static { text-wrap: nowrap; text-overflow: ellipsis; }
    """

    def __init__(self, neck: Neck, look: Look, voice: Voice) -> None:
        super().__init__(id="preview")
        self._neck, self._look, self._voice = neck, look, voice
        self._shown: Preview | None = None

    def compose(self) -> ComposeResult:
        yield NeckView()
        yield Static(markup=False)

    def put(self, preview: Preview) -> None:
        """Show what a drill would ask."""
        self._shown = preview
        self._draw()

    def on_resize(self) -> None:
        self._draw()

    def _draw(self) -> None:
        shown = self._shown
        if shown is None or not self.size.width:
            return
        pitch = grown_pitch(self.size, HEADS + WORDS + len(shown.kinds))
        neck, look = self._neck, self._look
        view = self.query_one(NeckView)
        view.painter = lambda width: draw(neck, shown.picture, look, width=width, pitch=pitch)
        rows = self.size.height - len(view.drawing(self.size.width)) - len(shown.kinds) - HEADS
        self.query_one(Static).update(Content("\n").join(self._lines(shown, max(rows, 0))))

    def _lines(self, shown: Preview, rows: int) -> Iterator[Content]:
        """The kinds of question, then as many questions as fit."""
        yield Content.styled("\nWhat it asks", "$primary bold")
        yield from (Content(f"{title}: {how_many(cards, 'card')}") for title, cards in shown.kinds)
        if rows:
            yield Content.styled("\nIts questions", "$primary bold")
            yield from (Content(self._voice.say(prompt)) for prompt in shown.prompts[:rows])
