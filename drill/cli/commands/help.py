"""`help`: the pages of reference, by topic; without one, the topics."""

from __future__ import annotations

import argparse
from difflib import get_close_matches
from typing import NamedTuple

from drill.cli.commands import MODULES, Command
from drill.cli.output import print_lines
from drill.cli.reference import TOPICS
from drill.system.environment import Environment

WIDEST = 100
"""Longer lines are hard to read."""
LONGEST = 40
"""Characters of what was typed that are looked at."""
SEVERAL = {"figures": ("progress", "class"), "formats": ("export", "deck", "json")}
"""Words for what several topics tell of; help names these."""
ALSO_CALLED = {
    "glossary": "words", "signs": "words", "terms": "words", "shortcuts": "keys", "questions": "families",
    "config": "settings", "configuration": "settings", "log": "export", "columns": "export", "teacher": "class",
}  # fmt: skip
"""Words that lead to the one topic that holds them."""


class HelpRequest(NamedTuple):
    """What `fretsure help` was asked for."""

    topic: str | None


def show_help(request: HelpRequest, environment: Environment) -> None:
    """Print the page of a topic, or the topics."""
    from drill.cli.reference import page_lines
    from drill.cli.reference.layout import entries

    width = min(environment.columns or WIDEST, WIDEST)
    if request.topic in SEVERAL:
        print_lines(environment, [f"These topics of `fretsure help TOPIC` explain {request.topic}:"])
        print_lines(environment, entries(((each, TOPICS[each]) for each in SEVERAL[request.topic]), width))
        return
    if request.topic:
        print_lines(environment, page_lines(request.topic, width))
        return
    print_lines(environment, ["Topics for `fretsure help TOPIC`; `fretsure COMMAND --help` explains one command:"])
    print_lines(environment, entries(TOPICS.items(), width))


def topic(typed: str) -> str:
    """The topic, or the word for several, that somebody means: in capitals too, and in the singular or the plural.

    Raises ArgumentTypeError.
    """
    wanted = typed.casefold()
    plural = wanted if wanted in MODULES else f"{wanted}s"  # `key` is a command, and `keys` are those of the screens
    for name in (wanted, wanted.removesuffix("s"), plural):
        if name in TOPICS or name in SEVERAL:
            return name
        if name in ALSO_CALLED:
            return ALSO_CALLED[name]
    if wanted in MODULES:
        raise argparse.ArgumentTypeError(f"{wanted!r} is a command: `fretsure {wanted} --help` tells of it")
    near = get_close_matches(wanted[:LONGEST], TOPICS, n=1)
    meant = f"did you mean {near[0]}? " if near else ""
    raise argparse.ArgumentTypeError(f"there is no topic {typed[:LONGEST]!r}; {meant}topics: {', '.join(TOPICS)}")


def _help_options(parser: argparse.ArgumentParser) -> None:
    about = "a topic; without one, they are listed"
    parser.add_argument("topic", nargs="?", type=topic, choices=(*TOPICS, *SEVERAL), metavar="TOPIC", help=about)


COMMANDS = (
    Command("help", "Explain keys, figures, formats and words.", "fretsure help deck", _help_options, HelpRequest,
            show_help),
)  # fmt: skip
