"""What comes after a deck: the next tempo once its keys are ready, and the deck it leads on to."""

from __future__ import annotations

from drill.decks import next_deck
from drill.present.summaries import NextStep
from drill.progress.overview import Progress

READY = 0.5
"""From this chance on, that all a key takes comes right within the bar, the key counts as ready."""
FLUENT_SHARE = 0.9
"""A deck that asks no whole key is known when this share of its cards is fluent."""
TEMPOS = (80, 90, 100, 110, 120)


def next_step(progress: Progress, nothing_urgent: bool = False) -> NextStep | None:
    """What to propose now; None while the deck still has work to do, and where nothing comes after it.

    With `nothing_urgent`, a drill of the whole deck has just ended because all of it is known: then the next deck is
    proposed in any case.
    A faster tempo is, once as many cards as there are keys were asked at this one: a tempo just taken proves nothing.
    Raises FretsureError for a deck file that leads on to a deck that cannot be read.
    """
    whole = progress.deck.whole_keys
    keys = [row for row in progress.keys if row.key in whole]
    ready = all((row.shown or 0.0) >= READY for row in keys) if keys else _is_known(progress)
    if not (ready or nothing_urgent):
        return None
    tempo_bpm, deck = progress.settings.tempo_bpm, next_deck(progress.deck, progress.settings.neck, progress.bar_s)
    faster = next((bpm for bpm in TEMPOS if bpm > tempo_bpm), None) if keys and ready else None
    if faster and _asked_at_this_tempo(progress) < len(keys):
        faster = None
    if faster is None and deck is None:
        return None
    return NextStep(progress.deck.title, tempo_bpm, faster, deck.id if deck else None, deck.title if deck else "")


def _asked_at_this_tempo(progress: Progress) -> int:
    """How many cards with a bar of time were last asked within the bar of today, or a shorter one."""
    targets = {card: round(1000 * entry.item.target_s) for card, entry in progress.deck.entries.items()}
    bar = max(targets.values())
    return sum(targets.get(row.card) == bar and row.target_ms <= bar for row in progress.log.last_answers())


def _is_known(progress: Progress) -> bool:
    whole = progress.whole
    return whole.seen == whole.cards and whole.fluent >= FLUENT_SHARE * whole.cards
