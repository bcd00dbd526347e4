"""The palette finds every command that works here by a part of its name or help."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from textual.command import DiscoveryHit, Hit, Hits, Provider
from textual.types import IgnoreReturnCallbackType

from drill.tui.commands import Command, everywhere, of_screen


class CommandProvider(Provider):
    """Offers the commands of the screen below and those that work everywhere."""

    async def discover(self) -> Hits:
        for command, run in self._commands():
            yield DiscoveryHit(command.title, run, help=command.help)

    async def search(self, query: str) -> Hits:
        matcher = self.matcher(query)
        for command, run in self._commands():
            score = matcher.match(f"{command.title} {command.help}")
            if score > 0:
                yield Hit(score, command.title, run, help=command.help)

    def _commands(self) -> Iterator[tuple[Command, IgnoreReturnCallbackType]]:
        for command in of_screen(getattr(self.screen, "where", "")):
            yield command, partial(self.screen.run_action, command.action)
        for command in everywhere():
            yield command, partial(self.app.run_action, command.action)
