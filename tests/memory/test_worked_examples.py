"""The equations of Pavlik & Anderson 2005 (Cognitive Science 29:559-586) against examples worked by hand.

Constants a = .177, c = .217, s = .255, tau = -.704, h = .025 (from memory); times in seconds.
"""

import math

import pytest

from drill.memory.belief import Belief, logistic
from drill.memory.clock import Clock
from drill.memory.constants import DEFAULT, Constants
from drill.memory.traces import Traces

DAY = 86_400.0
PUBLISHED_2005 = Constants(
    decay_intercept=0.177,
    decay_scale=0.217,
    between_rate=0.025,
    break_s=0.0,
    weight_right=1.0,
    weight_wrong=1.0,
    weight_shown=1.0,
    slope=1 / 0.255,
    threshold=-0.704,
)
"""Values from memory."""


def laid(times, constants=PUBLISHED_2005):
    traces = Traces()
    for t in times:
        traces.add(t, 1.0, constants)
    return traces


@pytest.mark.parametrize(
    ("exposures", "test", "decays", "m", "p"),
    [
        ((0,), 100, (0.177,), -0.815115, 0.392755),
        ((0, 2, 4), 604, (0.177, 0.368945, 0.514817), -0.791085, 0.415443),
        ((0, 100, 200), 800, (0.177, 0.273042, 0.323666), -0.511483, 0.680260),
        ((0, 300, 600), 1200, (0.177, 0.256070, 0.297307), -0.494996, 0.694157),
    ],
)
def test_decay_activation_and_chance(exposures, test, decays, m, p):
    traces = laid(exposures)
    activation = traces.activation(test, PUBLISHED_2005)
    assert traces.decay == pytest.approx(decays, abs=1e-6)
    assert activation == pytest.approx(m, abs=1e-6)
    chance = logistic(PUBLISHED_2005.slope * (activation - PUBLISHED_2005.threshold))
    assert chance == pytest.approx(p, abs=1e-6)


def test_base_level_of_act_r():
    """ACT-R with d = .5 and lags of 10, 100 and 1000 s (Anderson & Schooler 1991): a decay that nothing scales."""
    act_r = PUBLISHED_2005._replace(decay_intercept=0.5, decay_scale=0.0)
    assert laid((0, 900, 990), act_r).activation(1000, act_r) == pytest.approx(-0.803296, abs=1e-6)


@pytest.mark.parametrize(
    ("retention", "by_gap"),
    [
        (1, (-1.0879, -0.9296, -1.0010, -1.0766)),
        (7, (-1.4946, -1.2578, -1.2534, -1.3117)),
        (35, (-1.8211, -1.5633, -1.5121, -1.5178)),
    ],
)
def test_the_best_gap_between_two_sessions_moves_right_with_the_horizon(retention, by_gap):
    for gap, m in zip((300, DAY, 7 * DAY, 35 * DAY), by_gap, strict=True):
        clock, traces = Clock(), Traces()
        for now in (0.0, gap):
            traces.add(clock.advance(now, PUBLISHED_2005), 1.0, PUBLISHED_2005)
        ticks = clock.read(gap + retention * DAY, PUBLISHED_2005)
        assert traces.activation(ticks, PUBLISHED_2005) == pytest.approx(m, abs=1e-3)


def test_one_laplace_step():
    """V = 1/(1/V + p(1-p)), mean += V (y - p): from V = 1 at p = .5 a right answer gives V = .8, mean = .4."""
    belief = Belief(0.0, 1.0)
    belief.learn_outcome(1 - 0.5, 0.25)
    assert (belief.mean, belief.variance) == pytest.approx((0.4, 0.8))


def test_one_kalman_step():
    """Gain V/(V + noise): from V = .06 with noise .2 a residual of .26 moves the mean by .06, V becomes .06/1.3."""
    belief = Belief(0.0, 0.06)
    belief.learn_measure(0.26, 0.2)
    assert (belief.mean, belief.variance) == pytest.approx((0.06, 0.06 / 1.3))


def test_the_clock_counts_a_short_break_in_full_and_the_rest_slowly():
    clock = Clock()
    clock.advance(1000.0, DEFAULT)
    assert clock.read(1030.0, DEFAULT) == 30.0
    assert clock.read(1000.0 + DAY, DEFAULT) == pytest.approx(60.0 + 0.0045 * (DAY - 60.0))


@pytest.mark.parametrize("x", [-1000.0, -5.0, 0.0, 5.0, 1000.0])
def test_logistic_is_safe_and_symmetric(x):
    assert 0.0 <= logistic(x) <= 1.0
    assert logistic(x) + logistic(-x) == pytest.approx(1.0)
    if abs(x) < 30:
        assert math.log(logistic(x) / (1 - logistic(x))) == pytest.approx(x)
