"""JSON mode: a drill as JSON Lines, for programs. The README lists the keys.

Every question is one object. Every line of input gets one object: a problem, after which the next line answers the same
question, or the verdict. The last object is the summary. Names of notes are English in both directions, whatever the
learner's note language. `line_input` says how lines are read.
"""

from __future__ import annotations

import json
from functools import partial
from typing import Any

from drill.cli.line_input import CATCH_UP_S, Answered, answer_from_lines, nobody_there
from drill.errors import UnknownName
from drill.practice.attempts import milliseconds
from drill.practice.learner_store import BEHIND
from drill.practice.session import Question, Session
from drill.present.dates import iso_utc
from drill.present.reasons import reason_sentence
from drill.present.summaries import Summary
from drill.questions.facets import as_plain
from drill.questions.wording import to_ascii
from drill.system.environment import Environment


def drill_in_json(session: Session, environment: Environment) -> None:
    """Run a drill as JSON Lines until its time is up or input ends. Raises CannotWrite, RecordDamaged."""
    if session.store.behind:
        print(f"fretsure: {BEHIND}", file=environment.stderr)
    while not nobody_there(session) and (question := session.ask()):
        _write(environment, _question_object(question))
        answered = answer_from_lines(session, environment, partial(_write_problem, environment, question), "english")
        if answered is None:
            break
        _write(environment, _verdict_object(answered))
        session.catch_up(CATCH_UP_S)
    _write(environment, _summary_object(session.finish()))


def _write(environment: Environment, value: dict[str, Any]) -> None:
    print(json.dumps(value, ensure_ascii=True), file=environment.stdout, flush=True)


def _question_object(question: Question) -> dict[str, Any]:
    card = question.card
    return {
        "type": "question",
        "card": card.id,
        "family": card.family,
        "prompt": to_ascii(card.prompt),
        "facets": as_plain(card.facets),
        "target_s": question.target_s,
        "why": reason_sentence(question.reason),
    }


def _write_problem(environment: Environment, question: Question, error: UnknownName) -> None:
    _write(environment, {"type": "problem", "card": question.card.id, "problem": str(error)})


def _verdict_object(answered: Answered) -> dict[str, Any]:
    verdict = answered.verdict
    return {
        "type": "verdict",
        "card": verdict.card.id,
        "right": verdict.right,
        "given": answered.line.strip(),
        "accepts": list(verdict.card.accepts),
        "mixup": verdict.mixup.name if verdict.mixup else None,
        "mixup_sentence": to_ascii(verdict.mixup.sentence) if verdict.mixup else None,
        "mixups": [{"mixup": mixup.name, "sentence": to_ascii(mixup.sentence)} for mixup in verdict.mixups],
        "because": [to_ascii(step) for step in verdict.card.because],
        "thinking_ms": None if verdict.thinking_s is None else milliseconds(verdict.thinking_s),
    }


def _summary_object(summary: Summary) -> dict[str, Any]:
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
    }
