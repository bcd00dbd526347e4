"""A round of keys in lines: each key in a line of its own when it is called, the place of its tonic added a bar later.

Nothing is read from a pipe, so that it neither ends the round nor holds it up. At a terminal, Enter says "had it". With
ears, what is played is judged, and a table by key ends the round.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from drill.cli.line_input import is_leaving
from drill.cli.output import notify, say
from drill.lookup.places import tonic_places
from drill.practice.hearing import OPENED, Ears
from drill.practice.playback import Playback, play_clicks
from drill.practice.round import Landings, Round
from drill.present.figures import how_many
from drill.present.rounds import HEADPHONES, UNMEASURED, Judged, had_it, heard_over, outcome, round_over, table
from drill.settings import Settings
from drill.system.audio import LOOK_S
from drill.system.environment import Environment

if TYPE_CHECKING:
    from drill.practice.round_heard import ListenedRound

LONGEST_WAIT_S = 0.25
"""Between two looks at the clock; what is played may stop being the clock."""
SOON_S = 0.0005
"""What is nearer than this is now."""
OPTIONAL = (
    "Enter says that you had it: nobody has to, it is kept apart from your answers, and it moves no strength. "
    "Type quit to end the round."
)


def round_in_words(
    called: Round,
    settings: Settings,
    environment: Environment,
    landings: Landings | None = None,
    ears: Ears | None = None,
) -> None:
    """Call the keys of a round in time, with a click where there is sound.

    With `landings`, Enter says "had it" at a terminal, where `quit` and end of input end the round. With `ears` as
    well, landings are heard. Raises NoSound, CannotWrite, RecordDamaged.
    """
    RoundInLines(called, settings, environment, landings).run(ears)


class RoundInLines:
    """One round, from its first click to its last."""

    def __init__(self, called: Round, settings: Settings, environment: Environment, landings: Landings | None) -> None:
        self._round, self._settings, self._environment, self._landings = called, settings, environment, landings
        self._attended = landings is not None and environment.stdin.isatty()
        self._listened: ListenedRound | None = None
        """What listens now."""
        self._judged: list[Judged] = []
        """What was heard in this round, even if the microphone has gone since."""
        self._told = ""
        self._in_a_line = False
        """Whether the line of a key waits for its place."""
        self._number = -1
        """The number of the key that was called last."""
        self._later: list[str] = []
        """What is to be said when the line of that key is complete."""

    def run(self, ears: Ears | None = None) -> None:
        """Call every key in time."""
        self._say(
            f"A new key {_every(self._round.bars)} at {self._round.bpm} bpm, after a bar of count-in. "
            "Land on its tonic before the next bar line; then you see where it was."
        )
        if self._attended and ears is None:
            self._say(OPTIONAL)
        playback = self._begin(ears)
        self._tell_silence(playback)
        try:
            if self._call_all(playback):
                self._tell_end()
        finally:
            playback.stop()
        if self._landings:
            self._landings.end()

    def _begin(self, ears: Ears | None) -> Playback:
        """Start the click, and listen with the ears."""
        bpm, decibels_down = self._round.bpm, self._settings.decibels_down
        if ears is None or self._landings is None:
            return play_clicks(self._environment, bpm, decibels_down)[0]
        from drill.practice.round_heard import ListenedRound

        listened = ListenedRound(ears, self._round, self._landings, decibels_down, self._environment.monotonic)
        self._listened, self._judged = listened, listened.heard.judged
        for sentence in (HEADPHONES, OPENED, "" if ears.path else UNMEASURED):
            if sentence:
                self._say(sentence)
        return listened.playback

    def _tell_end(self) -> None:
        """Say what came of the round."""
        if self._listened:
            self._say(heard_over(self._judged, lost_samples=self._listened.lost_samples))
        elif self._landings and (self._attended or self._judged):
            self._say(round_over(len(self._round.keys), self._landings.count))
        if self._judged:
            for line in table(self._judged, self._settings.note_language):
                self._say(line)

    def _call_all(self, playback: Playback) -> bool:
        """Call the keys; False if the guitarist has ended the round."""
        for number in range(len(self._round.keys)):
            if not self._wait(self._round.call_s(number), playback):
                return False
            self._say(f"{number + 1}. {self._name(number)}", end="")
            self._number, self._in_a_line = number, True
            if not self._wait(self._round.bar_line_s(number), playback):
                return False
            self._tell_place(number)
            self._tell_silence(playback)
        return self._wait(self._round.end_s, playback) and self._hear_out()

    def _tell_place(self, number: int) -> None:
        places = tonic_places(self._round.keys[number], self._settings.neck, self._settings.note_language)
        self._say(f" - {places}" if self._in_a_line else f"{self._name(number)}: {places}")
        self._in_a_line = False
        for sentence in self._later:
            self._say(sentence)
        self._later.clear()

    def _name(self, number: int) -> str:
        return self._round.keys[number].shown_in(self._settings.note_language)

    def _say(self, words: str, end: str = "\n") -> None:
        say(self._environment, words, end)

    def _tell_silence(self, playback: Playback) -> None:
        """Say once that nothing is heard any more."""
        if playback.silent_because != self._told:
            self._told = playback.silent_because
            notify(self._environment, [f"{self._told} The round goes on in silence."])

    def _wait(self, until_s: float, playback: Playback) -> bool:
        """Wait for a moment of the round; False if input ends before it."""
        longest_s = LOOK_S if self._landings else LONGEST_WAIT_S
        while (left_s := until_s - playback.elapsed_s) > SOON_S:
            self._environment.sleep(min(left_s, longest_s))
            self._hear()
            if self._attended and self._landings and not self._take_enter(playback, self._landings):
                return False
        return True

    def _hear(self) -> None:
        """Tell what was heard since the last call."""
        if self._listened is None:
            return
        for judged in self._listened.poll():
            self._tell(judged)
        if self._listened.playback.silent_because:
            self._listened = None

    def _tell(self, judged: Judged) -> None:
        """Say what came of a call, in its own line while that waits for its place; never in the line of another."""
        words = outcome(judged, self._round.bpm, self._settings.note_language)
        sentence = f"{self._name(judged.number)}: {words}"
        if self._in_a_line and judged.number == self._number:
            self._say(f" ({words})", end="")
        elif self._in_a_line:
            self._later.append(sentence)
        else:
            self._say(sentence)

    def _hear_out(self) -> bool:
        """Listen to the last note until it is settled what it was."""
        while self._listened and not self._listened.is_over:
            self._environment.sleep(LOOK_S)
            self._hear()
        return True

    def _take_enter(self, playback: Playback, landings: Landings) -> bool:
        """Write that a key was landed on if Enter says so; False at the end of input, and after `quit`."""
        typed = self._environment.take_line(self._environment.stdin)
        if typed is None:
            return True
        if is_leaving(typed):
            return False
        if typed:
            self._end_line()
            elapsed_s = playback.elapsed_s
            number = None if self._listened else self._round.checked_at(elapsed_s)
            if number is not None and landings.had_it(self._round, number, elapsed_s):
                self._say(had_it(self._name(number), landings.count))
        return bool(typed)

    def _end_line(self) -> None:
        """Go to a new line, unless a terminal has done so by showing Enter."""
        if self._in_a_line and not self._environment.stdout.isatty():
            self._say("")
        self._in_a_line = False


def _every(bars: int) -> str:
    """How often a key is called: 'every bar', 'every 2 bars'."""
    return "every bar" if bars == 1 else f"every {how_many(bars, 'bar')}"
