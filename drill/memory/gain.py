"""The gain of asking a card now: durable, fluent recall per second of the learner's time.

Pavlik & Anderson 2008 (JEP: Applied 14:101-117) choose the item with the highest gain at the test per second of
practice; Eglington & Pavlik 2020 (npj Sci Learn 5) show that, because a miss costs time, practice is most efficient
near a strength of .75 to .9. Fluent recall is a right answer within the target time, so a card that is known but slow
can still gain.
"""

from __future__ import annotations

import math

from drill.memory.belief import logistic
from drill.memory.constants import DAY_S
from drill.memory.item import Item
from drill.memory.learner import Learner
from drill.memory.traces import decay_of

HORIZON_S = 7 * DAY_S
"""How far ahead recall should last: a week."""
READ_RIGHT_S = 1.5
READ_WRONG_S = 6.0
"""Seconds between an answer and the next question: a glance when right, reading the reason when wrong."""


def within_target(learner: Learner, item: Item, strength: float, limit_s: float | None = None) -> float:
    """Chance that a right answer comes within `limit_s` seconds (the card's target time when None).

    As after a rest: what this drill has brought up a moment ago proves little for tomorrow.
    """
    return learner.in_time(item, strength, limit_s or item.target_s, coldness=1.0)


def fluent_chance(learner: Learner, item: Item, strength: float) -> float:
    """Chance that the card comes right and within its target time."""
    return strength * within_target(learner, item, strength)


def cost_s(learner: Learner, item: Item, strength: float) -> float:
    """Expected seconds of the learner's time that asking takes, reading the reason included."""
    thinking = math.exp(learner.ln_speed(item, strength)) + learner.key_press_s
    return thinking + strength * READ_RIGHT_S + (1 - strength) * READ_WRONG_S


def gain(learner: Learner, item: Item, ticks: float, total: float) -> float:
    """How much asking the card now is expected to raise its fluent chance HORIZON_S seconds from now.

    `total` is exp(activation) at `ticks`.
    """
    c = learner.constants
    p = logistic(learner.log_odds_at(item, total))
    ahead = c.between_rate * HORIZON_S
    weight = p * c.weight_right + (1 - p) * c.weight_wrong
    remaining = learner.total(item, ticks + ahead)
    added = weight * ahead ** -decay_of(total, c)
    before = learner.log_odds_at(item, remaining)
    after = max(before, learner.recalled(item, remaining + added))
    return fluent_chance(learner, item, logistic(after)) - fluent_chance(learner, item, logistic(before))


def rate(learner: Learner, item: Item, ticks: float) -> float:
    """Gain per second of the learner's time."""
    total = learner.total(item, ticks)
    return gain(learner, item, ticks, total) / cost_s(learner, item, logistic(learner.log_odds_at(item, total)))
