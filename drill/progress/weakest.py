"""The one thing to drill next, with its reason."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from drill.decks import Focus
from drill.memory import State
from drill.present.figures import how_many, per_cent
from drill.progress.card_status import CardStatus, Row
from drill.questions.catalogue import FAMILIES

LEAST_MET = 3
"""A group counts from this many cards met: one bad answer makes no weak spot."""


class Weakest(NamedTuple):
    """What to drill next: the focus, a name for it, and why, in sentences with marked notes."""

    focus: Focus
    label: str
    why: str


def weakest(rows: Iterable[Row]) -> Row | None:
    """Of the rows with something to gain, the one whose cards come right in time least often; None if there is none."""
    candidates = [row for row in rows if row.met >= LEAST_MET and row.lagging]
    return min(candidates, key=lambda row: (row.fluent_chance or 0.0, -row.cards), default=None)


def choose(rows: Iterable[Row], standings: Iterable[CardStatus]) -> Weakest:
    """The weakest row of all tables; a beginner is sent to the deck's first family."""
    row = weakest(rows)
    if row is not None:
        return Weakest(row.focus, row.label, _why(row))
    return _without_a_weak_row(list(standings))


def _why(row: Row) -> str:
    states = " and ".join(
        f"{count} {word}"
        for count, word in ((row.count(State.FADING), "fading"), (row.count(State.SLOW), "slow"))
        if count
    )
    met, in_time = how_many(row.met, "card"), per_cent(row.fluent_chance or 0.0)
    return f"Of {met} met, {states}; the chance of a right answer in time is {in_time}."


def _without_a_weak_row(standings: list[CardStatus]) -> Weakest:
    lagging = [s for s in standings if s.state in (State.FADING, State.SLOW)]
    if lagging:
        worst = min(lagging, key=lambda s: s.fluent_chance)
        why = f"It holds the weakest card: the chance of a right answer in time is {per_cent(worst.fluent_chance)}."
        return Weakest(_family(worst), _title(worst), why)
    fresh = next((s for s in standings if not s.met), None)
    if fresh is not None:
        met = any(s.met for s in standings)
        why = (
            "Nothing that you met is weak; here the deck goes on." if met else "Nothing was asked yet; here it begins."
        )
        return Weakest(_family(fresh), _title(fresh), why)
    least = min(standings, key=lambda s: s.strength)
    return Weakest(_family(least), _title(least), "Every card is fluent; this keeps the faintest of them so.")


def _family(standing: CardStatus) -> Focus:
    return Focus(families=(standing.item.family,))


def _title(standing: CardStatus) -> str:
    return FAMILIES[standing.item.family].title
