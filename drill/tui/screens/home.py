"""Home: where the learner stands, a preview of today's drill, and the way to every other screen."""

from __future__ import annotations

from collections.abc import Iterator

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from drill.errors import FretsureError
from drill.present.figures import how_many
from drill.tui.commands import Command, bindings, find, of_screen
from drill.tui.screens.base import BaseScreen
from drill.tui.verdict_text import LEGEND
from drill.tui.views import HomeView
from drill.tui.widgets.choices import Choices
from drill.tui.widgets.key_table import KeyTable
from drill.tui.widgets.spot_picker import StrengthMap


class HomeScreen(BaseScreen):
    """The first screen."""

    where = "home"
    BINDINGS = bindings("home")
    AUTO_FOCUS = "#ways"
    DEFAULT_CSS = """
    #page { padding: 0; }
    #neck { margin-top: 1; }
    #legend { margin-bottom: 1; }
    #growth { padding: 0 1; }
    #notices { color: $text-warning; padding: 0 1; }
    #ways { height: auto; max-height: 100%; background: $surface; scrollbar-gutter: auto; }
    #ways { text-wrap: nowrap; text-overflow: ellipsis; }
    HomeScreen.-low #neck { margin-top: 0; }
    HomeScreen.-low #legend, HomeScreen.-low #keys, HomeScreen.-low #growth { display: none; }
    HomeScreen.-flat #page { display: none; }
    HomeScreen.-low #ways { height: 1fr; min-height: 3; }
    HomeScreen.-low #page { height: auto; max-height: 8; }
    """

    def body(self) -> ComposeResult:
        with VerticalScroll(id="page", can_focus=False):
            yield StrengthMap(id="neck")
            yield Static(LEGEND, id="legend", markup=False)
            yield KeyTable(id="keys")
            yield Static(id="growth", markup=False)
            yield Static(id="notices", markup=False)
        options = (Option(self._way(command, ""), id=command.id) for command in ways())
        yield Choices(*options, id="ways")

    def on_screen_resume(self) -> None:
        self.refresh_view()

    def on_caught_up(self) -> None:
        self.refresh_view()

    def refresh_view(self) -> None:
        """Show where the learner stands now, or why that cannot be shown."""
        try:
            view = self.services.home()
        except FretsureError as error:
            self.query_one("#title", Static).update("fretsure")
            self._notice(f"{error} Fix it in Set-up or Decks.")
            return
        self.query_one("#title", Static).update(f"fretsure · {view.deck_title}")
        neck = self.query_one(StrengthMap)
        neck.neck, neck.look, neck.strengths = view.neck, self.look, view.strengths
        table = self.query_one(KeyTable)
        table.language, table.pairs = self.settings.note_language, view.pairs
        growth = self.query_one("#growth", Static)
        growth.update(view.growth)
        growth.display = bool(view.growth)
        self._notice("\n".join(view.notices))
        self.set_class(view.newcomer, "newcomer")
        ways_list = self.query_one("#ways", Choices)
        ways_list.replace_option_prompt("today", self._way(ways()[0], today_sentence(view)))

    def _notice(self, words: str) -> None:
        notices = self.query_one("#notices", Static)
        notices.update(words)
        notices.display = bool(words)  # an empty line would push a command off a low screen

    def _way(self, command: Command, sentence: str) -> Content:
        return Content.assemble(
            (f"{self.navigator.key_of(command)} ", "$primary bold"),
            (f"{command.title:<10}", "bold"),
            sentence or command.help,
        )

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self.call_later(self.run_action, find(event.option.id or "today").action)

    async def action_do_go(self) -> None:
        await self.run_action(find(self.query_one("#ways", Choices).chosen or "today").action)

    def on_strength_map_touched(self, event: StrengthMap.Touched) -> None:
        self.navigator.show_spot(event.spot)

    def on_key_table_touched(self, event: KeyTable.Touched) -> None:
        self.navigator.show_key(event.key)

    def action_do_today(self) -> None:
        self.navigator.start_drill()

    def action_do_focus(self) -> None:
        self.navigator.open("focus")

    def action_do_round(self) -> None:
        self.navigator.open("round")

    def action_do_look_up(self) -> None:
        self.navigator.open("look-up")

    def action_do_progress(self) -> None:
        self.navigator.open("progress")

    def action_do_decks(self) -> None:
        self.navigator.open("decks")

    def action_do_set_up(self) -> None:
        self.navigator.open("set-up")

    def action_do_key_press(self) -> None:
        self.navigator.open("key-press")


def ways() -> tuple[Command, ...]:
    """The commands that Home lists."""
    return tuple(command for command in of_screen("home") if command.id != "go")


def today_sentence(view: HomeView) -> str:
    """A preview of the next drill in words."""
    if view.newcomer:
        return f"Enter starts your first {_minutes(view.minutes)}. It begins with easy questions."
    counts = ", ".join(_counts(view))
    time = "a minute" if view.minutes == 1 else _minutes(view.minutes)
    return f"{counts}; about {how_many(view.answers, 'answer')} in {time}"


def _minutes(minutes: int) -> str:
    return "minute" if minutes == 1 else f"{minutes} minutes"


def _counts(view: HomeView) -> Iterator[str]:
    for count, word in ((view.fading, "fading"), (view.slow, "slow"), (view.fresh, "fresh")):
        if count:
            yield f"{count} {word}"
    if not (view.fading or view.slow or view.fresh):
        yield "nothing is fading"
