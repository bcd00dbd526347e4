"""Focus: choose what to drill; the weakest of all is one key away."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple, Self

from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from drill.decks import Focus
from drill.present.figures import how_many
from drill.progress import GROUPINGS, Grouping, Progress
from drill.progress.card_status import CardGroup
from drill.tui.commands import bindings, find
from drill.tui.screens.base import BaseScreen
from drill.tui.services import Services, combined
from drill.tui.verdict_text import group_reading
from drill.tui.widgets.choices import Choices

TITLES: dict[Grouping, str] = {"string": "Strings", "key": "Keys", "shape": "Shapes", "family": "Kinds of question"}
WEAKEST = "weakest"
WEAKEST_OF: dict[str, Grouping] = {"weakest-string": "string", "weakest-key": "key"}
"""Commands that drill the weakest of a kind."""
HOW = "Enter drills this line; Space selects it, to drill several together."


class _Choice(NamedTuple):
    """One line of the list: its name, the group of cards behind it, and the focus that drills them."""

    label: str
    group: CardGroup
    focus: Focus


class FocusScreen(BaseScreen):
    """A list of strings, keys, shapes and kinds of question; Space selects one, Enter starts the drill."""

    where = "focus"
    caption = "Focus"
    BINDINGS = bindings("focus")
    AUTO_FOCUS = "#choices"
    DEFAULT_CSS = """
    #choices { height: 1fr; }
    FocusScreen.-broad #choices { text-wrap: nowrap; text-overflow: ellipsis; }
    """

    def __init__(self, progress: Progress) -> None:
        super().__init__()
        self._progress = progress
        self.choices: dict[str, _Choice] = {}
        self.selected: list[str] = []
        self._weakest = progress.weakest

    @classmethod
    def at(cls, services: Services) -> Self:
        return cls(services.progress())

    def body(self) -> ComposeResult:
        yield Choices(id="choices")
        yield Static(id="hint", markup=False)

    def on_mount(self) -> None:
        options = self.query_one(Choices)
        options.add_options(self._weakest_options())
        for kind in GROUPINGS:
            options.add_options(self._options(kind))
        options.highlighted = 0
        self._show_selection()

    def _weakest_options(self) -> Iterator[Option]:
        lines = [(WEAKEST, "My weakest", self._weakest.label)]
        for name, kind in WEAKEST_OF.items():
            row = self._progress.weakest_of(kind)
            if row is not None:
                lines.append((name, f"{find(name).title} ({find(name).key})", row.label))
        for name, title, label in lines:
            yield Option(Content.assemble((f"{title}: ", "$primary bold"), self.settings.voice.say(label)), id=name)

    def _options(self, kind: Grouping) -> Iterator[Option]:
        rows = self._progress.table(kind)
        if rows:
            yield Option(Content.styled(f"\n{TITLES[kind]}", "$primary bold"), disabled=True)
        for row in rows:
            name = f"{kind}:{row.name}"
            self.choices[name] = _Choice(self.settings.voice.say(row.label), row, row.focus)
            yield Option(self._prompt(name), id=name)

    def _prompt(self, name: str) -> Content:
        choice = self.choices[name]
        box = "[x]" if name in self.selected else "[ ]"
        return Content.assemble((f"{box} ", "bold"), f"{choice.label:<32.32} ", group_reading(choice.group))

    def on_option_list_option_highlighted(self) -> None:
        self._show_selection()

    def on_option_list_option_selected(self, _: OptionList.OptionSelected) -> None:
        self.action_do_start()

    def action_do_select(self) -> None:
        options = self.query_one(Choices)
        name = options.chosen
        if name not in self.choices:
            return
        if name in self.selected:
            self.selected.remove(name)
        else:
            self.selected.append(name)
        options.replace_option_prompt(name, self._prompt(name))
        self._show_selection()

    def action_do_clear(self) -> None:
        cleared, self.selected = self.selected, []
        for name in cleared:
            self.query_one(Choices).replace_option_prompt(name, self._prompt(name))
        self._show_selection()

    def action_do_start(self) -> None:
        name = self.query_one(Choices).chosen
        if self.selected:
            self.navigator.start_drill(combined(self.choices[name].focus for name in self.selected))
        elif name in self.choices:
            self.navigator.start_drill(self.choices[name].focus)
        elif name in WEAKEST_OF:
            self._drill_weakest_of(WEAKEST_OF[name])
        else:
            self.navigator.start_drill(self._weakest.focus)

    def action_do_weakest_string(self) -> None:
        self._drill_weakest_of("string")

    def action_do_weakest_key(self) -> None:
        self._drill_weakest_of("key")

    def _drill_weakest_of(self, kind: Grouping) -> None:
        row = self._progress.weakest_of(kind)
        if row is None:
            sentence = f"No {kind} is weak: either too little has been asked yet, or all of it is fluent."
            self.query_one("#hint", Static).update(sentence)
            return
        self.navigator.start_drill(row.focus)

    def _show_selection(self) -> None:
        line = self.query_one("#hint", Static)
        if not self.selected:
            on_weakest = self.query_one(Choices).chosen == WEAKEST
            line.update(f"Enter drills it. {self.settings.voice.say(self._weakest.why)}" if on_weakest else HOW)
            return
        cards = self.services.count(combined(self.choices[name].focus for name in self.selected))
        names = ", ".join(self.choices[name].label for name in self.selected)
        line.update(f"{names}: {how_many(cards, 'card')}.{' Deselect one.' if not cards else ''}")
