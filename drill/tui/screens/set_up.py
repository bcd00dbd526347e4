"""Set-up: every setting in a learner's words, with the neck that shows each change at once.

Arrows step through short lists, Enter opens a field for other values; a letter leads to the setting it begins.
"""

from __future__ import annotations

from contextlib import suppress

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.events import Key
from textual.geometry import Size
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from drill.errors import FretsureError
from drill.lookup.keys import KeyView
from drill.present.finding import plain_words
from drill.present.neck_drawing import draw
from drill.present.setting_words import title_of, value_of
from drill.questions.wording import named_key, shape_label
from drill.settings import Setting, fields
from drill.system.resources import deck_files
from drill.system.tunings import tunings
from drill.theory.keys import parse_key
from drill.tui.commands import bindings
from drill.tui.screens.base import BaseScreen
from drill.tui.widgets.choices import Choices
from drill.tui.widgets.line_field import LineField
from drill.tui.widgets.neck_view import NeckView, grown_pitch

LONGEST_VALUE = 200
NECK = ("tuning", "capo")
"""Settings that make another neck, on which nothing may be known yet."""
BESIDE_FROM = 110
"""Columns of a window in which the neck has room beside the list."""
BESIDE = 10
"""Rows that all else takes above and below the neck there."""
EXAMPLE = parse_key("Bm")
"""A key whose tonic every note language but English calls something else."""
MOST_LISTED = 6
"""A list of more choices is summed up by their number."""

SHORT = 3
"""Letters of a word that no letter leads to, such as 'the'."""


class SetUpScreen(BaseScreen):
    """A list of settings and, when one is opened, a field for its value."""

    where = "set-up"
    caption = "Set-up"
    BINDINGS = bindings("set-up")
    AUTO_FOCUS = "#settings"
    DEFAULT_CSS = """
    #example { height: auto; padding-top: 1; }
    #example #legend { height: 1; }
    #both { height: 1fr; }
    #settings { height: 1fr; text-wrap: nowrap; text-overflow: ellipsis; }
    #hint { min-height: 3; }
    SetUpScreen.beside #both { layout: horizontal; }
    SetUpScreen.beside #example { width: 3fr; height: 1fr; }
    SetUpScreen.beside #settings { width: 2fr; padding-top: 1; }
    SetUpScreen.-low #example, SetUpScreen.-flat #example { display: none; }
    SetUpScreen.-low #sentence, SetUpScreen.-flat #hint { min-height: 1; }
    """

    def __init__(self, first: str = "") -> None:
        super().__init__()
        self._fields = {field.name: field for field in fields()}
        self._first = first

    def body(self) -> ComposeResult:
        with Vertical(id="both"):
            with Vertical(id="example"):
                yield NeckView(id="neck")
                yield Static(id="legend", markup=False)
            yield Choices(*(Option(self._prompt(name), id=name) for name in self._fields), id="settings")
        yield Static(id="hint", markup=False)
        yield LineField(max_length=LONGEST_VALUE, id="value")

    def on_mount(self) -> None:
        self.query_one("#value").display = False
        if self._first:
            self.query_one(Choices).highlighted = list(self._fields).index(self._first)
        self._show_example()

    def on_resize(self) -> None:
        self.set_class(self.size.width >= BESIDE_FROM, "beside")
        self._show_example()

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        self._explain(self._fields[event.option.id or ""])

    def on_option_list_option_selected(self, _: OptionList.OptionSelected) -> None:
        self.action_do_change()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        field = self._highlighted()
        text = event.value.strip()
        value: str | int = int(text) if field.low is not None and text.isdecimal() and len(text) < 4 else text
        if self._set(field, value):
            self._close_field()

    def on_key(self, event: Key) -> None:
        """A letter leads to the next setting of which a word begins with it, unless it is a command."""
        letter = event.character or ""
        if letter.isalpha() and not self.query_one("#value").display and event.key not in self.active_bindings:
            event.stop()
            self._jump(letter)

    def _jump(self, letter: str) -> None:
        names, choices = list(self._fields), self.query_one(Choices)
        at = names.index(self._highlighted().name)
        found = (name for name in (*names[at + 1 :], *names[: at + 1]) if _begins(letter, title_of(name)))
        choices.highlighted = names.index(next(found, names[at]))

    def action_do_change(self) -> None:
        field = self._highlighted()
        if self._choices(field) and field.name != "deck":  # a deck may be the path of a file, too
            self._step(1)
            return
        self.query_one("#value").display = True
        entry = self.query_one("#value", Input)
        entry.value = str(getattr(self.settings, field.name))
        entry.focus()
        entry.select_all()  # typing replaces the old value; an arrow key keeps it

    def action_do_sound_check(self) -> None:
        self.navigator.open("sound-check")

    def action_do_more(self) -> None:
        self._step(1)

    def action_do_less(self) -> None:
        self._step(-1)

    def action_do_back(self) -> None:
        if self.query_one("#value").display:
            self._close_field()
        else:
            super().action_do_back()

    def _highlighted(self) -> Setting:
        return self._fields[self.query_one(Choices).chosen or next(iter(self._fields))]

    def _step(self, step: int) -> None:
        """Step to a neighbouring value: a list wraps around, a number stops at its bounds."""
        field, now = self._highlighted(), getattr(self.settings, self._highlighted().name)
        choices = self._choices(field)
        if choices:
            at = choices.index(now) if now in choices else -step
            self._set(field, choices[(at + step) % len(choices)])
        elif field.low is not None and field.high is not None:
            self._set(field, min(max(now + step, field.low), field.high))

    def _set(self, field: Setting, value: str | int) -> bool:
        """Save a value, or say why it does not fit."""
        if not field.takes(value):
            self._say(f"“{value}” does not fit. {self._allowed(field)} The old value stays.")
            return False
        try:
            self.services.change(field.name, value)
        except FretsureError as error:
            self._say(f"{error} The old value stays.")
            return False
        self.app.theme = self.settings.colours
        self._show_example()
        self.query_one(Choices).replace_option_prompt(field.name, self._prompt(field.name))
        self._explain(field)
        return True

    def _kept_elsewhere(self) -> str:
        """That nothing of what was learnt on the neck of before is lost, if it might look so."""
        with suppress(FretsureError):  # Home shows what is wrong with the record
            return self.services.kept_elsewhere()
        return ""

    def _explain(self, field: Setting) -> None:
        kept = self._kept_elsewhere() if field.name in NECK else ""
        self._say(f"{kept} {field.sentence} {self._allowed(field)}".lstrip())

    def _say(self, sentence: str) -> None:
        self.query_one("#hint", Static).update(sentence)

    def _show_example(self) -> None:
        """Draw a key on the neck as it is set, and name it and its first shape as they will be named."""
        view, voice = KeyView.of(EXAMPLE, self.settings.neck), self.settings.voice
        look, room = self.look, Size(3 * self.size.width // 5, self.size.height)
        pitch = grown_pitch(room, BESIDE) if self.has_class("beside") else 1
        self.query_one(NeckView).painter = lambda width: draw(
            view.neck, view.picture, look, width=width, home=view.home, pitch=pitch
        )
        words = [named_key(EXAMPLE), *(shape_label(shape, view.neck.tuning) for shape in view.anchors[:1])]
        self.query_one("#legend", Static).update(f"Example: {voice.say(', '.join(words))}")

    def _close_field(self) -> None:
        self.query_one("#value").display = False
        self.query_one(Choices).focus()

    def _choices(self, field: Setting) -> tuple[str, ...]:
        """The values of a setting that has a list of them."""
        if field.name == "tuning":
            return tuple(tunings())
        if field.name in ("microphone", "speaker"):
            return ("", *getattr(self.services.devices, f"{field.name}s"))
        return tuple(deck_files()) if field.name == "deck" else field.choices

    def _prompt(self, name: str) -> Content:
        value = getattr(self.settings, name)
        shown = tunings()[value].title if name == "tuning" and value in tunings() else value_of(name, value)
        return Content.assemble((f"{title_of(name):<19}", "bold"), (shown, "$primary"))

    def _allowed(self, field: Setting) -> str:
        """The values a setting may have, as a sentence."""
        choices = self._choices(field)
        if field.name == "deck":
            return f"Choices: {', '.join(choices)} (← →), or the path of a deck file (Enter)."
        if len(choices) > MOST_LISTED:
            return f"{len(choices)} choices (← →)."
        if choices:
            return f"Choices: {', '.join(value_of(field.name, choice) for choice in choices)} (← →)."
        if field.longest:
            return f"Up to {field.longest} characters."
        return f"From {field.low} to {field.high} (← →)."


def _begins(letter: str, title: str) -> bool:
    """Whether a letter begins a word of a title, other than a short one such as 'the'."""
    return any(len(word) > SHORT and word.startswith(letter.casefold()) for word in plain_words(title).split())
