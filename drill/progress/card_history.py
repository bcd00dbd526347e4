"""One card: how well it is known, its attempts, when it fades, and why a drill does or does not ask it next."""

from __future__ import annotations

from typing import NamedTuple

from drill.memory import Planner, ReasonKind, Settled, Standing, fades_at
from drill.present.figures import how_many, per_cent
from drill.present.reasons import reason_sentence
from drill.progress.asked_cards import card_as_asked, entry_in
from drill.progress.card_status import CardStatus
from drill.progress.overview import Progress
from drill.questions.card import Card
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
    """Cards, never asked yet, that come before this one the first time."""
    attempts: tuple[AttemptRow, ...]
    why: str = ""


def card_history(card_id: str, progress: Progress) -> CardHistory:
    """The history of a card of the learner's or any other deck. Raises `UnknownName` for an id no family writes.

    What the sitting did not ask is shown as it was before (see `memory.sitting`).
    """
    deck, now_s = progress.deck, progress.now_s
    entry = entry_in(deck, card_id)
    standing = _standing(card_id, progress)
    shown = Settled(progress.learner, progress.sitting).of(entry.item)
    status = CardStatus.of(entry, shown, now_s)
    return CardHistory(
        card=card_as_asked(entry, deck),
        status=status,
        fades_at_s=fades_at(shown, entry.item, now_s),
        weakest_fact=progress.learner.weakest_fact(entry.item, now_s),
        waits_for=standing.after if standing else (),
        attempts=tuple(progress.log.attempts(card=card_id)),
        why=_why(standing, status.strength) if standing else f"It is not asked: it is not in the deck “{deck.title}”.",
    )


def _standing(card: str, progress: Progress) -> Standing | None:
    """What the planner says of the card; None if the deck does not ask it.

    Whole tasks come before their parts, but not for who begins with the notes.
    """
    start, now_s = progress.settings.place, progress.now_s
    deck = progress.deck.begun_with(start)
    if card not in deck.entries:
        return None
    standing = Planner(progress.learner, deck.items, now_s, start).standing(card, now_s, DRILL_S)
    return standing._replace(after=()) if start == "notes" else standing


def _why(standing: Standing, strength: float) -> str:
    """Why the card is or is not what a drill asks next, with the strength that is shown of it."""
    reason = standing.reason._replace(strength=strength)
    if standing.first:
        return f"It is what a drill would ask first. {reason_sentence(reason)}"
    if reason.kind is ReasonKind.LATER and standing.after:
        count = len(standing.after)
        wholes = how_many(count, "larger question contains it and comes", "larger questions contain it and come")
        wrong = "it goes" if count == 1 else "one of them goes"
        return f"It is not asked yet: {wholes} first; if {wrong} wrong, this one is asked by itself."
    if reason.kind is ReasonKind.LATER:
        return "It is not asked yet: new cards come a few at a time, in the order of the deck."
    if reason.kind in (ReasonKind.HOLDING, ReasonKind.REFRESH):
        return f"It holds at {per_cent(reason.strength)}, and comes in time."
    return reason_sentence(reason)
