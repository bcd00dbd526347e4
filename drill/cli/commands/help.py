"""`help`: the pages of reference, by topic; without one, the topics."""

from __future__ import annotations

import argparse
from typing import NamedTuple

from drill.cli.commands import Command
from drill.cli.output import print_lines
from drill.cli.reference import TOPICS
from drill.system.environment import Environment

WIDEST = 100
"""Longer lines are hard to read."""


class HelpRequest(NamedTuple):
    """What `fretsure help` was asked for."""

    topic: str | None


def show_help(request: HelpRequest, environment: Environment) -> None:
    """Print the page of a topic, or the topics."""
    from drill.cli.reference import page_lines
    from drill.cli.reference.layout import entries

    width = min(environment.columns or WIDEST, WIDEST)
    if request.topic:
        print_lines(environment, page_lines(request.topic, width))
        return
    print_lines(environment, ["Topics for `fretsure help TOPIC`; `fretsure COMMAND --help` explains one command:"])
    print_lines(environment, entries(TOPICS.items(), width))


def _help_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("topic", nargs="?", choices=tuple(TOPICS), help="a topic; without one, they are listed")


COMMANDS = (
    Command("help", "Explain keys, figures, formats and words.", "fretsure help deck", _help_options, HelpRequest,
            show_help),
)  # fmt: skip
