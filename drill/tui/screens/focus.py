"""Focus: put together what to drill; the weakest of all is one key away."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple, Self

from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Footer, OptionList, Static
from textual.widgets.option_list import Option

from drill.decks import Focus
from drill.present.figures import how_many
from drill.progress import GROUPINGS, Grouping, Progress
from drill.progress.card_status import CardGroup
from drill.tui.commands import bindings, find
from drill.tui.screens.base import BaseScreen
from drill.tui.services import Services, combined
from drill.tui.verdict_text import group_reading, said
from drill.tui.widgets.choices import Choices

TITLES: dict[Grouping, str] = {"string": "Strings", "key": "Keys", "shape": "Shapes", "family": "Kinds of question"}
WEAKEST = "weakest"
WEAKEST_OF: dict[str, Grouping] = {"weakest-string": "string", "weakest-key": "key"}
"""Commands that drill the weakest of a kind."""
HOW = "Enter drills the line under the cursor; Space puts several together."


class _Choice(NamedTuple):
    """One line of the list: what it is called, what it says of it, and what it leaves of the deck."""

    label: str
    group: CardGroup
    focus: Focus


class FocusScreen(BaseScreen):
    """A list of strings, keys, shapes and kinds of question; Space takes one, Enter starts."""

    where = "focus"
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
        self.taken: list[str] = []
        self._weakest = progress.weakest

    @classmethod
    def at(cls, desk: Services) -> Self:
        return cls(desk.progress())

    def compose(self) -> ComposeResult:
        yield Static("Focus", id="title", markup=False)
        yield Choices(id="choices")
        yield Static(id="laid-out", markup=False)
        yield Footer(compact=True, show_command_palette=False)

    def on_mount(self) -> None:
        options = self.query_one(Choices)
        options.add_options(self._weakest_options())
        for kind in GROUPINGS:
            options.add_options(self._options(kind))
        options.highlighted = 0
        self._show_taken()

    def _weakest_options(self) -> Iterator[Option]:
        lines = [(WEAKEST, "My weakest", self._weakest.label)]
        for name, kind in WEAKEST_OF.items():
            row = self._progress.weakest_of(kind)
            if row is not None:
                lines.append((name, f"{find(name).title} ({find(name).key})", row.label))
        for name, title, label in lines:
            yield Option(Content.assemble((f"{title}: ", "$primary bold"), said(label, self.settings)), id=name)

    def _options(self, kind: Grouping) -> Iterator[Option]:
        yield Option(Content.styled(f"\n{TITLES[kind]}", "$primary bold"), disabled=True)
        for row in self._progress.table(kind):
            name = f"{kind}:{row.name}"
            self.choices[name] = _Choice(said(row.label, self.settings), row, row.focus)
            yield Option(self._prompt(name), id=name)

    def _prompt(self, name: str) -> Content:
        choice = self.choices[name]
        box = "[x]" if name in self.taken else "[ ]"
        return Content.assemble((f"{box} ", "bold"), f"{choice.label:<32.32} ", group_reading(choice.group))

    def on_option_list_option_highlighted(self) -> None:
        self._show_taken()

    def on_option_list_option_selected(self, _: OptionList.OptionSelected) -> None:
        self.action_do_start()

    def action_do_take(self) -> None:
        options = self.query_one(Choices)
        name = options.chosen
        if name not in self.choices:
            return
        self.taken = [each for each in self.taken if each != name] if name in self.taken else [*self.taken, name]
        options.replace_option_prompt(name, self._prompt(name))
        self._show_taken()

    def action_do_clear(self) -> None:
        taken, self.taken = self.taken, []
        for name in taken:
            self.query_one(Choices).replace_option_prompt(name, self._prompt(name))
        self._show_taken()

    def action_do_start(self) -> None:
        name = self.query_one(Choices).chosen
        if self.taken:
            self.fretsure.start_drill(combined(self.choices[name].focus for name in self.taken))
        elif name in self.choices:
            self.fretsure.start_drill(self.choices[name].focus)
        elif name in WEAKEST_OF:
            self._drill_weakest_of(WEAKEST_OF[name])
        else:
            self.fretsure.start_drill(self._weakest.focus)

    def action_do_weakest_string(self) -> None:
        self._drill_weakest_of("string")

    def action_do_weakest_key(self) -> None:
        self._drill_weakest_of("key")

    def _drill_weakest_of(self, kind: Grouping) -> None:
        row = self._progress.weakest_of(kind)
        if row is None:
            sentence = f"No {kind} is weak: too little was asked yet, or all of it is fluent."
            self.query_one("#laid-out", Static).update(sentence)
            return
        self.fretsure.start_drill(row.focus)

    def _show_taken(self) -> None:
        line = self.query_one("#laid-out", Static)
        if not self.taken:
            on_weakest = self.query_one(Choices).chosen == WEAKEST
            line.update(f"Enter drills it. {said(self._weakest.why, self.settings)}" if on_weakest else HOW)
            return
        cards = self.desk.count(combined(self.choices[name].focus for name in self.taken))
        names = ", ".join(self.choices[name].label for name in self.taken)
        line.update(f"{names}: {how_many(cards, 'card')}.{' Take one back.' if not cards else ''}")
