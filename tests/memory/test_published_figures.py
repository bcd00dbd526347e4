"""The default constants against published experiments, with only threshold and slope free for each material."""

import math
from itertools import pairwise

import pytest

from drill.memory.constants import DEFAULT
from tests.memory.experiments import DAY, Subject, fitted, last_test, points_off_cepeda, second_session
from tests.memory.published import CARPENTER_2008, EBBINGHAUS_SAVINGS, TRIVIA_BY_DELAY


def test_all_62_cells_of_cepeda_within_5_5_points():
    count, off = points_off_cepeda()
    assert count == 62
    assert off <= 5.5


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
