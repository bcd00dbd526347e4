"""A loop to play over: what sounds now, its notes inside the shapes and outside, and both shapes on the neck."""

from __future__ import annotations

from typing import TYPE_CHECKING, Self

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from drill.lookup.loops import LoopView, landing_sentences
from drill.practice.playback import Playback, play_loop
from drill.present.neck_drawing import draw
from drill.questions.picture import Mark, Picture
from drill.settings import Settings
from drill.sound.arrangement import PARTS, Arrangement, Part, arrange
from drill.theory.bars import BEATS_IN_A_BAR, beats_over
from drill.theory.chords import Chord
from drill.theory.landing import tones_inside
from drill.tui.commands import bindings
from drill.tui.screens.playing import PlayingScreen
from drill.tui.widgets.beats import Beats
from drill.tui.widgets.big_words import BigWords
from drill.tui.widgets.neck_view import NeckView

if TYPE_CHECKING:
    from drill.sound.mix import LoopMix

LEGEND = "[3] note of the chord, by degree  (○) rest of the shape  ◆m ●M the tonics"

LETTERS_FROM = 16
"""Rows of a window with room for the chord in letters above a whole neck."""


class PlayScreen(PlayingScreen):
    """A loop that plays until it is stopped. Make it with `of`."""

    where = "play"
    BINDINGS = bindings("play")
    DEFAULT_CSS = """
    #chords, #key, #tones, #parts { text-align: center; height: auto; }
    #tones { min-height: 1; }
    PlayScreen.bare #now, PlayScreen.-low #parts, PlayScreen.-low #legend, PlayScreen.-flat #key { display: none; }
    """

    def __init__(self, view: LoopView, arrangement: Arrangement) -> None:
        super().__init__()
        self._arrangement = arrangement
        self._layouts = tuple(layout for _, layout in view.by_shapes())
        self._layout = 0
        self._playing: set[Part] = set(PARTS)
        self._loop: LoopMix | None = None
        self._at: tuple[int, int] | None = None
        """The number of the chord that sounds and of its beat; the chord is -1 while the count-in lasts."""

    @classmethod
    def of(cls, view: LoopView, settings: Settings, bpm: int | None = None) -> Self:
        """A loop at a tempo, the learner's own if none is given. Raises UsageProblem for one that cannot be played."""
        return cls(view, arrange(view.reading.chords, bpm or settings.tempo_bpm))

    def body(self) -> ComposeResult:
        with VerticalScroll(id="page", can_focus=False):
            yield BigWords(id="now")
            yield Beats(id="beats")
            yield Static(id="chords", markup=False)
            yield Static(id="tones", markup=False)
            yield NeckView(id="neck")
            yield Static(LEGEND, id="legend", markup=False)
            yield Static(id="key", markup=False)
            yield Static(id="parts", markup=False)
        yield Static(id="message", markup=False)

    def on_resize(self) -> None:
        """Leave the large chord out where the neck would not fit below it: its name is marked among the others."""
        self.set_class(self.size.height < LETTERS_FROM, "bare")

    def begin(self) -> None:
        """Start with the count-in."""
        self._at = None
        self.entitle(f"Loop · {self._arrangement.bpm} bpm")
        playback, mix = play_loop(self.services.environment, self._arrangement, self.settings.decibels_down)
        if mix is not None:
            mix.playing = set(self._playing)
        self._loop = mix
        self.play(playback, mix)
        self._show_key()
        self._show_parts()

    def show_now(self, playback: Playback) -> None:
        """Show the beat and the chord that sound now."""
        beats = beats_over(playback.elapsed_s, self._arrangement.bpm) - BEATS_IN_A_BAR
        at = (-1, beats) if beats < 0 else divmod(beats % self._arrangement.beats, BEATS_IN_A_BAR)
        if at != self._at:
            before, self._at = self._at, at
            self.query_one(Beats).beat = at[1] % BEATS_IN_A_BAR
            if before is None or at[0] != before[0]:
                self._show_chord()

    @property
    def _number(self) -> int:
        """The number of the chord that sounds, or is about to."""
        return max(0, self._at[0]) if self._at else 0

    def _show_chord(self) -> None:
        chords, language = self._arrangement.chords, self.settings.note_language
        chord = chords[self._number]
        counting = self._at is None or self._at[0] < 0
        self.query_one(Beats).note = "count-in" if counting else ""
        words = self.query_one("#now", BigWords)
        words.scale = 2 if self.size.height >= 30 else 1
        words.words = chord.shown_in(language)
        names = [
            (f" {each.shown_in(language)} ", "reverse" if number == self._number else "")
            for number, each in enumerate(chords)
        ]
        self.query_one("#chords", Static).update(Content.assemble(*names))
        layout = self._layouts[self._layout]
        self.query_one("#tones", Static).update("\n".join(landing_sentences((chord,), layout.key, language)))
        picture, look = self._picture(chord), self.look._replace(show="degrees")
        self.query_one(NeckView).painter = lambda width: draw(layout.neck, picture, look, width=width, home=layout.home)

    def _picture(self, chord: Chord) -> Picture:
        """The shapes, bare but for the tonics and the notes of the chord."""
        layout = self._layouts[self._layout]
        shapes = layout.placements_of(*layout.anchors)
        marks = {mark.spot: mark._replace(degree=None, finger=None, note=None) for mark in layout.picture}
        for shape in shapes:
            for tone in tones_inside(shape, chord):
                marks[tone.dot.spot] = Mark(tone.dot.spot, "asked", degree=tone.degree)
        return tuple(marks.values())

    def _show_key(self) -> None:
        key, language = self._layouts[self._layout].key, self.settings.note_language
        more = f" ({self.key_of('other-key')}: another key)" if len(self._layouts) > 1 else ""
        names = f"{key.minor.shown_in(language)} and {key.major.shown_in(language)}"
        self.query_one("#key", Static).update(f"Shapes of {names}{more}")

    def _show_parts(self) -> None:
        words = [f"{part} {'on' if part in self._playing else 'off'} ({self.key_of(part)})" for part in PARTS]
        self.query_one("#parts", Static).update("   ".join(words))

    def action_do_stop_start(self) -> None:
        if self.playback is None:
            self.begin()
        else:
            self.stop()
            self.query_one(Beats).note = f"stopped ({self.key_of('stop-start')}: start)"

    def action_do_chords(self) -> None:
        self._switch("chords")

    def action_do_bass(self) -> None:
        self._switch("bass")

    def action_do_drums(self) -> None:
        self._switch("drums")

    def _switch(self, part: Part) -> None:
        self._playing ^= {part}
        if self._loop is not None:
            self._loop.playing = set(self._playing)
        self._show_parts()

    def action_do_other_key(self) -> None:
        self._layout = (self._layout + 1) % len(self._layouts)
        self._show_key()
        self._show_chord()
