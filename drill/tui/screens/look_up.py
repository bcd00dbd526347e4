"""Look up: type a key, a scale or a chord loop; the answer in large, the neck under it, the reasons below."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Input, Static

from drill.decks import Focus
from drill.errors import FretsureError
from drill.lookup.query import FIFTH, HINT, HINT_IN_SHORT, Found, look_up, look_up_key, look_up_loop, next_rest, stepped
from drill.present.neck_drawing import Drawing, Show, draw, plain
from drill.system.streams import can_show
from drill.theory.keys import Key
from drill.tui.commands import bindings, find
from drill.tui.screens.base import COPIED, BaseScreen
from drill.tui.widgets.big_words import BigWords
from drill.tui.widgets.block_letters import BLOCKS
from drill.tui.widgets.line_field import StepField
from drill.tui.widgets.neck_view import NeckView, grown_pitch

EMPTY = "Type a key, a scale or the chords of a loop, and press Enter; or step through the keys with the arrows."
LEGEND = "◆m minor tonic  ●M major tonic  dots show {show} ({key})"
LONGEST_QUERY = 200
LARGE_FROM = 34
"""Rows of a window in which the name is drawn twice as large."""
COPY_WIDTH = 80
BESIDE = 28
"""Rows that name, headline and reasons take beside the neck."""


class LookUpScreen(BaseScreen):
    """A field to type in, the result in large, a neck, and sentences below it."""

    where = "look-up"
    caption = "Look up"
    BINDINGS = bindings("look-up")
    AUTO_FOCUS = "#query"
    DEFAULT_CSS = """
    #big { margin-top: 1; }
    #headline { text-align: center; height: auto; }
    #neck { margin-top: 1; }
    #found { padding: 1 1 0 1; }
    LookUpScreen.-low #found { padding: 0 1; }
    LookUpScreen.-low #neck { margin-top: 0; }
    #big.unused { display: none; }
    """

    def __init__(self, key: Key | None = None) -> None:
        super().__init__()
        self._first = key
        self.found: Found | None = None
        self.show: Show | None = None

    def body(self) -> ComposeResult:
        with VerticalScroll(id="page", can_focus=False):
            yield BigWords(id="big")
            yield Static(id="headline", markup=False)
            yield NeckView(id="neck")
            yield Static(id="legend", markup=False)
            yield Static(EMPTY, id="found", markup=False)
        yield Static(id="message", markup=False)
        hint, in_short = map(self.settings.voice.hint, (HINT, HINT_IN_SHORT))
        yield StepField(hint, in_short=in_short, max_length=LONGEST_QUERY, id="query")

    def on_mount(self) -> None:
        self.query_one("#message").display = False
        if self._first is not None:
            self.found = look_up_key(self._first, self.settings)
        self._draw()

    def on_resize(self) -> None:
        self.query_one(BigWords).scale = 2 if self.size.height >= LARGE_FROM else 1
        self.call_after_refresh(self._draw)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        self.find(event.value)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Keep out of the footer what does nothing now."""
        found = self.found
        possible = {
            "do_dots": found is not None,
            "do_copy": found is not None,
            "do_relative": found is not None and found.key is not None,
            "do_rests": found is not None and bool(found.loop),
            "do_play_it": found is not None and bool(found.loop),
            "do_drill_key": found is not None and bool(found.keys) and not self.navigator.is_drilling,
        }
        return possible.get(action, True) and super().check_action(action, parameters)

    # -- what the learner does -----------------------------------------------------------------------------------------

    def action_do_show(self) -> None:
        self.find(self.query_one("#query", Input).value)

    def action_do_dots(self) -> None:
        kinds = [kind for kind in get_args(Show) if kind != "fingers" or not self._has_no_fingers]
        self.show = kinds[(kinds.index(self._shown) + 1) % len(kinds)]
        self._draw()

    def action_do_rests(self) -> None:
        """Say on which chord the loop rests, one chord after the other, and at the end on none."""
        if self.found is not None and self.found.chart:
            self.found = look_up_loop(self.found.chart, self.settings, next_rest(self.found))
            self._draw()

    def action_do_drill_key(self) -> None:
        if self.found is not None:
            self.navigator.start_drill(Focus(keys=self.found.keys))

    def action_do_play_it(self) -> None:
        if self.found is not None and self.found.chart:
            self.navigator.play_loop(self.found.chart.resting_on(self.found.rests_on))

    def action_do_copy(self) -> None:
        if self.found is not None:
            lines = (*self.found.sentences, "", plain(self._drawn(self.found, COPY_WIDTH)))
            self.app.copy_to_clipboard("\n".join(lines))
            self.notify(COPIED, timeout=2, markup=False)

    def action_do_relative(self) -> None:
        if self.found is not None and self.found.key is not None:
            self._put(look_up_key(self.found.key.relative, self.settings))

    def action_do_semitone_up(self) -> None:
        self._put(stepped(self.found, 1, self.settings))

    def action_do_semitone_down(self) -> None:
        self._put(stepped(self.found, -1, self.settings))

    def action_do_fifth_up(self) -> None:
        self._put(stepped(self.found, FIFTH, self.settings))

    def action_do_fifth_down(self) -> None:
        self._put(stepped(self.found, -FIFTH, self.settings))

    def action_do_page_up(self) -> None:
        self.action_do_scroll_up()

    def action_do_page_down(self) -> None:
        self.action_do_scroll_down()

    # -- what is shown -------------------------------------------------------------------------------------------------

    def find(self, text: str) -> None:
        """Show what `text` names; if it names nothing, clear the screen and say what may be typed."""
        self.query_one("#query", Input).select_all()
        try:
            self.found, refusal = look_up(text, self.settings), ""
        except FretsureError as error:
            self.found, refusal = None, str(error)
        self.say(refusal)
        self.query_one("#page", VerticalScroll).scroll_home(animate=False)
        self._draw()

    def _put(self, found: Found) -> None:
        """Show a neighbour of what was found."""
        self.found = found
        field = self.query_one("#query", Input)
        field.value = ""
        self.say("")
        self._draw()

    def _draw(self) -> None:
        found = self.found
        self.refresh_bindings()
        for name in ("#headline", "#neck", "#legend"):
            self.query_one(name).display = found is not None
        big = self.query_one(BigWords)
        big.set_class(found is None or not self._is_large, "unused")
        if found is None:
            self.query_one("#found", Static).update(Content("\n").join((Content(EMPTY), Content(), self._steps())))
            return
        big.words, big.short = found.title, found.short
        self.query_one("#headline", Static).update(self._headline(found))
        more = map(Content, (*self._how_to_close(found), *self._asked_as(found)))
        lines = (*map(Content, found.sentences), Content(), self._steps(), *more)
        self.query_one("#found", Static).update(Content("\n").join(lines))
        self.query_one(NeckView).painter = lambda width: self._drawn(found, width)
        self.query_one("#legend", Static).update(LEGEND.format(show=self._shown, key=self.key_of("dots")))

    def _steps(self) -> Content:
        """How to step through the keys, by a key or by a click on it."""
        up, down, left, right, relative = (
            Content.from_markup(f"[@click=screen.{find(name).action}]$key[/]", key=self.key_of(name))
            for name in ("semitone-up", "semitone-down", "fifth-down", "fifth-up", "relative")
        )
        steps = Content.assemble(up, " ", down, " semitones   ", left, " ", right, " fifths")
        of_key = self.found is not None and self.found.key is not None
        return Content.assemble(steps, "   ", relative, " relative key") if of_key else steps

    def _how_to_close(self, found: Found) -> Iterator[str]:
        """How to say in which key an open loop is: a key of which the loop lacks the tonic can only be typed."""
        if found.is_open:
            key = found.keys[-1].typed_in(self.settings.note_language)
            rests = f"{self.key_of('rests')} says on which of its chords it rests"
            yield f"{rests}; any key can be typed after the chords: … in {key}."

    def _asked_as(self, found: Found) -> Iterator[str]:
        """That the drill of these keys asks them by other names, if it does."""
        if told := self.services.other_names(Focus(keys=found.keys)):
            yield f"{self.key_of('drill-key')} drills it. {self.settings.voice.say(told)}"

    def _headline(self, found: Found) -> Content:
        """The result in words; it begins with the name where that is not drawn in large."""
        *before, last = found.headline or ("",)
        if self._is_large:
            return Content("\n".join(filter(None, (" · ".join(before), last))))
        name = ", ".join((found.title, *before[:1]))  # a low window has no room for the signature
        return Content("\n").join((Content.styled(name, "$primary bold"), Content(last)))

    @property
    def _has_no_fingers(self) -> bool:
        """Whether what was found lies all over the neck, so that no finger belongs to a dot."""
        return self.found is not None and self.found.scale is not None

    @property
    def _shown(self) -> Show:
        """What the dots show; notes, where fingers are wished but there are none."""
        wished = self.show or self.settings.show
        return "notes" if wished == "fingers" and self._has_no_fingers else wished

    @property
    def _is_large(self) -> bool:
        """Whether the name is drawn in block letters."""
        return self.has_class("-tall") and can_show(self.services.environment.stdout, BLOCKS)

    def _drawn(self, found: Found, width: int) -> Drawing:
        look = self.look._replace(show=self._shown)
        pitch = grown_pitch(self.size, BESIDE)
        return draw(found.neck, found.picture, look, width=width, home=found.home, pitch=pitch)
