"""What the latest drills showed: how cards met before fared at their first answer."""

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
    """The latest typed first answers of a drill to cards met earlier."""

    first_answers: list[bool] = field(default_factory=list)
    kinds: list[str] = field(default_factory=list)
    """Of which kind, or family, each of the cards was that the first answers are to."""

    def add(self, since_s: float, right: bool, kind: str = "") -> None:
        """Count an answer, so many seconds after the same card was last met."""
        if since_s > BREAK_S:
            self.first_answers = [*self.first_answers[1 - KEPT :], right]
            self.kinds = [*self.kinds[1 - KEPT :], kind]

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
        return [[int(right) for right in self.first_answers], self.kinds]

    @classmethod
    def load(cls, value: Any) -> Recent:
        """What `dump` gave this value for. Raises ValueError for any other value."""
        try:
            answers, kinds = value
            named = len(kinds) == len(answers) and all(isinstance(kind, str) for kind in kinds)
            if len(answers) <= KEPT and {*answers} <= {0, 1} and named:
                return cls([bool(right) for right in answers], list(kinds))
        except (TypeError, ValueError, OverflowError) as error:
            raise ValueError(f"not the latest answers: {error}") from error
        raise ValueError("not the latest answers: their counts are impossible")
