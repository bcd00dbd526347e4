"""The drill: one question at a time, its verdict, then the next question. The session makes every decision."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, TypeVar

from textual.app import ComposeResult
from textual.content import Content

from drill.errors import FretsureError, UnknownName
from drill.memory import ReasonKind
from drill.practice.learner_store import BEHIND
from drill.present.reasons import reason_afterwards
from drill.questions.answers import FretAnswer
from drill.questions.deciding import answer_kind
from drill.questions.hints import beside
from drill.questions.marks import right_frets, verdict_picture
from drill.questions.wording import string_label
from drill.system.streams import can_show
from drill.theory.bars import BEATS_IN_A_BAR, beats_begun
from drill.tui.beats import beat_marks
from drill.tui.commands import bindings
from drill.tui.drill_times import (
    ALONE_READING_S,
    ALONE_S,
    LATE_S,
    LESSON_S,
    NEW_S,
    NEXT_S,
    ONE_FRAME_S,
    THOUGHT_S,
    TICK_S,
    TOO_SOON_S,
)
from drill.tui.key_times import KeyTimes
from drill.tui.screens.base import BaseScreen
from drill.tui.screens.drill_board import DrillBoard
from drill.tui.verdict_text import solved_content, trouble, verdict_content
from drill.tui.widgets.answer_field import AnswerField
from drill.tui.widgets.answer_neck import AnswerNeck
from drill.tui.widgets.block_letters import BLOCKS
from drill.tui.widgets.time_bar import TimeBar

if TYPE_CHECKING:
    from drill.practice.session import Question, Session
    from drill.present.verdicts import Verdict
    from drill.questions.answers import AnswerKind

T = TypeVar("T")
NEXT_BY_ANY = "any key: next question"
ANY_KEY = "any key goes on"
LEFT_ALONE = "No key came, so the clock stopped. The wait is not counted."


class DrillScreen(BaseScreen):
    """One drill against the clock."""

    where = "drill"
    BINDINGS = bindings("drill")
    AUTO_FOCUS = "#answer"
    DEFAULT_CSS = """
    DrillScreen.-low KeyFooter { display: block; }
    DrillScreen.-slim #question, DrillScreen.-slim #page { padding: 0 1; }
    """

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self.question: Question | None = None
        self.verdict: Verdict | None = None
        self._kind: AnswerKind | None = None
        self._total_s = max(session.seconds_left, 1.0)
        self.times = KeyTimes(session.environment.monotonic)
        self._begun = 0
        self._footer = (True, False)  # whether a question waits, and whether the words are longer than their place
        self._hinted: set[str] = set()
        """Families whose answers this drill has said how to type."""

    def bar(self) -> TimeBar:
        return TimeBar(id="time")

    def body(self) -> ComposeResult:
        blocks = can_show(self.session.environment.stdout, BLOCKS)
        yield DrillBoard(self, self.session.deck.neck, self.settings, blocks=blocks)

    @property
    def board(self) -> DrillBoard:
        """Question, answer field, verdict and neck."""
        return self.query_one(DrillBoard)

    def on_mount(self) -> None:
        self.set_interval(TICK_S, self.watch_clock)
        self.next_question()
        if self.session.store.behind:
            self.board.say(BEHIND)

    # -- the course of a question --------------------------------------------------------------------------------------

    def next_question(self) -> None:
        """Ask the next question, or end the drill after the last."""
        question = self.session.ask()
        if question is None:
            self.finish()
            return
        self.question, self.verdict = question, None
        self.times.ask()
        self._begun = 0
        family = [e.facets for e in self.session.deck.entries.values() if e.item.family == question.card.family]
        self._kind = answer_kind(question.card, family)
        self.board.say("")
        self._show_question(question)
        self.query_one(TimeBar).put(self.session.seconds_left, self._total_s)

    def judge(self, verdict: Verdict) -> None:
        """Show the verdict: in words at once, then on the neck and in the answer field."""
        self.verdict = verdict
        self.times.judge()
        self.board.say("")
        self.board.paint(verdict_content(verdict, self.settings))
        self.board.field.close()
        self.set_timer(ONE_FRAME_S, partial(self._show_answer, verdict))

    def finish(self) -> None:
        """End the drill and show its summary; every answer is already saved."""
        self.question = None
        self.navigator.after_drill(self.session.finish())

    # -- what the learner does -----------------------------------------------------------------------------------------

    def typed(self) -> None:
        """A key of an answer: thinking ends with the first, or the first after a rest; an earlier message goes."""
        gap_s = self.times.press()
        if self.is_asked:
            if gap_s >= THOUGHT_S:
                self.session.think_on()
            self.session.first_response()
            self.times.heed_no_warning()
            self.board.say("")

    def on_input_changed(self, event: AnswerField.Changed) -> None:
        """Whoever corrects what they typed is there, too, and thinks on once all of it is gone."""
        if self.is_asked:  # once there is a verdict, the program empties the field
            self.times.press()
            if not event.value:
                self.session.think_on()

    def written(self, text: str) -> None:
        """What is typed now: an answer that no other one goes on from needs no Enter."""
        if self.is_asked and self._kind and self._kind.decides(text, self.settings.note_language):
            self._give(text)

    def pressed(self) -> None:
        """A key other than Enter: it leaves a solved card or a verdict whose reason is new, and keeps any other."""
        is_stray, gap_s = self.is_stray, self.times.press()
        if not is_stray and (self.is_solved or (self.verdict is not None and self.verdict.is_new)):
            self._leave(gap_s)

    def entered(self, text: str) -> None:
        """Enter: submit the answer, or leave the verdict for the next question."""
        gap_s = self.times.press()
        if self.verdict is not None or self.is_solved:
            self._leave(gap_s)
        elif text.strip():
            self._give(text)
        elif self.times.since_asked_s < TOO_SOON_S:
            pass  # it was meant for the verdict that was there before
        elif self.times.was_warned:
            self.action_do_not_known()
        else:
            self.times.warn()
            self.board.say(f"Nothing typed yet. Press {self.key_of('answer')} again if you do not know.")

    def on_answer_neck_touched(self, event: AnswerNeck.Touched) -> None:
        """A click on the neck: the fret of the string that was asked, where a fret is asked for."""
        if self.is_asked:
            self.times.press()
            self._touched(event.spot.string, event.spot.fret)
        else:
            self.on_click()

    def on_click(self) -> None:
        """A click where nothing is asked goes on, as Enter does."""
        self._leave(self.times.press())

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Keep out of the footer what does nothing now."""
        if action == "do_hear_again":
            return self._footer[0] and self.session.is_heard
        return self._footer[0] if action == "do_not_known" else super().check_action(action, parameters)

    def _update_footer(self) -> None:
        """Tell the footer if what works has changed; it is made anew then, which takes longer than a verdict may."""
        if self._footer != (now := (self.is_asked, self.board.is_long)):
            self._footer = now
            self.refresh_bindings()

    async def action_do_answer(self) -> None:
        await self.board.field.action_submit()

    def action_do_not_known(self) -> None:
        if self.is_asked:
            self._safely(self.session.give_up, self.judge)

    def action_do_hear_again(self) -> None:
        self.session.hear_again()

    def action_do_pause(self) -> None:
        self.pause("You stopped the clock.")

    def action_do_end(self) -> None:
        self.finish()

    @property
    def is_stray(self) -> bool:
        """Whether a key belongs to what was there before: to an answer typed in full, or to an earlier verdict."""
        return self.times.is_stray(judged=self.verdict is not None)

    @property
    def is_asked(self) -> bool:
        """Whether a question waits for its answer."""
        return self.question is not None and not self.question.solved and self.verdict is None

    @property
    def is_solved(self) -> bool:
        """Whether a card is shown with its answer."""
        return self.question is not None and self.question.solved

    def _touched(self, string: int, fret: int) -> None:
        kind = self._kind
        if not isinstance(kind, FretAnswer) or kind.string is None:
            self.board.say("This answer is typed, not pointed at. Nothing is counted yet.")
        elif string != kind.string:
            touched, asked = (string_label(self.session.deck.neck.tuning, each) for each in (string, kind.string))
            self.board.say(self.settings.voice.say(f"That is {touched}; {asked} is asked. Nothing is counted yet."))
        else:
            self.typed()
            self._give(str(fret))

    def _leave(self, gap_s: float) -> None:
        """Go on from what is to be read, unless it has only just come, or the key is held down."""
        if self.is_solved:
            self._leave_solved()
        elif self.verdict and self.times.leaves_verdict(gap_s):
            self.next_question()

    def _leave_solved(self) -> None:
        """Go on from a card that was shown with its answer, unless it has only just come."""
        if self.times.since_asked_s >= LESSON_S:
            self._safely(self.session.shown, lambda _: self.next_question())

    def _give(self, text: str) -> None:
        try:
            self._safely(lambda: self.session.answer(self.session.read(text)), self.judge)
        except UnknownName as error:
            self.board.say(f"{error} Nothing is counted yet.")
            self.board.field.select_all()  # the next try takes the place of this one

    def _safely(self, save: Callable[[], T], then: Callable[[T], None]) -> None:
        """Save something and go on with it; if the record cannot be written, say what is safe and what to do."""
        try:
            saved = save()
        except UnknownName:
            raise
        except FretsureError as error:
            self.board.say(trouble(error, self.key_of))
        else:
            then(saved)

    # -- time ----------------------------------------------------------------------------------------------------------

    def pause(self, reason: str, away_s: float = 0.0) -> None:
        """Stop the clock, `away_s` ago, and hide the question until the learner resumes."""
        if self.in_front:
            self.session.pause(away_s)  # at once: the system may suspend the program before it can cover the question
            from drill.tui.screens.pause import PauseScreen

            self.app.push_screen(PauseScreen(reason, self.session.seconds_left, self.finish, by_itself=away_s > 0))

    @property
    def unfinished(self) -> bool:
        return self.question is not None

    def holds_back(self) -> bool:
        self.pause(f"You pressed Ctrl+C: {self.key_of('end-drill')} ends the drill, every answer is saved.")
        return self.unfinished

    @property
    def in_front(self) -> bool:
        """Whether nothing covers the question; Textual's `is_current` also holds for the screen below."""
        return self.app.screen is self

    def on_screen_suspend(self) -> None:
        """Stop the clock while a pause, help or the palette covers the question."""
        self.session.pause()

    def on_screen_resume(self) -> None:
        self.session.resume()
        self.times.begin_anew()
        self._begun = 0

    def watch_clock(self) -> None:
        """Let beats and time run on, and the next question come; pause after the machine slept, or nobody was there."""
        if not self.in_front or self.session.watch.paused:
            return
        if self.session.watch.slept():
            self.pause("The computer was asleep.")
        elif (away_s := self.times.since_key_s) >= (ALONE_S if self.is_asked else ALONE_READING_S):
            self.pause(LEFT_ALONE, away_s)
        elif self._rested:
            self.next_question()
            self.times.leave_unread()
        else:
            self._remind()
            if self.settings.motion == "running":
                self.query_one(TimeBar).put(self.session.seconds_left, self._total_s)
                self._show_beats()

    def _remind(self) -> None:
        """Tell whoever waits with an answer typed that it wants a key."""
        if self.is_asked and self.board.field.value and self.times.since_key_s >= THOUGHT_S:
            self.board.remind(f"{self.key_of('answer')} gives this answer.")

    @property
    def _rested(self) -> bool:
        """Whether a right answer has been in sight for long enough, and no key was pressed for as long."""
        if self.verdict is None or not self.verdict.right or self.settings.next_question != "by itself":
            return False
        return self.times.since_key_s >= (NEW_S if self.verdict.is_new else NEXT_S if self.verdict.in_time else LATE_S)

    def _show_beats(self) -> None:
        """Fill a mark with each beat of the bar; once the bar is over, say what kind of answer is wanted."""
        if self.question is None or not self.is_asked:
            return
        beat_s, moving = self.settings.beat_s, self.settings.motion == "running"
        begun = beats_begun(self.times.since_asked_s, beat_s) if moving else 0
        if begun == self._begun and moving:
            return
        self._begun = min(begun, BEATS_IN_A_BAR + 1)
        self.board.put(beat_marks(begun, round(self.question.target_s / beat_s), self.board.layout_now.scale))
        if begun > BEATS_IN_A_BAR:
            self._hint()

    # -- what is shown -------------------------------------------------------------------------------------------------

    def _show_question(self, question: Question) -> None:
        """Show all of a question, with an empty field."""
        self.board.field.ask()
        self.board.hint("")
        if question.solved:
            self.board.field.close()
            self.board.hint(ANY_KEY)
        elif question.card.family not in self._hinted:
            self._hint()
        self._show_words(question)

    def _show_words(self, question: Question) -> None:
        """Show what is asked, the beats of the bar or the solution, and the neck."""
        card = question.card
        self.board.ask(card, solved=question.solved)
        if question.solved:
            self.board.put(solved_content(card, self.settings, new=question.reason.kind is ReasonKind.FRESH))
            self.board.show_neck(verdict_picture(card, None))
        else:
            self._show_beats()
            self.board.show_neck(card.question_picture)
        self._update_footer()

    def _hint(self) -> None:
        """Say what kind of answer is wanted: at the first question of its family, and once the bar is over."""
        if self._kind is not None and self.question is not None:
            self._hinted.add(self.question.card.family)
            sort, _, example = beside(self._kind.hint, self.question.card.accepts).partition(", ")
            self.board.hint(self.settings.voice.hint(example or sort))

    def _show_answer(self, verdict: Verdict) -> None:
        if self.verdict is verdict:  # the learner may be at the next question already
            words = verdict_content(verdict, self.settings)
            why = reason_afterwards(self.question.reason) if self.question and not verdict.right else ""
            if why and self.board.layout_now.scale:  # there is room, and time to read
                words = words + Content.styled(f"\n{why}", "$neck-quiet")
            self.board.put(words)  # by now the question has its size
            self.board.show_neck(verdict_picture(verdict.card, verdict.given), right_frets(verdict.card))
            self.board.field.value = ""
            self.board.hint(NEXT_BY_ANY if verdict.is_new else f"{self.key_of('answer')}: next question")
            self._update_footer()

    def on_resize(self) -> None:
        self.call_after_refresh(self._show_again)

    def _show_again(self) -> None:
        """Show the same in a window of another size."""
        if self.question is None:
            return
        self._begun = 0
        self._show_words(self.question)
        if self.verdict is not None:
            self._show_answer(self.verdict)
