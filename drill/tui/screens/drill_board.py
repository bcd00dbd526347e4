"""What a drill shows between its time and its footer: question, answer field, verdict and neck, each in its place."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from drill.present.neck_drawing import MarkedNeck
from drill.questions.card import Card
from drill.questions.marks import asked_strings
from drill.questions.picture import Picture
from drill.settings import Settings
from drill.theory.neck import Neck
from drill.tui.drill_layout import DrillLayout, drill_layout
from drill.tui.widgets.answer_field import AnswerField, Examiner
from drill.tui.widgets.answer_neck import AnswerNeck
from drill.tui.widgets.subject_view import SubjectView
from drill.tui.widgets.verdict_view import VerdictView

AROUND_THE_FIELD = 9
"""Columns of the row of the answer that are margin and frame."""


class DrillBoard(Vertical):
    """Shows cards on one neck as the learner's settings say, and passes what is typed to the examiner.

    Where the terminal has no `blocks`, as one that knows only ASCII, there are no block letters.
    """

    DEFAULT_CSS = """
    DrillBoard { height: 1fr; }
    DrillBoard #message { display: none; }
    DrillBoard #question { height: auto; padding: 0 2; }
    DrillBoard #asking { height: 1; }
    DrillBoard #where { height: auto; max-height: 3; }
    DrillBoard #ask { width: auto; text-style: bold; padding: 0 2 0 0; }
    DrillBoard #answer { width: 1fr; }
    DrillBoard #page { padding: 0 2; }
    DrillBoard #verdict { height: 1fr; }
    DrillBoard #verdict.long { height: auto; }
    """

    def __init__(self, examiner: Examiner, neck: Neck, settings: Settings, *, blocks: bool) -> None:
        super().__init__()
        self._blocks = blocks
        self._examiner, self._neck, self._settings = examiner, neck, settings
        self._card: Card | None = None
        self.rows_above = 0
        """Rows that something else takes above the board."""
        self._hint, self._room = "", 0

    def compose(self) -> ComposeResult:
        with VerticalScroll(id="question", can_focus=False):
            yield SubjectView(id="subject")
            yield Static(id="where", markup=False)
            with Horizontal(id="asking"):
                yield Static(id="ask", markup=False)
                yield AnswerField(self._examiner, id="answer")
        with VerticalScroll(id="page", can_focus=False):
            yield VerdictView(id="verdict")
        yield Static(id="message", markup=False)
        yield AnswerNeck(id="neck")

    @property
    def field(self) -> AnswerField:
        """Where answers are typed."""
        return self.query_one(AnswerField)

    @property
    def layout_now(self) -> DrillLayout:
        """How the card on the board fills the window."""
        asked = asked_strings(self._card) if self._card else ()
        width, height = self.screen.size
        layout = drill_layout(width, height - self.rows_above, tuple(self._neck.tuning.strings), asked)
        return layout if self._blocks else layout._replace(scale=0)

    def ask(self, card: Card, *, solved: bool = False) -> None:
        """Show what a card asks; in words alone where its picture cannot be drawn, or is that of its answer."""
        self._card = card
        say, layout = self._settings.voice.say, self.layout_now
        whole = card.unseen or card.ask
        in_letters = solved and layout.scale and whole.subject == card.ask.subject
        ask = whole if in_letters or not layout.shows(asked_strings(card)) else card.ask
        subject, place = say(ask.subject), say(ask.place)
        self.query_one(SubjectView).put(subject, layout.scale, layout.above)
        self.query_one("#where", Static).update(
            Content.assemble((subject, "$primary bold"), (f", {place}" if place else "", "$foreground"))
        )
        self.query_one("#ask", Static).update(say(ask.ask))
        self._room = self.screen.size.width - AROUND_THE_FIELD - len(say(ask.ask))
        self.hint(self._hint)

    def hint(self, words: str) -> None:
        """Say in the empty field what it takes, where there is room for all of it: half of it would puzzle."""
        self._hint = words
        self.field.placeholder = words if len(words) <= self._room else ""

    def paint(self, words: Content) -> None:
        """Show at once what of the words the place of the verdict holds; `put` follows with all of them."""
        room = self.query_one("#page", VerticalScroll).content_size.height
        self.query_one(VerdictView).paint(words, room)

    def put(self, words: Content) -> None:
        """Show words in the place of the verdict, from the first one on."""
        page = self.query_one("#page", VerticalScroll)
        if page.scroll_y:
            page.scroll_home(animate=False)
        self.query_one(VerdictView).put(words, page.content_size.height)

    @property
    def is_long(self) -> bool:
        """Whether the words in the place of the verdict are longer than it."""
        return self.query_one(VerdictView).has_class("long")

    def say(self, sentence: str) -> None:
        """Show a message above the neck, which it does not move, or none."""
        message = self.query_one("#message", Static)
        if message.content != sentence:  # most keys change nothing here, and each change costs a new layout
            message.update(sentence)
            message.display = bool(sentence)

    def remind(self, sentence: str) -> None:
        """Show a message where none stands."""
        if not self.query_one("#message", Static).content:
            self.say(sentence)

    def show_neck(self, picture: Picture, home: range | None = None) -> None:
        """Show a picture on the strings that there is room for, and of a neck that is too long the frets of `home`."""
        layout = self.layout_now
        self.query_one(AnswerNeck).put(
            MarkedNeck(
                self._neck,
                picture,
                self._settings.look,
                home=home,
                pitch=layout.pitch,
                strings=layout.strings,
                numbered=layout.numbered,
                narrowed=True,
            )
        )
