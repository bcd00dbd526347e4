"""How unlike each other cards are to one and the same student: some stick, some do not, for no reason to be mended.

Answers to one card are not independent, so that counting them alone would take a few odd cards for a weakness. How much
cards differ is measured of every student, by how much more their sums vary than answers alone would; the middle one of
the class counts.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from statistics import median
from typing import NamedTuple

from drill.classroom.habits import Tally, by_card, count, lateness_of, level_of, shifted

LEAST_SPREAD = 0.02
"""The least variance of the logarithm of a thinking time, from one answer to the next."""


class Unevenness(NamedTuple):
    """Variances: of a card's log-odds, of the logarithm of one time, of that of a card's usual time."""

    odds: float
    time: float
    card_time: float

    @classmethod
    def of(cls, students: Sequence[Sequence[Tally]]) -> Unevenness:
        times = [found for rows in students if (found := _times(rows))]
        if not times:
            return cls(_middle(map(_odds, students)), LEAST_SPREAD, 0.0)
        return cls(_middle(map(_odds, students)), *map(_middle, zip(*times, strict=True)))

    def of_misses(self, answers: float, usual: float) -> float:
        """The variance of the number of wrong answers to one card, of which so many are usual."""
        return _by_answers(answers, usual) + self.odds * _by_card(answers, usual)

    def of_times(self, timed: float) -> float:
        """The variance of the sum of the logarithms of so many times at one card."""
        return self.time * timed + self.card_time * timed**2


def _by_answers(answers: float, usual: float) -> float:
    return usual * (1.0 - usual / answers)


def _by_card(answers: float, usual: float) -> float:
    """What a variance of one in the log-odds of a card adds, by the slope of the logistic function."""
    return (usual * (1.0 - usual / answers)) ** 2


def _middle(values: Iterable[float]) -> float:
    """The median, which one student with a weakness does not move."""
    found = list(values)
    return median(found) if found else 0.0


def _odds(rows: Sequence[Tally]) -> float:
    level, more, room = level_of(rows), 0.0, 0.0
    for card in by_card(rows):
        answers, usual = count(card), shifted(card, level)
        more += (sum(row.wrong for row in card) - usual) ** 2 - _by_answers(answers, usual)
        room += _by_card(answers, usual)
    return max(0.0, more / room) if room else 0.0


def _times(rows: Sequence[Tally]) -> tuple[float, float] | None:
    """The line through squared sums, each over its number of answers, by that number: least squares."""
    late, points = lateness_of(rows), []
    for card in by_card(rows):
        if timed := sum(row.timed for row in card):
            left = sum(row.late - row.usual_late - late * row.timed for row in card)
            points.append((timed, left**2 / timed))
    if not points:
        return None
    mean_n, mean_y = (sum(each) / len(points) for each in zip(*points, strict=True))
    room = sum((n - mean_n) ** 2 for n, _ in points)
    slope = sum((n - mean_n) * (y - mean_y) for n, y in points) / room if room else 0.0
    slope = max(0.0, min(slope, mean_y / mean_n))
    return max(LEAST_SPREAD, mean_y - slope * mean_n), slope
