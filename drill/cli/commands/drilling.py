"""`fretsure`, `today` and `focus`: a drill on the screen, in lines or as JSON."""

import argparse
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, nullcontext
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from drill.cli.commands import Command, add_deck_option, add_json_option, add_minutes_option, add_repeated_option
from drill.cli.learner import chosen_deck, load_settings, open_progress, open_record
from drill.cli.output import notify
from drill.cli.requests import FocusRequest
from drill.errors import UsageProblem
from drill.system.environment import Environment
from drill.system.slow_notice import notify_if_slow
from drill.theory.names import one_line

if TYPE_CHECKING:
    from drill.decks import Deck, Focus
    from drill.decks.typed_weak import Weak
    from drill.practice.request import DrillRequest
    from drill.practice.session import Session
    from drill.settings import Settings

    Run = Callable[[Session, Environment], None]


class ProgramRequest(NamedTuple):
    """`fretsure` without a command takes no options of its own."""


class TodayRequest(NamedTuple):
    """What `fretsure today` was asked for."""

    minutes: int | None
    deck: str | None
    plain: bool
    json: bool
    listen: bool = False
    words: Sequence[str] = ()


def open_program(request: ProgramRequest, environment: Environment) -> None:
    """Open the full program; without a terminal, run today's drill in lines."""
    from drill.practice.request import DrillRequest

    if environment.is_terminal:
        from drill.cli.screens import run_screens

        run_screens(environment)
    else:
        _run_lines(DrillRequest(), environment, as_json=False)


def drill_today(request: TodayRequest, environment: Environment) -> None:
    """Drill the whole deck. Raises UsageProblem where a part of it was asked for."""
    if request.words:
        part = one_line(" ".join(request.words))
        if part.isdecimal():
            raise UsageProblem("How long it takes is an option.", f"Write: fretsure today --minutes {part}")
        raise UsageProblem("Today's drill is of the whole deck.", f"For a part of it: fretsure focus {part}")
    _drill(request, None, environment)


def drill_focus(request: FocusRequest, environment: Environment) -> None:
    """Drill what the focus leaves of the deck, or whatever is weakest."""
    from drill.cli.focus import read_focus
    from drill.decks.typed_weak import weak_called

    weak = "all" if request.weakest else weak_called(" ".join(request.words))
    focus = _weakest(request, weak, environment) if weak else read_focus(request, load_settings(environment))
    _drill(request, focus, environment)


def _drill(request: TodayRequest | FocusRequest, focus: "Focus | None", environment: Environment) -> None:
    from drill.practice.request import DrillRequest

    drill = DrillRequest(request.deck, request.minutes, focus, request.listen)
    if request.listen:
        _refuse_to_listen(request, environment)
    if request.plain or request.json or not environment.is_terminal:
        _run_lines(drill, environment, as_json=request.json)
    else:
        from drill.cli.screens import run_screens

        run_screens(environment, drill)


def _refuse_to_listen(request: TodayRequest | FocusRequest, environment: Environment) -> None:
    """Say in time that nothing can be heard. Raises NoSound, and UsageProblem for a program that would play."""
    if request.json:
        raise UsageProblem("--listen hears a guitar, and --json is for programs.", "Leave one of them out.")
    from drill.practice.hearing import open_ears

    open_ears(environment, load_settings(environment))


def _run_lines(request: "DrillRequest", environment: Environment, *, as_json: bool) -> None:
    from drill.cli.json_mode import drill_in_json
    from drill.cli.line_input import attended
    from drill.cli.line_mode import drill_in_words
    from drill.cli.placement import placed
    from drill.cli.widening import widened
    from drill.practice.learner_store import LearnerStore
    from drill.practice.session import Session
    from drill.system.signals import pause_while_suspended

    settings = load_settings(environment)
    chosen = chosen_deck(request.deck, settings)
    deck, focus = widened(chosen, request.focus, settings, environment, as_json=as_json)
    with open_record(environment) as record, _thinking_clock(environment, as_json) as monotonic:
        environment = environment._replace(monotonic=monotonic)
        settings = settings if as_json else placed(settings, record, environment)
        with notify_if_slow(environment.stderr):
            store = LearnerStore.begin(record, environment.monotonic)
        is_played = not as_json and (request.listen or (settings.answers != "typed" and attended(environment)))
        preparing = _heard(request, deck, focus, settings, environment) if is_played else nullcontext((deck, None))
        with preparing as (deck, run_played):
            session = Session.start(environment, settings, record, deck, request.minutes, focus, store)
            run = run_played or (drill_in_json if as_json else drill_in_words)
            with pause_while_suspended(session):
                run(session, environment)


@contextmanager
def _heard(
    request: "DrillRequest", deck: "Deck", focus: "Focus | None", settings: "Settings", environment: Environment
) -> "Iterator[tuple[Deck, Run | None]]":
    """What can be played, and what runs a drill of it with the microphone open; see `played_lines.heard`."""
    from drill.cli.line_mode import drill_by_ear
    from drill.cli.played_lines import heard  # a drill that is typed starts without it

    with heard(request, deck, focus, settings, environment) as (given, ears):
        yield given, partial(drill_by_ear, ears) if ears else None


@contextmanager
def _thinking_clock(environment: Environment, as_json: bool) -> Iterator[Callable[[], float]]:
    """The clock that measures thinking. A person's leaves out stops; a program's may run fast and is taken as it is."""
    from drill.system.steady import steady_clock

    if as_json:
        yield environment.monotonic
        return
    with steady_clock(environment.monotonic) as steady:
        yield steady


def _weakest(request: FocusRequest, weak: "Weak", environment: Environment) -> "Focus":
    """What is weakest in this way, or, where nothing is, what `--weakest` alone would drill."""
    from drill.progress.named_weakest import weakest_called

    if (request.weakest and request.words) or request.string or request.key or request.family or request.shape:
        raise UsageProblem("--weakest chooses the focus itself.", "Leave out the others: fretsure focus --weakest")
    with open_progress(request.deck, environment, exact=False) as progress:
        weakest = weakest_called(progress, weak) or progress.weakest
    notify(environment, [progress.settings.voice.say(f"{weakest.label}. {weakest.why}")])
    return weakest.focus


# -- the rows ----------------------------------------------------------------------------------------------------------


def _no_options(parser: argparse.ArgumentParser) -> None:
    pass


def _today_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("words", nargs="*", help=argparse.SUPPRESS)  # to say what does take them
    _drill_options(parser)


def _drill_options(parser: argparse.ArgumentParser) -> None:
    add_minutes_option(parser, "how long to drill")
    add_deck_option(parser)
    parser.add_argument("--listen", action="store_true", help="answer on the guitar; a microphone hears what you play")
    parser.add_argument("--plain", action="store_true", help="one line at a time, for screen readers and pipes")
    add_json_option(parser)


def _focus_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("words", metavar="WORDS", nargs="*", help="what to drill: Eb minor on the A string")
    _drill_options(parser)
    add_repeated_option(parser, "--string", "N", "a string by number (1 is the highest) or by name, such as A")
    add_repeated_option(parser, "--key", "K", "a key, such as Bb or F#m")
    add_repeated_option(parser, "--family", "F", "a family of questions; fretsure decks --json lists them")
    add_repeated_option(parser, "--shape", "S", "a shape, such as string-6")
    parser.add_argument("--weakest", action="store_true", help="drill whatever is weakest now, and say why")


OPEN_PROGRAM = Command("", "Open the program.", "fretsure", _no_options, ProgramRequest, open_program)
"""What runs without a command."""
COMMANDS = (
    Command("today", "Run today's drill.", "fretsure today --minutes 5", _today_options, TodayRequest, drill_today),
    Command(
        "focus",
        "Drill one string, key, family or shape.",
        "fretsure focus Bb minor on the A string",
        _focus_options,
        FocusRequest,
        drill_focus,
    ),
)
