"""Calibration: how well the predicted chances match the share of answers that came right.

Answers are gathered in twentieths of chance, so that an answer costs next to nothing and no log need be replayed.

>>> calibration = Calibration()
>>> for right in (True, True, True, False):
...     calibration.add(0.75, right)
>>> calibration.bins
(Bin(answers=4, predicted=0.75, observed=0.75),)
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

PARTS = 20

Row = list[float]


class Bin(NamedTuple):
    """Answers with about the same predicted chance: their number, the mean prediction, the share that came right."""

    answers: int
    predicted: float
    observed: float


@dataclass(slots=True)
class Calibration:
    """For each twentieth of chance: the number of answers, the sum of their predictions, how many came right."""

    parts: dict[int, Row] = field(default_factory=dict)

    def add(self, predicted: float, right: bool) -> None:
        """Count one answer whose chance, 0 to 1, was predicted before it."""
        part = self.parts.setdefault(min(int(predicted * PARTS), PARTS - 1), [0, 0.0, 0])
        part[0] += 1
        part[1] += predicted
        part[2] += right

    @property
    def bins(self) -> tuple[Bin, ...]:
        """The twentieths that hold answers, the lowest chance first."""
        parts = (self.parts[number] for number in sorted(self.parts))
        return tuple(Bin(int(answers), predicted / answers, right / answers) for answers, predicted, right in parts)

    @property
    def answers(self) -> int:
        """How many answers were predicted."""
        return sum(each.answers for each in self.bins)

    @property
    def error(self) -> float | None:
        """How far the predictions were off on average, see `calibration_error`; None without answers."""
        return calibration_error(self.bins) if self.parts else None

    def dump(self) -> list[list[float]]:
        """The whole as a small JSON-able value."""
        return [[number, *self.parts[number]] for number in sorted(self.parts)]

    @classmethod
    def load(cls, value: object) -> Calibration:
        """The calibration that `dump` gave this value for. Raises ValueError for any other value."""
        try:
            parts = {int(number): [answers, predicted, right] for number, answers, predicted, right in value}  # type: ignore[attr-defined]
            if all(0 <= number < PARTS and _is_possible(*row) for number, row in parts.items()):
                return cls(parts)
        except (TypeError, OverflowError) as error:
            raise ValueError(f"not a calibration: {error}") from error
        raise ValueError("not a calibration: its counts are impossible")


def _is_possible(answers: float, predicted: float, right: float) -> bool:
    """Whether so many answers can have predictions of this sum, and so many right ones among them."""
    return answers >= 1 and 0 <= predicted <= answers and 0 <= right <= answers


def calibration_error(bins: Sequence[Bin]) -> float:
    """Mean distance between predicted and observed, each bin weighted by its answers; 0.0 without answers."""
    n = sum(b.answers for b in bins)
    return sum(b.answers * abs(b.predicted - b.observed) for b in bins) / n if n else 0.0
