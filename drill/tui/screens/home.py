"""Home: what today brings and what has grown, the neck, the keys, and the ways on."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Static

from drill.errors import FretsureError
from drill.present.neck_drawing import SURE, band
from drill.present.summaries import standing_sentence
from drill.system.text import visible
from drill.tui.commands import Command, bindings, of_screen
from drill.tui.screens.base import BaseScreen
from drill.tui.views import HomeView
from drill.tui.widgets.big_words import BigWords
from drill.tui.widgets.key_table import TELLING, KeyTable
from drill.tui.widgets.neck_view import COLUMNS_PER_PITCH
from drill.tui.widgets.spot_picker import StrengthMap
from drill.tui.widgets.ways import Ways, told

LEGEND = f"{SURE}  · not asked"
OF_KEYS = "Below, how surely all that a key takes comes within one bar:"
LEGEND_IN_PART = f"{LEGEND}  1/4 one of four measured"
"""The same where some keys have been asked about in part."""
ROOM_FOR_LETTERS, ROOM_FOR_LARGE_LETTERS = 30, 44
"""Rows of a window from which today's keys stand in block letters, and in letters twice as large."""
ROOM_FOR_PITCH = ((56, 5), (48, 4), (40, 3), (32, 2))
"""Rows of a window from which strings lie so many rows apart."""
LOW = 20
"""A window of fewer rows shows only two strings."""


class HomeScreen(BaseScreen):
    """The first screen."""

    where = "home"
    BINDINGS = bindings("home")
    AUTO_FOCUS = "#ways"
    _homework_deck = ""
    DEFAULT_CSS = """
    #page { padding: 0; }
    #letters { margin-top: 1; }
    #today { padding: 1 1 0 1; text-style: bold; }
    #growth, #next, #homework { padding: 0 1; }
    #next { display: none; }
    #neck { margin-top: 1; }
    #legend, #of-keys { text-wrap: nowrap; text-overflow: ellipsis; }
    #of-keys { text-align: center; color: $neck-quiet; }
    #notices { color: $text-warning; padding: 0 1; }
    #grid { height: auto; max-height: 100%; background: $surface; scrollbar-size-vertical: 1; }
    #told { height: 1; padding: 0 1; background: $surface; color: $neck-quiet; }
    #told { text-wrap: nowrap; text-overflow: ellipsis; }
    HomeScreen.-broad #today, HomeScreen.-broad #growth, HomeScreen.-broad #next { text-align: center; }
    HomeScreen.-broad #homework { text-align: center; }
    HomeScreen.-low #today, HomeScreen.-tight #today { padding: 0 1; }
    HomeScreen.-low #neck, HomeScreen.-tight #neck { margin-top: 0; }
    #of-keys.-none, HomeScreen.-tight #of-keys, HomeScreen.-low #of-keys, HomeScreen.-slim #of-keys { display: none; }
    HomeScreen.-slim #told { height: auto; text-wrap: wrap; }
    HomeScreen.-low #legend, HomeScreen.-low #keys, HomeScreen.-slim #legend { display: none; }
    HomeScreen.-flat #page, HomeScreen.-flat #told { display: none; }
    """

    def body(self) -> ComposeResult:
        with VerticalScroll(id="page", can_focus=False):
            yield BigWords(id="letters")
            yield Static(id="today", markup=False)
            yield Static(id="growth", markup=False)
            yield Static(id="next", markup=False)
            yield Static(id="homework", markup=False)
            yield StrengthMap(id="neck")
            yield Static(LEGEND, id="legend", markup=False)
            yield Static(OF_KEYS, id="of-keys", markup=False)
            yield KeyTable(id="keys")
            yield Static(id="notices", markup=False)
        with VerticalScroll(id="grid", can_focus=False):
            yield Ways([self.navigator.rebound(way) for way in ways()], id="ways")
        yield Static(id="told", markup=False)

    def on_screen_resume(self) -> None:
        self.refresh_view()

    def on_resize(self) -> None:
        """Use the height there is."""
        width, height = self.size
        letters = self.query_one(BigWords)
        letters.display = height >= ROOM_FOR_LETTERS and bool(letters.words)
        letters.scale = 2 if height >= ROOM_FOR_LARGE_LETTERS else 1
        neck = self.query_one(StrengthMap)
        pitch = next((pitch for rows, pitch in ROOM_FOR_PITCH if height >= rows), 1)
        neck.pitch = max(1, min(pitch, width // COLUMNS_PER_PITCH))
        neck.strings = _lowest_asked(neck) if height < LOW else ()
        self.remove_class("-tight")
        self._tell()
        self.call_after_refresh(self._make_room)

    def _make_room(self) -> None:
        """Give up the empty rows above the neck where long sentences would push the keys out of sight."""
        page = self.query_one("#page")
        self.set_class(page.virtual_size.height > page.size.height, "-tight")

    def refresh_view(self) -> None:
        """Show where the learner stands now, or why that cannot be shown."""
        try:
            view = self.services.home()
        except FretsureError as error:
            self.query_one("#title", Static).update("fretsure")
            self._notice(f"{error} Fix it in Set-up or Decks.")
            return
        lead = f"Capo at fret {view.neck.capo}" if view.neck.capo else "fretsure"
        self.query_one("#title", Static).update(f"{lead} · {view.deck_title}")
        self.query_one("#today", Static).update(view.today)
        self.show_or_hide("growth", view.growth)
        self._show_neck(view)
        table = self.query_one(KeyTable)
        table.language, table.pairs = self.settings.note_language, view.pairs
        self.query_one("#of-keys").set_class(not view.pairs, "-none")
        in_part = any(pair.minor_part or pair.major_part for pair in view.pairs)
        self.query_one("#legend", Static).update(LEGEND_IN_PART if in_part else LEGEND)
        self.query_one(BigWords).words = view.letters
        self._show_homework(view)
        self.on_resize()
        self.call_after_refresh(self._propose, view.nothing_ahead)  # the next deck is laid out for it: Home comes first
        self._notice("\n".join(view.notices))
        self._tell()

    def _show_neck(self, view: HomeView) -> None:
        """Draw every strength as a block, and only those on the way to strong with a figure."""
        neck = self.query_one(StrengthMap)
        neck.figures = {
            spot: ""
            for spot, strength in view.strengths.items()
            if strength is not None and (band(strength) == "strong" or strength < TELLING)
        }
        neck.neck, neck.look, neck.strengths = view.neck, self.look, view.strengths

    def _show_homework(self, view: HomeView) -> None:
        """Say what is set, and offer to drill it; the cursor stays where it is."""
        self.show_or_hide("homework", "\n".join(map(visible, view.homework)))
        offered = [self.navigator.rebound(way) for way in ways(homework=bool(view.homework_deck))]
        self.query_one(Ways).offer(offered)
        self._homework_deck = view.homework_deck

    def _propose(self, nothing_ahead: bool) -> None:
        """Keep proposing what comes next for as long as it stands."""
        if not self.is_attached:  # it was left meanwhile
            return
        step = self.services.next_step(nothing_ahead)
        self.show_or_hide("next", standing_sentence(step, self.key_of("set-up")) if step else "")
        self.call_after_refresh(self._make_room)

    def _notice(self, words: str) -> None:
        self.show_or_hide("notices", words)

    # -- the ways on ---------------------------------------------------------------------------------------------------

    def _tell(self) -> None:
        """Say what Enter does now."""
        chosen = self.query_one(Ways).chosen
        self.query_one("#told", Static).update(told(chosen, narrow=self.has_class("-slim")))

    def on_ways_moved(self) -> None:
        self._tell()

    def on_ways_opened(self, event: Ways.Opened) -> None:
        self.call_later(self.run_action, event.command.action)

    async def action_do_go(self) -> None:
        await self.run_action(self.query_one(Ways).chosen.action)

    def on_strength_map_touched(self, event: StrengthMap.Touched) -> None:
        self.navigator.show_spot(event.spot)

    def on_key_table_touched(self, event: KeyTable.Touched) -> None:
        self.navigator.show_key(event.key)

    def action_do_today(self) -> None:
        self.navigator.start_drill()

    def action_do_homework(self) -> None:
        try:
            deck = self.services.find_deck(self._homework_deck)
        except FretsureError as error:
            self.navigator.report(error)
        else:
            self.navigator.start_drill(deck=deck)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Drill homework only where some is set."""
        works = action != "do_homework" or bool(self._homework_deck)
        return works and super().check_action(action, parameters)

    def action_do_focus(self) -> None:
        self.navigator.open("focus")

    def action_do_round(self) -> None:
        self.navigator.open("round")

    def action_do_loop(self) -> None:
        """Play over a loop in the weakest key of the deck."""
        from drill.lookup.charts import Chart
        from drill.lookup.practice_loop import practice_loop

        try:
            key = self.services.round_keys()[0]
        except FretsureError as error:
            self.navigator.report(error)
        else:
            self.navigator.play_loop(Chart(practice_loop(key)))

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


def _lowest_asked(neck: StrengthMap) -> tuple[int, ...]:
    """The two lowest strings that are asked about."""
    asked = {spot.string for spot in neck.strengths}
    return tuple(sorted(asked)[-2:])


def ways(*, homework: bool = False) -> tuple[Command, ...]:
    """The commands that Home lists; that for homework only where some is set."""
    hidden = ("go",) if homework else ("go", "homework")
    return tuple(command for command in of_screen("home") if command.id not in hidden)
