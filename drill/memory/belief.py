"""A Gaussian belief about a number (mean, variance), and the two ways in which evidence moves it."""

from __future__ import annotations

import math
from dataclasses import dataclass


def logistic(x: float) -> float:
    """The chance whose log-odds are `x`; never overflows.

    >>> logistic(0.0)
    0.5
    """
    if x >= 0:
        return 1.0 / (1.0 + math.exp(-x))
    e = math.exp(max(x, -700.0))
    return e / (1.0 + e)


def logit(p: float) -> float:
    """Log-odds of the chance `p`, which is first clipped to 0.001..0.999."""
    p = min(max(p, 0.001), 0.999)
    return math.log(p / (1.0 - p))


@dataclass(slots=True)
class Belief:
    """A Gaussian belief about one number."""

    mean: float
    variance: float

    def learn_outcome(self, residual: float, information: float) -> None:
        """One-step Laplace update from a right or wrong answer.

        `residual` is y - p, `information` p(1-p), both with the chance p before the answer.
        """
        self.variance = 1.0 / (1.0 / self.variance + information)
        self.mean += self.variance * residual

    def learn_measure(self, residual: float, noise: float) -> None:
        """Kalman update from a measured residual with noise variance `noise`."""
        gain = self.variance / (self.variance + noise)
        self.mean += gain * residual
        self.variance *= 1.0 - gain

    def drift(self, variance: float, ceiling: float) -> None:
        """Become less certain by `variance`, up to `ceiling`; a variance above the ceiling stays."""
        self.variance = min(self.variance + variance, max(ceiling, self.variance))
