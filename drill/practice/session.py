"""One drill without a screen: the next question, the answer, the verdict, the end.

Line mode, JSON mode and the screens all drive the same `Session`:

    session = Session.start(environment, settings, record, deck, minutes=5)
    while question := session.ask():
        if question.solved:                           # show the card with its answer and its reason; ask nothing
            session.shown()
            continue
        session.first_response()                      # when the learner starts to type
        verdict = session.answer(session.read("Bb"))  # on the disk before it returns
    summary = session.finish()
"""

import json
from contextlib import suppress
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from drill.decks import Deck, Focus
from drill.errors import CannotWrite, FretsureError, NoSound, UnknownName, UsageProblem
from drill.memory import Planner, Reason, is_fresh
from drill.practice.attempts import PASSED, Times, attempt_of, attempt_row, milliseconds
from drill.practice.heard_first import HeardFirst, with_sound
from drill.practice.learner_store import SLICE_S, LearnerStore
from drill.practice.stopwatch import Stopwatch
from drill.present.verdicts import Verdict
from drill.questions.card import Card, Judgement
from drill.record import DrillRow, How, Record, name_if_nameless
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.names import NoteLanguage

if TYPE_CHECKING:
    from drill.present.summaries import Summary


RULE_KNOWN = 3
"""Once a kind of question came right so often, its reasons have been read."""
READ_S = 2.0
"""Whoever had a solved card in sight for so long has seen it."""


class Question(NamedTuple):
    """One question that waits for its answer: why it was chosen, and the seconds within which an answer is fluent.

    Of a `solved` one the answer is shown with the question, and none is taken: see `Session.shown`.
    """

    card: Card
    number: int
    reason: Reason
    target_s: float
    solved: bool = False


@dataclass(slots=True)
class Session:
    """One drill; make it with `start`. It reads the clocks only through its environment."""

    environment: Environment
    settings: Settings
    store: LearnerStore
    deck: Deck
    planner: Planner
    drill: DrillRow
    watch: Stopwatch
    heard: HeardFirst
    question: Question | None = None
    asked_at_s: float = 0.0
    missed_by_ear: set[str] = field(default_factory=set)
    """Cards that were missed when they were played: they come back to be typed, and that answer counts.

    With the setting "hands free" they do not come back."""
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
    ) -> "Session":
        """Begin a drill of so many minutes over the deck, or what the focus leaves of it.

        Waits at most `learner_store.START_S` seconds for a long record; `catch_up` reads the rest. Raises UsageProblem
        if nothing is left to ask, CannotWrite, RecordDamaged.
        """
        deck = deck.focused(focus, settings.note_language) if focus else deck
        deck = with_sound(deck, environment).begun_with(settings.place)
        store = store or LearnerStore.begin(record, environment.monotonic)
        now_s = environment.now()
        drill = DrillRow(
            id=environment.new_uid(),
            started_at=milliseconds(now_s),
            ended_at=None,
            deck=deck.id,
            minutes=round(minutes or settings.minutes),
            focus=json.dumps(focus.as_names() if focus else {}),
            tuning=deck.neck.tuning.id,
            seed=None,
        )
        record.start_drill(drill)
        planner = Planner(store.learner, deck.items, now_s, settings.place)
        watch = Stopwatch(environment.now, environment.monotonic, 60.0 * (minutes or settings.minutes))
        heard = HeardFirst(environment, settings.decibels_down)
        return cls(environment, settings, store, deck, planner, drill, watch, heard)

    @property
    def seconds_left(self) -> float:
        """Seconds until the drill is over; they stop in a pause."""
        return self.watch.seconds_left

    def catch_up(self, seconds: float = SLICE_S) -> None:
        """For so many seconds, read on in a long record or in what another program added, if anything is left."""
        self.store.catch_up(self.environment.monotonic, seconds)

    def ask(self) -> Question | None:
        """Choose the next question and start its thinking time; None when the drill is over."""
        if self.planner.learner is not self.store.learner:
            self.planner.renew(self.store.learner, self.environment.now())
        choice = self.planner.next(self.environment.now(), self.seconds_left)
        if choice is None:
            self.question = None
            return None
        item, number = self.deck.entries[choice.card].item, len(self.verdicts) + 1
        self.question = Question(self.deck.card(choice.card), number, choice.reason, item.target_s, choice.solved)
        self.asked_at_s = self.environment.now()
        self.watch.start_thinking()
        return self.question if self._heard_first(self.question) else None

    def _heard_first(self, question: Question) -> bool:
        """Play what has to be heard first; where the sound card is gone, that ends the drill, and is said."""
        try:
            self.heard.play(question.card)
        except NoSound as error:
            self.store.record.notices.append(f"{error} What has to be heard waits for another drill.")
            self.question = None
            return False
        return True

    @property
    def is_heard(self) -> bool:
        """Whether the open question has to be heard."""
        return self.question is not None and self.question.card.heard is not None

    def hear_again(self) -> None:
        """Play once more what the open question is about, if it is to be heard."""
        if self.question is not None:
            with suppress(NoSound):
                self.heard.play(self.question.card)

    def shown(self) -> None:
        """The learner has seen the solved card and goes on: saved as shown, neither right nor wrong.

        Raises UsageProblem if no solved card is open; CannotWrite and RecordDamaged if it cannot be saved, and the
        card then stays open.
        """
        if self.question is None or not self.question.solved:
            raise UsageProblem("No solved card is open.", "Answer the question instead.")
        self.watch.forget_thinking()
        self._learn(self.question, None)

    def _leave_solved(self) -> None:
        """A solved card at which the drill ends was seen, if there was time to read it: the next drill will ask."""
        if self.question and self.question.solved and self.environment.now() - self.asked_at_s >= READ_S:
            with suppress(FretsureError):
                self.shown()

    def first_response(self) -> None:
        """The learner begins to answer: thinking time ends. Further calls for the same question change nothing."""
        self.watch.stop_thinking()

    def think_on(self) -> None:
        """The response was no answer yet: thinking, counted from the question, ends with the next response."""
        self.watch.go_on_thinking()

    def read(self, text: str, language: NoteLanguage | None = None) -> str:
        """The canonical answer in a typed line; its notes are in the learner's note language, if none is given.

        Raises UnknownName if the line cannot be read; the question then stays open, nothing is counted, and thinking
        goes on until the next response.
        """
        card = self._open_question().card
        try:
            return card.kind.read(text, language or self.settings.note_language)
        except UnknownName:
            self.think_on()
            raise

    def answer(self, answer: str) -> Verdict:
        """Judge and save a canonical answer, such as `read` gives.

        Raises CannotWrite and RecordDamaged if it cannot be saved, and the question then stays open.
        """
        return self._save(self._open_question().card.judge_answer(answer))

    def answer_played(self, given: str, midi: int, *, right: bool, thinking_s: float | None) -> Verdict:
        """Save an answer that was played: what it comes to, the last note, and the seconds from question to pluck.

        It counts as `Attempt.learnable` says. Raises CannotWrite and RecordDamaged if it cannot be saved, and the
        question then stays open.
        """
        card = self._open_question().card.id
        self.watch.stop_thinking()
        if self.watch.thinking_s is not None:  # no pause and no sleep came between
            self.watch.thinking_s = thinking_s
        verdict = self._save(Judgement(given, right), "played")._replace(heard=midi)
        self.verdicts[-1] = verdict
        if not right:
            self._missed_by_ear(card)
        return self.verdicts[-1]

    def _missed_by_ear(self, card: str) -> None:
        """Let a card come back to be typed, or, for hands that stay on the guitar, not in this drill."""
        self.missed_by_ear.add(card)
        if self.hands_free:
            self.planner.leave_out(card)
            self.verdicts[-1] = self.verdicts[-1]._replace(comes_back=False, only_typed=True)

    @property
    def hands_free(self) -> bool:
        """Whether hands stay on the guitar, so that nothing has to be typed."""
        return self.settings.answers == "hands free"

    def give_up(self) -> Verdict:
        """Save that the learner passed: it counts as not known. Raises CannotWrite, RecordDamaged."""
        return self._save(PASSED)

    def pause(self, away_s: float = 0.0) -> None:
        """Stop the clocks, `away_s` ago, and fall silent; the open question's thinking time will not be measured."""
        self.heard.stop()
        self.watch.pause(away_s)

    def resume(self) -> None:
        """Let the clocks run on; what has to be heard begins anew."""
        self.watch.resume()
        self.hear_again()

    def finish(self) -> "Summary":
        """End the drill and sum it up. Where the end cannot be written, a notice says so; all answers are safe."""
        self.heard.stop()
        self._leave_solved()
        try:
            name_if_nameless(self.store.record, self.settings.learner)  # today's backup is to have the name
            self.store.record.end_drill(self.drill.id)
            self.store.end_drill()
        except CannotWrite as error:
            self.store.record.notices.append(str(error))
        now_s = self.environment.now()
        from drill.practice.growth import growth
        from drill.practice.summary import summarise

        ending = self.planner.ending if self.question is None else None
        summary = summarise(self.verdicts, self.watch.spent_s, self.deck, self.store.learner, now_s, ending)
        with suppress(FretsureError):  # a damaged answer of long ago is told of elsewhere
            return summary._replace(growth=growth(self.store, self.deck.neck, now_s))
        return summary

    def _open_question(self) -> Question:
        if self.question is None:
            raise UsageProblem("No question is open.", "Ask one first.")
        if self.question.solved:
            raise UsageProblem("This card is shown with its answer.", "Go on to the next question.")
        return self.question

    def _save(self, judgement: Judgement, how: How = "typed") -> Verdict:
        self.watch.stop_thinking()
        question = self._open_question()
        card, item = question.card, self.deck.entries[question.card.id].item
        before, last_s = self.store.learner.strength(item, self.environment.now()), self._last_right_s(card, how)
        net_s = self._net_s(card, self.watch.thinking_s, how)
        fresh, new = is_fresh(self.store.learner, item), judgement.right and self._is_new(card, net_s)
        self._learn(question, judgement, how)
        verdict = Verdict(
            card=card,
            fresh=fresh,
            is_new=new,
            right=judgement.right,
            given=judgement.given or None,
            mixups=judgement.mixups,
            thinking_s=self.watch.thinking_s,
            target_s=question.target_s,
            comes_back=self.planner.comes_back(card.id, self.seconds_left),
            strength_before=before,
            last_thinking_s=last_s,
            net_thinking_s=net_s,
            beat_s=self.settings.beat_s,
            how=how,
            mixed_up_before=frozenset(each.mixup.name for each in self.verdicts if each.mixup),
        )
        self.missed_by_ear.discard(card.id)
        self.verdicts.append(verdict)
        return verdict

    def _is_new(self, card: Card, net_s: float | None) -> bool:
        """Whether the card, about to come right after so many net seconds, was missed last, or never came right before.

        Once its kind has come right a few times, the learner knows the rule: a card that comes in time needs no reason.
        """
        cards, target_s = self.store.learner.cards, self.deck.entries[card.id].item.target_s
        state = cards.get(card.id)
        if state is None or not state.right:
            late = net_s is None or net_s > target_s
            return late or sum(s.right for name, s in cards.items() if name.startswith(f"{card.family}:")) < RULE_KNOWN
        return state.failed

    def _net_s(self, card: Card, thinking_s: float | None, how: How) -> float | None:
        """A thinking time without what reading and the key press, or reach and pluck, take by what is known now."""
        return self.store.net_thinking_s(card.family, thinking_s, played=how == "played")

    def _last_right_s(self, card: Card, how: How) -> float | None:
        """How long the learner thought when the card last came right in the same way, whenever that was."""
        try:
            last = self.store.record.last_right(card.id, how)
        except FretsureError:  # an old answer is damaged; that must not keep the new one from being saved
            return None
        return self._net_s(card, last.thinking_ms / 1000, how) if last and last.thinking_ms is not None else None

    def _learn(self, question: Question, judgement: Judgement | None, how: How = "typed") -> None:
        """Save what came of a question, None if it was only shown, and learn from it."""
        card, item, now_s = question.card, self.deck.entries[question.card.id].item, self.environment.now()
        times = self._times(question, now_s)
        row = attempt_row(self.environment.new_uid(), self.drill, card.id, card.family, times, judgement, how)
        mixup = judgement.mixup if judgement else None
        attempt = attempt_of(row, mixup.fact if mixup else None)
        net = self.store.net(card.family, attempt)  # by what was known before this answer, as its verdict is
        self.store.add(row, item, attempt)
        self.planner.observe(net._replace(parts_right=mixup is not None and mixup.parts_right))
        self.question = None
        self.heard.stop()

    def _times(self, question: Question, now_s: float) -> Times:
        thinking_s = self.watch.thinking_s
        return Times(
            asked_at=milliseconds(self.asked_at_s),
            answered_at=milliseconds(now_s),
            utc_offset_min=self.environment.utc_offset_minutes(now_s),
            thinking_ms=None if thinking_s is None else milliseconds(thinking_s),
            target_ms=milliseconds(question.target_s),
        )
