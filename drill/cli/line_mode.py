"""Line mode: one line a question, answers on standard input, nothing ever redrawn.

For screen readers, pipes and old terminals; with JSON Lines, for programs.

    drill_in_words     prompts, verdicts and reasons as sentences
    drill_in_json      one object a line: question, problem, verdict, summary (keys are listed in the README)

An empty line and ? mean: not known. A line that cannot be read is told, not counted, and the same question stays open;
the third such line counts as not known. Thinking is timed up to the line that is read in the end.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from functools import partial
from typing import Any, NamedTuple

from drill.errors import UnknownName
from drill.practice.learner_store import BEHIND
from drill.practice.session import Session
from drill.practice.summary import Summary
from drill.practice.verdict import Question, Verdict
from drill.present.dates import iso_utc, relative_day
from drill.present.figures import per_cent
from drill.present.reasons import reason_sentence
from drill.questions.wording import times_in_words, to_ascii, to_screen, to_typed
from drill.settings import Settings
from drill.system.environment import Environment
from drill.system.streams import visible
from drill.theory.names import NoteLanguage

TRIES = 3
"""A line that cannot be read is asked for again, but a stream of them ends the question."""
NOT_KNOWN = ("", "?")
"""Lines that say so, as Enter and ? do on the screen."""
CARE = (
    "When you play: warm up, keep the wrist straight, keep the volume low, and stop at pain, numbness or tingling; "
    "if it stays, see a doctor or a physiotherapist. A teacher in the room knows better than a program."
)
READ_S = 0.1
"""Between two questions a long record is read on for so long."""
HOW = "An empty line or ? means: not known; end of input ends the drill."
PASSES_IN_A_ROW = 10
"""After so many passes one after the other nobody is there, and the drill ends before its time."""
LONGEST_LINE = 2000
"""Characters of a line that are looked at; the rest of it is read and dropped."""
MOST_PIECES = 1000
"""A line of more pieces of that length is no line, and input counts as ended: a device may never end one."""


def drill_in_words(session: Session, environment: Environment) -> None:
    """Run a drill in sentences until its time is up or input ends."""
    say = _Voice(environment, session.settings)
    care = "" if session.recall.position else f" {CARE}"
    say(f"{session.deck.title}. {session.drill.minutes} min. {HOW}{care}")
    if session.recall.behind:
        say(BEHIND)
    while not _nobody_there(session) and (question := session.ask()):
        say(f"{question.number}. {say.words(question.card.prompt)} ({say.typed(question.card.kind.hint)})")
        answer = _answer(session, environment, lambda error: say(f"{error} Not counted."))
        if answer is None:
            break
        if answer.unread:
            say(str(answer.unread))
        for line in verdict_lines(answer.verdict, say):
            say(line)
        session.catch_up(READ_S)
    for line in summary_lines(session.finish(), environment, say):
        say(line)


def drill_in_json(session: Session, environment: Environment) -> None:
    """Run a drill as JSON Lines until its time is up or input ends.

    Names are English both ways, whatever the learner's note language. Every line gets one object: a problem, after
    which the next line answers the same question, or the verdict.
    """
    if session.recall.behind:
        print(f"fretsure: {BEHIND}", file=environment.stderr)
    while not _nobody_there(session) and (question := session.ask()):
        _write(environment, _question_object(question))
        answer = _answer(session, environment, partial(_write_problem, environment, question), "english")
        if answer is None:
            break
        _write(environment, _verdict_object(answer))
        session.catch_up(READ_S)
    _write(environment, _summary_object(session.finish()))


def _nobody_there(session: Session) -> bool:
    last = session.verdicts[-PASSES_IN_A_ROW:]
    return len(last) == PASSES_IN_A_ROW and all(verdict.given is None for verdict in last)


class _Voice:
    """Says sentences in the learner's note language."""

    def __init__(self, environment: Environment, settings: Settings) -> None:
        self._environment, self._settings = environment, settings

    def words(self, sentence: str) -> str:
        return to_screen(sentence, self._settings.note_language, self._settings.shape_names == "numbers")

    def typed(self, sentence: str) -> str:
        return to_typed(sentence, self._settings.note_language)

    def answer(self, verdict: Verdict, answer: str) -> str:
        return verdict.card.kind.show(answer, self._settings.note_language)

    def __call__(self, sentence: str) -> None:
        print(visible(sentence), file=self._environment.stdout, flush=True)


class _Answer(NamedTuple):
    """The line that was judged, and its verdict; `unread` is set where it was the last of too many unreadable ones."""

    line: str
    verdict: Verdict
    unread: UnknownName | None = None


def _answer(
    session: Session,
    environment: Environment,
    tell: Callable[[UnknownName], None],
    language: NoteLanguage | None = None,
) -> _Answer | None:
    """Read lines until one can be read, and `tell` of those before it; None at the end of input."""
    for tries_left in reversed(range(TRIES)):
        line = read_line(environment)
        if line is None:
            return None
        session.first_key()
        try:
            return _Answer(line, session.give_up() if line.strip() in NOT_KNOWN else session.answer(line, language))
        except UnknownName as error:
            if not tries_left:
                return _Answer(line, session.give_up(), error)
            tell(error)
    return None


def verdict_lines(verdict: Verdict, say: _Voice) -> Iterator[str]:
    """The verdict and its reason in words."""
    accepted = " or ".join(say.answer(verdict, answer) for answer in verdict.card.accepts)
    time = "" if verdict.thinking_s is None else f" {verdict.thinking_s:.1f} s of {verdict.target_s:.1f} s."
    if verdict.right:
        yield f"Right: {say.answer(verdict, verdict.given or '')}.{time}"
    elif verdict.given is None:
        yield f"No answer: counted as not known. It is {accepted}."
    else:
        yield f"Wrong: {say.answer(verdict, verdict.given)}. It is {accepted}.{time}"
    if verdict.mixup:
        yield f"Mixed up: {verdict.mixup.name}. {say.words(verdict.mixup.sentence)}"
    yield "Because: " + "; ".join(map(say.words, verdict.card.because)) + "."


def summary_lines(summary: Summary, environment: Environment, say: _Voice) -> Iterator[str]:
    """The end of a drill in words."""
    if not summary.answered:
        yield "Nothing was answered, so nothing has changed."
        return
    yield f"Done: {summary.right} of {summary.answered} right, {summary.first_time} new, {summary.seconds:.0f} s."
    for mixup in summary.mixups:
        yield f"Mixed up {times_in_words(mixup.times)}: {mixup.name}. {say.words(mixup.example)}"
    for move in summary.moved:
        yield f"{say.words(move.prompt)} {move.start} -> {per_cent(move.after)}"
    if summary.come_back_s is not None:
        yield f"The first of these fades {relative_day(summary.come_back_s, environment)}."


def read_line(environment: Environment) -> str | None:
    """The next line without its end, at most `LONGEST_LINE` characters of it; None at the end of input."""
    first = environment.stdin.readline(LONGEST_LINE)
    piece = first
    for _ in range(MOST_PIECES):
        if not piece or piece.endswith("\n"):
            return first.rstrip("\r\n") if first else None
        piece = environment.stdin.readline(LONGEST_LINE)
    return None


def _write(environment: Environment, value: dict[str, Any]) -> None:
    print(json.dumps(value, ensure_ascii=True), file=environment.stdout, flush=True)


def _question_object(question: Question) -> dict[str, Any]:
    card = question.card
    return {
        "type": "question",
        "card": card.id,
        "family": card.family,
        "prompt": to_ascii(card.prompt),
        "facets": dict(card.facets),
        "target_s": question.target_s,
        "why": reason_sentence(question.reason),
    }


def _write_problem(environment: Environment, question: Question, error: UnknownName) -> None:
    _write(environment, {"type": "problem", "card": question.card.id, "problem": str(error)})


def _verdict_object(answer: _Answer) -> dict[str, Any]:
    verdict = answer.verdict
    return {
        "type": "verdict",
        "card": verdict.card.id,
        "right": verdict.right,
        "given": answer.line.strip(),
        "accepts": list(verdict.card.accepts),
        "mixup": verdict.mixup.name if verdict.mixup else None,
        "because": [to_ascii(step) for step in verdict.card.because],
        "thinking_ms": None if verdict.thinking_s is None else round(verdict.thinking_s * 1000),
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
        "slowest": [{"group": s.group, "seconds": s.seconds} for s in summary.slowest],
        "returns_at": iso_utc(summary.come_back_s),
    }
