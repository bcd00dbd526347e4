"""What was landed on in rounds of keys, key by key. It stands apart: neither strength nor readiness knows of it.

LandedKey        how often a key was landed on, heard and self-checked apart
AsPlayed         how many of the latest heard calls of a key were landed on in time: readiness as played
landed_sentence  both in words, for a few keys
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from drill.errors import FretsureError
from drill.questions.wording import named_key, times_in_words
from drill.record import LandingRow
from drill.theory.keys import PRACTICAL_KEYS, Key, parse_key

LATELY = 10
"""So many of the latest calls of a key tell how it is played now."""
MOST_TOLD = 3
"""Of so many keys a sentence tells."""


class LandedKey(NamedTuple):
    """A key, how its landings are known, how often it was landed on, and when last (ms since the epoch)."""

    key: Key
    how: str
    times: int
    last_at_ms: int


class AsPlayed(NamedTuple):
    """How many of the latest calls of a key in which a note was heard for sure were landed on in time."""

    in_time: int
    calls: int


def landed_keys(landings: Iterable[LandingRow]) -> tuple[LandedKey, ...]:
    """Every key that was landed on in a round, the most frequent first; those heard and those self-checked apart."""
    counts: dict[tuple[str, str], LandedKey] = {}
    for key, row in _with_keys(landings):
        if not row.landed:
            continue
        before = counts.get((row.key, row.how), LandedKey(key, row.how, 0, 0))
        counts[row.key, row.how] = before._replace(
            times=before.times + 1, last_at_ms=max(before.last_at_ms, row.asked_at)
        )
    return tuple(sorted(counts.values(), key=lambda row: (-row.times, row.key.name, row.how)))


def as_played(landings: Iterable[LandingRow]) -> dict[Key, AsPlayed]:
    """Readiness as played, of every everyday key that was heard in a round; `landings` in the order of asking.

    A call in which nothing was heard for sure counts neither way.
    """
    calls: dict[Key, list[bool]] = {}
    for key, row in _with_keys(landings):
        if row.how == "heard" and row.landed is not None:
            calls.setdefault(_everyday(key), []).append(row.in_time)
    return {key: AsPlayed(sum(latest[-LATELY:]), len(latest[-LATELY:])) for key, latest in calls.items()}


def landed_sentence(keys: Sequence[Key], landed: Iterable[LandedKey], played: Mapping[Key, AsPlayed]) -> str:
    """What is known from rounds of these keys, notes marked as in `questions.wording`; empty for nothing."""
    said = {row.key: row.times for row in landed if row.how == "self-checked"}
    parts: list[str] = []
    for key in keys:
        if heard := played.get(key):
            parts.append(f"on {named_key(key)} in time in {heard.in_time} of the last {heard.calls} heard")
        elif key in said:
            parts.append(f"on {named_key(key)} {times_in_words(said[key])} by your own account")
    return f"In rounds you landed {'; '.join(parts[:MOST_TOLD])}." if parts else ""


def _with_keys(landings: Iterable[LandingRow]) -> Iterator[tuple[Key, LandingRow]]:
    for row in landings:
        try:
            yield parse_key(row.key), row
        except FretsureError:  # of a log that knows other keys
            continue


def _everyday(key: Key) -> Key:
    """The everyday key that sounds like it."""
    return next((each for each in PRACTICAL_KEYS if each.sounds_like(key)), key)
