"""Memory traces and their activation (Pavlik & Anderson 2005, equations 2 to 4)."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from drill.memory.constants import Constants

RECENT = 8
MOST = 16
"""A card has at most MOST traces: the RECENT ones as they are, older ones merged in pairs."""
SOON, LATE = 12_000.0, 140_000.0
"""Ticks in about a month and in about a year away from the program."""
WHILE = 1_000.0
"""Ticks after cramming at which a renewed trace stands for all that it replaces."""
WATCHED = (1.0, 10.0, 60.0, 300.0, 1_500.0, 6_000.0, 24_000.0, LATE, 4 * LATE, 10 * LATE)
"""Ticks after an attempt at which a merge must not have cost more than half of what the attempt adds."""


@dataclass(slots=True)
class Traces:
    """The traces of one card: for each its time (ticks), its decay and its weight."""

    at: list[float] = field(default_factory=list)
    decay: list[float] = field(default_factory=list)
    weight: list[float] = field(default_factory=list)

    def __len__(self) -> int:
        return len(self.at)

    def total(self, ticks: float, constants: Constants) -> float:
        """Sum over traces of weight * lag**-decay; 0.0 without traces."""
        floor, latest, total = constants.lag_floor_s, ticks - constants.lag_floor_s, 0.0
        for t, d, w in zip(self.at, self.decay, self.weight, strict=True):
            total += w * (ticks - t if t < latest else floor) ** -d
        return total

    def activation(self, ticks: float, constants: Constants) -> float:
        """ln of `total`; -inf without traces."""
        total = self.total(ticks, constants)
        return math.log(total) if total > 0 else -math.inf

    def add(self, ticks: float, weight: float, constants: Constants) -> None:
        """Add a trace; the stronger the memory already is, the faster the new trace decays."""
        decay = decay_of(self.total(ticks, constants), constants)
        if len(self.at) < MOST or self._merge(ticks, decay, constants):
            self.at.append(ticks)
            self.decay.append(decay)
            self.weight.append(weight)
        else:
            self.at[-1] = ticks
            self.weight[-1] += weight * WHILE ** min(self.decay[-1] - decay, 0.0)

    def _merge(self, ticks: float, decay: float, constants: Constants) -> bool:
        """Replace the two old neighbours that one trace can represent best, to make room for a new trace.

        Returns False, and leaves all as it is, where the new trace is so feeble after cramming that it would not make
        up for what the merge costs; then the latest trace is renewed instead, so no attempt ever lowers the activation.
        """
        merged = [self._stand_in(i, ticks, constants) for i in range(MOST - RECENT)]
        i = min(range(len(merged)), key=lambda i: merged[i][0])
        _, *one = merged[i]
        added = min(constants.weight_wrong, constants.weight_shown)  # the least, so that any answer is merged alike
        for ahead in WATCHED:
            later = ticks + ahead
            lost = self._single(i, later) + self._single(i + 1, later) - one[2] * (later - one[0]) ** -one[1]
            if lost > added * ahead**-decay / 2:
                return False
        for column, number in zip((self.at, self.decay, self.weight), one, strict=True):
            column[i : i + 2] = [number]
        return True

    def _single(self, i: int, ticks: float) -> float:
        """What trace i adds to the total, at least a tick after it."""
        return float(self.weight[i] * (ticks - self.at[i]) ** -self.decay[i])

    def _stand_in(self, i: int, ticks: float, constants: Constants) -> tuple[float, float, float, float]:
        """(error, at, decay, weight) of the trace that equals traces i and i + 1 together now and in SOON ticks.

        The error is its distance from them in the long run, LATE ticks from now.
        """
        pair = Traces(self.at[i : i + 2], self.decay[i : i + 2], self.weight[i : i + 2])
        now, soon, late = (pair.total(ticks + ahead, constants) for ahead in (0.0, SOON, LATE))
        at = sum(pair.at) / 2
        lag = max(ticks - at, constants.lag_floor_s)
        decay = math.log(now / soon) / math.log((lag + SOON) / lag)
        weight = now * lag**decay
        return abs(weight * (lag + LATE) ** -decay - late), at, decay, weight


def decay_of(total: float, constants: Constants) -> float:
    """Decay of a new trace when the sum over the traces before it is `total` (= exp(activation))."""
    return min(constants.decay_intercept + constants.decay_scale * total, constants.decay_cap)
