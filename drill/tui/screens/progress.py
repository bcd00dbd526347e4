"""Progress: neck and keys, tables, weeks, what fades next, mix-ups; a line that can be drilled starts its drill."""

from __future__ import annotations

from typing import TYPE_CHECKING, Self

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import ContentSwitcher, OptionList, Static
from textual.widgets.option_list import Option

from drill.decks import Focus
from drill.errors import FretsureError
from drill.progress import Progress
from drill.theory.neck import Spot
from drill.tui.commands import bindings
from drill.tui.screens import progress_pages
from drill.tui.screens.base import BACK, BaseScreen
from drill.tui.screens.progress_pages import PAGES, Shown
from drill.tui.views import key_pairs
from drill.tui.widgets.choices import Choices
from drill.tui.widgets.key_table import KeyTable
from drill.tui.widgets.neck_view import grown_pitch
from drill.tui.widgets.page_bar import PageBar
from drill.tui.widgets.spot_picker import SpotPicker

if TYPE_CHECKING:
    from drill.tui.services import Services


BESIDE = 21
"""Rows that all but the neck takes on its page."""
MARGIN = 3
"""Cells of a line that its padding and the scroll bar take."""


class ProgressScreen(BaseScreen):
    """A bar of pages: the neck first, then lists whose lines are drilled with Enter."""

    where = "progress"
    BINDINGS = bindings("progress")
    AUTO_FOCUS = "#map"
    DEFAULT_CSS = """
    #pages { height: 1fr; }
    #neck-page { padding: 0 1; scrollbar-size-vertical: 1; }
    #lines { height: 1fr; padding-top: 1; }
    #grown { text-align: center; }
    ProgressScreen.listing #grown { display: none; }
    #legend { margin-bottom: 1; }
    #keys { margin-bottom: 1; }
    ProgressScreen.-low #keys, ProgressScreen.-slim #keys, ProgressScreen.-low #grown { display: none; }
    ProgressScreen.-low #neck-page, ProgressScreen.-low #lines { padding: 0; }
    ProgressScreen.-low #legend, ProgressScreen.-low #hint, ProgressScreen.-flat #hint { display: none; }
    """

    def __init__(self, progress: Progress, spot: Spot | None = None) -> None:
        super().__init__()
        self._progress = progress
        self._first = spot or progress_pages.weakest_spot(progress)
        self.foci: dict[str, Focus] = {}
        self.by_speed = False
        self._lists = False
        """Whether a page of lines is shown, and not the neck."""

    @classmethod
    def at(cls, services: Services) -> Self:
        return cls(services.progress())

    def bar(self) -> PageBar:
        return PageBar([page.title for page in PAGES], id="title")

    def body(self) -> ComposeResult:
        yield Static(self.services.growth(), id="grown", markup=False)
        with ContentSwitcher(initial="neck-page", id="pages"):
            with VerticalScroll(id="neck-page", can_focus=False):
                yield SpotPicker(self._progress.deck.neck, self.look, self._first, id="map")
                yield Static(id="legend", markup=False)
                yield KeyTable(id="keys")
                yield Static(id="spot", markup=False)
            yield Choices(id="lines")
        yield Static(id="hint", markup=False)

    def on_mount(self) -> None:
        self.query_one("#hint", Static).update(f"{self._weakest()}{self.key_of('sheet')} writes a sheet to print.")
        table = self.query_one(KeyTable)
        table.language, table.pairs = self.settings.note_language, key_pairs(self._progress)
        self._show_map()
        self._show_spot(self._first)

    def _weakest(self) -> str:
        """What is weakest and how to drill it; nothing is before anything was asked."""
        if not self._progress.whole.seen:
            return ""
        label = self.settings.voice.say(self._progress.weakest.label)
        return f"{self.key_of('weakest')} drills what is weakest: {label}. "

    def on_resize(self) -> None:
        """Lay the table out anew for the width there is, and the neck for the height."""
        bar = self.query_one(PageBar)
        bar.back, bar.help = (BACK, self.words_of_help) if self.leads_back else ("", "")
        self.query_one(SpotPicker).pitch = grown_pitch(self.size, BESIDE)
        if self._lists:
            self.turn_to(self.query_one(PageBar).current)

    def on_key_table_touched(self, event: KeyTable.Touched) -> None:
        self.navigator.show_key(event.key)

    # -- pages ---------------------------------------------------------------------------------------------------------

    def turn_to(self, page: int) -> None:
        """Show a page by its number, counted around the end."""
        self.query_one(PageBar).current = page % len(PAGES)
        lines_of = PAGES[page % len(PAGES)].lines
        self.query_one(ContentSwitcher).current = "neck-page" if lines_of is None else "lines"
        self._lists = lines_of is not None
        self.set_class(self._lists, "listing")
        self.foci = {}
        self.refresh_bindings()
        if lines_of is None:
            self.query_one(SpotPicker).focus()
            return
        lines = self.query_one("#lines", Choices)
        lines.clear_options()
        shown = Shown(self._progress, self.settings, self.services.environment, self.size.width - MARGIN)
        for number, line in enumerate(lines_of(shown)):
            name = f"line-{number}"
            if line.focus is not None:
                self.foci[name] = line.focus
            lines.add_option(Option(line.content, id=name, disabled=line.is_note))
        lines.action_first()
        lines.focus()
        self.refresh_bindings()

    def on_page_bar_left(self) -> None:
        self.action_do_back()

    def on_page_bar_turned(self, event: PageBar.Turned) -> None:
        self.turn_to(event.page)

    def action_do_next_page(self) -> None:
        self.turn_to(self.query_one(PageBar).current + 1)

    def action_do_previous_page(self) -> None:
        self.turn_to(self.query_one(PageBar).current - 1)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer the map of speed on its page alone, and no drill where no line has one, or nothing was asked."""
        on_neck = not self._lists
        works = {"do_map": on_neck, "do_drill_this": on_neck or bool(self.foci)}
        works["do_weakest"] = self._progress.whole.seen > 0
        return works.get(action, True) and super().check_action(action, parameters)

    # -- the map -------------------------------------------------------------------------------------------------------

    def action_do_map(self) -> None:
        self.by_speed = not self.by_speed
        self._show_map()

    def _show_map(self) -> None:
        picker = self.query_one(SpotPicker)
        draw = progress_pages.speed_map if self.by_speed else progress_pages.strength_map
        drawn = draw(self._progress)
        picker.figures, picker.strengths = drawn.figures, drawn.strengths
        self.query_one("#legend", Static).update(drawn.legend)

    def on_spot_picker_picked(self, event: SpotPicker.Picked) -> None:
        self._show_spot(event.spot)

    def _show_spot(self, spot: Spot) -> None:
        content = progress_pages.spot_content(self._progress, spot, self.settings, self.services.environment)
        self.query_one("#spot", Static).update(content)

    # -- drilling ------------------------------------------------------------------------------------------------------

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self._drill_line(event.option.id)

    def action_do_drill_this(self) -> None:
        if self._lists:
            self._drill_line(self.query_one("#lines", Choices).chosen)
            return
        row = self._progress.spots.get(self.query_one(SpotPicker).spot)
        if row is not None:
            self.navigator.start_drill(row.focus)

    def _drill_line(self, name: str | None) -> None:
        if name in self.foci:
            self.navigator.start_drill(self.foci[name])

    def action_do_weakest(self) -> None:
        self.navigator.start_drill(self._progress.weakest.focus)

    def action_do_sheet(self) -> None:
        """Write a practice sheet, and say where it is."""
        try:
            path = self.services.save_sheet(self._progress)
        except FretsureError as error:
            self.navigator.report(error)
        else:
            self.notify(f"Open it in a browser and print it: {path}", title="Practice sheet", timeout=12, markup=False)
