"""Progress with figures that can be worked out by hand."""

from __future__ import annotations

from datetime import date

from drill.progress import CardStatus, Period, Progress
from drill.progress.history import LogCounts
from drill.progress.readiness import KeyReadiness, Needed
from drill.theory.keys import parse_key
from tests.support.learners import beginner

LOW_G, LOW_A, C = "note-at-fret:string=6:fret=3", "note-at-fret:string=6:fret=5", "note-at-fret:string=5:fret=3"


def worked_progress() -> Progress:
    """Two cards on string 6 were asked, fluent and fading, and one on string 5, slow; three keys, three weeks."""
    progress = beginner(deck="naturals")
    asked = [
        _rated(progress, LOW_G, "fluent", 0.9, 1.0),
        _rated(progress, LOW_A, "fading", 0.3, 2.0),
        _rated(progress, C, "slow", 0.997, 3.04),
    ]
    fresh = next(status for status in progress.statuses if status.card not in (LOW_G, LOW_A, C))
    by_card = {status.card: status for status in progress.statuses} | {status.card: status for status in asked}
    needed = [Needed(asked[0], 0.5, True), Needed(asked[2], 0.8, True), Needed(asked[1], 0.899, True)]
    counts = LogCounts()
    counts._weeks = [
        Period(date(2025, 12, 15), answers=7, right=5, first_answers=4, first_right=3, median_ms=1449, drills=1),
        Period(date(2025, 12, 22), answers=9, right=0, first_answers=5, first_right=0, median_ms=None, drills=2),
        Period(date(2025, 12, 29), answers=8, right=8, first_answers=8, first_right=8, median_ms=900, drills=3),
    ]
    progress.__dict__.update(
        statuses=tuple(by_card.values()),
        keys=(
            KeyReadiness(parse_key("C"), 0.36, tuple(needed)),
            KeyReadiness(parse_key("F#m"), 1.0, (Needed(asked[0], 0.9, True),)),
            KeyReadiness(parse_key("Bb"), 0.01, (Needed(fresh, 0.01, True),)),
        ),
        forecast=(2, 0, 1),
        _counts=counts,
    )
    return progress


def _rated(progress: Progress, card: str, state: str, strength: float, speed_s: float) -> CardStatus:
    return CardStatus(
        progress.deck.entries[card], state, strength, speed_s, strength / 2, 4, 3, None, progress.now_s - 60
    )
