"""One card: how well it is known, its attempts, when it fades, and why a drill does or does not ask it next."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from drill.decks import Deck, entry_of
from drill.memory import Item, Learner, Planner, Reason, ReasonKind, State, fades_at, is_fresh, is_holding
from drill.present.figures import how_many, per_cent
from drill.present.reasons import reason_sentence
from drill.progress.attempt_log import AttemptLog
from drill.progress.card_status import CardStatus
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.record import AttemptRow

DRILL_S = 300.0
"""The length in seconds of the drill whose first card is looked at."""


class CardHistory(NamedTuple):
    """Everything known about one card. `attempts` are oldest first, `why` is a sentence."""

    card: Card
    status: CardStatus
    fades_at_s: float | None
    """When its strength drops below the target, in seconds since the epoch; None while it is fresh."""
    weakest_fact: str | None
    """Of several facts it rests on, the one remembered worst; None with fewer."""
    waits_for: tuple[str, ...]
    """Cards that must hold before this one is asked for the first time."""
    attempts: tuple[AttemptRow, ...]
    why: str = ""


def card_history(card_id: str, log: AttemptLog, learner: Learner, deck: Deck, now_s: float) -> CardHistory:
    """The history of a card of this or any other deck. Raises `UnknownName` for an id no family writes."""
    entry, neck = (deck.entries[card_id], deck.neck) if card_id in deck.entries else entry_of(card_id)
    history = CardHistory(
        card=FAMILIES[entry.item.family].card(entry.facets, neck),
        status=CardStatus.of(entry, learner, now_s),
        fades_at_s=fades_at(learner, entry.item, now_s),
        weakest_fact=learner.weakest_fact(entry.item, now_s),
        waits_for=tuple(item.card for item in not_yet_holding(entry.item, deck.items, learner, now_s)),
        attempts=tuple(log.attempts(card=card_id)),
    )
    return history._replace(why=_why(history, learner, deck, now_s))


def not_yet_holding(item: Item, items: Sequence[Item], learner: Learner, now_s: float) -> list[Item]:
    """What a fresh card waits for: cards of the families it builds on, about the same facts, that do not hold yet."""
    if not is_fresh(learner, item):
        return []
    return [
        other
        for other in items
        if other.family in item.needs and set(other.facts) & set(item.facts) and not is_holding(learner, other, now_s)
    ]


def _why(history: CardHistory, learner: Learner, deck: Deck, now_s: float) -> str:
    """Why the card is or is not what a drill asks next."""
    card = history.status.card
    if card not in deck.entries:
        return f"It is not asked: it is not in the deck “{deck.title}”."
    choice = Planner(learner, deck.items, now_s).next(now_s, DRILL_S)
    if choice is not None and choice.card == card:
        return f"It is what a drill would ask first. {reason_sentence(choice.reason)}"
    if history.waits_for:
        cards = how_many(len(history.waits_for), "card it builds on does", "cards it builds on do")
        return f"It is not asked yet: {cards} not hold yet."
    if not history.status.seen:
        return "It is not asked yet: new cards come a few at a time, in the order of the deck."
    return _how_well_known(history)


def _how_well_known(history: CardHistory) -> str:
    """How well a card that was seen is known."""
    status = history.status
    if history.attempts and history.attempts[-1].correct is False:
        kind = ReasonKind.FAILED
    elif status.state is State.FADING:
        kind = ReasonKind.FADING
    elif status.state is State.SLOW:
        kind = ReasonKind.SLOW
    else:
        return f"It holds at {per_cent(status.strength)}, and comes in time."
    return reason_sentence(Reason(kind, status.strength, status.speed_s, status.item.target_s, idle_s=0.0))
