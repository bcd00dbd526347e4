"""JSON mode: a drill as JSON Lines, for programs. `cli.reference.objects` tells the keys.

Every question is one object. Every line of input gets one object: a problem, after which the next line answers the same
question, or the verdict. A card that is shown solved is one object, its answer in it; it takes no line. The last object
is the summary. Names of notes are English in both directions, whatever the learner's note language. `line_input` says
how lines are read.
"""

from __future__ import annotations

import json
from functools import partial
from typing import Any

from drill.cli.line_input import (
    CATCH_UP_S,
    Answered,
    answer_from_lines,
    homework_elsewhere,
    homework_of,
    nobody_there,
    step_after,
)
from drill.errors import UnknownName
from drill.practice.attempts import milliseconds
from drill.practice.learner_store import BEHIND
from drill.practice.session import Question, Session
from drill.present.dates import iso_utc
from drill.present.reasons import reason_sentence
from drill.present.summaries import NextStep, Summary
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.questions.facets import as_plain
from drill.questions.wording import to_ascii
from drill.system.environment import Environment


def drill_in_json(session: Session, environment: Environment) -> None:
    """Run a drill as JSON Lines until its time is up or input ends. Raises CannotWrite, RecordDamaged."""
    record = session.store.record
    is_new = record.attempt_count() == 0
    if session.store.behind:
        print(f"fretsure: {BEHIND}", file=environment.stderr)
    while not nobody_there(session) and (question := session.ask()):
        if question.solved:
            _write(environment, _shown_object(question, session))
            session.shown()
            continue
        _write(environment, {"type": "question"} | _question_fields(question, session))
        answered = answer_from_lines(session, environment, partial(_write_problem, environment, question), "english")
        if answered is None:
            break
        _write(environment, _verdict_object(answered))
        session.catch_up(CATCH_UP_S)
    summary = session.finish()
    summed_up = _summary_object(summary, step_after(session, summary))
    new = {"new_record": str(record.path) if is_new else None}
    _write(environment, summed_up | _homework_fields(session) | new)


def _write(environment: Environment, value: dict[str, Any]) -> None:
    print(json.dumps(value, ensure_ascii=True), file=environment.stdout, flush=True)


def _question_fields(question: Question, session: Session) -> dict[str, Any]:
    card = question.card
    return {
        "card": card.id,
        "family": card.family,
        "deck": session.drill.deck,
        "prompt": to_ascii(card.prompt),
        "facets": as_plain(card.facets),
        "target_s": question.target_s,
        "why": reason_sentence(question.reason),
    }


def _shown_object(question: Question, session: Session) -> dict[str, Any]:
    idea = {"idea": to_ascii(FAMILIES[question.card.family].idea)}
    return {"type": "shown"} | _question_fields(question, session) | _answer_fields(question.card) | idea


def _answer_fields(card: Card) -> dict[str, Any]:
    return {"accepts": list(card.accepts), "because": [to_ascii(step) for step in card.because]}


def _write_problem(environment: Environment, question: Question, error: UnknownName) -> None:
    _write(environment, {"type": "problem", "card": question.card.id, "problem": str(error)})


def _verdict_object(answered: Answered) -> dict[str, Any]:
    verdict = answered.verdict
    return {
        "type": "verdict",
        "card": verdict.card.id,
        "right": verdict.right,
        "given": answered.line.strip(),
        **_answer_fields(verdict.card),
        "mixup": verdict.mixup.name if verdict.mixup else None,
        "mixup_sentence": to_ascii(verdict.mixup.sentence) if verdict.mixup else None,
        "mixups": [{"mixup": mixup.name, "sentence": to_ascii(mixup.sentence)} for mixup in verdict.mixups],
        "thinking_ms": None if verdict.thinking_s is None else milliseconds(verdict.thinking_s),
    }


def _summary_object(summary: Summary, step: NextStep | None) -> dict[str, Any]:
    return {
        "type": "summary",
        "answered": summary.answered,
        "right": summary.right,
        "first_time": summary.first_time,
        "seconds": round(summary.seconds, 3),
        "moved": [{"card": m.card, "before": m.before, "after": m.after} for m in summary.moved],
        "mixups": [{"mixup": m.name, "count": m.times, "example": to_ascii(m.example)} for m in summary.mixups],
        "slowest": [{"group": str(s.group), "seconds": s.seconds} for s in summary.slowest],
        "returns_at": iso_utc(summary.returns_at_s),
        "in_time": summary.growth.in_time if summary.growth else None,
        "in_time_week_ago": summary.growth.week_ago if summary.growth else None,
        "ending": summary.ending,
        "next": {"tempo_bpm": step.faster_bpm, "deck": step.deck} if step else None,
    }


def _homework_fields(session: Session) -> dict[str, Any]:
    own, others = homework_of(session), homework_elsewhere(session)
    return {
        "homework": own.as_object() if own else None,
        "other_homework": [each.as_object() for each in others],
    }
