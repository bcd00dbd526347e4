"""How answers came: typed, or played on the guitar. They are counted apart: a hand is slower than a key."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from statistics import median_low
from typing import NamedTuple

from drill.present.figures import how_many, per_cent, seconds
from drill.record import AttemptRow, How

SLOWEST_MS = 30_000
"""Longer thinking counts as this long in a median: the learner was elsewhere."""


class HowRow(NamedTuple):
    """Answers that came in one way, how many of them were right, and the median time of these in seconds."""

    how: How
    answers: int
    right: int
    median_s: float | None


@dataclass(slots=True)
class _Count:
    answers: int = 0
    right: int = 0
    times_ms: Counter[int] = field(default_factory=Counter)

    @property
    def median_s(self) -> float | None:
        median_ms = lower_median(self.times_ms)
        return None if median_ms is None else median_ms / 1000


class HowCounts:
    """Counts answers by how they came; its size grows with the ways and the different times, not with the answers."""

    def __init__(self) -> None:
        self._counts: dict[How, _Count] = {}

    def add(self, row: AttemptRow) -> None:
        """Count one answer more."""
        count = self._counts.setdefault(row.how, _Count())
        count.answers += 1
        count.right += bool(row.correct)
        if row.correct and row.thinking_ms is not None:
            count.times_ms[min(row.thinking_ms, SLOWEST_MS)] += 1

    @property
    def rows(self) -> tuple[HowRow, ...]:
        """Every way in which an answer came, the most frequent first."""
        rows = [HowRow(how, each.answers, each.right, each.median_s) for how, each in self._counts.items()]
        return tuple(sorted(rows, key=lambda row: (-row.answers, row.how)))


def lower_median(times_ms: Counter[int]) -> int | None:
    """The lower median of counted values; None of none."""
    return median_low(times_ms.elements()) if times_ms else None


def how_sentence(rows: Iterable[HowRow]) -> str:
    """How answers came, in a sentence; empty where all were typed.

    >>> how_sentence([HowRow("typed", 90, 80, 2.0), HowRow("played", 10, 9, 2.5)])
    'How you answered: 90 answers typed, 89% right, in 2.0 s; 10 answers played, 90% right, in 2.5 s.'
    """
    found = tuple(rows)
    if all(row.how == "typed" for row in found):
        return ""
    return f"How you answered: {'; '.join(map(_words, found))}."


def _words(row: HowRow) -> str:
    time = "" if row.median_s is None else f", in {seconds(row.median_s)}"
    return f"{how_many(row.answers, 'answer')} {row.how}, {per_cent(row.right / row.answers)} right{time}"
