"""The one thing to drill next, with its reason: what stands lowest by the figure that the tables show of it.

Strings, shapes and kinds of question stand by their strength, keys by their readiness.
"""

from __future__ import annotations

from collections.abc import Container, Iterable
from typing import NamedTuple

from drill.decks import Focus
from drill.present.figures import per_cent
from drill.progress.card_status import CardStatus, GroupRow
from drill.progress.readiness import KeyReadiness
from drill.questions.catalogue import FAMILIES


class Weakest(NamedTuple):
    """What to drill next: the focus, a name for it, and why, in sentences with marked notes."""

    focus: Focus
    label: str
    why: str


def weakest(rows: Iterable[GroupRow]) -> GroupRow | None:
    """The row of the lowest strength among those asked; None while none of their cards is fading or slow."""
    asked = [row for row in rows if row.seen]
    if not any(row.lagging for row in asked):
        return None
    return min(asked, key=lambda row: (row.strength or 0.0, -row.cards))


def least_ready(keys: Iterable[KeyReadiness], among: Container[str]) -> KeyReadiness | None:
    """The least ready of the keys of these names that were asked."""
    return next((row for row in by_readiness(keys) if row.key.name in among), None)


def by_readiness(keys: Iterable[KeyReadiness]) -> list[KeyReadiness]:
    """The keys that were asked, the least ready first; those measured only in part come last."""
    return sorted((row for row in keys if row.asked), key=lambda row: (row.in_part, row.readiness))


def choose(rows: Iterable[GroupRow], statuses: Iterable[CardStatus], key: KeyReadiness | None = None) -> Weakest:
    """The weakest row of some tables, in which `key` is the least ready; a beginner gets the deck's first family."""
    row = weakest(rows)
    return of_row(row, key) if row else _without_a_weak_row(list(statuses))


def of_row(row: GroupRow, key: KeyReadiness | None = None) -> Weakest:
    """A row as what to drill next; where it is that of the least ready `key`, it stands by its readiness."""
    ready = key.shown if key and row.focus == key.focus else None
    figure = f"Its strength is {per_cent(row.strength or 0.0)}" if ready is None else f"It is {per_cent(ready)} ready"
    return Weakest(row.focus, row.label, f"{figure}: {how_asked(row)}")


def how_asked(row: GroupRow) -> str:
    """How the cards asked of a row stand: 'of the 3 cards asked, 1 is fading and 1 is slow.'"""
    if row.seen == 1:
        return f"the one card asked {row.lagging_words.removeprefix('1 ') or 'is fluent'}."
    return f"of the {row.seen} cards asked, {row.lagging_words or 'none is fading or slow'}."


def _without_a_weak_row(statuses: list[CardStatus]) -> Weakest:
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
