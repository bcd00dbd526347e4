"""Answers from standard input, one a line, for line mode and JSON mode.

An empty line and ? mean: not known. A line that cannot be read is reported, not counted, and the same question stays
open; the third such line counts as not known. Thinking is timed up to the line that is read in the end. `quit` ends the
drill as the end of input does, and `help` says so; neither is ever an answer.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from contextlib import suppress
from typing import TYPE_CHECKING, NamedTuple

from drill.errors import FretsureError, UnknownName
from drill.practice.session import Session
from drill.present.verdicts import Verdict
from drill.system.environment import Environment
from drill.theory.names import NoteLanguage

if TYPE_CHECKING:
    from drill.present.summaries import NextStep, Summary
    from drill.progress import Progress
    from drill.progress.homework import Assignment

TRIES = 3
"""A line that cannot be read is asked for again, but a stream of them ends the question."""
NOT_KNOWN = ("", "?")
"""Lines that mean: not known. On the screen, Enter and ? do."""
LEAVING = ("q", "quit", "exit", "stop")
"""Lines that end a drill or a round."""
ASKING_HOW = ("help",)
"""Lines that ask what can be typed. h is none of them: it is a note in German, and a slip elsewhere."""
HOW = (
    "If you do not know an answer, press Enter alone or type ?. "
    "To end the drill early, type quit, or end the input: Ctrl+D in most terminals."
)
MOST_REMINDERS = 10
"""So often a question says how to answer and how to leave; an endless stream of `help` ends the drill."""
CATCH_UP_S = 0.1
"""Seconds between two questions that go into reading a long record."""
PASSES_IN_A_ROW = 10
"""After this many passes in a row the drill ends early: nobody is there."""
LONGEST_LINE = 2000
"""Characters of a line that are looked at; the rest is read and dropped."""
MOST_PIECES = 1000
"""A line longer than this many pieces of that length ends the input: a device may never end a line."""


class Answered(NamedTuple):
    """The line that was judged, and its verdict; `unread` is set if it was the last of too many unreadable ones."""

    line: str
    verdict: Verdict
    unread: UnknownName | None = None


def answer_from_lines(
    session: Session,
    environment: Environment,
    report: Callable[[UnknownName], None],
    language: NoteLanguage | None = None,
) -> Answered | None:
    """Read lines until one is an answer, and `report` those before it; None at the end of input, and after `quit`.

    Notes are read in the learner's language if none is given. Raises CannotWrite, RecordDamaged.
    """
    tries, reminders = 0, 0
    while reminders < MOST_REMINDERS and (line := read_line(environment)) is not None:
        if attended(environment):
            session.watch.heed_absence()
        session.first_response()
        try:
            passed = line.strip() in NOT_KNOWN
            return Answered(line, session.give_up() if passed else session.answer(session.read(line, language)))
        except UnknownName as error:
            if is_leaving(line):
                return None
            if _word(line) in ASKING_HOW:
                reminders += 1
                report(UnknownName(HOW))
                continue
            tries += 1
            if tries == TRIES:
                return Answered(line, session.give_up(), error)
            report(error)
    return None


def is_leaving(line: str) -> bool:
    """Whether a line that is no answer asks to leave: 'quit', 'q'."""
    return _word(line) in LEAVING


def _word(line: str) -> str:
    """A line without blanks, and without the signs that other programs want around such a word."""
    return line.strip(" \t\r\n:/!.").casefold()


def nobody_there(session: Session) -> bool:
    """Whether the last answers were all passes, as when input is an endless stream of empty lines."""
    last = session.verdicts[-PASSES_IN_A_ROW:]
    return len(last) == PASSES_IN_A_ROW and all(verdict.is_passed for verdict in last)


def attended(environment: Environment) -> bool:
    """Whether somebody sits at standard input; a pipe is never made to wait."""
    return environment.is_terminal or environment.stdin.isatty()


def step_after(session: Session, summary: Summary) -> NextStep | None:
    """What to propose after a drill of a whole deck that is known by now."""
    if not (session.verdicts or summary.is_known) or is_of_part(session):
        return None
    from drill.progress.next_step import next_step

    with suppress(FretsureError):
        return next_step(progress_of(session), summary.is_known)
    return None


def is_of_part(session: Session) -> bool:
    """Whether a drill asks only a part of its deck."""
    return bool(json.loads(session.drill.focus))


def homework_of(session: Session) -> Assignment | None:
    """How far the homework set with the deck has come; None where none is set, and in a drill of a part of the deck."""
    if session.deck.homework is None or is_of_part(session):
        return None
    from drill.progress.homework import assignment

    return assignment(progress_of(session))


def homework_elsewhere(session: Session) -> tuple[Assignment, ...]:
    """After the daily drill, what is set with other decks."""
    if session.deck.id != session.settings.deck or is_of_part(session):
        return ()
    from drill.progress.homework import told

    return tuple(each for each in told(progress_of(session)) if each.deck != session.deck.id)


def progress_of(session: Session) -> Progress:
    """Where the learner stands now in the deck of a drill."""
    from drill.progress import Progress

    store, now_s = session.store, session.environment.now()
    offset = session.environment.utc_offset_minutes(now_s)
    return Progress(store.learner, store.record, session.deck, session.settings, now_s, utc_offset_minutes=offset)


def read_line(environment: Environment) -> str | None:
    """The next line without its end, at most `LONGEST_LINE` characters of it; None at the end of input."""
    first = environment.stdin.readline(LONGEST_LINE)
    piece = first
    for _ in range(MOST_PIECES):
        if not piece or piece.endswith("\n"):
            return first.rstrip("\r\n") if first else None
        piece = environment.stdin.readline(LONGEST_LINE)
    return None
