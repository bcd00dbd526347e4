"""Gaussian beliefs about numbers, the two ways in which evidence moves them, and what is known of a spread."""

from __future__ import annotations

import math
import operator
from collections.abc import Sequence
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

    def learn_measure(self, residual: float, noise: float, factor: float = 1.0) -> None:
        """Kalman update from a measured residual with noise variance `noise`; the number counts `factor` times."""
        gain = self.variance * factor / (self.variance * factor * factor + noise)
        self.mean += gain * residual
        self.variance *= 1.0 - gain * factor

    def drift(self, variance: float, ceiling: float) -> None:
        """Become less certain by `variance`, up to `ceiling`; a variance above the ceiling stays."""
        self.variance = min(self.variance + variance, max(ceiling, self.variance))


@dataclass(slots=True)
class Weights:
    """A Gaussian belief about several numbers, each of which adds to a log-odds as often as its factor says.

    Answers tell of their sum only, so the numbers are learned together: `covariance` says which of them could stand for
    which. No factor is ever negative.
    """

    mean: list[float]
    covariance: list[list[float]]

    def sum(self, factors: Sequence[float]) -> float:
        """What the numbers add to the log-odds, each as often as its factor says."""
        return _product(self.mean, factors)

    def drift(self, number: int, variance: float, ceiling: float) -> None:
        """Become less certain of one number by `variance`, up to `ceiling`; a variance above the ceiling stays."""
        row = self.covariance[number]
        row[number] = min(row[number] + variance, max(ceiling, row[number]))

    def learn_outcome(self, factors: Sequence[float], residual: float, information: float) -> None:
        """One-step Laplace update from a right or wrong answer (see `Belief.learn_outcome`).

        A number that the answer speaks against only through another one stays as it is. So no right answer lowers any
        of them, and therefore none lowers the strength of any card.
        """
        shared = [_product(row, factors) for row in self.covariance]
        scale = 1.0 / (1.0 + information * _product(factors, shared))
        curve = information * scale
        for i, own in enumerate(shared):
            if own > 0.0:
                self.mean[i] += own * scale * residual
            row = self.covariance[i]
            for j, other in enumerate(shared):
                row[j] -= curve * (own * other)  # so grouped, the matrix stays symmetric to the last bit


def _product(numbers: Sequence[float], factors: Sequence[float]) -> float:
    return float(sum(map(operator.mul, numbers, factors)))


@dataclass(slots=True)
class Spread:
    """What is known of the variance of measured numbers around what was expected, worth `weight` measures."""

    variance: float
    weight: float

    def learn(self, residual: float, most: float) -> None:
        """Learn from one residual; older ones fade, so that all together are worth `most` measures."""
        self.weight = min(self.weight + 1.0, most)
        self.variance += (residual * residual - self.variance) / self.weight
