"""What to drill where a learner asks for something weak: by `decks.typed_weak`, what was asked for."""

from __future__ import annotations

from collections.abc import Iterable

from drill.decks.typed_weak import Weak
from drill.present.figures import how_many
from drill.progress.card_status import GROUPINGS, GroupRow
from drill.progress.overview import Progress
from drill.progress.weakest import Weakest, of_row
from drill.questions.wording import times_in_words

TITLES: dict[Weak, str] = {
    "all": "My weakest",
    "string": "Weakest string",
    "key": "Weakest key",
    "shape": "Weakest shape",
    "family": "Weakest kind of question",
    "slow": "Slowest",
    "mixups": "Mixed up most",
}


def weakest_called(progress: Progress, weak: Weak) -> Weakest | None:
    """What to drill for it, and why; None where nothing is weak in that way."""
    if weak == "all":
        return progress.weakest
    if weak == "slow":
        return _slowest(row for by in GROUPINGS for row in progress.table(by))
    if weak == "mixups":
        return _most_mixed_up(progress)
    row = progress.weakest_of(weak)
    return of_row(row, progress.least_ready) if row else None


def _slowest(rows: Iterable[GroupRow]) -> Weakest | None:
    """The row of which the largest part is known but slow."""
    slow = [row for row in rows if row.slow]
    if not slow:
        return None
    row = max(slow, key=lambda row: (row.slow / row.seen, row.slow))
    why = f"Of the {how_many(row.seen, 'card')} asked, {how_many(row.slow, 'is', 'are')} known but slow."
    return Weakest(row.focus, row.label, why)


def _most_mixed_up(progress: Progress) -> Weakest | None:
    """The cure of the mix-up that stands out most."""
    for row in progress.mixups:
        if row.focus is not None:
            why = f"Mixed up {times_in_words(row.times)}, as here: {row.card.prompt} {row.sentence}".strip()
            return Weakest(row.focus, f"{row.name[0].upper()}{row.name[1:]}", why)
    return None
