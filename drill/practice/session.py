"""One drill, without a screen: the next question, the answer, the verdict, the end.

Every face drives the same `Session`:

    session = Session.start(environment, settings, record, deck, minutes=5)
    while question := session.ask():
        session.first_response()             # when the learner starts to type
        verdict = session.answer("Bb")  # on the disk before it returns
    summary = session.finish()
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from drill.decks import Deck, Focus
from drill.errors import CannotWrite, UnknownName, UsageProblem
from drill.memory import Attempt, Planner, ReasonKind
from drill.practice.learner_store import SLICE_S, LearnerStore
from drill.practice.stopwatch import Stopwatch
from drill.practice.verdict import Question, Verdict
from drill.questions.card import Card, Judgement
from drill.record import AttemptRow, DrillRow, Record
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.names import NoteLanguage

if TYPE_CHECKING:
    from drill.practice.summary import Summary

NOT_KNOWN = ""
"""What the record holds as given when the learner passed."""


@dataclass(slots=True)
class Session:
    """One drill. Make it with `start`; it reads the clock only through the environment it was given."""

    environment: Environment
    settings: Settings
    store: LearnerStore
    deck: Deck
    planner: Planner
    drill: DrillRow
    watch: Stopwatch
    question: Question | None = None
    asked_at_s: float = 0.0
    verdicts: list[Verdict] = field(default_factory=list)

    @classmethod
    def start(
        cls,
        environment: Environment,
        settings: Settings,
        record: Record,
        deck: Deck,
        minutes: float | None = None,
        focus: Focus | None = None,
        store: LearnerStore | None = None,
    ) -> Session:
        """Begin a drill of so many minutes over the deck, or what the focus leaves of it.

        Waits at most `learner_store.START_S` seconds for a long record; `catch_up` reads the rest. Raises UsageProblem
        if nothing is left to ask, CannotWrite, RecordDamaged.
        """
        deck = deck.focused(focus, settings.note_language) if focus else deck
        store = store or LearnerStore.begin(record, environment.monotonic)
        now_s = environment.now()
        drill = DrillRow(
            id=environment.new_uid(),
            started_at=round(now_s * 1000),
            ended_at=None,
            deck=deck.id,
            minutes=round(minutes or settings.minutes),
            focus=json.dumps(focus.as_names() if focus else {}),
            tuning=deck.neck.tuning.id,
            seed=None,
        )
        record.start_drill(drill)
        planner = Planner(store.learner, deck.items, now_s)
        watch = Stopwatch(environment.now, environment.monotonic, 60.0 * (minutes or settings.minutes))
        return cls(environment, settings, store, deck, planner, drill, watch)

    @property
    def seconds_left(self) -> float:
        """Seconds until the drill is over; a pause holds them."""
        return self.watch.seconds_left

    def catch_up(self, seconds: float = SLICE_S) -> None:
        """Read more of a long record, or of what another program added, if there is more: for so many seconds."""
        self.store.catch_up(self.environment.monotonic, seconds)

    def ask(self) -> Question | None:
        """Put the next question on the table and start the thinking clock; None when the drill is over."""
        if self.planner.learner is not self.store.learner:
            self.planner.renew(self.store.learner, self.environment.now())
        choice = self.planner.next(self.environment.now(), self.seconds_left)
        if choice is None:
            self.question = None
            return None
        target_s = self.deck.entries[choice.card].item.target_s
        self.question = Question(self.deck.card(choice.card), len(self.verdicts) + 1, choice.reason, target_s)
        self.asked_at_s = self.environment.now()
        self.watch.start_thinking()
        return self.question

    def first_response(self) -> None:
        """The learner has begun to type: thinking time ends. Further calls for the same question change nothing."""
        self.watch.stop_thinking()

    def answer(self, text: str, language: NoteLanguage | None = None) -> Verdict:
        """Judge and keep one typed answer, read in a note language: the learner's, if none is given.

        Raises `UnknownName` if it cannot be read; the question then stays, nothing is counted, and thinking goes on
        until the first key of the next try.
        """
        card = self._open_question().card
        try:
            judgement = card.judge(text, language or self.settings.note_language)
        except UnknownName:
            self.watch.go_on_thinking()
            raise
        return self._keep(card, judgement, judgement.given)

    def give_up(self) -> Verdict:
        """Keep that the learner passed: it counts as not known."""
        return self._keep(self._open_question().card, Judgement(NOT_KNOWN, False, None), None)

    def pause(self) -> None:
        """Stop the clocks; the open question's thinking time will not be measured."""
        self.watch.pause()

    def resume(self) -> None:
        """Let the clocks run on."""
        self.watch.resume()

    def finish(self) -> Summary:
        """End the drill and say what came of it; a record that refuses to keep the end of it has all its answers."""
        try:
            self.store.record.end_drill(self.drill.id)
            self.store.end_drill()
        except CannotWrite as error:
            self.store.record.notices.append(str(error))
        now_s = self.environment.now()
        from drill.practice.summary import summarise

        return summarise(self.verdicts, self.watch.spent_s, self.deck, self.store.learner, now_s)

    def _open_question(self) -> Question:
        if self.question is None:
            raise UsageProblem("No question is open.", "Ask one first.")
        return self.question

    def _keep(self, card: Card, judgement: Judgement, given: str | None) -> Verdict:
        self.watch.stop_thinking()
        question, item = self._open_question(), self.deck.entries[card.id].item
        now_s, thinking_s = self.environment.now(), self.watch.thinking_s
        fact = judgement.mixup.fact if judgement.mixup else None
        attempt = Attempt(card.id, round(now_s * 1000) / 1000, judgement.right, _in_whole_ms(thinking_s), fact)
        before = self.store.learner.strength(item, now_s)
        self.store.add(self._row(question, judgement, attempt), item, attempt)
        self.planner.observe(attempt)
        self.question = None
        verdict = Verdict(
            card=card,
            fresh=question.reason.kind is ReasonKind.FRESH,
            right=judgement.right,
            given=given,
            mixup=judgement.mixup,
            thinking_s=thinking_s,
            target_s=question.target_s,
            comes_back=not judgement.right and self.seconds_left > 0,
            strength_before=before,
            strength_after=self.store.learner.strength(item, now_s),
        )
        self.verdicts.append(verdict)
        return verdict

    def _row(self, question: Question, judgement: Judgement, attempt: Attempt) -> AttemptRow:
        return AttemptRow(
            uid=self.environment.new_uid(),
            drill=self.drill.id,
            card=question.card.id,
            family=question.card.family,
            deck=self.deck.id,
            kind="asked",
            asked_at=round(self.asked_at_s * 1000),
            answered_at=round(attempt.at_s * 1000),
            utc_offset_min=self.environment.utc_offset_minutes(attempt.at_s),
            given=judgement.given,
            right=judgement.right,
            mixup=judgement.mixup.name if judgement.mixup else None,
            thinking_ms=None if attempt.thinking_s is None else round(attempt.thinking_s * 1000),
            target_ms=round(question.target_s * 1000),
        )


def _in_whole_ms(seconds: float | None) -> float | None:
    """What the log can hold, so that a replay of the log sees the very same number."""
    return None if seconds is None else round(seconds * 1000) / 1000
