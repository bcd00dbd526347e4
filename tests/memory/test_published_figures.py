"""The default constants against published experiments, with only threshold and slope free for each material."""

import math
from itertools import pairwise

import pytest

from drill.memory.belief import logistic
from drill.memory.clock import Clock
from drill.memory.constants import DEFAULT
from drill.memory.traces import Traces
from tests.memory.published import CARPENTER_2008, CEPEDA, EBBINGHAUS_SAVINGS, TRIVIA_BY_DELAY

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


def test_all_62_cells_of_cepeda_within_5_5_points():
    squares, count = 0.0, 0
    for material in CEPEDA:
        best, (ln_slope, threshold) = fitted(lambda s, t, material=material: cells(material, s, t))
        squares, count = squares + best, count + len(cells(material, ln_slope, threshold))
    assert count == 62
    assert math.sqrt(squares / count) <= 5.5


def test_the_best_gap_grows_with_the_retention_interval():
    """Cepeda et al. 2008: best gaps of about 1, 11, 21 and 21 days at 7, 35, 70 and 350 days."""
    constants = DEFAULT._replace(slope=2.5)
    gaps = (0, 0.25, 0.5, 1, 2, 4, 7, 11, 14, 21, 28, 35, 50, 70, 105)
    best = [max(gaps, key=lambda gap: last_test(gap, delay, 1, constants)) for delay in TRIVIA_BY_DELAY]
    assert all(a <= b for a, b in pairwise(best))
    assert best[0] < best[1] < best[3]
    assert 0.25 <= best[0] <= 4
    assert 7 <= best[3] <= 70


def test_forgetting_after_one_session_follows_carpenter_2008():
    def misses(ln_slope, threshold):
        constants = DEFAULT._replace(slope=math.exp(ln_slope), threshold=threshold)
        return [100 * second_session(days, 1, constants).chance() - recall for days, recall in CARPENTER_2008.items()]

    best, _ = fitted(misses)
    assert math.sqrt(best / len(CARPENTER_2008)) <= 8.0


def test_forgetting_has_the_shape_that_ebbinghaus_measured():
    """ln savings against activation is nearly a straight line; against time itself (exponential loss) it is not."""
    minutes = list(EBBINGHAUS_SAVINGS)
    savings = [math.log(s) for s in EBBINGHAUS_SAVINGS.values()]
    activations = []
    for minute in minutes:
        subject = Subject(DEFAULT)
        subject.right()
        subject.wait(minute * 60)
        activations.append(subject.traces.activation(subject.clock.read(subject.now, DEFAULT), DEFAULT))
    assert correlation(activations, savings) > 0.94
    assert correlation(activations, savings) > -correlation([float(m) for m in minutes], savings) + 0.1


def correlation(xs, ys):
    mx, my = sum(xs) / len(xs), sum(ys) / len(ys)
    sxy = sum((x - mx) * (y - my) for x, y in zip(xs, ys, strict=True))
    return sxy / math.sqrt(sum((x - mx) ** 2 for x in xs) * sum((y - my) ** 2 for y in ys))


def five_years_on(sessions, days_apart):
    """Chance of recall five years after so many sessions, each a test with feedback, at their own distance."""
    subject = Subject(DEFAULT)
    for _ in range(sessions):
        subject.right()
        subject.wait(days_apart * DAY)
    subject.wait(5 * 365 * DAY - days_apart * DAY)
    return subject.chance()


def test_few_sessions_far_apart_last_as_long_as_many_close_together():
    """Bahrick, Bahrick, Bahrick & Bahrick 1993 (Psychological Science 4:316-321): 13 sessions 56 days apart were
    kept about as well, one to five years on, as 26 sessions 14 days apart."""
    assert five_years_on(13, 56) >= five_years_on(13, 14)
    assert five_years_on(13, 56) == pytest.approx(five_years_on(26, 14), abs=0.1)
