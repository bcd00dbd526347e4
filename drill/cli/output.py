"""Results go to standard output, messages to standard error."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress

from drill.system.environment import Environment
from drill.system.text import visible


def print_lines(environment: Environment, lines: Iterable[str]) -> None:
    """Print the lines of a result."""
    for line in lines:
        print(visible(line), file=environment.stdout)


def notify(environment: Environment, notices: Iterable[object]) -> None:
    """Print each notice under the program's name on standard error."""
    for notice in notices:
        complain(environment, f"fretsure: {notice}")


def complain(environment: Environment, sentence: str) -> None:
    """Print a sentence on standard error, or drop it if standard error takes no more."""
    with suppress(OSError):
        print(visible(sentence), file=environment.stderr)
