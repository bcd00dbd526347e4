"""The drill: one question at a time, its verdict, then the next question. The session makes every decision."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from drill.errors import FretsureError, UnknownName
from drill.practice.learner_store import BEHIND
from drill.present.neck_drawing import draw
from drill.present.reasons import reason_sentence
from drill.questions.picture import Picture
from drill.tui.commands import bindings
from drill.tui.screens.base import BaseScreen
from drill.tui.verdict_text import solved_content, trouble, verdict_content
from drill.tui.widgets.answer_field import AnswerField
from drill.tui.widgets.neck_view import NeckView
from drill.tui.widgets.time_bar import TimeBar
from drill.tui.widgets.verdict_view import VerdictView

if TYPE_CHECKING:
    from drill.practice.session import Question, Session
    from drill.present.verdicts import Verdict

TICK_S = 0.2
"""How often the remaining time is updated."""

KEY_REPEAT_S = 0.25
"""Enters that follow each other faster come from a key that is held down, and are ignored."""

ONE_FRAME_S = 1 / 60
"""The neck follows its verdict by so much: drawn at once, it would keep the words from the thread that writes them."""

NOTHING_TYPED = "Nothing typed yet. Press Enter again if you do not know."
NEXT = "Enter: next question"


class DrillScreen(BaseScreen):
    """One drill against the clock."""

    where = "drill"
    BINDINGS = bindings("drill")
    AUTO_FOCUS = "#answer"
    DEFAULT_CSS = """
    #message { display: none; }
    #why { height: 1; text-align: center; color: $neck-quiet; margin-top: 1; }
    #question { text-align: center; text-style: bold; background: $surface; padding: 1 2; margin-bottom: 1; }
    #verdict { padding: 0 1; margin-top: 1; }
    DrillScreen.-tall #verdict { height: 1fr; }
    DrillScreen.-tall #verdict.long { height: auto; }
    DrillScreen.-low #why, DrillScreen.-flat #why { display: none; }
    DrillScreen.-low #question, DrillScreen.-flat #question { padding: 0; margin: 0; }
    DrillScreen.-low #verdict, DrillScreen.-flat #verdict { margin: 0; padding: 0; }
    DrillScreen.-low #page, DrillScreen.-flat #page { padding: 0; }
    DrillScreen.-flat #neck { display: none; }
    """

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self.question: Question | None = None
        self.verdict: Verdict | None = None
        self._total_s = max(session.seconds_left, 1.0)
        self._warned_at_s: float | None = None
        """When an empty Enter last brought a warning."""
        self._now_s = session.environment.monotonic

    def bar(self) -> TimeBar:
        return TimeBar(id="time")

    def body(self) -> ComposeResult:
        with VerticalScroll(id="page", can_focus=False):
            yield Static(id="why", markup=False)
            yield Static(id="question", markup=False)
            yield NeckView(id="neck")
            yield VerdictView(id="verdict")
        yield Static(id="message", markup=False)
        yield AnswerField(self, id="answer")

    def on_mount(self) -> None:
        self.set_interval(TICK_S, self.watch_clock)
        self.next_question()
        if self.session.store.behind:
            self._say(BEHIND)

    # -- the course of a question --------------------------------------------------------------------------------------

    def next_question(self) -> None:
        """Ask the next question, or end the drill after the last."""
        question = self.session.ask()
        if question is None:
            self.finish()
            return
        self.question, self.verdict, self._warned_at_s = question, None, None
        self.query_one("#why", Static).update(f"{question.number} · {reason_sentence(question.reason)}")
        self.query_one("#question", Static).update(self.settings.voice.say(question.card.prompt))
        self._arrange()
        self._say("")
        if question.solved:
            self._show_neck(question.card.answer_picture)
            self.query_one(AnswerField).rest(NEXT)
        else:
            self._show_neck(question.card.question_picture)
            self.query_one(AnswerField).ask(self.settings.voice.hint(question.card.kind.hint))
        self._show_time()

    def judge(self, verdict: Verdict) -> None:
        """Show the verdict: in words at once, then on the neck and in the answer field."""
        self.verdict = verdict
        self._arrange()
        self._say("")
        self.query_one(AnswerField).close()
        page = self.query_one("#page", VerticalScroll)
        if page.scroll_y:
            page.scroll_home(animate=False)
        self.set_timer(ONE_FRAME_S, partial(self._show_answer, verdict))

    def finish(self) -> None:
        """End the drill and show its summary; every answer is already saved."""
        self.question = None
        self.navigator.after_drill(self.session.finish())

    # -- what the learner does -----------------------------------------------------------------------------------------

    def typed(self) -> None:
        """A key of an answer: the first ends the thinking time, and any message about an earlier try disappears."""
        if self._is_asked:
            self.session.first_response()
            self._warned_at_s = None
            self._say("")

    def entered(self, text: str) -> None:
        """Enter: submit the answer, or leave the verdict for the next question."""
        if self.verdict is not None:
            self.next_question()
        elif self.question is not None and self.question.solved:
            self._leave_solved()
        elif text.strip():
            self._give(text)
        elif self._warned_at_s is not None and self._now_s() - self._warned_at_s >= KEY_REPEAT_S:
            self.action_do_not_known()
        else:
            self._warned_at_s = self._now_s()
            self._say(NOTHING_TYPED)

    async def action_do_answer(self) -> None:
        await self.query_one(AnswerField).action_submit()

    def action_do_not_known(self) -> None:
        if self._is_asked:
            self._safely(self.session.give_up)

    def action_do_pause(self) -> None:
        self.pause("You stopped the clock.")

    def action_do_end(self) -> None:
        self.finish()

    @property
    def _is_asked(self) -> bool:
        """Whether a question waits for its answer."""
        return self.question is not None and not self.question.solved and self.verdict is None

    def _leave_solved(self) -> None:
        """Go on from a card that was shown with its answer."""
        try:
            self.session.shown()
        except FretsureError as error:
            self._say(trouble(error))
        else:
            self.next_question()

    def _give(self, text: str) -> None:
        try:
            self._safely(lambda: self.session.answer(self.session.read(text)))
        except UnknownName as error:
            self._say(f"{error} Nothing is counted yet.")
            self.query_one(AnswerField).select_all()  # the next try takes the place of this one

    def _safely(self, save: Callable[[], Verdict]) -> None:
        """Save an answer and show its verdict; if the record cannot be written, say what is safe and what to do."""
        try:
            verdict = save()
        except UnknownName:
            raise
        except FretsureError as error:
            self._say(trouble(error))
        else:
            self.judge(verdict)

    # -- time ----------------------------------------------------------------------------------------------------------

    def pause(self, reason: str) -> None:
        """Stop the clock and hide the question until the learner resumes."""
        if self.in_front:
            self.session.pause()  # at once: the system may suspend the program before it can cover the question
            from drill.tui.screens.pause import PauseScreen

            self.app.push_screen(PauseScreen(reason, self.session.seconds_left))

    @property
    def in_front(self) -> bool:
        """Whether nothing covers the question; Textual's `is_current` also holds for the screen below."""
        return self.app.screen is self

    def on_screen_suspend(self) -> None:
        """Stop the clock while a pause, help or the palette covers the question."""
        self.session.pause()

    def on_screen_resume(self) -> None:
        self.session.resume()

    def watch_clock(self) -> None:
        """Update the time; pause after the machine slept."""
        if not self.in_front or self.session.watch.paused:
            return
        if self.session.watch.slept():
            self.pause("The computer was asleep.")
        self._show_time()

    def _show_time(self) -> None:
        bar = self.query_one(TimeBar)
        bar.total_s, bar.left_s = self._total_s, self.session.seconds_left
        bar.note = "" if bar.left_s > 0 else "time is up, this is the last question"

    def _arrange(self) -> None:
        """Show the verdict, if there is one.

        A tall screen has room for it below the neck, so that nothing else moves; on a low one it replaces the question,
        where the eye already is.
        """
        solved = self.question is not None and self.question.solved
        tall, judged = self.has_class("-tall"), self.verdict is not None or solved
        self.query_one("#question").display = tall or not judged or solved
        view = self.query_one(VerdictView)
        view.display = tall or judged
        words = verdict_content(self.verdict, self.settings) if self.verdict else Content()
        if self.question is not None and solved:
            words = solved_content(self.question.card, self.settings)
        view.put(words, self._rows_below_the_neck - view.styles.margin.height if tall else 0)

    @property
    def _rows_below_the_neck(self) -> int:
        """How many rows the verdict can fill without scrolling."""
        return self.query_one("#page").content_size.height - self.query_one(NeckView).virtual_region.bottom

    def _put_verdict_in_sight(self) -> None:
        page, neck = self.query_one("#page", VerticalScroll), self.query_one(NeckView)
        verdict = self.query_one("#verdict")
        if self.has_class("-tall"):
            page.move_child(verdict, after=neck)
        else:
            page.move_child(verdict, before=neck)
        self._arrange()

    def on_resize(self) -> None:
        self.call_after_refresh(self._put_verdict_in_sight)

    def _show_answer(self, verdict: Verdict) -> None:
        if self.verdict is verdict:  # the learner may be at the next question already
            self._arrange()  # by now the question has its size, even when it came in one burst with its answer
            self._show_neck(verdict.card.answer_picture)
            self.query_one(AnswerField).rest(NEXT)

    def _say(self, sentence: str) -> None:
        message = self.query_one("#message", Static)
        if message.content != sentence:  # most keys change nothing here, and each change costs a new layout
            message.update(sentence)
            message.display = bool(sentence)

    def _show_neck(self, picture: Picture) -> None:
        neck, look = self.session.deck.neck, self.look
        self.query_one(NeckView).painter = lambda width: draw(neck, picture, look, width=width)
