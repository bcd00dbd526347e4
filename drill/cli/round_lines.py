"""A round of keys in lines: each key in a line of its own when it is called, the place of its tonic added a bar later.

Nothing is read from a pipe, so that it neither ends the round nor holds it up. At a terminal, Enter says "had it".
"""

from __future__ import annotations

from drill.cli.output import notify
from drill.lookup.places import tonic_places
from drill.practice.playback import Playback, play_clicks
from drill.practice.round import Landings, Round
from drill.present.figures import how_many
from drill.present.rounds import had_it, round_over
from drill.settings import Settings
from drill.system.environment import Environment
from drill.system.text import visible

LONGEST_WAIT_S = 0.25
"""Between two looks at the clock; what is played may stop being the clock."""
LOOK_S = 0.05
"""Between two looks at the keyboard."""
SOON_S = 0.0005
"""What is nearer than this is now."""
OPTIONAL = "Enter says that you had it: nobody has to, it is kept apart from your answers, and it moves no strength."


def round_in_words(
    called: Round, settings: Settings, environment: Environment, landings: Landings | None = None
) -> None:
    """Call the keys of a round in time, with a click where there is sound.

    With `landings`, Enter says "had it", and end of input ends the round. Raises CannotWrite, RecordDamaged.
    """
    RoundInLines(called, settings, environment, landings).run()


class RoundInLines:
    """One round, from its first click to its last."""

    def __init__(self, called: Round, settings: Settings, environment: Environment, landings: Landings | None) -> None:
        self._round, self._settings, self._environment, self._landings = called, settings, environment, landings
        self._told = ""
        self._in_a_line = False
        """Whether the line of a key waits for its place."""

    def run(self) -> None:
        """Call every key in time."""
        self._say(
            f"A new key {_every(self._round.bars)} at {self._round.bpm} bpm, after a bar of count-in. "
            "Land on its tonic before the next bar line; then its place is told."
        )
        if self._landings:
            self._say(OPTIONAL)
        playback, _ = play_clicks(self._environment, self._round.bpm, self._settings.decibels_down)
        self._tell_silence(playback)
        try:
            if self._call_all(playback) and self._landings:
                self._say(round_over(len(self._round.keys), self._landings.count))
        finally:
            playback.stop()
        if self._landings:
            self._landings.end()

    def _call_all(self, playback: Playback) -> bool:
        """Call the keys; False if the guitarist has ended the round."""
        for number in range(len(self._round.keys)):
            if not self._wait(self._round.call_s(number), playback):
                return False
            self._say(f"{number + 1}. {self._name(number)}", end="")
            self._in_a_line = True
            if not self._wait(self._round.bar_line_s(number), playback):
                return False
            self._tell_silence(playback)
            self._tell_place(number)
        return self._wait(self._round.end_s, playback)

    def _tell_place(self, number: int) -> None:
        places = tonic_places(self._round.keys[number], self._settings.neck, self._settings.note_language)
        self._say(f" - {places}" if self._in_a_line else f"{self._name(number)}: {places}")
        self._in_a_line = False

    def _name(self, number: int) -> str:
        return self._round.keys[number].shown_in(self._settings.note_language)

    def _say(self, words: str, end: str = "\n") -> None:
        print(visible(words), end=end, file=self._environment.stdout, flush=True)

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
            if self._landings and not self._take_enter(playback, self._landings):
                return False
        return True

    def _take_enter(self, playback: Playback, landings: Landings) -> bool:
        """Write that a key was landed on if Enter says so; False at the end of input."""
        typed = self._environment.take_line(self._environment.stdin)
        if typed is None:
            return True
        if typed:
            self._end_line()
            elapsed_s = playback.elapsed_s
            number = self._round.checked_at(elapsed_s)
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
