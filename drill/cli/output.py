"""Results go to standard output, messages to standard error."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from typing import Any

from drill.system.environment import Environment
from drill.system.text import visible


def print_lines(environment: Environment, lines: Iterable[str]) -> None:
    """Print the lines of a result."""
    for line in lines:
        print(visible(line), file=environment.stdout)


def say(environment: Environment, sentence: str, end: str = "\n") -> None:
    """Print a sentence at once: somebody waits for it."""
    print(visible(sentence), end=end, file=environment.stdout, flush=True)


def print_json(environment: Environment, objects: Iterable[dict[str, Any]]) -> None:
    """Print each object as one line of JSON in ASCII."""
    import json  # only here: a look-up in words must start quickly

    print_lines(environment, map(json.dumps, objects))


def notify(environment: Environment, notices: Iterable[object]) -> None:
    """Print each notice under the program's name on standard error."""
    for notice in notices:
        complain(environment, f"fretsure: {notice}")


def complain(environment: Environment, sentence: str) -> None:
    """Print a sentence on standard error, or drop it if standard error takes no more."""
    with suppress(OSError):
        print(visible(sentence), file=environment.stderr)
