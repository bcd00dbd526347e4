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
        self.at.append(ticks)
        self.decay.append(decay)
        self.weight.append(weight)
        if len(self.at) > MOST:
            self._merge(ticks, constants)

    def _merge(self, ticks: float, constants: Constants) -> None:
        """Replace the two old neighbours that one trace can represent best."""
        merged = [self._stand_in(i, ticks, constants) for i in range(len(self.at) - RECENT - 1)]
        i = min(range(len(merged)), key=lambda i: merged[i][0])
        _, at, decay, weight = merged[i]
        self.at[i : i + 2], self.decay[i : i + 2], self.weight[i : i + 2] = [at], [decay], [weight]

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
