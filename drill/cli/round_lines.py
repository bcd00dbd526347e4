"""A round of keys in lines: each key in a line of its own when it is called, the place of its tonic added a bar later.

Nothing is read from standard input, so that a pipe neither ends the round nor holds it up.
"""

from __future__ import annotations

from drill.cli.output import notify
from drill.lookup.places import tonic_places
from drill.practice.playback import Playback, play_clicks
from drill.practice.round import Round
from drill.present.figures import how_many
from drill.settings import Settings
from drill.system.environment import Environment
from drill.system.text import visible

LONGEST_WAIT_S = 0.25
"""Between two looks at the clock; what is played may stop being the clock."""

SOON_S = 0.0005
"""What is nearer than this is now."""


def round_in_words(called: Round, settings: Settings, environment: Environment) -> None:
    """Call the keys of a round in time, with a click where there is sound."""

    def say(words: str, end: str = "\n") -> None:
        print(visible(words), end=end, file=environment.stdout, flush=True)

    language = settings.note_language
    say(
        f"A new key every {how_many(called.bars, 'bar')} at {called.bpm} bpm, after a bar of count-in. "
        "Land on its tonic before the next bar line; then its place is told."
    )
    playback, _ = play_clicks(environment, called.bpm, settings.decibels_down)
    told = _tell_silence("", playback, environment)
    try:
        for number, key in enumerate(called.keys):
            _wait(called.call_s(number), playback, environment)
            say(f"{number + 1}. {key.shown_in(language)}", end="")
            _wait(called.bar_line_s(number), playback, environment)
            told = _tell_silence(told, playback, environment)
            say(f" - {tonic_places(key, settings.neck, language)}")
        _wait(called.end_s, playback, environment)
    finally:
        playback.stop()


def _tell_silence(told: str, playback: Playback, environment: Environment) -> str:
    """Say why nothing is heard, unless that has been `told`; returns what has been told now."""
    if playback.silent_because != told:
        notify(environment, [f"{playback.silent_because} The round goes on in silence."])
    return playback.silent_because


def _wait(until_s: float, playback: Playback, environment: Environment) -> None:
    while (left_s := until_s - playback.elapsed_s) > SOON_S:
        environment.sleep(min(left_s, LONGEST_WAIT_S))
