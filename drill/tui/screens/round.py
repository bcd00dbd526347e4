"""A round of keys: each is called in block letters over a click, and the neck shows its tonics after the bar line.

The guitarist may say "had it", or let the round listen.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Static

from drill.decks import Focus
from drill.errors import FretsureError, NoSound
from drill.lookup.keys import KeyView
from drill.lookup.places import tonic_places
from drill.practice.playback import Playback, play_clicks
from drill.practice.round import USUAL_BARS, Landings, Moment, Round, plan_round
from drill.present.figures import how_many
from drill.present.neck_drawing import MarkedNeck
from drill.present.rounds import HEADPHONES, UNMEASURED, Judged, brief, had_it, heard_over, outcome, round_over, table
from drill.theory.keys import Key
from drill.tui.commands import bindings
from drill.tui.screens.playing import PlayingScreen
from drill.tui.widgets.beats import Beats
from drill.tui.widgets.big_words import BigWords
from drill.tui.widgets.listening_sign import ListeningSign
from drill.tui.widgets.neck_view import NeckView

if TYPE_CHECKING:
    from drill.practice.hearing import Ears
    from drill.practice.round_heard import ListenedRound

COUNT_IN = "Count-in"
LAND_IT = "land on it in this bar"
BESIDE = 9
"""Rows of a low window that are not strings: the bar, the key in letters, the beats, two of places, the numbers."""


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

    def __init__(
        self, keys: Sequence[Key] = (), *, bars: int = USUAL_BARS, bpm: int | None = None, listens: bool = False
    ) -> None:
        super().__init__()
        self._keys, self._bars, self._bpm = tuple(keys), bars, bpm
        self._listens, self._tuned = listens, False
        self._note = ""
        """What is said until the first place is shown."""
        self._listened: ListenedRound | None = None
        """What listens now."""
        self._hearing: ListenedRound | None = None
        """What listens in this round, or did until the microphone went."""
        self.round: Round | None = None
        self._landings: Landings | None = None
        self._moment: Moment | None = None

    def body(self) -> ComposeResult:
        yield ListeningSign(id="listening")
        with VerticalScroll(id="page", can_focus=False):
            yield BigWords(id="called")
            yield Beats(id="beats")
            yield Static(id="places", markup=False)
            yield NeckView(id="neck")
        yield Static(id="message", markup=False)

    def begin(self) -> None:
        """Plan the round, and start its click; before it listens, let the guitar be tuned."""
        if self._listens and not self._tuned:
            self._tune()
            return
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
        self.entitle(f"Round · {bpm} bpm · {how_many(self._bars, 'bar')} a key")
        self._make_room(False)
        self.say("")
        if not (self._listens and self._listen(self.round, self._landings)):
            self.play(*play_clicks(environment, bpm, self.settings.decibels_down))

    def _tune(self) -> None:
        """Check the tuning, then begin."""
        from drill.tui.screens.tuning_check import TuningCheckScreen

        def begin(_: object) -> None:
            self._tuned = True
            self.begin()

        self.app.push_screen(TuningCheckScreen(), begin)

    def _listen(self, called: Round, landings: Landings) -> bool:
        """Click and listen; False where there is nothing to listen with, which is said."""
        from drill.practice.hearing import open_ears

        environment, down = self.services.environment, self.settings.decibels_down
        try:
            ears = open_ears(environment, self.settings)
            from drill.practice.round_heard import ListenedRound  # needs numpy, for the lack of which there are no ears

            self._listened = self._hearing = ListenedRound(ears, called, landings, down, environment.monotonic)
        except NoSound as error:
            self._listens = False
            self._note = f"{error} {self._say_it}"
            return False
        self.say(" ".join((HEADPHONES, "" if ears.path else UNMEASURED)))
        self.play(self._listened.playback, self._listened.mix)
        self._show_sign(ears)
        return True

    def _show_sign(self, ears: Ears | None) -> None:
        for sign in self.query(ListeningSign):
            sign.ears = ears
            sign.match()
            self.refresh_bindings()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer nothing to say while the guitar is heard."""
        return not (action == "do_had_it" and self._listened) and super().check_action(action, parameters)

    def show_now(self, playback: Playback) -> None:
        """Show what holds now; nothing is painted between two beats."""
        if self.round is None:
            return
        self._hear()
        elapsed_s = playback.elapsed_s
        if elapsed_s >= self.round.end_s:
            if self._listened is None or self._listened.is_over:
                self._end()
            return
        moment, before = self.round.at(elapsed_s), self._moment
        if moment != before:
            self._moment = moment
            self._show(moment, before)

    def _hear(self) -> None:
        """Tell what was heard since the last look."""
        if self._listened is None or self.round is None:
            return
        try:
            judged = self._listened.poll()
        except FretsureError as error:
            self.navigator.report(error)
            return
        for each in judged:
            name = each.key.shown_in(self.settings.note_language)
            self.say(f"{name}: {outcome(each, self.round.bpm, self.settings.note_language)}")
        if self._listened.playback.silent_because:
            self._listened = None
            self._show_sign(None)

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
        words.short = brief(key, self.settings.note_language) if key else ""

    def _show_places(self, key: Key | None) -> None:
        places, neck = self.query_one("#places", Static), self.query_one(NeckView)
        if key is None:
            places.update(self._note)
            neck.painter = MarkedNeck(self.settings.neck, (), self.look, strings=self._strings).drawn_for
            return
        self._note = ""
        view, language = KeyView.of(key, self.settings.neck), self.settings.note_language
        places.update(f"{key.shown_in(language)}: {tonic_places(key, view.neck, language)}")
        neck.painter = MarkedNeck(view.neck, view.picture, self.look, home=view.home, strings=self._strings).drawn_for

    @property
    def _strings(self) -> tuple[int, ...]:
        """The strings that there is room for, the lowest first, and those of both tonics in any case."""
        tuning, room = self.settings.neck.tuning, self.size.height - BESIDE
        most = max(room, tuning.strings[-1] + 1 - min(tuning.anchor_strings))
        return tuple(tuning.strings)[-most:]

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

    def action_do_hear_round(self) -> None:
        """Begin anew, and listen; or listen no more."""
        self._listens = not self._listens
        self.action_do_new_round()

    def stop(self) -> None:
        """Fall silent, and close the microphone."""
        super().stop()
        self._show_sign(None)

    def pause(self, reason: str) -> None:
        """Close the microphone, because the learner is away; without one the round goes on."""
        if self._listened:
            self.stop()
            self._save()
            self.say(f"{reason} The microphone is closed, and the round is over. {self._ways_on}")

    def on_screen_suspend(self) -> None:
        self.pause("The round was covered.")

    @property
    def _ways_on(self) -> str:
        return f"{self.key_of('new-round')}: another round. {self.key_of('back')}: back."

    @property
    def _say_it(self) -> str:
        return f"{self.key_of('had-it')} says that you had it."

    def _end(self) -> None:
        called = len(self.round.keys) if self.round else 0
        landed = self._landings.count if self._landings else 0
        judged = self._hearing.heard.judged if self._hearing else []
        told = round_over(called, landed)
        if self._listened:
            told = heard_over(judged, lost_samples=self._listened.lost_samples)
        self.stop()
        self._save()
        words = self.query_one(BigWords)
        words.words, words.short = "The end", ""
        self.query_one(Beats).beat, self.query_one(Beats).note = None, ""
        if judged:
            self._show_table(judged)
        self.say(f"{told} {self._ways_on}")

    def _show_table(self, judged: Sequence[Judged]) -> None:
        """Show what was heard, key by key, in place of the neck."""
        lines = list(table(judged, self.settings.note_language))
        widest = max(map(len, lines))
        self.query_one("#places", Static).update("\n".join(line.ljust(widest) for line in lines))
        self._make_room(True)

    def _make_room(self, for_table: bool) -> None:
        for part in (BigWords, Beats, NeckView):
            self.query_one(part).display = not for_table

    def on_leave(self) -> None:
        """Write the end of the round."""
        self._save()

    def _save(self) -> None:
        landings, hearing = self._landings, self._hearing
        self._landings = self._listened = self._hearing = None
        try:
            if hearing is not None:
                hearing.write_rest()
            if landings is not None:
                landings.end()
        except FretsureError as error:
            self.navigator.report(error)
