"""The one thing to drill next, with its reason."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from drill.decks import Focus
from drill.memory import State
from drill.present.figures import how_many, per_cent
from drill.progress.card_status import CardStatus, GroupRow
from drill.questions.catalogue import FAMILIES

LEAST_SEEN = 3
"""A group needs this many cards seen: one bad answer makes no weak spot."""


class Weakest(NamedTuple):
    """What to drill next: the focus, a name for it, and why, in sentences with marked notes."""

    focus: Focus
    label: str
    why: str


def weakest(rows: Iterable[GroupRow]) -> GroupRow | None:
    """The row whose cards come right in time least often; None if no row is weak."""
    candidates = [row for row in rows if row.seen >= LEAST_SEEN and row.lagging]
    return min(candidates, key=lambda row: (row.fluent_chance or 0.0, -row.cards), default=None)


def choose(rows: Iterable[GroupRow], statuses: Iterable[CardStatus]) -> Weakest:
    """The weakest row of all tables; a beginner is sent to the deck's first family."""
    row = weakest(rows)
    if row is not None:
        return Weakest(row.focus, row.label, _why(row))
    return _without_a_weak_row(list(statuses))


def _why(row: GroupRow) -> str:
    seen, in_time = how_many(row.seen, "card"), per_cent(row.fluent_chance or 0.0)
    return f"Of the {seen} asked, {row.lagging_words}; the chance of a right answer in time is {in_time}."


def _without_a_weak_row(statuses: list[CardStatus]) -> Weakest:
    lagging = [s for s in statuses if s.state in (State.FADING, State.SLOW)]
    if lagging:
        worst = min(lagging, key=lambda s: s.fluent_chance)
        why = f"It has the weakest card: the chance of a right answer in time is {per_cent(worst.fluent_chance)}."
        return Weakest(_family(worst), _title(worst), why)
    fresh = next((s for s in statuses if not s.seen), None)
    if fresh is not None:
        began = any(s.seen for s in statuses)
        why = "Nothing you were asked is weak; this comes next in the deck." if began else "Start here."
        return Weakest(_family(fresh), _title(fresh), why)
    least = min(statuses, key=lambda s: s.strength)
    return Weakest(_family(least), _title(least), "Every card is fluent; this keeps the weakest of them fluent.")


def _family(status: CardStatus) -> Focus:
    return Focus(families=(status.item.family,))


def _title(status: CardStatus) -> str:
    return FAMILIES[status.item.family].title
