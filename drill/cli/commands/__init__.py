"""Every command is one row: what help says about it, its options, and the function that runs it.

Command       the row
commands      every row; each module of this package has the rows of one subject
add_...       options that several commands have

A module imports what its commands need when they run.
"""

import argparse
from collections.abc import Callable
from importlib import import_module
from typing import Any, Generic, NamedTuple, TypeVar

from drill.errors import ALL_SAVED
from drill.system.environment import Environment
from drill.theory.bars import FASTEST_BPM, SLOWEST_BPM

MODULES = {
    "today": "drilling",
    "focus": "drilling",
    "round": "rounds",
    "key": "looking_up",
    "loop": "looking_up",
    "decks": "decks",
    "cards": "decks",
    "progress": "progress",
    "class": "classroom",
    "sheet": "sheet",
    "export": "record",
    "backup": "record",
    "restore": "record",
    "help": "help",
}
"""The module of each command, in the order in which help lists them."""
MOST_MINUTES = 60
"""As in the settings, whose import would make `--help` a fifth slower."""
LONGEST_NUMBER = 10
"""Python refuses to read a number of thousands of digits."""

Request = TypeVar("Request")


class Command(NamedTuple, Generic[Request]):
    """One command of `fretsure`.

    `configure` adds its options to a parser. `request` makes one value of them: it takes each option by its name.
    `run` does what the request asks for, or raises a FretsureError.
    """

    name: str
    help: str
    example: str
    configure: Callable[[argparse.ArgumentParser], None]
    request: Callable[..., Request]
    run: Callable[[Request, Environment], None]
    saved: str = ALL_SAVED
    """What is said to whoever interrupts it."""


def commands(wanted: str = "") -> tuple[Command[Any], ...]:
    """Return every command, or the `wanted` one alone if there is such a command.

    The modules of the other commands are then not imported: they would cost a look-up a tenth of its time.
    """
    modules = [MODULES[wanted]] if wanted in MODULES else dict.fromkeys(MODULES.values())
    found = tuple(row for name in modules for row in import_module(f"{__name__}.{name}").COMMANDS)
    return tuple(row for row in found if row.name == wanted) or found


def add_deck_option(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--deck", metavar="D", help="a deck's name, or the path of a deck file")


def add_json_option(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="print JSON, complete and exact, for programs")


def add_tempo_option(parser: argparse.ArgumentParser) -> None:
    """The tempo of what is played; without it the learner's own."""
    tempo = whole_number("beats per minute", SLOWEST_BPM, FASTEST_BPM)
    told = f"{SLOWEST_BPM} to {FASTEST_BPM} beats a minute; else your own tempo"
    parser.add_argument("--tempo", metavar="BPM", type=tempo, help=told)


def add_minutes_option(parser: argparse.ArgumentParser, sentence: str) -> None:
    """How long a drill or a round lasts; without it as long as the settings say."""
    minutes = whole_number("whole minutes", 1, MOST_MINUTES)
    parser.add_argument("--minutes", metavar="N", type=minutes, help=f"{sentence}: 1 to {MOST_MINUTES} minutes")


def add_repeated_option(parser: argparse.ArgumentParser, name: str, metavar: str, help: str) -> None:
    """An option that may be given several times; each adds a value to a list."""
    parser.add_argument(name, metavar=metavar, action="append", default=[], help=help)


def whole_number(wanted: str, low: int, high: int) -> Callable[[str], int]:
    """Return what reads the value of an option: a number from `low` to `high`."""

    def read(text: str) -> int:
        if not (text.isdecimal() and len(text) < LONGEST_NUMBER and low <= int(text) <= high):
            raise argparse.ArgumentTypeError(f"{text[:20]!r} does not fit: write {wanted} from {low} to {high}")
        return int(text)

    return read
