"""The constants of the model, each with its meaning and its source.

Times are seconds, strengths are chances 0..1, offsets are on the log-odds scale, speeds are natural logs of seconds.

The equations are those of Pavlik & Anderson 2005. The values of DEFAULT were chosen on open records of real learners,
split by learner, together with the 62 group means of Cepeda et al. 2008 and 2009. Where the records were indifferent,
the value was taken that told made-up learners of other laws best. In what people differ, the constants hold only what
to expect of a new learner and how far to doubt it. `tests/benchmarks/score_log.py` shows how well it predicts any log.
"""

from typing import NamedTuple

DAY_S = 86_400.0


class Constants(NamedTuple):
    """What the model assumes of every learner."""

    # Decay of a trace: d = a + c * exp(activation when it was added), at most decay_cap.
    decay_intercept: float = 0.36
    decay_scale: float = 0.40
    decay_cap: float = 5.0
    # The clock: a gap between two answers counts in full up to break_s, the rest of it at between_rate (h).
    between_rate: float = 0.0045
    break_s: float = 60.0
    lag_floor_s: float = 1.0
    # The weight of a trace by its origin: a right answer, a corrected wrong one, a card that was only shown.
    weight_right: float = 1.0
    weight_wrong: float = 0.65
    weight_shown: float = 0.65
    # Chance of recall: logistic(slope * (activation - threshold) + what learner, card and facts add).
    slope: float = 1.35
    threshold: float = -2.5
    # What the learner adds: a level, a weight on ln(1 + misses of the card), and a weight on how far the activation is
    # above `faint`, counted up to `clear` above it: of two learners one forgets more steeply than the other.
    learner_variance: float = 1.0  # at the middle between faint and clear
    missed_variance: float = 0.3
    missed_most: float = 0.3  # above it, a miss could leave more than a right answer
    steepness_variance: float = 0.08
    steepness_most: float = 0.6  # either way: far enough from the slope that more practice always counts
    faint: float = -3.5
    clear: float = 3.0
    learner_drift: float = 0.05  # variance regained per day without practice, up to learner_variance
    card_variance: float = 0.6
    card_drift: float = 0.025  # variance regained per answer: a card's offset follows its latest answers
    fact_variance: float = 0.25
    fact_share: float = 0.8  # how much of a card's activation comes through the facts it shares
    # First sight: log-odds that a card comes right when it is first asked, and the share of the learner's offset in it.
    first_sight: float = -0.7
    first_sight_variance: float = 0.5
    first_sight_share: float = 0.4
    # Speed: E[ln seconds] = tempo + kind - speed_slope * logit(strength) + cold * coldness + card's speed offset.
    tempo: float = 1.0
    tempo_variance: float = 0.25
    kind_variance: float = 0.1
    speed_slope: float = 0.15
    speed_slope_variance: float = 0.01
    # What an answer takes longer, in ln seconds, when nothing of it came up in the same drill yet. In the open records
    # people were .12 slower at the first answer to a card in a day than at repeats, by more than strength told.
    cold: float = 0.12
    cold_variance: float = 0.05
    card_speed_variance: float = 0.06
    card_speed_noise: float = 0.8  # share of the squared spread
    # Spread of ln seconds around what was expected: the learner's own. The value here counts like so many answers, and
    # no more than `spread_memory` answers count.
    speed_spread: float = 0.5
    spread_trust: float = 5.0
    spread_memory: float = 200.0
    residual_clip: float = 2.0
    # Variance regained per right answer, so that speeds follow a learner who gets faster over months.
    card_speed_drift: float = 0.01
    kind_drift: float = 0.0005
    tempo_drift: float = 0.0002
    # Thinking times outside these bounds say nothing about speed: a slip of the hand, or a phone call.
    fastest_s: float = 0.2
    slowest_s: float = 30.0
    key_press_s: float = 0.3


DEFAULT = Constants()
