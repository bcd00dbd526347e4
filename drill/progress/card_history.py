"""One card: where it stands, what happened to it, when it fades, and why it is or is not what to ask next."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from drill.decks import Deck, entry_of
from drill.memory import Item, Learner, Planner, State, fades_at, is_fresh, is_holding
from drill.present.figures import how_many, per_cent
from drill.present.reasons import reason_sentence
from drill.progress.card_status import CardStatus
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.record import AttemptRow, Record


class CardHistory(NamedTuple):
    """All there is to tell of one card. `why` is a sentence; `history` holds its attempts, oldest first."""

    card: Card
    standing: CardStatus
    fades_at_s: float | None
    weakest_fact: str | None
    """Of several facts it rests on, the one remembered worst."""
    why: str
    waits_for: tuple[str, ...]
    """Cards that must hold before this one is asked for the first time."""
    history: tuple[AttemptRow, ...]


def story(card_id: str, record: Record, learner: Learner, deck: Deck, now_s: float) -> CardHistory:
    """The story of a card of this or any other deck. Raises `UnknownName` for an id no family writes."""
    entry, neck = (deck.entries[card_id], deck.neck) if card_id in deck.entries else entry_of(card_id)
    waits_for = tuple(item.card for item in not_yet_holding(entry.item, deck.items, learner, now_s))
    standing = CardStatus.of(entry, learner, now_s)
    history = tuple(record.attempts(card=card_id))
    return CardHistory(
        card=FAMILIES[entry.item.family].card(entry.facets, neck),
        standing=standing,
        fades_at_s=fades_at(learner, entry.item, now_s),
        weakest_fact=learner.weakest_fact(entry.item, now_s),
        why=_why(standing, waits_for, history, learner, deck, now_s),
        waits_for=waits_for,
        history=history,
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


def _why(
    standing: CardStatus,
    waits_for: Sequence[str],
    history: Sequence[AttemptRow],
    learner: Learner,
    deck: Deck,
    now_s: float,
) -> str:
    if standing.card not in deck.entries:
        return f"It is not asked: the deck “{deck.title}” does not hold it."
    choice = Planner(learner, deck.items, now_s).next(now_s, 300.0)
    if choice is not None and choice.card == standing.card:
        return f"It is what a drill would ask first. {reason_sentence(choice.reason)}"
    if waits_for:
        cards = how_many(len(waits_for), "card it builds on does", "cards it builds on do")
        return f"It is not asked yet: {cards} not hold yet."
    if not standing.met:
        return "It is not asked yet: new cards come a few at a time, in the order of the deck."
    return _standing(standing, history)


def _standing(standing: CardStatus, history: Sequence[AttemptRow]) -> str:
    """How well a card met before is known."""
    if history and history[-1].correct is False:
        return "You missed it when it was last asked."
    strength = per_cent(standing.strength)
    if standing.state is State.FADING:
        return f"It is fading: the chance that you still know it is about {strength}."
    if standing.state is State.SLOW:
        speed_s, target_s = standing.speed_s, standing.item.target_s
        return f"It holds at {strength}, but takes about {speed_s:.1f} s; {target_s:.1f} s is the target."
    return f"It holds at {strength}, and comes in time."
