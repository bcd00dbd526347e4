"""The keys of a round: those of the deck, the weakest first."""

from __future__ import annotations

from drill.progress.overview import Progress
from drill.theory.keys import PRACTICAL_KEYS, Key


def round_keys(progress: Progress) -> tuple[Key, ...]:
    """The keys the deck asks about (all everyday keys if it asks about none), the weakest first.

    Keys never asked about come last, in teaching order.
    """
    readiness = {row.key: row for row in progress.keys}
    facets = (getattr(entry.facets, "key", None) for entry in progress.deck.entries.values())
    wanted = {key for key in facets if isinstance(key, Key)} or set(readiness) or set(PRACTICAL_KEYS)
    seen = sorted((row for row in readiness.values() if row.seen), key=lambda row: row.readiness)
    order = (*(row.key for row in seen), *PRACTICAL_KEYS, *sorted(wanted, key=lambda key: key.name))
    return tuple(dict.fromkeys(key for key in order if key in wanted))
