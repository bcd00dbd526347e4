"""The commands, one module a subject. A module imports what its commands need when they run."""

from __future__ import annotations

from typing import Any

from drill.cli.command import Command
from drill.cli.commands import decks, drilling, looking_up, progress, record
from drill.cli.commands.drilling import OPEN_PROGRAM

__all__ = ["COMMANDS", "OPEN_PROGRAM"]

COMMANDS: tuple[Command[Any], ...] = (
    *drilling.COMMANDS,
    *looking_up.COMMANDS,
    *decks.COMMANDS,
    *progress.COMMANDS,
    *record.COMMANDS,
)
"""Every command, in the order in which help lists them."""
