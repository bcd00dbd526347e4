"""What was landed on in rounds of keys, key by key. It stands apart: neither strength nor readiness knows of it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from drill.errors import FretsureError
from drill.record import LandingRow
from drill.theory.keys import Key, parse_key


class LandedKey(NamedTuple):
    """A key, how its landings are known, how often it was landed on, and when last (ms since the epoch)."""

    key: Key
    how: str
    times: int
    last_at_ms: int


def landed_keys(landings: Iterable[LandingRow]) -> tuple[LandedKey, ...]:
    """Every key that was landed on in a round, the most frequent first; those heard and those self-checked apart."""
    counts: dict[tuple[str, str], LandedKey] = {}
    for row in landings:
        if not row.landed:
            continue
        try:
            key = parse_key(row.key)
        except FretsureError:  # of a log that knows other keys
            continue
        before = counts.get((row.key, row.how), LandedKey(key, row.how, 0, 0))
        counts[row.key, row.how] = before._replace(
            times=before.times + 1, last_at_ms=max(before.last_at_ms, row.asked_at)
        )
    return tuple(sorted(counts.values(), key=lambda row: (-row.times, row.key.name, row.how)))
