"""Predictions sorted into bins that hold equally many answers, as calibration errors are published."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from drill.memory import Bin


def equal_count_bins(pairs: Iterable[tuple[float, bool]], bins: int = 20) -> tuple[Bin, ...]:
    """Sort (chance told before the answer, right) pairs by chance into at most `bins` equal-count bins."""
    ordered = sorted(pairs, key=lambda pair: pair[0])
    n = len(ordered)
    bins = min(bins, n)
    edges = [round(k * n / bins) for k in range(bins + 1)] if bins else []
    parts = [ordered[a:b] for a, b in pairwise(edges)]
    return tuple(
        Bin(len(part), sum(p for p, _ in part) / len(part), sum(y for _, y in part) / len(part)) for part in parts
    )
