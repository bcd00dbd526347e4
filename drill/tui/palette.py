"""The palette finds commands, keys, decks and settings; what a title says comes before what a help says."""

from collections.abc import Callable, Iterator
from functools import partial
from typing import TYPE_CHECKING, NamedTuple, cast

from textual.command import DiscoveryHit, Hit, Hits, Provider

from drill.present.finding import plain_words
from drill.tui.commands import Command, everywhere, of_screen

if TYPE_CHECKING:
    from drill.tui.navigator import Navigator

EXACT, IN_TITLE, IN_HELP = 3.0, 2.0, 1.0
"""The least scores of what is called just so, of what has the query in its title, and of what has it in its help."""


class Entry(NamedTuple):
    """One thing the palette finds: by its title, by other names, or by its help."""

    title: str
    help: str
    run: Callable[[], object]
    names: str = ""


class CommandProvider(Provider):
    """Offers the commands of the screen below and those that work everywhere; keys, decks and settings by name."""

    async def discover(self) -> Hits:
        for entry in self._commands():
            yield DiscoveryHit(entry.title, entry.run, help=entry.help)

    async def search(self, query: str) -> Hits:
        for entry in (*self._commands(), *self._keys(), *self._decks(), *self._settings()):
            score = self._score(query, entry)
            if score > 0:
                yield Hit(score, entry.title, entry.run, help=entry.help)

    def _score(self, query: str, entry: Entry) -> float:
        """How well an entry fits: a title that begins with the query best, then any title or name, then a help."""
        wanted, title = plain_words(query), plain_words(entry.title)
        if title.startswith(wanted) or wanted in plain_words(entry.names).split(" / "):
            return EXACT
        matcher = self.matcher(query)
        if in_title := max(matcher.match(entry.title), matcher.match(entry.names)):
            return IN_TITLE + _below_one(in_title)
        in_help = matcher.match(entry.help)
        return IN_HELP + _below_one(in_help) if in_help else 0.0

    def _commands(self) -> Iterator[Entry]:
        here = self.screen
        for command in of_screen(getattr(here, "where", "")):
            if here.check_action(command.action, ()):
                yield self._command(command, here.run_action)
        for command in everywhere():
            yield self._command(command, self.app.run_action)

    def _command(self, command: Command, run: Callable[[str], object]) -> Entry:
        below = getattr(self.screen, "where", "")  # the palette itself is in front
        key = self._navigator.rebound(command, below).key_shown
        return Entry(command.title, f"{key}  {command.help}", partial(run, command.action))

    def _keys(self) -> Iterator[Entry]:
        from drill.theory.keys import KEYS

        language = self._navigator.services.settings.note_language
        for key in KEYS:
            names = f"{key.typed_in(language)} / {key.short}"
            run = partial(self._navigator.show_key, key)
            yield Entry(key.shown_in(language), "Look the key up.", run, names)

    def _decks(self) -> Iterator[Entry]:
        for name, deck in self._navigator.services.decks().items():
            run = partial(self._navigator.choose_deck, name)
            yield Entry(deck.title, "Use this deck for your daily drill.", run, f"deck {name}")

    def _settings(self) -> Iterator[Entry]:
        from drill.present.setting_words import title_of
        from drill.settings import fields

        for field in fields():
            run = partial(self._navigator.show_setting, field.name)
            yield Entry(title_of(field.name), f"Change it in Set-up. {field.sentence}", run, field.name)

    @property
    def _navigator(self) -> "Navigator":
        return cast("Navigator", self.app)


def _below_one(score: float) -> float:
    """A score of Textual's, which has no upper bound, in the same order below 1."""
    return score / (1 + score)
