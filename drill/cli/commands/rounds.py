"""`round`: keys called over a click, hands on the guitar."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, NamedTuple

from drill.cli.commands import (
    Command,
    add_deck_option,
    add_minutes_option,
    add_repeated_option,
    add_tempo_option,
    whole_number,
)
from drill.cli.learner import load_settings, open_progress, open_record
from drill.cli.output import notify
from drill.system.environment import Environment

if TYPE_CHECKING:
    from drill.decks import Focus
    from drill.practice.round import Landings, Round
    from drill.settings import Settings
    from drill.theory.keys import Key


class RoundRequest(NamedTuple):
    """What `fretsure round` was asked for; keys as they were typed."""

    bars: int
    tempo: int | None
    key: Sequence[str]
    minutes: int | None
    deck: str | None
    listen: bool = False


def play_round(request: RoundRequest, environment: Environment) -> None:
    """Call keys over a click: on a screen, or line by line without a terminal."""
    from drill.cli.focus import read_key

    settings = load_settings(environment)
    keys = tuple(read_key(name, settings.note_language) for name in request.key)
    if request.listen:
        from drill.practice.hearing import open_ears

        open_ears(environment, settings)  # says before anything else if there is nothing to listen with
    if environment.is_terminal:
        _round_on_screen(request, keys, environment)
    else:
        _round_in_lines(request, keys, settings, environment)


def _round_on_screen(request: RoundRequest, keys: tuple[Key, ...], environment: Environment) -> None:
    from drill.cli.screens import run_screens
    from drill.practice.request import DrillRequest
    from drill.tui.screens.round import RoundScreen

    run_screens(
        environment,
        DrillRequest(request.deck, request.minutes),
        first=lambda: RoundScreen(keys, bars=request.bars, bpm=request.tempo, listens=request.listen),
    )


def _round_in_lines(request: RoundRequest, keys: tuple[Key, ...], settings: Settings, environment: Environment) -> None:
    from drill.decks import Focus
    from drill.practice.round import plan_round
    from drill.progress.round_keys import round_keys
    from drill.system.steady import steady_clock

    focus = Focus(keys=keys)
    if not keys:
        with open_progress(request.deck, environment, exact=False) as progress:
            keys = round_keys(progress)
    minutes, bpm = request.minutes or settings.minutes, request.tempo or settings.tempo_bpm
    called = plan_round(keys, bpm, request.bars, minutes, environment.rng)
    with steady_clock(environment.monotonic) as steady, _landings(request, focus, settings, environment) as landings:
        _round_in_words(request, called, settings, environment._replace(monotonic=steady), landings)


def _round_in_words(
    request: RoundRequest, called: Round, settings: Settings, environment: Environment, landings: Landings | None
) -> None:
    from drill.cli.round_lines import round_in_words

    if not request.listen:
        round_in_words(called, settings, environment, landings)
        return
    from drill.cli.sound_check_lines import offered_check
    from drill.cli.tuning_lines import check_tuning_in_words
    from drill.practice.hearing import CLOSED, open_ears

    settings = offered_check(settings, environment)
    ears = open_ears(environment, settings)
    try:
        ears.start()
        check_tuning_in_words(ears, settings, environment)
        round_in_words(called, settings, environment, landings, ears)
    finally:
        ears.stop()
        notify(environment, [CLOSED])


@contextmanager
def _landings(
    request: RoundRequest, focus: Focus, settings: Settings, environment: Environment
) -> Iterator[Landings | None]:
    """Where landings are written; None where nobody listens, nor sits who could say so."""
    from drill.practice.round import Landings

    if not (request.listen or environment.stdin.isatty()):
        yield None
        return
    deck, minutes = request.deck or settings.deck, request.minutes or settings.minutes
    with open_record(environment) as record:
        yield Landings(environment, record, deck, minutes, focus)


def _round_options(parser: argparse.ArgumentParser) -> None:
    bars = whole_number("whole bars", 1, 16)
    parser.add_argument("--bars", metavar="N", type=bars, default=2, help="bars for each key: 1 to 16, usually 2")
    add_tempo_option(parser)
    add_repeated_option(parser, "--key", "K", "a key to call, such as Bb or F#m, one or more; without it the deck's")
    add_minutes_option(parser, "how long the round lasts")
    parser.add_argument("--listen", action="store_true", help="listen to your guitar, and say how you landed")
    add_deck_option(parser)


COMMANDS = (
    Command(
        "round",
        "Land on the tonics of keys called over a click, guitar in hand.",
        "fretsure round --bars 2 --tempo 80",
        _round_options,
        RoundRequest,
        play_round,
        "Every landing so far is saved.",
    ),
)
