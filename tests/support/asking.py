"""Questions of a drill that want an answer."""

from __future__ import annotations

from typing import Any

from drill.practice.session import Question, Session
from drill.questions.card import Card, Judgement
from drill.record import AttemptRow, Record
from tests.support.records import attempt, drill

SHOWN = ("note-at-fret:string=1:fret=11", "fret-of-note:string=1:note=Eb")
"""Cards about a spot that the decks of these tests do not ask, of the kinds that they begin with."""


def ask(session: Session) -> Question | None:
    """The next question that is asked; solved cards before it are shown and left at once."""
    while (question := session.ask()) is not None and question.solved:
        session.shown()
    return question


def introduce(record: Record, now_s: float) -> None:
    """Put into the record that a solved card of the first kinds was shown, so that a drill begins by asking."""
    lesson = drill(id="lesson", started_at=round(1000 * now_s), ended_at=round(1000 * now_s))
    shown: dict[str, Any] = {"kind": "shown", "given": "", "correct": None, "thinking_ms": None, "drill": lesson.id}
    record.start_drill(lesson)
    for number, card in enumerate(SHOWN):
        at_ms = round(1000 * now_s) - len(SHOWN) + number
        family = card.partition(":")[0]
        row = attempt(0, uid=f"lesson-{number}", card=card, family=family, asked_at=at_ms, answered_at=at_ms)
        record.append(row._replace(**shown))


def answers(record: Record) -> list[AttemptRow]:
    """The attempts that were answered, in the order in which they were asked."""
    return [row for row in record.attempts() if row.kind == "asked"]


def judged(card: Card, text: str) -> Judgement:
    """What a typed answer to a card turns out to be. Raises `UnknownName` if it cannot be read."""
    return card.judge_answer(card.kind.read(text))
