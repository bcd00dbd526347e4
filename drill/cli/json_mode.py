"""JSON mode: a drill as JSON Lines, for programs; `reference.lines` has them.

Every question is one object. Every line of input gets one object: a problem, after which the next line answers the same
question, or the verdict. A card that is shown solved is one object, its answer in it; it takes no line. The last object
is the summary. Names of notes are English in both directions, whatever the learner's note language. `line_input` says
how lines are read.
"""

from __future__ import annotations

import json
from functools import partial
from typing import NamedTuple

from drill.cli.line_input import (
    CATCH_UP_S,
    answer_from_lines,
    homework_elsewhere,
    homework_of,
    nobody_there,
    step_after,
)
from drill.cli.output import notify
from drill.cli.reference.lines import LINES, Asked, Ended, Unread
from drill.errors import UnknownName
from drill.practice.learner_store import BEHIND
from drill.practice.session import Session
from drill.present.tables import as_object
from drill.questions.card import Card
from drill.system.environment import Environment


def drill_in_json(session: Session, environment: Environment) -> None:
    """Run a drill as JSON Lines until its time is up or input ends. Raises CannotWrite, RecordDamaged."""
    record = session.store.record
    is_new = record.attempt_count() == 0
    if session.store.behind:
        notify(environment, [BEHIND])
    while not nobody_there(session) and (question := session.ask()):
        asked = Asked(question.card, session.drill.deck, question.target_s, question.reason)
        _write(environment, "shown" if question.solved else "question", asked)
        if question.solved:
            session.shown()
            continue
        answered = answer_from_lines(session, environment, partial(_write_problem, environment, asked.card), "english")
        if answered is None:
            break
        _write(environment, "verdict", answered)
        session.catch_up(CATCH_UP_S)
    summary = session.finish()
    step, homework, others = step_after(session, summary), homework_of(session), homework_elsewhere(session)
    _write(environment, "summary", Ended(summary, step, homework, others, str(record.path) if is_new else None))


def _write(environment: Environment, kind: str, row: NamedTuple) -> None:
    print(json.dumps({"type": kind} | as_object(LINES[kind][1], row)), file=environment.stdout, flush=True)


def _write_problem(environment: Environment, card: Card, error: UnknownName) -> None:
    _write(environment, "problem", Unread(card, str(error)))
