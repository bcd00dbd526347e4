"""What the latest drills showed: how cards met before fared at their first answer, and how long nothing new came."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import Any

BREAK_S = 1800.0
"""After so many seconds without an answer, the next one begins another drill."""
KEPT = 20
"""So many first answers are kept, the latest last."""


@dataclass(slots=True)
class Recent:
    """The latest typed first answers of a drill to cards met earlier, and the drills in a row with nothing new."""

    first_answers: list[bool] = field(default_factory=list)
    dry: int = 0
    """Drills in a row, before the latest, in which no card was asked for the first time."""
    new: bool = True
    """Whether the latest drill asked a card for the first time."""
    kinds: list[str] = field(default_factory=list)
    """Of which kind, or family, each of the cards was that the first answers are to."""

    def begin(self, idle_s: float) -> None:
        """Something is asked or shown so many seconds after what came before it."""
        if idle_s > BREAK_S:
            self.dry, self.new = (0 if self.new else self.dry + 1), False

    def add(self, since_s: float | None, right: bool, kind: str = "") -> None:
        """Count an answer, so many seconds after the same card was last met; None if it was never asked before."""
        if since_s is None:
            self.new = True
        elif since_s > BREAK_S:
            self.first_answers = [*self.first_answers[1 - KEPT :], right]
            self.kinds = [*self.kinds[1 - KEPT :], kind]

    def dry_drills(self, idle_s: float) -> int:
        """How many drills in a row brought nothing new, before one that begins after so many seconds."""
        if idle_s <= BREAK_S:
            return self.dry
        return 0 if self.new else self.dry + 1

    @property
    def too_many_misses(self) -> bool:
        """Whether more than one in four of the last twenty first answers went wrong.

        One kind does not count, if there are fewer of it than of all others and more of it went wrong than came right:
        what is new of the others does not wait for it.
        """
        if len(self.first_answers) < KEPT:
            return False
        bad = self._bad_kind()
        counted = [right for kind, right in zip(self.kinds, self.first_answers, strict=True) if kind != bad]
        return 4 * counted.count(False) > len(counted)

    def _bad_kind(self) -> str | None:
        """The kind that goes worst, if it goes badly and less than half of the first answers are to it."""
        balance: Counter[str] = Counter()
        for kind, right in zip(self.kinds, self.first_answers, strict=True):
            balance[kind] += 1 if right else -1
        worst = min(balance, key=lambda kind: balance[kind])
        return worst if balance[worst] < 0 and 2 * self.kinds.count(worst) < KEPT else None

    @property
    def goes_well(self) -> bool:
        """Whether at least three in four of the latest first answers came right, however few there are yet."""
        return 4 * self.first_answers.count(False) <= len(self.first_answers)

    @property
    def too_easy(self) -> bool:
        """Whether more than 92 in 100 of the last twenty first answers came right; 75 to 92 is where most is learned.

        Wilson, Shenhav, Straccia & Cohen 2019 (Nat Commun 10:4646) put the best share at about 85 in 100.
        """
        return len(self.first_answers) == KEPT and self.first_answers.count(True) > 0.92 * KEPT

    def dump(self) -> list[object]:
        """The whole as a small JSON-able value."""
        return [[int(right) for right in self.first_answers], self.dry, int(self.new), self.kinds]

    @classmethod
    def load(cls, value: Any) -> Recent:
        """What `dump` gave this value for. Raises ValueError for any other value."""
        try:
            answers, dry, new, kinds = value
            named = len(kinds) == len(answers) and all(isinstance(kind, str) for kind in kinds)
            if len(answers) <= KEPT and {*answers, new} <= {0, 1} and 0 <= dry == int(dry) and named:
                return cls([bool(right) for right in answers], int(dry), bool(new), list(kinds))
        except (TypeError, ValueError, OverflowError) as error:
            raise ValueError(f"not the latest answers: {error}") from error
        raise ValueError("not the latest answers: their counts are impossible")
