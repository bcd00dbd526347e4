"""One card: where it stands, what happened to it, when it fades, and why it is or is not what to ask next."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from drill.counts import how_many
from drill.decks import Deck, Entry, entry_of
from drill.memory import Explanation, Item, Learner, Planner, explain, is_fresh, is_holding
from drill.memory.planner import REFRESH_BELOW
from drill.memory.worth import rate
from drill.progress.standing import Standing
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.record import AttemptRow, Record


class Story(NamedTuple):
    """All there is to tell of one card. `why` is a sentence; `history` holds its attempts, oldest first."""

    card: Card
    standing: Standing
    known: Explanation
    why: str
    waits_for: tuple[str, ...]
    """Cards that must hold before this one is asked for the first time."""
    history: tuple[AttemptRow, ...]


def story(card_id: str, record: Record, learner: Learner, deck: Deck, now_s: float) -> Story:
    """The story of a card of this or any other deck. Raises `UnknownName` for an id no family writes."""
    entry, neck = (deck.entries[card_id], deck.neck) if card_id in deck.entries else entry_of(card_id)
    waits_for = tuple(item.card for item in not_yet_holding(entry.item, deck.items, learner, now_s))
    return Story(
        card=FAMILIES[entry.item.family].card(entry.facets, neck),
        standing=Standing.of(entry, learner, now_s),
        known=explain(learner, entry.item, now_s),
        why=_why(entry, waits_for, learner, deck, now_s),
        waits_for=waits_for,
        history=tuple(record.attempts(card=card_id)),
    )


def not_yet_holding(item: Item, items: Sequence[Item], learner: Learner, now_s: float) -> list[Item]:
    """What a fresh card waits for: cards of the families it builds on, about the same facts, that do not hold yet."""
    if not is_fresh(learner, item):
        return []
    return [
        other
        for other in items
        if other.family in item.needs and set(other.facts) & set(item.facts) and not is_holding(learner, other, now_s)
    ]


def _why(entry: Entry, waits_for: tuple[str, ...], learner: Learner, deck: Deck, now_s: float) -> str:
    item = entry.item
    if item.card not in deck.entries:
        return f"It is not asked: the deck “{deck.title}” does not hold it."
    choice = Planner(learner, deck.items, now_s).next(now_s, 300.0)
    if choice is not None and choice.card == item.card:
        return f"It is what a drill would ask first. {choice.why}"
    if waits_for:
        cards = how_many(len(waits_for), "card it builds on does", "cards it builds on do")
        return f"It is not asked yet: {cards} not hold yet."
    if is_fresh(learner, item):
        before = sum(is_fresh(learner, other) for other in deck.items if other.order < item.order)
        cards = how_many(before, "new card comes", "new cards come")
        return f"It is not asked yet: {cards} before it in the deck."
    return _rank(item, learner, deck.items, now_s)


def _rank(item: Item, learner: Learner, items: Sequence[Item], now_s: float) -> str:
    """Whether a card met before is due, and how many of those due bring more in the same time."""
    strength = learner.strength(item, now_s)
    if strength >= REFRESH_BELOW:
        return f"It is not due: it holds at {strength:.0%}. Cards below {REFRESH_BELOW:.0%} and new ones come first."
    ticks = learner.clock.read(now_s, learner.constants)
    own = rate(learner, item, ticks)
    due = [i for i in items if not is_fresh(learner, i) and learner.strength(i, now_s) < REFRESH_BELOW]
    ahead = sum(rate(learner, other, ticks) > own for other in due)
    place = f"{ahead} of {len(due)} cards below {REFRESH_BELOW:.0%} come first: they bring more in the same time."
    return f"It is due, at {strength:.0%}; {place}"
