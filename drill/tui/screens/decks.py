"""Decks: choose the deck for the daily drill."""

from __future__ import annotations

from collections.abc import Iterator

from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from drill.decks import Deck
from drill.errors import FretsureError
from drill.present.figures import how_many
from drill.tui.commands import bindings
from drill.tui.screens.base import BaseScreen
from drill.tui.widgets.choices import Choices

OWN = "`fretsure help deck` explains how to write your own; `fretsure decks add FILE` puts it here."


class DecksScreen(BaseScreen):
    """The decks that ship with the program; Enter chooses one for the daily drill."""

    where = "decks"
    caption = "Decks"
    BINDINGS = bindings("decks")
    AUTO_FOCUS = "#decks"
    DEFAULT_CSS = """
    #decks { height: 1fr; padding-top: 1; }
    DecksScreen.-low #decks { padding-top: 0; }
    DecksScreen.-low #hint, DecksScreen.-flat #hint { display: none; }
    """

    def body(self) -> ComposeResult:
        yield Choices(id="decks")
        yield Static(OWN, id="hint", markup=False)

    def on_mount(self) -> None:
        self._list()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self._choose(event.option.id)

    def action_do_choose(self) -> None:
        self._choose(self.query_one(Choices).chosen)

    def _choose(self, name: str | None) -> None:
        try:
            self.services.change("deck", name or "")
        except FretsureError as error:
            self.navigator.report(error)
        else:
            self._list()

    def _list(self) -> None:
        options, decks = self.query_one(Choices), self.services.decks()
        options.clear_options()
        options.add_options(Option(self._prompt(name, deck), id=name) for name, deck in decks.items())
        options.highlighted = list(decks).index(self.services.deck_name) if self.services.deck_name in decks else 0

    def _prompt(self, name: str, deck: Deck) -> Content:
        return Content("\n").join(self._lines(name, deck))

    def _lines(self, name: str, deck: Deck) -> Iterator[Content]:
        daily = name == self.services.deck_name
        mark = ("● ", "$primary bold") if daily else ("○ ", "")
        state = " · your daily drill" if daily else ""
        yield Content.assemble(mark, (deck.title, "bold"), f"  {how_many(len(deck.entries), 'card')}{state}")
        yield Content(deck.about)
        yield from (Content(f"Left out: {self.settings.voice.say(sentence)}") for sentence in deck.left_out)
        yield Content("")
