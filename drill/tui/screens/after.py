"""After a drill: what moved, what was mixed up, when to come back, and the ways on, first of all to the guitar."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from drill.decks import Focus
from drill.errors import FretsureError
from drill.present import summaries
from drill.present.cautions import CAUTIONS
from drill.present.neck_drawing import band
from drill.present.summaries import Move, NextStep, Summary
from drill.present.today import listed
from drill.tui.commands import Command, bindings, of_screen
from drill.tui.drill_times import SUMMARY_S
from drill.tui.screens.base import BaseScreen, heading
from drill.tui.verdict_text import LEGEND, LONG_DRILL_S, lead_in_bold, reading
from drill.tui.widgets.big_words import BigWords
from drill.tui.widgets.key_table import TELLING
from drill.tui.widgets.neck_view import STYLES, grown_pitch
from drill.tui.widgets.spot_picker import StrengthMap
from drill.tui.widgets.ways import Ways, told

ROOM_FOR_LETTERS = 30
"""Rows of a window from which the result stands in block letters too."""
BESIDE_REPORT = 14
"""Rows that bar, result, ways and footer take, and the words about the neck."""
LEAST_NECK = 8
"""Rows of a neck with its fret numbers, below the report."""
NECK_NOW = "Your neck now; a click on a spot tells all about it"
MOST_KEYS = 6
"""So many of the keys just drilled are named."""
NO_STEP = "This deck still has work to do."


class AfterScreen(BaseScreen):
    """The summary of a drill."""

    where = "after"
    caption = "After the drill"
    BINDINGS = bindings("after")
    AUTO_FOCUS = "#ways"
    DEFAULT_CSS = """
    #result { margin-top: 1; }
    #after { padding: 1; }
    #grid { height: auto; background: $surface; }
    #told { height: 1; padding: 0 1; background: $surface; color: $neck-quiet; }
    #told { text-wrap: nowrap; text-overflow: ellipsis; }
    #neck-now { padding: 0 1; }
    AfterScreen.-low #after { padding: 0 1; }
    AfterScreen.-slim #told { height: auto; text-wrap: wrap; }
    AfterScreen.-flat #told { display: none; }
    """

    def __init__(self, summary: Summary, focus: Focus) -> None:
        super().__init__()
        self.summary, self.focus_was = summary, focus
        self._step: NextStep | None = None
        self._came_s = 0.0
        self._ever_asked = bool(summary.answered)
        """Whether any card of the deck was asked, in this drill or before."""

    def body(self) -> ComposeResult:
        with suppress(FretsureError):  # a report needs no record
            self._ever_asked = self._ever_asked or self.services.progress().whole.seen > 0
        self.services.drop_old_notices()
        if not self.focus_was and (self.summary.answered or self.summary.is_known):
            self._step = self.services.next_step(self.summary.is_known)
        with VerticalScroll(id="page", can_focus=False):
            yield BigWords(id="result")
            self._report = tuple(self.lines())
            yield Static(Content("\n").join(self._report), id="after", markup=False)
            yield Static(heading(NECK_NOW), id="neck-now", markup=False)
            yield StrengthMap(id="neck")
            yield Static(LEGEND, id="legend", markup=False)
        with VerticalScroll(id="grid", can_focus=False):
            yield Ways([self.navigator.rebound(way) for way in self.ways()], by_rows=False, id="ways")
        yield Static(id="told", markup=False)

    def on_mount(self) -> None:
        self.query_one("#result", BigWords).words = f"{self.summary.right} / {self.summary.answered}"
        self._came_s = self._now_s()

    def on_resize(self) -> None:
        """Use the height there is: the result in large, and below the report the neck as it stands now."""
        self.query_one("#result").display = self.size.height >= ROOM_FOR_LETTERS and bool(self.summary.answered)
        self.on_ways_moved()
        rows = sum(str(line).count("\n") + 1 for line in self._report) + BESIDE_REPORT
        fits = self.size.height - rows >= LEAST_NECK and bool(self.summary.answered)
        neck = self.query_one(StrengthMap)
        neck.pitch = grown_pitch(self.size, rows + 1)
        if fits and not neck.strengths:
            self._fill(neck)
        for name in ("#neck-now", "#neck", "#legend"):
            self.query_one(name).display = fits and bool(neck.strengths)

    def _fill(self, neck: StrengthMap) -> None:
        """Show how surely every spot is known after the drill."""
        with suppress(FretsureError):  # a report needs no neck
            progress = self.services.progress()
            neck.neck, neck.look = progress.deck.neck, self.look
            neck.strengths = {spot: row.recall for spot, row in progress.spots.items()}
            faint = (spot for spot, strength in neck.strengths.items() if strength is not None and strength < TELLING)
            neck.figures = dict.fromkeys(faint, "")

    def on_strength_map_touched(self, event: StrengthMap.Touched) -> None:
        self.navigator.show_spot(event.spot)

    def _now_s(self) -> float:
        return self.services.environment.monotonic()

    # -- the report ----------------------------------------------------------------------------------------------------

    def lines(self) -> Iterator[Content]:
        """The report, line by line."""
        if self.summary.ending in summaries.EARLY:
            yield Content(summaries.EARLY[self.summary.ending])
        if not self.summary.answered:
            yield Content(summaries.NOTHING_ANSWERED)
            return
        yield lead_in_bold(summaries.result(self.summary))
        if self.summary.growth and (grown := summaries.growth_sentence(self.summary.growth)):
            yield Content(grown)
        yield from self._next_time()
        yield from self._moves()
        yield from self._mixups()
        yield from self._slow()
        if self.summary.seconds >= LONG_DRILL_S:
            yield heading("That was a long drill: rest your hands")
            yield from (Content(caution) for caution in CAUTIONS)

    def _next_time(self) -> Iterator[Content]:
        if day := summaries.come_back(self.summary, self.services.environment):
            yield Content(day)
        if self._step:
            yield Content(summaries.ready_sentence(self._step))
        if self.summary.keys:
            keys = listed(self.summary.keys, self.settings.note_language, MOST_KEYS)
            yield Content.assemble(
                "Now play it: ", (self.key_of("play-round"), "$primary bold"), f" calls {keys} over a click."
            )
            if landed := self.services.landed(self.summary.keys):
                yield Content(landed)

    def _moves(self) -> Iterator[Content]:
        if self.summary.moved:
            timed = any(move.times for move in self.summary.moved)
            yield heading(f"What moved: how surely you know it{', and how long you thought' if timed else ''}")
            yield from map(self._move, self.summary.moved)

    def _move(self, move: Move) -> Content:
        before = "new" if move.fresh else reading(move.before)
        after = (f"{reading(move.after):<7}", STYLES[band(move.after)])
        return Content.assemble(f"{before:>6} → ", after, f"{move.times:>11}  {self.settings.voice.say(move.prompt)}")

    def _mixups(self) -> Iterator[Content]:
        if self.summary.mixups:
            yield heading("What you mixed up")
        for mixup in self.summary.mixups:
            yield lead_in_bold(summaries.mixup(mixup, self.settings.voice))

    def _slow(self) -> Iterator[Content]:
        if self.summary.slowest:
            yield heading("Slowest")
            yield Content(summaries.slowest(self.summary, self.settings.voice))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Nothing is weakest before anything was asked."""
        idle = action == "do_drill_weakest" and not self._ever_asked
        return not idle and super().check_action(action, parameters)

    # -- the ways on ---------------------------------------------------------------------------------------------------

    def ways(self) -> tuple[Command, ...]:
        """The commands that make sense after this drill."""
        step, keys = self._step, self.summary.keys
        missing = {
            "go": True,
            "drill-weakest": not self._ever_asked,
            "play-round": not keys,
            "play-loop": not keys,
            "faster": step is None or step.faster_bpm is None,
            "next-deck": step is None or step.deck is None,
        }
        return tuple(c for c in of_screen("after") if not missing.get(c.id) and not c.id.startswith("scroll"))

    def on_ways_moved(self) -> None:
        chosen = self.query_one(Ways).chosen
        self.query_one("#told", Static).update(told(chosen, narrow=self.has_class("-slim")))

    def on_ways_opened(self, event: Ways.Opened) -> None:
        self.call_later(self.run_action, event.command.action)

    async def action_do_go(self) -> None:
        if self.summary.answered and self._now_s() - self._came_s < SUMMARY_S:
            return
        await self.run_action(self.query_one(Ways).chosen.action)

    def action_do_home(self) -> None:
        self.navigator.go_home()

    def action_do_again(self) -> None:
        self.navigator.start_drill(self.focus_was)

    def action_do_drill_weakest(self) -> None:
        self.navigator.drill_weakest()

    def action_do_play_round(self) -> None:
        self.navigator.start_round(self.summary.keys)

    def action_do_play_loop(self) -> None:
        from drill.lookup.charts import Chart
        from drill.lookup.practice_loop import practice_loop

        keys = self.summary.keys or self.services.round_keys()
        self.navigator.play_loop(Chart(practice_loop(keys[0])))

    def action_do_faster(self) -> None:
        bpm = self._step.faster_bpm if self._step else None
        self._take("tempo_bpm", bpm, f"{bpm} beats a minute from now on.")

    def action_do_next_deck(self) -> None:
        deck, title = (self._step.deck, self._step.deck_title) if self._step else (None, "")
        self._take("deck", deck, f"Your daily drill is now “{title}”.")

    def _take(self, setting: str, value: str | int | None, done: str) -> None:
        """Take what was proposed, and say so."""
        if value is None:
            self.app.notify(NO_STEP, markup=False)
            return
        try:
            self.services.change(setting, value)
        except FretsureError as error:
            self.navigator.report(error)
            return
        self.app.notify(done, markup=False)
        self.navigator.go_home()
