"""Where to begin: three plain questions at the first start, each answered by yes or no."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from drill.errors import FretsureError
from drill.present.placement import BEGINS, QUESTIONS, place_of
from drill.tui.commands import bindings
from drill.tui.screens.base import BaseScreen
from drill.tui.widgets.choices import Choices

SKIP = "Esc lets your first answers decide."
ROOM_FOR_A_NOTE = 20
"""Rows of a window in which a note in a corner covers no question."""


class PlacementScreen(BaseScreen):
    """Asks one question after the other until it is clear where to begin; then the first drill starts."""

    where = "placement"
    caption = "Where to begin"
    BINDINGS = bindings("placement")
    AUTO_FOCUS = "#answers"
    DEFAULT_CSS = """
    #wanted { padding: 1 1; text-style: bold; }
    PlacementScreen.-tall #page { align-vertical: middle; }
    #answers { height: 2; }
    #hint { min-height: 1; }
    PlacementScreen.-low #wanted { padding: 0 1; }
    """

    def __init__(self) -> None:
        super().__init__()
        self.answers: list[bool] = []

    def body(self) -> ComposeResult:
        with VerticalScroll(id="page", can_focus=False):
            yield Static(id="wanted", markup=False)
            yield Choices(Option("y  Yes", id="yes"), Option("n  No", id="no"), id="answers")
        yield Static(SKIP, id="hint", markup=False)

    def on_mount(self) -> None:
        self._ask()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self._answer(event.option.id == "yes")

    def action_do_yes(self) -> None:
        self._answer(True)

    def action_do_no(self) -> None:
        self._answer(False)

    def action_do_pick(self) -> None:
        self._answer(self.query_one(Choices).chosen != "no")

    def _ask(self) -> None:
        number = len(self.answers)
        count = f"{number + 1} of {len(QUESTIONS)}"
        self.query_one("#wanted", Static).update(Content.assemble((count, "$primary"), f"  {QUESTIONS[number]}"))
        self.query_one(Choices).highlighted = 0

    def _answer(self, yes: bool) -> None:
        self.answers.append(yes)
        place = place_of(self.answers)
        if place is None:
            self._ask()
            return
        try:
            self.services.change("start", place)
        except FretsureError as error:
            self.navigator.report(error)
        if self.size.height >= ROOM_FOR_A_NOTE:
            self.app.notify(BEGINS[place], markup=False)
        self.navigator.start_drill()
