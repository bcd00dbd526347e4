"""The average subject of published experiments, told by the model with only threshold and slope free for a material."""

from __future__ import annotations

import math

from drill.memory.belief import logistic
from drill.memory.clock import Clock
from drill.memory.constants import DEFAULT
from drill.memory.traces import Traces
from tests.memory.published import CEPEDA

DAY = 86_400.0
MINUTE = 60.0
TESTS = 2
"""Tests with feedback in the second session (both papers). The minutes between trials are not printed; one is taken."""


class Subject:
    """The average subject of an experiment: an answer lays the trace expected of it."""

    def __init__(self, constants):
        self.constants, self.clock, self.traces, self.now = constants, Clock(), Traces(), 0.0

    def chance(self):
        ticks = self.clock.read(self.now, self.constants)
        activation = self.traces.activation(ticks, self.constants)
        return logistic(self.constants.slope * (activation - self.constants.threshold))

    def shown(self):
        self._lay(self.constants.weight_shown)

    def right(self):
        self._lay(self.constants.weight_right)

    def tested(self):
        p = self.chance()
        self._lay(p * self.constants.weight_right + (1 - p) * self.constants.weight_wrong)

    def _lay(self, weight):
        self.traces.add(self.clock.advance(self.now, self.constants), weight, self.constants)

    def wait(self, seconds):
        self.now += seconds


def second_session(gap_days, criterion, constants):
    """A subject who met the criterion in the first session, a minute or `gap_days` later."""
    subject = Subject(constants)
    subject.shown()
    for _ in range(criterion):
        subject.wait(MINUTE)
        subject.right()
    subject.wait(gap_days * DAY or MINUTE)
    return subject


def last_test(gap_days, delay_days, criterion, constants):
    subject = second_session(gap_days, criterion, constants)
    for _ in range(TESTS):
        subject.tested()
        subject.wait(MINUTE)
    subject.wait(delay_days * DAY)
    return subject.chance()


def fitted(misses, start=(0.7, -2.5)):
    """(ln slope, threshold) with the least sum of squares, by pattern search."""
    best, here, step = sum(m * m for m in misses(*start)), start, 0.5
    while step > 0.004:
        around = [(here[0] + a * step, here[1] + b * step) for a, b in ((1, 0), (-1, 0), (0, 1), (0, -1))]
        value, there = min((sum(m * m for m in misses(*x)), x) for x in around)
        best, here, step = (value, there, step) if value < best else (best, here, step / 2)
    return best, here


def cells(material, ln_slope, threshold):
    """Model minus published, in points, for every cell of the material."""
    constants = DEFAULT._replace(slope=math.exp(ln_slope), threshold=threshold)
    start = [
        100 * second_session(gap, material.criterion, constants).chance() - recall
        for gap, recall in material.forgetting.items()
    ]
    end = [
        100 * last_test(gap, delay, material.criterion, constants) - recall
        for (gap, delay), recall in material.spacing.items()
    ]
    return start + end


def points_off_cepeda() -> tuple[int, float]:
    """The number of group means of Cepeda et al. 2008 and 2009, and how far off them the model is: RMSE in points."""
    squares, count = 0.0, 0
    for material in CEPEDA:
        best, (ln_slope, threshold) = fitted(lambda s, t, material=material: cells(material, s, t))
        squares, count = squares + best, count + len(cells(material, ln_slope, threshold))
    return count, math.sqrt(squares / count)
