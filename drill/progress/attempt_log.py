"""A log of attempts, wherever it is stored: in a learner's record, or in a file that another learner exported."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from drill.record import AttemptRow, DrillRow, LandingRow, LearnerRow


class AttemptLog(Protocol):
    """What progress reads. `drill.record.Record` is one."""

    def identify(self) -> LearnerRow:
        """Whose log it is."""

    def call(self, name: str) -> LearnerRow:
        """Keep the learner's name."""

    def attempts(self, card: str | None = None) -> Iterator[AttemptRow]:
        """Every attempt, or those at one card, in the order in which they were asked."""

    def last_answers(self) -> list[AttemptRow]:
        """The newest answer to each card."""

    def attempt_count(self) -> int:
        """How many attempts there are."""

    def drills(self) -> Iterator[DrillRow]:
        """Every drill, in the order in which they began."""

    def landings(self) -> Iterator[LandingRow]:
        """Every landing of a round, in the order in which the keys were asked."""
