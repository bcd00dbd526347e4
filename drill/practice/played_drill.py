"""A drill answered on the guitar: a session with ears. The faces ask it what was heard, and show what it says.

    drill = PlayedDrill(session, open_ears(environment, settings))
    drill.start()                          # the microphone opens; raises NoSound
    question = session.ask()
    drill.asked(question)                  # listens, if this question can be heard
    for told in drill.poll():              # often: a sentence to show, or the verdict
        ...
    drill.stop()

A question that cannot be heard is typed, and so is one that was missed when it was played. Every question may be typed.
"""

from __future__ import annotations

from drill.decks import Deck
from drill.errors import UsageProblem
from drill.practice.hearing import Ears
from drill.practice.played import Heard, Take, take
from drill.practice.session import Question, Session
from drill.present.played_words import (
    CANNOT_BE_HEARD,
    NOBODY_PLAYS,
    NOTHING_YET,
    TOO_BUSY,
    TYPE_ON,
    TYPED_AGAIN,
    play_hint,
    said_of,
)
from drill.present.verdicts import Verdict
from drill.questions.by_ear import playing

READ_WRONG_S, READ_NEW_S = 8.0, 20.0
"""With hands on the guitar, a wrong answer and a new card are shown for so long; a note or a key goes on at once."""
STAYS_S = 1.5
"""What was said stays for so long, before it is said that something was not heard for sure."""
NOTHING_S = 10.0
"""After so many seconds without an answer the learner is told that nothing was heard for sure."""
NOBODY_S = 90.0
"""After so many seconds without any sound the microphone closes: nobody plays."""


class PlayedDrill:
    """Lets a session be answered by playing. While it listens, `is_listening` holds."""

    def __init__(self, session: Session, ears: Ears) -> None:
        self.session, self.ears = session, ears
        self._take: Take | None = None
        self._waited_from = self._sound_at = 0
        """Samples at which the question was asked, or told of last, and at which anything was heard last."""
        self._is_told = self._is_unclear_told = False
        self._overruns = 0
        """How often samples had been lost when the question was asked."""
        self.wants_to_listen = True
        """False once the microphone has closed for good."""

    def start(self) -> None:
        """Open the microphone. Raises NoSound."""
        self.ears.start()
        self._sound_at = self.ears.position

    def stop(self) -> None:
        """Close the microphone for good; what is left of the drill is typed. Safe to call twice."""
        self.ears.stop()
        self._take, self.wants_to_listen = None, False

    @property
    def is_listening(self) -> bool:
        """Whether the microphone is open."""
        return self.ears.is_open

    @property
    def is_played(self) -> bool:
        """Whether the open question waits for a note."""
        return self._take is not None

    def asked(self, question: Question) -> None:
        """Listen for the answer to a question that was put just now, if it is one that can be heard."""
        self.ears.poll()  # what was played until now belongs to what was there before
        self._take, self._is_told, self._is_unclear_told = None, False, False
        self._overruns = self.ears.overruns
        self._waited_from = self._sound_at = self.ears.position
        if self.is_listening and not question.solved and question.card.id not in self.session.missed_by_ear:
            self._take = take(question.card, self.ears.position, self.ears.rate, self.ears.path)

    @property
    def quiet_s(self) -> float:
        """Seconds since anything was heard, named or not, or since the question was asked."""
        return (self.ears.position - self._sound_at) / self.ears.rate

    def hint(self, question: Question) -> str:
        """How to answer a question: what to play and what to type, or why it is typed. Notes are marked."""
        typed = question.card.hint
        if not self.is_listening:
            return typed
        how = self.how(question)
        return f"{how}, or type {typed}" if self.is_played else f"{typed}; {how}"

    def how(self, question: Question) -> str:
        """What to play, or why a question is typed."""
        if self._take is not None:
            return play_hint(self._take.wanted.names)
        return TYPED_AGAIN if question.card.id in self.session.missed_by_ear else CANNOT_BE_HEARD

    def ignore(self) -> None:
        """Let what was heard since the last call go, as while somebody types."""
        self.ears.poll()
        self._waited_from = self._sound_at = self.ears.position

    def poll(self) -> list[str | Verdict]:
        """What there is to say of the notes heard since the last call, and the verdict if one ended the question.

        Sentences have marked notes. Raises CannotWrite and RecordDamaged if an answer cannot be saved.
        """
        events = self.ears.poll()
        if self.ears.trouble:
            return [self._no_more(f"{self.ears.trouble} {TYPE_ON}")] if self.wants_to_listen else []
        said: list[str | Verdict] = []
        for event in events:
            self._sound_at = self.ears.position
            if self._take is not None and (heard := self._take.hear(event)):
                said += [self._answered(heard)] if self._is_worth_telling(heard) else []
        return said or self._waiting()

    def goes_on(self) -> bool:
        """Whether a note was heard since the last call: where a verdict waits, it asks for the next question."""
        from drill.listening import Heard as Note  # needs numpy, which `can_be_played` does without

        return any(isinstance(event, Note) and event.onset > self._waited_from for event in self.ears.poll())

    def verdict_shown(self) -> None:
        """A verdict is read from now on: notes before this moment do not go on to the next question."""
        self.ears.poll()
        self._waited_from = self.ears.position

    def _is_worth_telling(self, heard: Heard) -> bool:
        """What was unclear is told once a question, and not over what was said just before: a room has many noises."""
        if heard.kind != "unclear":
            return True
        is_new = not self._is_unclear_told and self.ears.position - self._waited_from >= STAYS_S * self.ears.rate
        self._is_unclear_told = self._is_unclear_told or is_new
        return is_new

    def _answered(self, heard: Heard) -> str | Verdict:
        assert self._take is not None
        if heard.kind == "right" or heard.kind == "wrong":
            seconds = self._take.thinking_s(heard.onset)
            right = heard.kind == "right"
            verdict = self.session.answer_played(heard.answer, heard.midi, right=right, thinking_s=seconds)
            self._take = None
            return verdict
        if heard.kind == "unclear" and self._lost_samples:
            return TOO_BUSY
        self._waited_from = self._waited_from if heard.kind == "unclear" else self.ears.position
        return said_of(heard.kind, heard.midi, self._take.wanted.names)

    def _waiting(self) -> list[str | Verdict]:
        """What is said to who waits: once that nothing was heard, and in the end that nobody plays."""
        if self._take is None:
            return []
        if self.quiet_s >= NOBODY_S:
            return [self._no_more(NOBODY_PLAYS)]
        if not self._is_told and self.ears.position - self._waited_from >= NOTHING_S * self.ears.rate:
            self._is_told = True
            return [TOO_BUSY if self._lost_samples else NOTHING_YET]
        return []

    @property
    def _lost_samples(self) -> bool:
        """Whether the machine has been too busy to take in all that was played since the question was asked."""
        return self.ears.overruns > self._overruns

    def _no_more(self, sentence: str) -> str:
        self.stop()
        return sentence


def can_be_played(deck: Deck) -> Deck:
    """What of a deck a guitar can answer. Raises UsageProblem if nothing is left."""
    left = {card: entry for card, entry in deck.entries.items() if playing(deck.card(card))}
    if not left:
        raise UsageProblem(
            f"No card of “{deck.title}” can be answered on the guitar.", "Type its answers, or choose another deck."
        )
    return deck._replace(entries=left)
