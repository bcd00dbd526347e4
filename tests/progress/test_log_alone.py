"""Progress hangs on the log alone, wherever its rows come from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

import pytest

from drill.progress import Progress
from drill.progress.card_history import card_history
from drill.progress.columns import progress_object
from drill.record import AttemptRow, DrillRow, LandingRow


@dataclass
class Copied:
    """The rows of a log in memory."""

    rows: list[AttemptRow]
    landed: list[LandingRow] = field(default_factory=list)

    def attempts(self, card: str | None = None) -> Iterator[AttemptRow]:
        return (row for row in self.rows if card in (None, row.card))

    def attempt_count(self) -> int:
        return len(self.rows)

    def drills(self) -> Iterator[DrillRow]:
        return iter(())

    def landings(self) -> Iterator[LandingRow]:
        return iter(self.landed)


@pytest.mark.long
def test_a_copy_of_the_log_gives_the_same_progress_as_the_record(progress: Progress) -> None:
    copied = replace(progress, log=Copied(list(progress.log.attempts()), list(progress.log.landings())))
    assert progress_object(copied) == progress_object(progress)
    often = max(progress.statuses, key=lambda status: status.asked)
    assert card_history(often.card, copied).attempts == card_history(often.card, progress).attempts


@pytest.mark.long
def test_half_the_log_gives_half_the_answers(progress: Progress) -> None:
    rows = list(progress.log.attempts())
    halved = replace(progress, log=Copied(rows[: len(rows) // 2]))
    assert sum(week.answers for week in halved.weeks) == sum(row.correct is not None for row in rows[: len(rows) // 2])
