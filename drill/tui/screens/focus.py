"""Focus: type what to drill, or choose it; the weakest of all is one key away."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import suppress
from typing import NamedTuple, Self

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from drill.decks import Deck, Focus
from drill.decks.focus import combined
from drill.decks.preview import preview
from drill.decks.typed_focus import keys_in_words, read_typed_focus, read_words
from drill.decks.typed_weak import Weak, weak_called
from drill.errors import FretsureError
from drill.present.figures import how_many
from drill.present.finding import matches, plain_words
from drill.progress import GROUPINGS, Grouping, Progress, Weakest
from drill.progress.card_status import CardGroup, GroupRow
from drill.progress.named_weakest import TITLES as TITLES_OF_WEAK
from drill.progress.named_weakest import weakest_called
from drill.questions.catalogue import FAMILIES
from drill.questions.wording import named, named_key, string_label
from drill.theory.keys import parse_key
from drill.tui.commands import bindings
from drill.tui.screens.base import BaseScreen
from drill.tui.services import Services
from drill.tui.verdict_text import group_reading
from drill.tui.widgets.choices import BOX, TICKED, Choices, TickList
from drill.tui.widgets.find_field import FindField
from drill.tui.widgets.focus_preview import BESIDE_FROM, FocusPreview

TITLES: dict[Grouping, str] = {"string": "Strings", "key": "Keys", "shape": "Shapes", "family": "Kinds of question"}
WEAKEST, TYPED, ELSEWHERE = "weakest", "typed", "deck:"
"""Names of lines: the weakest of all, what is typed, and the same in another deck."""
WEAK_LINES: dict[str, Weak] = {WEAKEST: "all", **{f"weakest-{weak}": weak for weak in TITLES_OF_WEAK if weak != "all"}}
"""Lines that drill what is weak, by what of it."""
ALWAYS: tuple[Weak, ...] = ("all", "string", "key")
"""What of the weak is listed before anything is typed."""
HOW = "{start} drills this line; {select} selects it, to drill several together."
NO_MATCH = "{back} empties the field."
HINT, IN_SHORT = "type to find, such as {key} on the {string} string", "such as {key} on the {string} string"
NOTHING = "No deck asks about that."
EXAMPLE = parse_key("Eb minor")
LONGEST_QUERY = 60
LONGEST_LABEL = 32


class _Choice(NamedTuple):
    """One line of the list: its name, other words to find it by, and the focus that drills it."""

    label: str
    words: str
    focus: Focus
    group: CardGroup | None = None
    deck: Deck | None = None


class FocusScreen(BaseScreen):
    """A field to type in, and a list of strings, keys, shapes and kinds of question that it narrows.

    Where there is room, what Enter would drill stands beside the list.
    """

    where = "focus"
    caption = "Focus"
    BINDINGS = bindings("focus")
    AUTO_FOCUS = "#query"
    DEFAULT_CSS = """
    #both { height: 1fr; }
    #choices { width: 2fr; height: 1fr; }
    FocusScreen #preview { display: none; }
    FocusScreen.beside #preview { display: block; }
    FocusScreen.-broad #choices { text-wrap: nowrap; text-overflow: ellipsis; }
    FocusScreen.-broad #choices.told { text-wrap: wrap; }
    FocusScreen.-flat #hint { display: none; }
    """

    def __init__(self, progress: Progress) -> None:
        super().__init__()
        self._progress = progress
        self._weakest = progress.weakest
        self.choices: dict[str, _Choice] = {}
        self.selected: list[str] = []
        self._elsewhere: dict[str, _Choice] = {}

    @classmethod
    def at(cls, services: Services) -> Self:
        return cls(services.progress())

    def body(self) -> ComposeResult:
        with Horizontal(id="both"):
            yield TickList(id="choices")
            yield FocusPreview(self._progress.deck.neck, self.look, self.settings.voice)
        yield Static(id="hint", classes="way-on", markup=False)
        hint, in_short = map(self._example, (HINT, IN_SHORT))
        yield FindField(hint, in_short=in_short, max_length=LONGEST_QUERY, id="query")

    def on_mount(self) -> None:
        for kind in GROUPINGS:
            self.choices |= {f"{kind}:{row.name}": self._choice(kind, row) for row in self._progress.table(kind)}
        self._list()

    def on_resize(self) -> None:
        self.set_class(self.size.width >= BESIDE_FROM, "beside")
        self._show_preview()

    def _example(self, hint: str) -> str:
        voice, tuning = self.settings.voice, self._progress.deck.neck.tuning
        lowest = self._progress.deck.neck.tuning.open(tuning.anchor_strings[-1]).note
        return voice.hint(hint.format(key=named_key(EXAMPLE), string=named(lowest)))

    def _choice(self, kind: Grouping, row: GroupRow) -> _Choice:
        names = [key.typed_in(self.settings.note_language) for key in row.focus.by_either_name.keys]
        short = [key.short for key in row.focus.by_either_name.keys]
        return _Choice(self.settings.voice.say(row.label), " ".join([TITLES[kind], *names, *short]), row.focus, row)

    # -- the list ------------------------------------------------------------------------------------------------------

    def on_input_changed(self, _: Input.Changed) -> None:
        self._list()

    def on_input_submitted(self, _: Input.Submitted) -> None:
        self.action_do_start()

    def on_option_list_option_highlighted(self) -> None:
        self._explain()

    def on_option_list_option_selected(self, _: OptionList.OptionSelected) -> None:
        self.action_do_start()

    def on_tick_list_ticked(self, event: TickList.Ticked) -> None:
        if event.name in self.choices:
            self.action_do_select()
        else:
            self.action_do_start()

    @property
    def query_text(self) -> str:
        """What is typed."""
        return self.query_one(FindField).value.strip()

    def _list(self) -> None:
        """List what fits the text in the field; all there is while it is empty."""
        options = self.query_one(Choices)
        options.clear_options()
        options.set_class(False, "told")
        options.add_options(self._found() if self.query_text else self._everything())
        options.highlighted = next((at for at, each in enumerate(options.options) if not each.disabled), None)
        self._explain()

    def _everything(self) -> Iterator[Option]:
        yield from self._weak_lines(ALWAYS)
        for kind in GROUPINGS:
            names = [name for name in self.choices if name.startswith(f"{kind}:")]
            if names:
                yield Option(Content.styled(f"\n{TITLES[kind]}", "$primary bold"), disabled=True)
            yield from (Option(self._prompt(name), id=name) for name in names)

    def _found(self) -> Iterator[Option]:
        """What is typed as a focus, then every line that its words are found in, then other decks."""
        text = self.query_text
        typed = self._typed
        cards = self.services.count(typed) if typed else 0
        names = [name for name, choice in self.choices.items() if matches(text, f"{choice.label} {choice.words}")]
        if typed and cards and (not names or sum(map(bool, typed)) > 1):
            yield Option(self._typed_prompt(typed, cards), id=TYPED)
        names.sort(key=lambda name: not plain_words(self.choices[name].label).startswith(plain_words(text)))
        yield from (Option(self._prompt(name), id=name) for name in names)
        weak = self._weak_typed()
        yield from self._weak_lines(weak)
        elsewhere = list(self._in_other_decks(typed)) if typed and not cards else []
        yield from elsewhere
        if not (names or cards or elsewhere or weak):
            self.query_one(Choices).set_class(True, "told")
            yield Option(self._why_nothing(), disabled=True)

    def _in_other_decks(self, focus: Focus) -> Iterator[Option]:
        """The same focus in every other deck of the instrument that asks about it."""
        self._elsewhere.clear()
        for offer in self.services.widenings(focus):
            if offer.deck.id != self.services.deck.id:
                words = f"{self._in_words(focus)}, from {self.settings.voice.say(offer.words)}"
                self._elsewhere[ELSEWHERE + offer.deck.id] = _Choice(words, "", focus, deck=offer.deck)
                yield Option(Content(f"{words}: {how_many(offer.cards, 'card')}"), id=ELSEWHERE + offer.deck.id)

    def _weak_typed(self) -> tuple[Weak, ...]:
        """What of the weak is typed: just that, or all that is always listed while the word is begun."""
        weak = weak_called(self.query_text)
        begun = "weakest".startswith(plain_words(self.query_text))
        return ALWAYS if begun else (weak,) if weak else ()

    def _weak_lines(self, listed: Iterable[Weak]) -> Iterator[Option]:
        """A line for each of these that is weak; for one that is asked for alone, at least the weakest of all."""
        lines = {name: weak for name, weak in WEAK_LINES.items() if weak in listed and self._weak(name)}
        for name, weak in (lines or dict.fromkeys([WEAKEST], "all") if listed else {}).items():
            title = TITLES_OF_WEAK[weak] if weak != "all" or self._progress.whole.seen else "To begin with"
            found = self._weak(name) or self._weakest
            yield Option(
                Content.assemble((f"{title}: ", "$primary bold"), self.settings.voice.say(found.label)), id=name
            )

    def _weak(self, name: str | None) -> Weakest | None:
        """What a line of the weak drills; None for any other line, and where nothing is weak in that way."""
        return weakest_called(self._progress, WEAK_LINES[name]) if name in WEAK_LINES else None

    def _prompt(self, name: str) -> Content:
        choice = self.choices[name]
        box = TICKED if name in self.selected else BOX
        reading = group_reading(choice.group) if choice.group else Content("")
        return Content.assemble((box, "bold"), f"{choice.label:<{self._breadth}.{self._breadth}} ", reading)

    @property
    def _breadth(self) -> int:
        """Cells of the labels: as many as the longest takes, so that figures keep their room."""
        return min(LONGEST_LABEL, max(len(choice.label) for choice in self.choices.values()))

    def _typed_prompt(self, focus: Focus, cards: int) -> Content:
        return Content.assemble((self._in_words(focus), "$primary bold"), f": {how_many(cards, 'card')}")

    def _in_words(self, focus: Focus) -> str:
        tuning = self._progress.deck.neck.tuning
        names = [*keys_in_words(focus.keys), *(string_label(tuning, string) for string in focus.strings)]
        labels = {id: choice.label for choice in self.choices.values() for id in choice.focus.shapes}
        names += [labels.get(name, f"shape {name}") for name in focus.shapes]
        names += [FAMILIES[name].title for name in focus.families]
        return self.settings.voice.say(" · ".join(names))

    # -- what the learner does -----------------------------------------------------------------------------------------

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Keep out of the footer what does nothing now."""
        idle = (action == "do_select" and not self._on_line) or (action == "do_start" and not self._starts)
        return not idle and super().check_action(action, parameters)

    @property
    def _starts(self) -> bool:
        """Whether Enter drills anything."""
        return self.is_mounted and bool(self._chosen[0])

    @property
    def _on_line(self) -> bool:
        return self.is_mounted and self.query_one(Choices).chosen in self.choices

    def action_do_select(self) -> None:
        """Select the line under the cursor, and empty the field for the next."""
        name = self.query_one(Choices).chosen
        if name not in self.choices:
            return
        if name in self.selected:
            self.selected.remove(name)
        else:
            self.selected.append(name)
        if self.query_text:
            self.query_one(FindField).value = ""
        else:
            self.query_one(Choices).replace_option_prompt(name, self._prompt(name))
        self._explain()

    def action_do_back(self) -> None:
        """Empty the field, then drop what is selected, then return."""
        if self.query_one(FindField).value:
            self.query_one(FindField).value = ""
        elif self.selected:
            self.selected.clear()
            self._list()
        else:
            super().action_do_back()

    def action_do_start(self) -> None:
        focus, deck = self._chosen
        if focus:
            self.navigator.start_drill(focus, deck)

    @property
    def _chosen(self) -> tuple[Focus | None, Deck | None]:
        """What Enter drills, and its deck if it is not that of the daily drill; no focus where it drills nothing."""
        name = self.query_one(Choices).chosen
        if self.selected:
            return self._selected_focus, None
        if name == TYPED:
            return self._typed, None
        if name in self._elsewhere:
            return self._elsewhere[name].focus, self._elsewhere[name].deck
        if name in self.choices:
            return self._as_typed(self.choices[name].focus), None
        weak = self._weak(name)
        return (weak.focus if weak else None), None

    def _show_preview(self) -> None:
        """Show beside the list what Enter drills."""
        focus, deck = self._chosen
        if focus and self.has_class("beside"):
            self.query_one(FocusPreview).put(preview(deck or self._progress.deck, focus))

    def list_move(self, name: str) -> None:
        """Move the cursor of the list from the field."""
        getattr(self.query_one(Choices), f"action_{name}")()

    @property
    def _typed(self) -> Focus | None:
        """What is typed as a focus; None where it is none, or names a shape that the instrument lacks."""
        deck = self._progress.deck
        typed = read_typed_focus(self.query_text, deck.neck.tuning, self.settings.note_language)
        with suppress(FretsureError):
            return typed if typed and deck.known(typed) else None
        return None

    def _why_nothing(self) -> str:
        """What is wrong with the text in the field, where no line fits it."""
        deck = self._progress.deck
        try:
            deck.known(read_words(self.query_text, deck.neck.tuning, self.settings.note_language))
        except FretsureError as error:
            return f"{error.message}\n{error.fix}".strip()
        return f"{NOTHING} {self.services.without_shapes}".strip()

    def _as_typed(self, focus: Focus) -> Focus:
        """The focus by the name of the key that was typed, where that is the same focus."""
        typed = self._typed
        return typed if typed and typed.by_either_name == focus.by_either_name else focus

    @property
    def _selected_focus(self) -> Focus:
        return combined(self.choices[name].focus for name in self.selected)

    def _explain(self) -> None:
        """Say what Enter does now, and show it where there is room."""
        self.refresh_bindings()
        self._show_preview()
        line = self.query_one("#hint", Static)
        if self.selected:
            cards = self.services.count(self._selected_focus)
            names = ", ".join(self.choices[name].label for name in self.selected)
            on = f"{self.key_of('start')} drills them" if cards else f"{self.key_of('back')} clears the selection"
            line.update(f"{names}: {how_many(cards, 'card')}. {on}.")
            return
        if self._typed and (told := self.services.other_names(self._typed)):
            line.update(self.settings.voice.say(told))
            return
        if not self._starts:
            line.update(NO_MATCH.format(back=self.key_of("back")))
            return
        start = self.key_of("start")
        how = HOW.format(start=start, select=self.key_of("select"))
        weak = self._weak(self.query_one(Choices).chosen)
        line.update(f"{start} drills it. {self.settings.voice.say(weak.why)}" if weak else how)
