"""A round of keys: each is called in block letters over a click, and the neck shows its tonics after the bar line."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Static

from drill.decks import Focus
from drill.errors import FretsureError
from drill.lookup.keys import KeyView
from drill.lookup.places import tonic_places
from drill.practice.playback import Playback, play_clicks
from drill.practice.round import USUAL_BARS, Landings, Moment, Round, plan_round
from drill.present.figures import how_many
from drill.present.neck_drawing import draw
from drill.present.rounds import had_it, round_over
from drill.theory.keys import Key
from drill.theory.names import show_note
from drill.tui.commands import bindings
from drill.tui.screens.playing import PlayingScreen
from drill.tui.widgets.beats import Beats
from drill.tui.widgets.big_words import BigWords
from drill.tui.widgets.neck_view import NeckView

COUNT_IN = "Count-in"
LAND_IT = "land on it in this bar"
AGAIN = "A: another round. Esc: back."


class RoundScreen(PlayingScreen):
    """A round that runs by itself. Without `keys` it calls those of the deck, the weakest first."""

    where = "round"
    caption = "Round"
    BINDINGS = bindings("round")
    DEFAULT_CSS = """
    #called { margin-top: 1; }
    #places { text-align: center; height: auto; min-height: 1; }
    RoundScreen.-low #called { margin-top: 0; }
    """

    def __init__(self, keys: Sequence[Key] = (), *, bars: int = USUAL_BARS, bpm: int | None = None) -> None:
        super().__init__()
        self._keys, self._bars, self._bpm = tuple(keys), bars, bpm
        self.round: Round | None = None
        self._landings: Landings | None = None
        self._moment: Moment | None = None

    def body(self) -> ComposeResult:
        with VerticalScroll(id="page", can_focus=False):
            yield BigWords(id="called")
            yield Beats(id="beats")
            yield Static(id="places", markup=False)
            yield NeckView(id="neck")
        yield Static(id="message", markup=False)

    def begin(self) -> None:
        """Plan the round, and start its click."""
        services = self.services
        try:
            keys = self._keys or services.round_keys()
            bpm = self._bpm or self.settings.tempo_bpm
            self.round = plan_round(keys, bpm, self._bars, services.minutes, services.environment.rng)
        except FretsureError as error:
            self.say(str(error))
            return
        focus = Focus(keys=self._keys)
        environment, minutes = services.environment, round(services.minutes)
        self._landings = Landings(environment, services.record, services.deck_name, minutes, focus)
        self._moment = None
        self.query_one("#title", Static).update(f"Round · {bpm} bpm · {how_many(self._bars, 'bar')} a key")
        self.play(*play_clicks(environment, bpm, self.settings.decibels_down))

    def show_now(self, playback: Playback) -> None:
        """Show what holds now; nothing is painted between two beats."""
        if self.round is None:
            return
        elapsed_s = playback.elapsed_s
        if elapsed_s >= self.round.end_s:
            self._end()
            return
        moment, before = self.round.at(elapsed_s), self._moment
        if moment != before:
            self._moment = moment
            self._show(moment, before)

    def _show(self, moment: Moment, before: Moment | None) -> None:
        beats = self.query_one(Beats)
        beats.beat = moment.beat
        if before is None or moment.number != before.number:
            self._call(moment.called)
        if before is None or moment.shown != before.shown:
            self._show_places(moment.shown)
        if moment.called is not None:
            beats.note = "" if moment.shown == moment.called else LAND_IT

    def _call(self, key: Key | None) -> None:
        words = self.query_one(BigWords)
        words.scale = 2 if self.size.height >= 30 else 1
        words.words = key.shown_in(self.settings.note_language) if key else COUNT_IN
        words.short = f"{show_note(key.tonic, self.settings.note_language)} {key.mode[:3]}" if key else ""

    def _show_places(self, key: Key | None) -> None:
        places, neck = self.query_one("#places", Static), self.query_one(NeckView)
        if key is None:
            places.update("")
            neck.painter = lambda width: draw(self.settings.neck, (), self.look, width=width)
            return
        view, language = KeyView.of(key, self.settings.neck), self.settings.note_language
        places.update(f"{key.shown_in(language)}: {tonic_places(key, view.neck, language)}")
        neck.painter = lambda width: draw(view.neck, view.picture, self.look, width=width, home=view.home)

    def action_do_had_it(self) -> None:
        playback = self.playback
        if playback is None or self.round is None or self._landings is None:
            return
        elapsed_s = playback.elapsed_s
        number = self.round.checked_at(elapsed_s)
        if number is None:
            return
        try:
            self._landings.had_it(self.round, number, elapsed_s)
        except FretsureError as error:
            self.navigator.report(error)
            return
        name = self.round.keys[number].shown_in(self.settings.note_language)
        self.say(had_it(name, self._landings.count))

    def action_do_new_round(self) -> None:
        self.stop()
        self._save()
        self.begin()

    def _end(self) -> None:
        called = len(self.round.keys) if self.round else 0
        landed = self._landings.count if self._landings else 0
        self.stop()
        self._save()
        words = self.query_one(BigWords)
        words.words, words.short = "The end", ""
        self.query_one(Beats).beat, self.query_one(Beats).note = None, ""
        self.say(f"{round_over(called, landed)} {AGAIN}")

    def on_leave(self) -> None:
        """Write the end of the round."""
        self._save()

    def _save(self) -> None:
        landings, self._landings = self._landings, None
        try:
            if landings is not None:
                landings.end()
        except FretsureError as error:
            self.navigator.report(error)
