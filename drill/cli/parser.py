"""The parser: what was typed becomes a command and a typed request."""

import argparse
from collections.abc import Callable, Sequence
from functools import partial
from typing import NamedTuple, NoReturn

from drill import __version__
from drill.cli.commands import commands
from drill.system.environment import Environment
from drill.system.text import visible

LONGEST_COMPLAINT = 500


class Invocation(NamedTuple):
    """One call of fretsure: the options that every command takes, the command's request, and what runs it."""

    record: str | None
    demo: bool
    request: object
    run: Callable[[Environment], None]
    saved: str
    """What is said to whoever interrupts it."""


def parse(arguments: Sequence[str]) -> Invocation:
    """Read the command line. Raises SystemExit after help, after the version, and for anything it cannot read."""
    parser = build_parser(arguments[0] if arguments else "")
    known, left = parser.parse_known_args(arguments)
    options = vars(known)
    command, record, demo = (options.pop(name) for name in ("command", "record", "demo"))
    if left:
        example = f". Example: {command.example}" if command else ""
        parser.error(f"unrecognized arguments: {' '.join(left)}{example}")
    if command is None:
        from drill.cli.commands.drilling import OPEN_PROGRAM  # here: look-ups do without its module

        command = OPEN_PROGRAM
    request = command.request(**options)
    return Invocation(record, demo, request, partial(command.run, request), command.saved)


def build_parser(wanted: str = "") -> argparse.ArgumentParser:
    """Build the parser of every command, or of the `wanted` one alone if there is such a command."""
    parser = _Parser(
        prog="fretsure",
        parents=[_everywhere(None)],
        description="A timed, spaced drill of fretboard theory. Without a command, it opens the program.",
        epilog="Example: fretsure today --minutes 5",
    )
    parser.add_argument("--version", action="version", version=f"fretsure {__version__}")
    parser.set_defaults(command=None, demo=False)
    subparsers = parser.add_subparsers(title="commands", metavar="COMMAND", prog=parser.prog)
    everywhere = _everywhere(argparse.SUPPRESS)
    for command in commands(wanted):
        own = subparsers.add_parser(
            command.name,
            parents=[everywhere],
            help=command.help,
            description=command.help,
            epilog=f"Example: {command.example}",
            allow_abbrev=False,
        )
        command.configure(own)
        own.set_defaults(command=command)
    return parser


class _Parser(argparse.ArgumentParser):
    """Complains in one short line that is safe to print, whatever was typed."""

    def error(self, message: str) -> NoReturn:
        super().error(visible(message if len(message) <= LONGEST_COMPLAINT else f"{message[:LONGEST_COMPLAINT]}..."))


def _everywhere(default: str | None) -> _Parser:
    """The options that may stand before a command and after it.

    After it their default is SUPPRESS, so that a command does not overwrite what was given before it.
    """
    parser = _Parser(add_help=False)
    parser.add_argument("--record", metavar="PATH", default=default, help="use this record instead of your own")
    parser.add_argument(
        "--demo", action="store_true", default=default, help="use three months of sample data (not saved)"
    )
    return parser
