"""The full-screen program: which screen follows which, and a clean exit whatever happens.

FretsureApp   the program over an environment, settings and an open record; no rule of theory or memory is in it
run_app       runs it until the learner leaves
"""

from __future__ import annotations

import asyncio
import shutil
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from textual import events
from textual.app import App
from textual.binding import Binding
from textual.css.query import NoMatches
from textual.filter import LineFilter
from textual.geometry import Size

from drill.decks import Focus
from drill.errors import FretsureError
from drill.practice.learner_store import BEHIND, LearnerStore
from drill.practice.request import DrillRequest
from drill.record import Record
from drill.settings import Settings
from drill.system import garbage
from drill.system.environment import Environment
from drill.system.signals import INTERRUPTED, exit_on_signal
from drill.tui.commands import Command, bindings, find
from drill.tui.escape_filter import EscapeFilter
from drill.tui.escape_key import tell_escape_apart
from drill.tui.palette import CommandProvider
from drill.tui.pointer import DragAwareApp
from drill.tui.screens import page
from drill.tui.screens.base import BaseScreen
from drill.tui.services import Services
from drill.tui.themes import THEMES, refuse_unknown_colour_system

if TYPE_CHECKING:
    from drill.decks import Deck
    from drill.lookup.charts import Chart
    from drill.present.summaries import Summary
    from drill.theory.keys import Key
    from drill.theory.neck import Spot
    from drill.tui.keymap import Keymap
    from drill.tui.navigator import Navigator

SIZE_CHECK_S = 1.0
DRILLING = ("drill", "pause")
"""The screens of a drill that is not over."""
BETWEEN_SLICES_S = 0.05
"""Pause between two slices of a long record, in which keys and repaints are handled."""


class FretsureApp(DragAwareApp):
    """The program. With a `request` it starts with that drill instead of Home, with `first` on the screen it makes."""

    TITLE = "fretsure"
    BINDINGS = bindings()
    COMMANDS = {CommandProvider}  # noqa: RUF012
    HORIZONTAL_BREAKPOINTS = [(0, "-slim"), (60, "-middling"), (79, "-broad")]  # noqa: RUF012
    VERTICAL_BREAKPOINTS = [(0, "-flat"), (11, "-low"), (20, "-tall")]  # noqa: RUF012

    def __init__(
        self,
        environment: Environment,
        settings: Settings,
        record: Record,
        store: LearnerStore | None = None,
        request: DrillRequest | None = None,
        first: Callable[[], BaseScreen] | None = None,
    ) -> None:
        # Under NO_COLOR Textual would paint its own greys; in ANSI mode it uses only the terminal's two colours.
        super().__init__(ansi_color=True if "NO_COLOR" in environment.variables else None)
        self.environment = environment
        wanted = request or DrillRequest()
        self.services = Services(environment, settings, record, wanted.deck, wanted.minutes, store)
        self.services.listen = wanted.listen
        self._focus, self._begin = wanted.focus or Focus(), request is not None
        self._narrow = False
        """Whether the learner wants the focus as it is, however few its cards."""
        self._deck: Deck | None = None
        """The deck of the drill where it is not the daily one."""
        self._first = first
        self._refused: FretsureError | None = None
        self.left_with: int | None = None
        """The exit code the program was left with; None while it runs."""
        self._resized = False
        self._guard = EscapeFilter()
        self._keys = _keymap(settings, environment)
        for theme in THEMES:
            self.register_theme(theme)
        # Setting `self.theme` would make Textual read every style sheet a second time; none has been read yet.
        self.set_reactive(App.theme, settings.colours)
        self._refresh_truecolor_filter(self.ansi_theme)  # the terminal's own colours go through as they are
        self.stylesheet.set_variables(self.get_css_variables())

    def get_line_filters(self) -> Sequence[LineFilter]:
        return (*super().get_line_filters(), self._guard)

    def on_mount(self) -> None:
        self.set_keymap(self._keys)
        if not self.is_headless:
            tell_escape_apart(self._keys.values())
            self.set_interval(SIZE_CHECK_S, self._match_window)
        self._catch_up()
        if self._refused is not None:
            self.report(self._refused)
        elif not self._begin and not self._first and self.services.at_first_start:
            self.open("welcome")

    def _catch_up(self) -> None:
        """Read the next slice of a long record, between the learner's key presses."""
        was_behind = self.services.behind
        self.services.catch_up()
        if was_behind and not self.services.behind and isinstance(self.screen, BaseScreen):
            self.screen.refresh_view()
        self.set_timer(BETWEEN_SLICES_S if self.services.behind else SIZE_CHECK_S, self._catch_up)

    def on_ready(self) -> None:
        """The start is over."""
        if not self.is_headless:
            garbage.resume()

    def rebound(self, command: Command, where: str = "") -> Command:
        """The command with the key that the learner gave it, as a screen shows it."""
        own = command._replace(key=self._keys.get(command.id, command.key))
        return own.typed_nowhere(where or getattr(self.screen, "where", ""))

    def get_key_display(self, binding: Binding) -> str:
        """The key of a command in the footer, as it is shown everywhere else."""
        return self.rebound(find(binding.id)).key_shown if binding.id else super().get_key_display(binding)

    # -- from screen to screen -----------------------------------------------------------------------------------------

    def get_default_screen(self) -> BaseScreen:
        """The first screen: the one or the drill that was asked for, or Home."""
        if self._first is not None:
            return self._first()
        if self._begin:
            try:
                return self._drill_screen()
            except FretsureError as error:
                self._refused = error
        return self._home_screen()

    def open(self, name: str) -> None:
        """Open a screen by its name over the current one, or say why it cannot be shown."""
        with self._reporting():
            self.push_screen(page(name).at(self.services))
            if name == "progress":
                self._say_if_behind()

    def _say_if_behind(self) -> None:
        if self.services.behind:
            self.notify(BEHIND, severity="warning", markup=False)

    @property
    def is_drilling(self) -> bool:
        """Whether a drill that is not over is on the screen or waits below."""
        return any(isinstance(screen, BaseScreen) and screen.unfinished for screen in self.screen_stack)

    def show_spot(self, spot: Spot) -> None:
        """Show the progress of one spot."""
        from drill.tui.screens.progress import ProgressScreen

        with self._reporting():
            self.push_screen(ProgressScreen(self.services.progress(), spot))
            self._say_if_behind()

    def show_key(self, key: Key) -> None:
        """Look a key up."""
        from drill.tui.screens.look_up import LookUpScreen

        self.push_screen(LookUpScreen(key))

    def show_setting(self, name: str) -> None:
        """Open Set-up at a setting."""
        from drill.tui.screens.set_up import SetUpScreen

        self.push_screen(SetUpScreen(name))

    def choose_deck(self, name: str) -> None:
        """Use a deck for the daily drill, and say so."""
        with self._reporting():
            self.services.change("deck", name)
            self.notify(f"Your daily drill is now “{self.services.deck.title}”.", markup=False)
            if isinstance(self.screen, BaseScreen) and self.screen.where == "home":
                self.screen.refresh_view()

    def start_round(self, keys: Sequence[Key] = ()) -> None:
        """Open a round of these keys; without any, of the deck's, the weakest first."""
        from drill.tui.screens.round import RoundScreen

        self.push_screen(RoundScreen(keys))

    def play_loop(self, loop: Chart) -> None:
        """Play a loop, with the shapes of its key beside it; or say why it cannot be played."""
        from drill.lookup.loops import LoopView
        from drill.tui.screens.play import PlayScreen

        settings = self.services.settings
        with self._reporting():
            self.push_screen(PlayScreen.of(LoopView.of(loop, settings.neck), settings))

    def leave_page(self) -> None:
        """Return to the screen below; leave the program where there is none."""
        if self._at_first:
            self.leave()
        else:
            self.pop_screen()

    def go_home(self) -> None:
        """Close every other screen and show Home, which does not exist yet when a drill came first."""
        self._leave_pages()
        if not self._at_home:
            self.push_screen(self._home_screen())

    def start_drill(self, focus: Focus | None = None, deck: Deck | None = None, *, narrow: bool = False) -> None:
        """Start a drill, or say why it cannot start; a focus of few cards is offered wider first, unless `narrow`."""
        again = focus == self._focus and deck is None
        self._narrow, self._focus = narrow or (again and self._narrow), focus or Focus()
        self._deck = self._deck if again else deck
        with self._reporting():
            screen = self._drill_screen()
            if screen.where == "drill":
                self._leave_pages()
            self.push_screen(screen)

    def after_drill(self, summary: Summary) -> None:
        """Replace the drill by its summary."""
        from drill.tui.screens.after import AfterScreen

        after = AfterScreen(summary, self._focus)
        if self._at_first:
            self.push_screen(after)
        else:
            self.switch_screen(after)

    def drill_weakest(self) -> None:
        """Start a drill on whatever is weakest now, or say why it cannot start."""
        with self._reporting():
            self.start_drill(self.services.progress().weakest.focus)

    def _drill_screen(self) -> BaseScreen:
        """The drill, or for a focus of few cards the choice of a wider one."""
        from drill.tui.screens.drilling import drill_screen

        if not (self._narrow or self._deck) and self.services.is_narrow(self._focus):
            offers, cards = self.services.widenings(self._focus), self.services.count(self._focus)
            if offers or cards:
                from drill.tui.screens.widen import WidenScreen

                return WidenScreen(self._focus, cards, offers)
        return drill_screen(self.services, self._focus, self._deck)

    def _home_screen(self) -> BaseScreen:
        from drill.tui.screens.home import HomeScreen

        return HomeScreen()

    @property
    def _at_home(self) -> bool:
        return isinstance(self.screen, BaseScreen) and self.screen.where == "home"

    @property
    def _at_first(self) -> bool:
        """Whether this is the first screen, which Textual keeps below all others to the end."""
        return len(self.screen_stack) == 1

    def _leave_pages(self) -> None:
        while not self._at_first and not self._at_home:
            self.pop_screen()

    def report(self, error: FretsureError) -> None:
        """Show what went wrong and how to fix it, in a corner of the screen."""
        self.notify(error.fix or " ", title=error.message, severity="warning", timeout=12, markup=False)

    @contextmanager
    def _reporting(self) -> Iterator[None]:
        """Report an error to the learner, who stays on this screen."""
        try:
            yield
        except FretsureError as error:
            self.report(error)

    # -- commands that work everywhere ---------------------------------------------------------------------------------

    def action_do_help(self) -> None:
        if isinstance(self.screen, BaseScreen) and self.screen.where == "help":
            self.screen.action_do_back()
        else:
            self.open("help")

    def action_do_colours(self) -> None:
        names = [theme.name for theme in THEMES]
        self.theme = names[(names.index(self.theme) + 1) % len(names)]
        with self._reporting():
            self.services.change("colours", self.theme)

    def action_do_suspend(self) -> None:
        if isinstance(self.screen, BaseScreen):
            self.screen.pause("The program was suspended.")
        self.action_suspend_process()

    def action_do_quit(self) -> None:
        self.leave()

    def action_help_quit(self) -> None:
        """Ctrl+C with nothing selected: a drill pauses and offers its end; without one, the program ends.

        What lies over a drill is closed first, so that the learner sees what would end.
        """
        closed = self._close_above_the_drill()
        held_back = isinstance(self.screen, BaseScreen) and self.screen.holds_back()
        if not (closed or held_back):
            self.leave(INTERRUPTED)

    def _close_above_the_drill(self) -> bool:
        """Close what lies over a drill or its pause; says whether anything did."""
        before = len(self.screen_stack)
        while self.is_drilling and getattr(self.screen, "where", "") not in DRILLING:
            self.pop_screen()
        return len(self.screen_stack) < before

    # -- leaving -------------------------------------------------------------------------------------------------------

    def on_app_blur(self) -> None:
        """Pause a drill while another window has the keyboard."""
        if isinstance(self.screen, BaseScreen):
            self.screen.pause("Another window has the focus.")

    def on_resize(self) -> None:
        self._resized = True

    def _match_window(self) -> None:
        """Correct the size: after several quick changes Textual may keep an older one, or leave a part unpainted."""
        size = Size(*shutil.get_terminal_size())
        if size != self.size:
            self.post_message(events.Resize(size, size))
        elif self._resized:
            self._resized = False
            self.screen.refresh()

    def _fatal_error(self) -> None:
        """Show no traceback on the learner's screen; `run_app` raises the error."""
        self.bell()
        self._close_messages_no_wait()

    def leave(self, code: int = 0) -> None:
        """End the program in order; `code` becomes its exit code."""
        self.left_with = code
        self.exit(return_code=code)

    async def run_async(self, **options: Any) -> None:
        """Run; a signal to stop ends the program in order, so that the terminal returns to its former state."""
        loop = asyncio.get_running_loop()
        with exit_on_signal(lambda: loop.call_soon_threadsafe(self.leave, INTERRUPTED)):
            await super().run_async(**options)


if TYPE_CHECKING:
    _NAVIGATOR: type[Navigator] = FretsureApp
    """Screens take the app for one without knowing its class; this line has the type checker prove it."""


def _keymap(settings: Settings, environment: Environment) -> Keymap:
    """The learner's own keys. Raises BadFile."""
    if not settings.keys:
        return {}
    from drill.tui.keymap import read_keymap

    return read_keymap(settings.keys, str(environment.config_path))


def run_app(
    environment: Environment,
    settings: Settings,
    record: Record,
    store: LearnerStore,
    request: DrillRequest | None,
    first: Callable[[], BaseScreen] | None = None,
) -> None:
    """Run the full-screen program until the learner leaves; with a `request` straight into that drill.

    With `first` it begins on the screen that this makes.

    Raises, once the terminal is restored, KeyboardInterrupt after a signal or Ctrl+C, or the error that ended it.
    """
    refuse_unknown_colour_system(environment.variables)
    app = FretsureApp(environment, settings, record, store, request, first)
    app.run()
    error = app._exception
    # When the program is left while a screen is being built, the screen fails to find its widgets: no fault of ours.
    if error is not None and not (app.left_with is not None and isinstance(error, NoMatches)):
        raise error
    if app.left_with == INTERRUPTED:
        raise KeyboardInterrupt
