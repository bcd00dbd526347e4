"""The command line: what was asked for, and the one function that does it.

Results go to standard output, messages to standard error. Exit codes: 0 done, 2 usage, 65 bad input file, 70 a mistake
of the program, 73 cannot write, 74 record damaged, 130 interrupted.
"""

from __future__ import annotations

import argparse
import gc
import sys
from collections.abc import Callable, Mapping, Sequence
from typing import NoReturn

from drill import __version__
from drill.cli import commands
from drill.errors import CannotWrite, FretsureError
from drill.system.environment import Environment
from drill.system.platforms import is_broken_pipe
from drill.system.signals import INTERRUPTED, sigterm_as_interrupt
from drill.system.streams import settle
from drill.system.text import visible

BROKEN_PIPE = 141
LONGEST_COMPLAINT = 500
YOUNG_OBJECTS = 200_000
"""How many new objects may be there before Python looks for garbage among them. A start makes half as many and loses
few: looked through 700 at a time, as is usual, they take a tenth of its time."""
Command = Callable[[argparse.Namespace, Environment], None]
Add = Callable[[Command, str, str], argparse.ArgumentParser]
"""Adds a command to the parser: what does it, its help, and an example."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit code. No traceback reaches the learner."""
    gc.set_threshold(YOUNG_OBJECTS)
    given = sys.argv[1:] if arguments is None else list(arguments)
    options = build_parser(given[0] if given else "").parse_args(given)
    try:
        environment = Environment.real(options.record)
    except FretsureError as error:
        print(f"fretsure: {error}", file=sys.stderr)
        return error.exit_code
    return _run(options, environment)


def _run(options: argparse.Namespace, environment: Environment) -> int:
    try:
        with sigterm_as_interrupt():
            commands.run(options, environment)
            environment.stdout.flush()
    except KeyboardInterrupt:
        commands.complain(environment, "\nfretsure: interrupted. Every answer given so far is kept.")
        return INTERRUPTED
    except Exception as error:
        if is_broken_pipe(error):
            return BROKEN_PIPE
        known = _known(error, environment)
        commands.complain(environment, f"fretsure: {known}")
        return known.exit_code
    finally:
        settle(environment.stdout)
        settle(environment.stderr)
    return 0


def _known(error: Exception, environment: Environment) -> FretsureError:
    """The error as one that can be told. What fails without naming a file is our own output."""
    if isinstance(error, OSError) and error.filename is None:
        return CannotWrite(f"The output cannot be written ({error.strerror}).", "Every answer given so far is kept.")
    from drill.system import crash_report

    return crash_report.report_crash(error, environment.record_path)


class _Parser(argparse.ArgumentParser):
    """Tells what it cannot take in a line that can be read, whatever was typed."""

    def error(self, message: str) -> NoReturn:
        super().error(visible(message if len(message) <= LONGEST_COMPLAINT else f"{message[:LONGEST_COMPLAINT]}..."))


def build_parser(wanted: str = "") -> argparse.ArgumentParser:
    """Every command with its options, its help and an example; of a `wanted` one alone, if there is such a command.

    The other commands would cost a look-up a tenth of its time.
    """
    everywhere = _Parser(add_help=False)
    everywhere.add_argument("--record", metavar="PATH", help="the record to use instead of your own")
    everywhere.add_argument("--demo", action="store_true", help="an invented record of three months, thrown away after")
    parser = _Parser(
        prog="fretsure",
        parents=[everywhere],
        description="A timed, spaced drill of fretboard theory. Without a command: open the program.",
        epilog="Example: fretsure today --minutes 5",
    )
    parser.add_argument("--version", action="version", version=f"fretsure {__version__}")
    parser.set_defaults(command=commands.open_program)
    subparsers = parser.add_subparsers(title="commands", metavar="COMMAND", prog=parser.prog)

    # SUPPRESS: a --record given before the command must not be forgotten by the command's own default
    own = _Parser(add_help=False, argument_default=argparse.SUPPRESS)
    own.add_argument("--record", metavar="PATH", help="the record to use instead of your own")
    own.add_argument("--demo", action="store_true", default=argparse.SUPPRESS, help="use an invented record")

    for name in (wanted,) if wanted in COMMANDS else COMMANDS:

        def add(command: Command, help: str, example: str, name: str = name) -> argparse.ArgumentParser:
            made = subparsers.add_parser(
                name, parents=[own], help=help, description=help, epilog=f"Example: {example}", allow_abbrev=False
            )
            made.set_defaults(command=command)
            return made

        COMMANDS[name](add)
    return parser


def _today(add: Add) -> None:
    _drill_options(add(commands.drill_today, "Today's drill.", "fretsure today --minutes 5"))


def _focus(add: Add) -> None:
    focus = add(commands.drill_focus, "A drill of one string, key, family or shape.", 'fretsure focus --key "Bb minor"')
    _drill_options(focus)
    focus.add_argument("--string", metavar="N", action="append", default=[], help="a string, 1 is the highest")
    focus.add_argument("--key", metavar="K", action="append", default=[], help="a key, such as Bb or F#m")
    focus.add_argument("--family", metavar="F", action="append", default=[], help="a family: see fretsure decks --json")
    focus.add_argument("--shape", metavar="S", action="append", default=[], help="a shape, such as string-6")
    focus.add_argument("--weakest", action="store_true", help="whatever is weakest now, with the reason")


def _key(add: Add) -> None:
    key = add(commands.look_up_key, "Where a key lives on the neck.", "fretsure key F#m")
    key.add_argument("key", metavar="KEY", nargs="+", help="a key, such as Bb, F#m or “E minor”")
    key.add_argument("--all", action="store_true", help="all five shapes, one by one")
    key.add_argument("--scale", metavar="NAME", help="any scale on this tonic, such as dorian or “minor blues”")
    under = key.add_mutually_exclusive_group()
    under.add_argument("--per-string", metavar="N", type=int, choices=(2, 3), help="patterns of 2 or 3 notes a string")
    under.add_argument("--index-fret", metavar="N", type=_index_fret, help="the scale under the hand at this fret")
    _look_up_options(key)


def _loop(add: Add) -> None:
    loop = add(commands.look_up_loop, "Which key a chord loop is in.", "fretsure loop Am F C G")
    loop.add_argument("chords", metavar="CHORD", nargs="+", help="the chords of one round, such as Am F C G")
    _look_up_options(loop)


def _decks(add: Add) -> None:
    decks = add(commands.list_decks, "The decks there are; check a deck file.", "fretsure decks check my-deck.toml")
    decks.add_argument("check", nargs="*", metavar="check FILE", help="check a deck file and name every mistake")
    _json_option(decks)


def _cards(add: Add) -> None:
    cards = add(commands.list_cards, "Every card of a deck with its answers.", "fretsure cards --family shape-anchor")
    _deck_option(cards)
    cards.add_argument("--family", metavar="F", action="append", default=[], help="only this family")
    _json_option(cards)


def _progress(add: Add) -> None:
    progress = add(commands.show_progress, "Where you stand, and what to drill next.", "fretsure progress --json")
    _deck_option(progress)
    progress.add_argument("--card", metavar="ID", help="one card: its history, and why it is or is not asked")
    _json_option(progress)


def _export(add: Add) -> None:
    export = add(commands.export_record, "Hand on figures and a page for a teacher.", "fretsure export for-my-teacher")
    export.add_argument("folder", metavar="DIR", help="the folder to write; it is made if it is not there")
    _deck_option(export)


def _backup(add: Add) -> None:
    backup = add(commands.back_up, "Copy the whole record into a file.", "fretsure backup record-copy.sqlite3")
    backup.add_argument("file", metavar="FILE", help="where the copy goes; no file may be there yet")


def _restore(add: Add) -> None:
    restore = add(commands.restore_record, "Take a backup or an exported log back.", "fretsure restore attempts.jsonl")
    restore.add_argument("file", metavar="FILE", help="a backup, or the attempts.jsonl of an export")


COMMANDS: Mapping[str, Callable[[Add], None]] = {
    "today": _today,
    "focus": _focus,
    "key": _key,
    "loop": _loop,
    "decks": _decks,
    "cards": _cards,
    "progress": _progress,
    "export": _export,
    "backup": _backup,
    "restore": _restore,
}
"""What adds each command to the parser, in the order in which help lists them."""


def _drill_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--minutes", metavar="N", type=_minutes, help="how long, 1 to 60 minutes")
    _deck_option(parser)
    parser.add_argument("--plain", action="store_true", help="line by line, for screen readers and pipes")
    _json_option(parser)


def _look_up_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--show", choices=("fingers", "degrees", "notes"), help="what the dots on the neck say")
    _json_option(parser)


def _deck_option(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--deck", metavar="D", help="a deck's name, or the path of a deck file")


def _json_option(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="JSON, complete and exact, for programs")


def _index_fret(text: str) -> int:
    if not (text.isdecimal() and 1 <= int(text[:3]) <= 24):
        raise argparse.ArgumentTypeError(f"{text[:20]!r} does not fit: write a fret from 1 to 24")
    return int(text)


def _minutes(text: str) -> int:
    if not (text.isdecimal() and 1 <= int(text[:4]) <= 60):
        raise argparse.ArgumentTypeError(f"{text[:20]!r} does not fit: write whole minutes from 1 to 60")
    return int(text)
