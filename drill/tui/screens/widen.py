"""A focus of few cards: drill it as it was asked for, or take a wider one."""

from __future__ import annotations

from collections.abc import Iterator

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from drill.decks import Deck, Focus, Widening
from drill.decks.preview import preview
from drill.present.figures import how_many
from drill.present.narrow import AS_ASKED, narrow_sentence
from drill.tui.commands import bindings
from drill.tui.screens.base import BaseScreen
from drill.tui.widgets.choices import Choices
from drill.tui.widgets.focus_preview import BESIDE_FROM, FocusPreview

AS_IT_IS = "narrow"
SPACIOUS = 6
"""Rows that bar, message and footer take at most in a window in which each line has its sentence under it."""


class WidenScreen(BaseScreen):
    """The focus as it was asked for, where the cursor is, then each wider one with its size and what it adds."""

    where = "widen"
    caption = "Few cards"
    BINDINGS = bindings("widen")
    AUTO_FOCUS = "#choices"
    DEFAULT_CSS = """
    #message { padding: 1 1; }
    #both { height: 1fr; }
    #choices { width: 2fr; height: 1fr; }
    WidenScreen #preview { display: none; }
    WidenScreen.beside #preview { display: block; }
    WidenScreen.-low #message, WidenScreen.-flat #message { padding: 0 1; }
    """

    def __init__(self, focus: Focus, cards: int, offers: tuple[Widening, ...]) -> None:
        super().__init__()
        self._focus_is, self._cards, self._offers = focus, cards, offers

    def body(self) -> ComposeResult:
        told = self.settings.voice.say(self.services.other_names(self._focus_is))
        instead = self.services.without_shapes
        message = filter(None, (told, narrow_sentence(self._cards), instead))
        yield Static(" ".join(message), id="message", markup=False)
        with Horizontal(id="both"):
            yield Choices(*self._options(), id="choices")
            yield FocusPreview(self.services.deck.neck, self.look, self.settings.voice)
        yield Static(id="hint", markup=False)

    def on_mount(self) -> None:
        self.query_one(Choices).highlighted = 0

    def on_resize(self) -> None:
        """Use the room there is: the sentences under their lines or below the list, the neck beside it."""
        self.set_class(self.size.width >= BESIDE_FROM, "beside")
        choices = self.query_one(Choices)
        for option in self._options():
            choices.replace_option_prompt(option.id or "", option.prompt)
        self.query_one("#hint").display = not self._is_spacious
        self._tell()

    @property
    def _is_spacious(self) -> bool:
        return self.size.height >= SPACIOUS + 3 * (len(self._offers) + 1)

    def _options(self) -> Iterator[Option]:
        if self._cards:
            yield self._option(AS_IT_IS, "=", "as it is", self._cards, AS_ASKED)
        for at, offer in enumerate(self._offers):
            sign = "+" if offer.deck.id == self.services.deck.id else "→"
            yield self._option(str(at), sign, offer.words, offer.cards, offer.adds)

    def _option(self, name: str, sign: str, words: str, cards: int, adds: str) -> Option:
        say = self.settings.voice.say
        line = Content.assemble((f"{sign} ", "$primary bold"), say(words), (f"  {how_many(cards, 'card')}", "$primary"))
        under = Content.styled(f"\n  {say(adds)}", "$neck-quiet") if self._is_spacious else Content("")
        return Option(Content.assemble(line, under), id=name)

    def on_option_list_option_highlighted(self) -> None:
        self._tell()

    def _tell(self) -> None:
        """Say what the line under the cursor adds, and show it where there is room."""
        focus, deck, adds = self._chosen
        self.query_one("#hint", Static).update(self.settings.voice.say(adds))
        if self.has_class("beside"):
            self.query_one(FocusPreview).put(preview(deck or self.services.deck, focus))

    @property
    def _chosen(self) -> tuple[Focus, Deck | None, str]:
        """What Enter drills, its deck if it is not that of the daily drill, and what it adds."""
        name = self.query_one(Choices).chosen
        if name is None or name == AS_IT_IS:
            return self._focus_is, None, AS_ASKED
        offer = self._offers[int(name)]
        return offer.focus, None if offer.deck.id == self.services.deck.id else offer.deck, offer.adds

    def on_option_list_option_selected(self, _: OptionList.OptionSelected) -> None:
        self.action_do_take()

    def action_do_take(self) -> None:
        focus, deck, _ = self._chosen
        self.navigator.start_drill(focus, deck, narrow=True)

    def action_do_back(self) -> None:
        self.navigator.leave_page()
