"""Calibration: how well the predicted chances match the share of answers that came right, and that came in time.

Answers are gathered in twentieths of chance, so that an answer costs next to nothing and no log need be replayed.

>>> tally = Tally()
>>> for right in (True, True, True, False):
...     tally.add(0.75, right)
>>> tally.bins
(Bin(answers=4, predicted=0.75, observed=0.75),)
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from drill.memory.item import Attempt, Item
from drill.memory.learner import Learner

PARTS = 20

Row = list[float]


class Bin(NamedTuple):
    """Answers with about the same predicted chance: their number, the mean prediction, the share that came right."""

    answers: int
    predicted: float
    observed: float


@dataclass(slots=True)
class Tally:
    """For each twentieth of chance: the number of answers, the sum of their predictions, how many came out so."""

    parts: dict[int, Row] = field(default_factory=dict)

    def add(self, predicted: float, came: bool) -> None:
        """Count one answer whose chance, 0 to 1, was predicted before it, and whether it came out so."""
        part = self.parts.setdefault(min(int(predicted * PARTS), PARTS - 1), [0, 0.0, 0])
        part[0] += 1
        part[1] += predicted
        part[2] += came

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
    def load(cls, value: object) -> "Tally":
        """The tally that `dump` gave this value for. Raises ValueError for any other value."""
        try:
            parts = {int(number): [answers, predicted, right] for number, answers, predicted, right in value}  # type: ignore[attr-defined]
            if all(0 <= number < PARTS and _is_possible(*row) for number, row in parts.items()):
                return cls(parts)
        except (TypeError, OverflowError) as error:
            raise ValueError(f"not a tally: {error}") from error
        raise ValueError("not a tally: its counts are impossible")


@dataclass(slots=True)
class Calibration:
    """How well both predictions matched the answers: right, and right within the card's target time."""

    recall: Tally = field(default_factory=Tally)
    in_time: Tally = field(default_factory=Tally)
    """Of the answers whose thinking time was measured."""

    def compare(self, learner: Learner, item: Item, attempt: Attempt) -> None:
        """Count an answer that the learner has not learnt from yet."""
        strength, right = learner.strength(item, attempt.at_s), bool(attempt.right)
        self.recall.add(strength, right)
        if attempt.thinking_s is not None:
            coldness = learner.coldness(item, attempt.at_s)
            chance = strength * learner.in_time(item, strength, item.target_s, coldness)
            self.in_time.add(chance, right and learner.net_thinking(attempt.thinking_s) <= item.target_s)

    def dump(self) -> dict[str, Any]:
        """The whole as a small JSON-able value."""
        return {"recall": self.recall.dump(), "in_time": self.in_time.dump()}

    @classmethod
    def load(cls, value: object) -> "Calibration":
        """The calibration that `dump` gave this value for. Raises ValueError for any other value."""
        if not isinstance(value, dict) or value.keys() != {"recall", "in_time"}:
            raise ValueError("not a calibration")
        return cls(Tally.load(value["recall"]), Tally.load(value["in_time"]))


def _is_possible(answers: float, predicted: float, right: float) -> bool:
    """Whether so many answers can have predictions of this sum, and so many right ones among them."""
    return answers >= 1 and 0 <= predicted <= answers and 0 <= right <= answers


def calibration_error(bins: Sequence[Bin]) -> float:
    """Mean distance between predicted and observed, each bin weighted by its answers; 0.0 without answers."""
    n = sum(b.answers for b in bins)
    return sum(b.answers * abs(b.predicted - b.observed) for b in bins) / n if n else 0.0
