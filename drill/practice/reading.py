"""How long a learner reads a kind of question before thinking begins; it is taken off like the key press.

Whoever knows a fact well answers at once: of the quickest answers to a kind, what is left beside the key press and a
quick choice is reading. Who never answers quickly counts something out each time, and nobody can tell how much of that
is reading: the more is left, the less is taken off. Only questions in their present wording count: those of before were
longer. The log keeps raw times.

Answers that are played have a baseline of their own, found in the same way from played answers alone: there the hand
has to get to the note and pluck it, where a typed answer has its key press.
"""

from __future__ import annotations

Row = list[float]

LEAST_ANSWERS = 20
"""Fewer right answers of a kind say nothing about reading."""
NEWEST = 40
"""So many of the newest right answers count: reading gets quicker."""
QUICKEST_SHARE = 0.1
"""The quickest tenth is taken for answers that took no searching."""
CHOICE_S = 0.5
"""A choice among some ten answers known by heart, between reading and pressing (Merkel 1885 found .6 s, key press and
all; see Woodworth, Experimental Psychology, 1938)."""
MOST_S = 1.0
"""Longer reading than this is thinking; of twice as much none is taken for reading."""
MOST_PLAYED_S = 2.0
"""Of an answer that is played, longer reading, reaching and plucking than this is thinking."""


class ReadingTimes:
    """Thinking times in seconds of the newest right answers to each kind of question."""

    def __init__(self, most_s: float = MOST_S) -> None:
        self.most_s = most_s
        self.times: dict[str, Row] = {}

    def add(self, family: str, thinking_s: float) -> None:
        """Count a right answer to a question of this kind."""
        self.times[family] = [*self.times.get(family, ()), thinking_s][-NEWEST:]

    def of(self, family: str, key_press_s: float) -> float:
        """Seconds that reading takes, 0 to the most; 0 as long as too little is known."""
        times = sorted(self.times.get(family, ()))
        if len(times) < LEAST_ANSWERS:
            return 0.0
        quickest_s = times[int(QUICKEST_SHARE * len(times))]
        left_s = quickest_s - key_press_s - CHOICE_S
        return max(min(left_s, 2 * self.most_s - left_s), 0.0)

    def without(self, family: str, thinking_s: float, key_press_s: float) -> float:
        """A thinking time without reading: at least half of it, and no less than a key press."""
        left_s = max(thinking_s - self.of(family, key_press_s), thinking_s / 2)
        return max(left_s, min(thinking_s, key_press_s))

    def load(self, family: str, value: object) -> None:
        """Take over a row as it was saved. Raises ValueError for what no row holds."""
        if not isinstance(value, list) or len(value) > NEWEST or not all(map(_is_time, value)):
            raise ValueError(f"not the reading times of {family}")
        self.times[family] = [float(time_s) for time_s in value]

    def copy(self) -> ReadingTimes:
        """An independent copy."""
        times = ReadingTimes(self.most_s)
        times.times = {family: list(row) for family, row in self.times.items()}
        return times


def _is_time(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and 0 <= value < float("inf")
