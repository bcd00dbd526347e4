"""Memory traces and their activation (Pavlik & Anderson 2005, equations 2 to 4)."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from drill.memory.constants import Constants

RECENT = 12
MOST = 24
"""A card keeps at most MOST traces: the RECENT ones exactly, older ones merged with their nearest neighbour."""


@dataclass(slots=True)
class Traces:
    """What was laid down for one card: when (ticks), how fast it decays, what it is worth."""

    at: list[float] = field(default_factory=list)
    decay: list[float] = field(default_factory=list)
    weight: list[float] = field(default_factory=list)

    def __len__(self) -> int:
        return len(self.at)

    def total(self, ticks: float, constants: Constants) -> float:
        """Sum over traces of weight * lag**-decay; 0.0 when there is none."""
        floor = constants.lag_floor_s
        return math.fsum(
            w * max(ticks - t, floor) ** -d for t, d, w in zip(self.at, self.decay, self.weight, strict=True)
        )

    def activation(self, ticks: float, constants: Constants) -> float:
        """ln of `total`: -inf for a card never met."""
        total = self.total(ticks, constants)
        return math.log(total) if total > 0 else -math.inf

    def lay(self, ticks: float, weight: float, constants: Constants) -> None:
        """Lay a trace; the stronger the memory already is, the faster the new trace decays."""
        decay = decay_of(self.total(ticks, constants), constants)
        self.at.append(ticks)
        self.decay.append(decay)
        self.weight.append(weight)
        if len(self.at) > MOST:
            self._merge(ticks, constants)

    def _merge(self, ticks: float, constants: Constants) -> None:
        """Merge the two neighbours among the old traces that are most alike."""
        ages = [math.log(max(ticks - t, constants.lag_floor_s)) for t in self.at[:-RECENT]]
        unlike = [
            (abs(ages[i] - ages[i + 1]) * self.decay[i] + abs(self.decay[i] - self.decay[i + 1]) * ages[i], i)
            for i in range(len(ages) - 1)
        ]
        i = min(unlike)[1]
        for values in (self.at, self.decay):
            mean = (values[i] * self.weight[i] + values[i + 1] * self.weight[i + 1]) / sum(self.weight[i : i + 2])
            values[i : i + 2] = [mean]
        self.weight[i : i + 2] = [sum(self.weight[i : i + 2])]


def decay_of(total: float, constants: Constants) -> float:
    """Decay of a trace laid when the summed strength of the traces before it is `total` (= exp(activation))."""
    return min(constants.decay_intercept + constants.decay_scale * total, constants.decay_cap)
