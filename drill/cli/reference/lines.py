"""The lines of a drill with --json: what each is made of, and every key with its meaning."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, NamedTuple

from drill.cli.reference.objects import ANSWER, ASSIGNMENT, QUESTION
from drill.memory.reasons import Reason
from drill.practice.attempts import milliseconds
from drill.present.summaries import NextStep, Summary
from drill.present.tables import Column, Columns, Kind, inside
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES

if TYPE_CHECKING:
    from drill.progress.homework import Assignment


class Asked(NamedTuple):
    """A question, and the deck it is asked from."""

    card: Card
    deck: str
    target_s: float
    reason: Reason


class Unread(NamedTuple):
    """A question, and what is wrong with a line that should answer it."""

    card: Card
    problem: str


class Ended(NamedTuple):
    """A drill that has ended, and what is to be said after it."""

    summary: Summary
    step: NextStep | None
    homework: Assignment | None
    other_homework: tuple[Assignment, ...]
    new_record: str | None


LINES: Mapping[str, tuple[str, Columns]] = {
    "question": (
        "answer it with one line on standard input; an empty line or ? means not known, quit ends the drill", QUESTION
    ),
    "shown": (
        "a card shown solved, before any of its kind is asked and again after a miss while none of its kind has come "
        "right; it takes no line and counts as nothing",
        (*QUESTION, *ANSWER, Column("idea", "the idea of its kind in a sentence", Kind.SENTENCE,
                                    lambda asked: FAMILIES[asked.card.family].idea)),
    ),
    "problem": (
        "a line that cannot be read: nothing is counted, and the next line answers the same question, which is not "
        "sent again; the third such line counts as not known",
        (Column("card", "the card's id", value="card.id"), Column("problem", "what is wrong with the line")),
    ),
    "verdict": (
        "what became of the line",
        (
            Column("card", "the card's id", value="verdict.card.id"),
            Column("right", "whether the answer was right", value="verdict.right"),
            Column("given", "the line that was judged", value=lambda answered: answered.line.strip()),
            *inside("verdict", (
                *ANSWER,
                Column("mixup", "the named mix-up, the likelier of two; null without one",
                       value=lambda verdict: verdict.mixup and verdict.mixup.name),
                Column("mixup_sentence", "what was confused, in words; null without one", Kind.SENTENCE,
                       lambda verdict: verdict.mixup and verdict.mixup.sentence),
                Column("mixups", "one or two of them, each with:", Kind.ROWS, columns=(
                    Column("mixup", "its name", value="name"),
                    Column("sentence", "what was confused, in words", Kind.SENTENCE))),
                Column("thinking_ms", "milliseconds from the question to the line, raw; null if they could not be "
                       "measured", value=lambda verdict: _milliseconds(verdict.thinking_s)),
            )),
        ),
    ),
    "summary": (
        "the last line",
        (
            *inside("summary", (
                Column("answered", "how many answers were given"),
                Column("right", "how many of them were right"),
                Column("first_time", "how many cards were asked for the first time, not shown solved before"),
                Column("seconds", "how long the drill was", value=lambda summary: round(summary.seconds, 3)),
                Column("moved", "the cards whose strength changed most, each with its chance of recall before and "
                       "after", Kind.ROWS, columns=(
                           Column("card", "the card's id"), Column("before", "0 to 1"), Column("after", "0 to 1"))),
                Column("mixups", "what was confused with what", Kind.ROWS, columns=(
                    Column("mixup", "its name", value="name"), Column("count", "how often", value="times"),
                    Column("example", "one of them in words", Kind.SENTENCE))),
                Column("slowest", "where thinking took longest", Kind.ROWS, columns=(
                    Column("group", "a string or a key", value=lambda slow: str(slow.group)),
                    Column("seconds", "median thinking time of its right typed answers"))),
                Column("returns_at", "when to drill again, UTC: tomorrow at the earliest, within four weeks; null if "
                       "nothing was answered", Kind.MOMENT, "returns_at_s"),
                Column("in_time", "cards of the neck whose newest answer came in time",
                       value=lambda summary: summary.growth and summary.growth.in_time),
                Column("in_time_week_ago", "the same a week ago; null if nothing was asked before then",
                       value=lambda summary: summary.growth and summary.growth.week_ago),
                Column("ending", "known if nothing more was urgent, in time if all came right in time, "
                       "time if the time was up, null if the input ended"),
            )),
            Column("next", "a faster tempo or the next deck to take; null if there is no reason to", Kind.OBJECT,
                   "step", columns=(Column("tempo_bpm", "beats a minute", value="faster_bpm"),
                                    Column("deck", "the deck's id"))),
            Column("homework", "what is set with the deck; null if nothing is",
                   value=lambda ended: ended.homework and ended.homework.as_object(), columns=ASSIGNMENT),
            Column("other_homework", "what is set with other decks, after the daily drill",
                   value=lambda ended: [each.as_object() for each in ended.other_homework], columns=ASSIGNMENT),
            Column("new_record", "the path of the record if no answer was in it before this drill; else null"),
        ),
    ),
}  # fmt: skip
"""The lines by their `type`, each with what it is for and its other keys."""


def _milliseconds(thinking_s: float | None) -> int | None:
    return None if thinking_s is None else milliseconds(thinking_s)
