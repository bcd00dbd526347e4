"""One question answered on the guitar: what the notes that are heard come to.

A microphone can mishear, so nothing is charged that is not sure. The right note is right as soon as it is named, if it
is clear, or once it has held. Another note has to hold and to come after quiet, and is then only told: "heard B; play
it again". Only if the same note comes again, or a third one that is wrong, is the answer wrong. What could not be named
never counts.

The time of an answer runs from the question to the pluck of its first note, with the way of the sound through the
machine taken off; after a wrong note, to the first note of the answer that came right.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, NamedTuple

from drill.questions.by_ear import Playing, playing, typed_instead
from drill.questions.card import Card
from drill.theory.neck import FRETS_PER_OCTAVE

if TYPE_CHECKING:
    from drill.listening import Event

TOO_SOON_S = 0.2
"""What is plucked so soon after a question came was meant for the one before."""
AGAIN_S = 0.25
"""A second pluck so soon after the first is the same one: a string that rattles, a pick that touches twice."""
MOST_OTHERS = 3
"""So many different wrong notes are no mishearing."""
REMEMBERED_S = 1.0
"""For so long what was heard may still matter to what comes next."""


class Heard(NamedTuple):
    """What a note has come to.

    half      the first of two notes is right, and the second is wanted
    again     another note, and it held; nothing is counted yet
    order     the second of two notes came first; that is never counted
    unclear   a pluck that could not be named; that is never counted
    right     the answer is right
    wrong     the answer is wrong
    """

    kind: Literal["half", "again", "order", "unclear", "right", "wrong"]
    midi: int = 0
    answer: str = ""
    """The canonical answer it comes to, if it ends the question; empty where a wrong note comes to none."""
    onset: int | None = None
    """Sample at which a right answer began."""


class Take:
    """Listens for the answer to one question, asked at sample `opened` of a stream with so many samples a second."""

    def __init__(self, card: Card, wanted: Playing, opened: int, rate: int, path: int = 0) -> None:
        self.card, self.wanted = card, wanted
        self._opened, self._rate, self._path = opened, rate, path
        self._earliest = opened + path + round(TOO_SOON_S * rate)
        """Plucks before this sample belong to something else."""
        self._right = 0
        """How many of the notes have come right in turn."""
        self._began: int | None = None
        """Sample at which the first of these was plucked."""
        self._events: list[Event] = []
        """What was heard last: a note that comes in haste is not charged."""
        self._others: list[tuple[int, int]] = []
        """The wrong notes so far: which of the notes was wanted, and what sounded instead."""

    def hear(self, event: Event) -> Heard | None:
        """What a note has come to; None if it has not, or not yet, come to anything."""
        from drill.listening import Missed  # needs numpy, and a drill that is typed does without
        from drill.listening.verdict import Other, Right, verdict_on

        self._remember(event)
        if event.onset < self._earliest:
            return None
        if isinstance(event, Missed):
            return Heard("unclear")
        ruling = verdict_on(event.onset, self._events, self.wanted.notes[self._right], self._rate)
        if isinstance(ruling, Right):
            return self._is_right(event.midi, event.onset)
        return self._is_other(ruling.midi, event.onset) if isinstance(ruling, Other) else None

    def _remember(self, event: Event) -> None:
        last = [other for other in self._events if event.onset - other.onset <= REMEMBERED_S * self._rate]
        self._events = [*last, event]

    def thinking_s(self, onset: int | None) -> float | None:
        """Seconds from the question to a pluck, less the way through the machine; not below 0."""
        return None if onset is None else max(0, onset - self._opened - self._path) / self._rate

    def _is_right(self, midi: int, onset: int) -> Heard:
        self._next_after(onset)
        self._began = onset if self._began is None else self._began
        notes, self._right = self.wanted.notes[self._right], self._right + 1
        if self._right < len(self.wanted.notes):
            return Heard("half", midi)
        self._right = 0  # an answer that cannot be saved is played once more
        return Heard("right", midi, notes.get(midi) or self.card.accepts[0], self._began)

    def _is_other(self, midi: int, onset: int) -> Heard:
        self._next_after(onset)
        if not self._right and any(midi in notes for notes in self.wanted.notes):
            return Heard("order", midi)
        other, turn = (self._right, midi % FRETS_PER_OCTAVE), self._right
        is_sure = other in self._others or len(self._others) + 1 == MOST_OTHERS
        self._others.append(other)
        self._right, self._began = 0, None
        if is_sure:
            return Heard("wrong", midi, typed_instead(self.card, midi) if not turn else "")
        return Heard("again", midi)

    def _next_after(self, onset: int) -> None:
        self._earliest = onset + round(AGAIN_S * self._rate)


def take(card: Card, opened: int, rate: int, path: int = 0) -> Take | None:
    """A take of this card; None if a guitar cannot answer it."""
    wanted = playing(card)
    return Take(card, wanted, opened, rate, path) if wanted else None
