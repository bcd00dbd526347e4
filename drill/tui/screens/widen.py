"""A focus of few cards: drill it as it is, or take a wider one."""

from __future__ import annotations

from collections.abc import Iterator

from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from drill.decks import Focus, Widening
from drill.present.figures import how_many
from drill.present.narrow import narrow_sentence
from drill.tui.commands import bindings
from drill.tui.screens.base import BaseScreen
from drill.tui.widgets.choices import Choices

AS_IT_IS = "narrow"


class WidenScreen(BaseScreen):
    """The focus as it is, then each wider one with its size; the cursor is on the nearest wider one."""

    where = "widen"
    caption = "Few cards"
    BINDINGS = bindings("widen")
    AUTO_FOCUS = "#choices"
    DEFAULT_CSS = """
    #message { padding: 1 1; }
    #choices { height: 1fr; }
    WidenScreen.-low #message, WidenScreen.-flat #message { padding: 0 1; }
    """

    def __init__(self, focus: Focus, cards: int, offers: tuple[Widening, ...]) -> None:
        super().__init__()
        self._focus_is, self._cards, self._offers = focus, cards, offers

    def body(self) -> ComposeResult:
        told = self.settings.voice.say(self.services.other_names(self._focus_is))
        yield Static(" ".join(filter(None, (told, narrow_sentence(self._cards)))), id="message", markup=False)
        yield Choices(*self._options(), id="choices")

    def on_mount(self) -> None:
        choices = self.query_one(Choices)
        choices.highlighted = choices.get_option_index("0" if self._offers else AS_IT_IS)

    def _options(self) -> Iterator[Option]:
        if self._cards:
            yield Option(f"As it is: {how_many(self._cards, 'card')}", id=AS_IT_IS)
        for at, offer in enumerate(self._offers):
            words = self.settings.voice.say(offer.words)
            sign = "+" if offer.deck.id == self.services.deck.id else "→"
            yield Option(
                Content.assemble(
                    (f"{sign} ", "$primary bold"), words, (f"  {how_many(offer.cards, 'card')}", "$primary")
                ),
                id=str(at),
            )

    def on_option_list_option_selected(self, _: OptionList.OptionSelected) -> None:
        self.action_do_take()

    def action_do_take(self) -> None:
        chosen = self.query_one(Choices).chosen
        if chosen is None or chosen == AS_IT_IS:
            self.navigator.start_drill(self._focus_is, narrow=True)
            return
        offer = self._offers[int(chosen)]
        deck = None if offer.deck.id == self.services.deck.id else offer.deck
        self.navigator.start_drill(offer.focus, deck, narrow=True)

    def action_do_back(self) -> None:
        self.navigator.leave_page()
