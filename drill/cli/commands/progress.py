"""`progress`: where the learner stands, of the whole deck or of one card, as text or as JSON."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from drill.cli.commands import Command, add_deck_option, add_json_option
from drill.cli.learner import open_progress
from drill.cli.output import print_lines
from drill.system.environment import Environment
from drill.system.slow_notice import notify_if_slow

if TYPE_CHECKING:
    from drill.progress import Progress
    from drill.progress.lines import Lines


class ProgressRequest(NamedTuple):
    """What `fretsure progress` was asked for."""

    deck: str | None
    card: str | None
    json: bool


def show_progress(request: ProgressRequest, environment: Environment) -> None:
    """Print the progress through a deck, or the history of one card."""
    with open_progress(request.deck, environment) as progress:
        if request.card:
            lines = card_lines(progress, environment, request.card, as_json=request.json)
        else:
            lines = progress_lines(progress, environment, as_json=request.json)
        with notify_if_slow(environment.stderr):
            ready = list(lines)  # the lines read the log as they are made
        print_lines(environment, ready)


def progress_lines(progress: Progress, environment: Environment, *, as_json: bool) -> Iterator[str]:
    """Everything, as text or as one JSON object on one line."""
    if as_json:
        from drill.progress.columns import progress_object

        yield json.dumps(progress_object(progress))
    else:
        yield from _lines(progress, environment, environment.columns).all()


def card_lines(progress: Progress, environment: Environment, card: str, *, as_json: bool) -> Iterator[str]:
    """One card, as text or as one JSON object on one line. Raises `UnknownName`."""
    history = progress.card_history(card)
    if as_json:
        from drill.progress.columns import card_history_object

        yield json.dumps(card_history_object(history, progress))
    else:
        yield from _lines(progress, environment, None).card_history(history)


def _lines(progress: Progress, environment: Environment, width: int | None) -> Lines:
    from drill.present.dates import local
    from drill.progress.lines import Lines

    return Lines(progress, partial(local, environment=environment), width)


def _progress_options(parser: argparse.ArgumentParser) -> None:
    add_deck_option(parser)
    parser.add_argument("--card", metavar="ID", help="show one card: its history, and why it is or is not asked")
    add_json_option(parser)


COMMANDS = (
    Command(
        "progress",
        "Show where you stand, and what to drill next.",
        "fretsure progress --json",
        _progress_options,
        ProgressRequest,
        show_progress,
    ),
)
