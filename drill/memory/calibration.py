"""How honest the predictions were: every answer is held against the chance that was told before it.

Answers are gathered in twentieths of chance, so that an answer costs next to nothing and no log need be replayed.

>>> foretold = Calibration()
>>> for right in (True, True, True, False):
...     foretold.take(0.75, right)
>>> foretold.bins
(Bin(answers=4, told=0.75, came_right=0.75),)
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

PARTS = 20

Row = list[float]


class Bin(NamedTuple):
    """Answers given about the same chance: how many, the mean chance told, the share that came right."""

    answers: int
    told: float
    came_right: float


@dataclass(slots=True)
class Calibration:
    """For each twentieth of chance: how many answers, the sum of the chances told, how many came right."""

    parts: dict[int, Row] = field(default_factory=dict)

    def take(self, told: float, right: bool) -> None:
        """One answer more; `told` is the chance, 0 to 1, that was told before it."""
        part = self.parts.setdefault(min(int(told * PARTS), PARTS - 1), [0, 0.0, 0])
        part[0] += 1
        part[1] += told
        part[2] += right

    @property
    def bins(self) -> tuple[Bin, ...]:
        """The twentieths that hold answers, the lowest chance first."""
        parts = (self.parts[number] for number in sorted(self.parts))
        return tuple(Bin(int(answers), told / answers, right / answers) for answers, told, right in parts)

    def dump(self) -> list[list[float]]:
        """The whole as a small JSON-able value."""
        return [[number, *self.parts[number]] for number in sorted(self.parts)]

    @classmethod
    def load(cls, value: object) -> Calibration:
        """What `dump` gave. Raises ValueError for anything else."""
        try:
            parts = {int(number): [answers, told, right] for number, answers, told, right in value}  # type: ignore[attr-defined]
            if all(0 <= number < PARTS and _is_tally(*row) for number, row in parts.items()):
                return cls(parts)
        except (TypeError, OverflowError) as error:
            raise ValueError(f"no tally of predictions: {error}") from error
        raise ValueError("no tally of predictions: it counts what cannot be")


def _is_tally(answers: float, told: float, right: float) -> bool:
    """Whether so many answers may have been told chances of this sum, and so many of them have come right."""
    return answers >= 1 and 0 <= told <= answers and 0 <= right <= answers


def calibration_error(bins: Sequence[Bin]) -> float:
    """Mean distance between chance told and share right, each bin counting by its answers; 0.0 with no answers."""
    n = sum(b.answers for b in bins)
    return sum(b.answers * abs(b.told - b.came_right) for b in bins) / n if n else 0.0
