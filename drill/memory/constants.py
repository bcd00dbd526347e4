"""The constants of the model, in one place, each with where it comes from.

Times are seconds, strengths are chances 0..1, offsets are on the log-odds scale, speeds are natural logs of seconds.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Constants:
    """What the model takes as given of every learner (see DEFAULT for the values a new learner gets)."""

    # Decay of a trace: d = decay_intercept + decay_scale * exp(activation when it was laid).
    decay_intercept: float = 0.36
    decay_scale: float = 0.25
    decay_cap: float = 5.0
    # The clock: a gap counts in full up to break_s, beyond that at between_rate.
    between_rate: float = 0.0034
    break_s: float = 120.0
    lag_floor_s: float = 1.0
    # What a trace is worth by how it was laid.
    weight_right: float = 1.0
    weight_wrong: float = 0.46
    weight_shown: float = 0.9
    # Chance of recall: logistic(slope * (activation - threshold) + offsets).
    slope: float = 1.6
    threshold: float = -2.0
    learner_variance: float = 1.0
    card_variance: float = 0.5
    fact_variance: float = 0.25
    fact_share: float = 0.5
    # First sight of a card: log-odds that a new learner has it already.
    first_sight: float = -1.0
    first_sight_variance: float = 2.0
    # Speed: E[ln seconds] = tempo + kind - speed_slope * logit(strength) + card's speed offset.
    tempo: float = 1.0
    tempo_variance: float = 0.25
    kind_variance: float = 0.1
    speed_slope: float = 0.15
    speed_spread: float = 0.5
    card_speed_variance: float = 0.06
    card_speed_noise: float = 0.2
    residual_clip: float = 2.0
    fastest_s: float = 0.2
    slowest_s: float = 30.0
    key_press_s: float = 0.3


DEFAULT = Constants()
PUBLISHED_2005 = Constants(
    decay_intercept=0.177, decay_scale=0.217, between_rate=0.025, weight_wrong=1.0, weight_shown=1.0,
    slope=1 / 0.255, threshold=-0.704,
)
"""Pavlik & Anderson 2005, from memory: only for checking the equations against worked examples."""
