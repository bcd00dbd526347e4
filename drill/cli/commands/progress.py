"""`progress`: where the learner stands, of the whole deck or of one card, as text or as JSON."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING, Any, NamedTuple

from drill.cli.commands import Command, add_deck_option, add_json_option
from drill.cli.learner import open_progress
from drill.cli.output import print_json, print_lines
from drill.system.environment import Environment
from drill.system.slow_notice import notify_if_slow

if TYPE_CHECKING:
    from drill.progress import Progress


class ProgressRequest(NamedTuple):
    """What `fretsure progress` was asked for."""

    deck: str | None
    card: str | None
    json: bool


def show_progress(request: ProgressRequest, environment: Environment) -> None:
    """Print the progress through a deck, or the history of one card."""
    with open_progress(request.deck, environment) as progress:
        if request.json:
            with notify_if_slow(environment.stderr):
                found = _object(progress, request.card)
            new = {"new_record": None if progress.log.attempt_count() else str(environment.record_path)}
            print_json(environment, [found | new])
        else:
            with notify_if_slow(environment.stderr):
                lines = list(_lines(progress, environment, request.card))  # reads the log as it makes them
            print_lines(environment, lines)


def _object(progress: Progress, card: str | None) -> dict[str, Any]:
    from drill.progress.card_history import card_history
    from drill.progress.columns import card_history_object, progress_object

    return card_history_object(card_history(card, progress), progress) if card else progress_object(progress)


def _lines(progress: Progress, environment: Environment, card: str | None) -> Iterator[str]:
    from drill.present.dates import local
    from drill.progress.card_history import card_history
    from drill.progress.lines import Lines

    lines = Lines(progress, partial(local, environment=environment), environment.columns)
    return lines.card_history(card_history(card, progress)) if card else lines.all()


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
