"""Simple rivals of the memory model, each as features of a card's history for a logistic regression.

Fitted by Newton's method on the other half of the learners, which favours them: the program's own model is fitted to
no learner of the log at all.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

ANDERSON_DECAY = 0.5
FLOOR = 1e-6


class History(NamedTuple):
    """What happened to one card of one learner before the row to be predicted."""

    times: tuple[float, ...]
    right: int
    wrong: int
    shown: int
    now: float

    @property
    def since(self) -> float:
        """Seconds since the card was last met, at least one."""
        return max(self.now - self.times[-1], 1.0)

    def after(self, at_s: float, right: bool | None) -> History:
        """The history with one more attempt; `right` is None where the card was only shown."""
        counts = self.right + (right is True), self.wrong + (right is False), self.shown + (right is None)
        return History((*self.times, at_s), *counts, at_s)


def constant(history: History) -> list[float]:
    return [1.0]


def success_counts(history: History) -> list[float]:
    return [1.0, math.log1p(history.right), math.log1p(history.wrong), math.log1p(history.shown)]


def counts_and_time(history: History) -> list[float]:
    return [*success_counts(history), math.log(history.since)]


def plain_act_r(history: History) -> list[float]:
    """Base-level activation of ACT-R (Anderson & Schooler 1991) with its usual decay of one half."""
    total = sum(max(history.now - t, 1.0) ** -ANDERSON_DECAY for t in history.times)
    return [1.0, math.log(total)]


LOGISTIC: dict[str, Callable[[History], list[float]]] = {
    "constant": constant,
    "success counts": success_counts,
    "counts + ln time since": counts_and_time,
    "plain ACT-R": plain_act_r,
}


def fit_logistic(rows: Sequence[list[float]], outcomes: Sequence[int], steps: int = 12) -> list[float]:
    """Maximum-likelihood weights, with the slightest ridge, by Newton's method."""
    n = len(rows[0])
    weights = [0.0] * n
    for _ in range(steps):
        slope = [-1e-3 * w for w in weights]
        curve = [[1e-3 * (i == j) for j in range(n)] for i in range(n)]
        for row, y in zip(rows, outcomes, strict=True):
            p = chance(weights, row)
            for i, x in enumerate(row):
                slope[i] += (y - p) * x
                for j in range(i + 1):
                    curve[i][j] += p * (1 - p) * x * row[j]
        for i in range(n):
            for j in range(i):
                curve[j][i] = curve[i][j]
        weights = [w + step for w, step in zip(weights, solve(curve, slope), strict=True)]
    return weights


def solve(matrix: list[list[float]], right_side: list[float]) -> list[float]:
    """Gaussian elimination with partial pivoting."""
    rows = [[*row, b] for row, b in zip(matrix, right_side, strict=True)]
    n = len(rows)
    for i in range(n):
        pivot = max(range(i, n), key=lambda k: abs(rows[k][i]))
        rows[i], rows[pivot] = rows[pivot], rows[i]
        for k in range(i + 1, n):
            factor = rows[k][i] / rows[i][i]
            rows[k] = [a - factor * b for a, b in zip(rows[k], rows[i], strict=True)]
    solution = [0.0] * n
    for i in reversed(range(n)):
        known = sum(rows[i][j] * solution[j] for j in range(i + 1, n))
        solution[i] = (rows[i][n] - known) / rows[i][i]
    return solution


def chance(weights: Sequence[float], row: Sequence[float]) -> float:
    x = sum(w * v for w, v in zip(weights, row, strict=True))
    return 1 / (1 + math.exp(-min(max(x, -30.0), 30.0)))


def half_life_chance(weights: Sequence[float], history: History) -> float:
    """2 ** (-time since / half-life), the half-life exponential in the counts of right and wrong."""
    exponent = weights[0] + weights[1] * math.log1p(history.right) + weights[2] * math.log1p(history.wrong)
    return math.exp(-math.log(2) * history.since / math.exp(min(max(exponent, -5.0), 25.0)))


def fit_half_life(histories: Sequence[History], outcomes: Sequence[int], most: int = 3000) -> list[float]:
    """Weights of `half_life_chance` by pattern search on at most `most` rows spread evenly over the log."""
    stride = max(1, len(histories) // most)
    rows = list(zip(histories[::stride], outcomes[::stride], strict=True))

    def loss(weights: Sequence[float]) -> float:
        return log_loss([(half_life_chance(weights, h), y) for h, y in rows])

    weights, step = [7.0, 1.0, 0.0], 2.0
    best = loss(weights)
    while step > 0.05:
        tries = [[w + step * s * (i == k) for i, w in enumerate(weights)] for k in range(3) for s in (-1, 1)]
        value, moved = min((loss(t), t) for t in tries)
        if value < best:
            best, weights = value, moved
        else:
            step /= 2
    return weights


def log_loss(pairs: Sequence[tuple[float, int]]) -> float:
    """Mean of -ln of the chance given to what happened, chances clipped to one in a million either way."""
    return -sum(math.log(max(p if y else 1 - p, FLOOR)) for p, y in pairs) / len(pairs)
