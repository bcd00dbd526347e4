"""Where to begin: at most three plain questions at the first start, each answered by yes or no."""

from __future__ import annotations

from collections.abc import Iterator

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from drill.errors import FretsureError
from drill.present.placement import QUESTIONS, place_of
from drill.tui.commands import bindings, find
from drill.tui.screens.base import BaseScreen
from drill.tui.screens.letters import LettersScreen
from drill.tui.widgets.choices import Choices

SKIP = "[@click=screen.do_skip_questions]$key: your first answers decide.[/]"


class PlacementScreen(BaseScreen):
    """Asks one question after the other until it is clear where to begin; then leads on to the first drill."""

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
            yield Choices(*self._options(), id="answers")
        yield Static(self._skip(), id="hint", markup=False)

    def _skip(self) -> Content:
        """How to leave the questions out, by a key or by a click on it."""
        return Content.from_markup(SKIP, key=self.key_of("skip-questions"))

    def _options(self) -> Iterator[Option]:
        for name in ("yes", "no"):
            yield Option(f"{self.key_of(name)}  {find(name).title}", id=name)

    def on_mount(self) -> None:
        self._ask()

    def on_screen_resume(self) -> None:
        """Ask anew, if the learner comes back from what their answers led to."""
        if self.answers and self.app.screen is self:  # and not on the way to the first drill
            self.answers.clear()
            self._decide("undecided")
            self._ask()

    def action_do_skip_questions(self) -> None:
        self.navigator.go_home()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self._answer(event.option.id == "yes")

    def action_do_yes(self) -> None:
        self._answer(True)

    def action_do_no(self) -> None:
        self._answer(False)

    def action_do_pick(self) -> None:
        self._answer(self.query_one(Choices).chosen != "no")

    def _ask(self) -> None:
        number = len(self.answers)  # how many come depends on the answers
        asked = Content.assemble((f"{number + 1}", "$primary"), f"  {QUESTIONS[number]}")
        self.query_one("#wanted", Static).update(asked)
        self.query_one(Choices).highlighted = 0

    def _answer(self, yes: bool) -> None:
        self.answers.append(yes)
        place = place_of(self.answers)
        if place is None:
            self._ask()
            return
        self._decide(place)
        if place == "notes":
            self.app.push_screen(LettersScreen(first=True))  # what is asked has to be taught before
        else:
            self.navigator.open("ready")

    def _decide(self, start: str) -> None:
        """Save where to begin."""
        try:
            self.services.change("start", start)
        except FretsureError as error:
            self.navigator.report(error)
