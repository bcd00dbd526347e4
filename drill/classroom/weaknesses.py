"""What a student is stuck on: where they err, dawdle or mix up more than the others do and than they do elsewhere.

A weakness is told where three things hold. There were enough answers, on enough cards. What was found lies so far from
what was to be expected (see `habits`) that among all the groups looked at, chance alone would tell one of fifty
students anything; how far chance reaches is taken from how unlike the cards of the group are, not only from
the number of answers, for answers to one card are not independent. And it is large enough to matter, after it has been
drawn towards what is usual as far as few answers demand.

A mix-up says why and not only where, so it is told first; then whatever is clearest. Each is followed by what it does
not explain: who misses flat keys is not also told of E flat major.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from statistics import NormalDist, median
from typing import Literal, NamedTuple

from drill.classroom.answers import Answers, Group, groups_of
from drill.classroom.habits import (
    FEWEST_STUDENTS,
    REST,
    Class,
    Tally,
    by_card,
    by_name,
    chances_of,
    count,
    lateness_of,
    level_of,
    shifted,
)
from drill.classroom.unevenness import Unevenness
from drill.memory import TARGET_STRENGTH
from drill.memory.belief import logistic, logit
from drill.questions.ids import family_of

Sort = Literal["mix-up", "misses", "slow"]
FALSE_ALARMS = 0.02
"""The share of students of whom chance alone may tell something."""
FEWEST_ANSWERS, FEWEST_CARDS = 15, 4
DOUBT = 10.0
"""So many answers as usual are added to what was found, before it is asked whether it matters."""
MORE_WRONG, TIMES_WRONG = 0.07, 1.4
"""What matters: so much larger a share of wrong answers, and so many times as large."""
SLOWER = math.log(1.3)
"""What matters: nearly a third more time than usual."""
AS_A_WHOLE = 2.0
"""Students differ; as a whole it matters only from so many times the usual share of misses, or half again the time."""
MIXED_UP, TIMES_MIXED_UP, FEWEST_MIXUPS = 0.03, 2.0, 4
LEAST_WRONG, LEAST_LATE, LEAST_MIXED_UP = 1.0 - TARGET_STRENGTH, 1.0, 0.1
"""Whatever the others do, nobody is stuck who holds what is asked, comes within the target, or just slips at times."""
MOST_TOLD = 3
EVERYTHING: Group = ("whole", "everything")


class Weakness(NamedTuple):
    """Something a student is stuck on.

    Shares of wrong answers or of mix-ups for `found` and `usual`; for a slow one, times over the target.
    """

    sort: Sort
    group: Group
    found: float
    usual: float
    answers: int
    clearness: float
    """How many standard deviations chance would have to reach."""
    place: tuple[str, int | None] | None = None
    """Of a mix-up: the family and the string where it happens most."""


def weaknesses(students: Sequence[Answers]) -> list[list[Weakness]]:
    """What each of a class is stuck on, the clearest first."""
    everyone = Class(students)
    tallies = [everyone.tallies(number, student) for number, student in enumerate(students)]
    known = everyone, _Leanings(tallies), Unevenness.of(tallies)
    told = [_Search(number, student, tallies[number], known).told() for number, student in enumerate(students)]
    for number, weakness in _stand_out(tallies):
        told[number].append(weakness)
    return told


class _Leanings:
    """How a whole class leans in each group of cards, over what its kinds of question lead to expect."""

    def __init__(self, tallies: Sequence[Sequence[Tally]]) -> None:
        self._of: list[dict[Group, tuple[float, ...]]] = [_leaning(rows) for rows in tallies]
        self._sums: dict[Group, list[float]] = defaultdict(lambda: [0.0] * 4)
        for leaning in self._of:
            for group, parts in leaning.items():
                self._sums[group] = [a + b for a, b in zip(self._sums[group], parts, strict=True)]

    def others(self, number: int, group: Group) -> tuple[float, float]:
        """How much more the others err (log of a ratio) and how much later they are (log) in a group."""
        own = self._of[number].get(group, (0.0,) * 4)
        wrong, usual, timed, late = (a - b for a, b in zip(self._sums[group], own, strict=True))
        return math.log((wrong + DOUBT) / (usual + DOUBT)), late / (timed + 2 * DOUBT)


def _leaning(rows: Sequence[Tally]) -> dict[Group, tuple[float, ...]]:
    level, lateness = level_of(rows), lateness_of(rows)
    return {
        group: (
            sum(row.wrong for row in inside),
            shifted(inside, level),
            sum(row.timed for row in inside),
            sum(row.late - row.usual_late - lateness * row.timed for row in inside),
        )
        for group, inside in _grouped(rows).items()
    }


def _grouped(rows: Iterable[Tally]) -> dict[Group, list[Tally]]:
    found: dict[Group, list[Tally]] = defaultdict(list)
    for row in rows:
        for group in groups_of(row.card):
            found[group].append(row)
        if row.rested:
            found[REST].append(row)
    return found


class _Search:
    """Looks for one student's weaknesses."""

    def __init__(
        self, number: int, student: Answers, tallies: Sequence[Tally], known: tuple[Class, _Leanings, Unevenness]
    ) -> None:
        self._number, self._student = number, student
        self._everyone, self._leanings, self._uneven = known
        self._misses, self._times = list(tallies), list(tallies)
        self._mixups = Counter(student.mixups)

    def told(self) -> list[Weakness]:
        told: list[Weakness] = []
        while len(told) < MOST_TOLD and (found := list(self._candidates())):
            bar = NormalDist().inv_cdf(1.0 - FALSE_ALARMS / len(found))
            clear = [each for each in found if each.clearness >= bar and matters(each)]
            if not clear:
                break
            told.append(max(clear, key=lambda each: (each.sort == "mix-up", each.clearness)))
            self._explain(told[-1])
        return told

    def _candidates(self) -> Iterator[Weakness]:
        yield from self._mixed_up()
        yield from self._in_groups(self._misses, self._missed)
        yield from self._in_groups(self._times, self._dawdled)

    def _in_groups(
        self, tallies: Sequence[Tally], look: Callable[[Group, list[Tally], list[Tally]], Weakness | None]
    ) -> Iterator[Weakness]:
        for group, inside in _grouped(tallies).items():
            within = set(map(id, inside))
            outside = [row for row in tallies if id(row) not in within]
            enough = outside and len({row.card for row in inside}) >= FEWEST_CARDS
            if enough and (found := look(group, inside, outside)):
                yield found

    def _missed(self, group: Group, inside: list[Tally], outside: list[Tally]) -> Weakness | None:
        answers = sum(row.answers for row in inside)
        if min(answers, sum(row.answers for row in outside)) < FEWEST_ANSWERS:
            return None
        level = level_of(outside) + self._leanings.others(self._number, group)[0]
        cards = by_card(inside)
        usual = [shifted(rows, level) for rows in cards]
        left = [sum(row.wrong for row in rows) - each for rows, each in zip(cards, usual, strict=True)]
        chance = sum(self._uneven.of_misses(count(rows), each) for rows, each in zip(cards, usual, strict=True))
        # the level itself is known from few answers only, which adds to what chance can do
        chance += (sum(usual) ** 2) / (sum(row.wrong for row in outside) + 1.0)
        found, clear = sum(row.wrong for row in inside) / answers, _clear(left, chance)
        return Weakness("misses", group, found, sum(usual) / answers, round(answers), clear)

    def _dawdled(self, group: Group, inside: list[Tally], outside: list[Tally]) -> Weakness | None:
        timed, others = sum(row.timed for row in inside), sum(row.timed for row in outside)
        if min(timed, others) < FEWEST_ANSWERS:
            return None
        late = lateness_of(outside) + self._leanings.others(self._number, group)[1]
        cards = by_card(inside)
        left = [sum(row.late - row.usual_late - late * row.timed for row in rows) for rows in cards]
        usual = sum(row.usual_late for row in inside) / timed + late
        chance = sum(self._uneven.of_times(sum(row.timed for row in rows)) for rows in cards)
        chance += sum(self._uneven.of_times(row.timed) for row in outside) * (timed / others) ** 2
        found, clear = math.exp(usual + sum(left) / timed), _clear(left, chance)
        return Weakness("slow", group, found, math.exp(usual), round(timed), clear)

    def _mixed_up(self) -> Iterator[Weakness]:
        for name, cards in by_name(self._mixups).items():
            chances = chances_of(name, cards, self._student)
            answers = sum(chances.values())
            level = level_of(_without(self._misses, cards))
            usual = logistic(logit(self._everyone.usual_mixup(self._number, name)) + max(0.0, level))
            left = [cards[card] - usual * n for card, n in chances.items()]
            clear = _clear(left, answers * usual * (1.0 - usual))
            found = cards.total() / answers
            yield Weakness("mix-up", ("mix-up", name), found, usual, answers, clear, place_of(cards))

    def _explain(self, weakness: Weakness) -> None:
        """Take out what the weakness explains."""
        if weakness.sort == "mix-up":
            gone = Counter({card: n for (card, name), n in self._mixups.items() if name == weakness.group[1]})
            self._misses = _without(self._misses, gone)
            self._mixups = Counter({each: n for each, n in self._mixups.items() if each[1] != weakness.group[1]})
            return
        if weakness.sort == "misses":
            self._misses = [row for row in self._misses if not row.belongs_to(weakness.group)]
        self._times = [row for row in self._times if not row.belongs_to(weakness.group)]


def _without(rows: Iterable[Tally], mixed_up: Counter[str]) -> list[Tally]:
    """The tallies without the answers that a mix-up explains, by card; each state of rest gives up its share."""
    rows = list(rows)
    wrong: Counter[str] = Counter()
    for row in rows:
        wrong[row.card] += row.wrong  # type: ignore[assignment]
    found = []
    for row in rows:
        gone = min(row.wrong, mixed_up[row.card] * row.wrong / wrong[row.card]) if wrong[row.card] else 0.0
        left = row.answers - gone
        if left > 0.0:
            usual = row.usual_wrong * left / row.answers
            found.append(row._replace(answers=left, wrong=row.wrong - gone, usual_wrong=usual))
    return found


def place_of(cards: Counter[str]) -> tuple[str, int | None]:
    """The family and the string where a mix-up happens most."""
    places: Counter[tuple[str, int | None]] = Counter()
    for card, number in cards.items():
        strings = [int(value) for facet, value in groups_of(card) if facet == "string"]
        places[family_of(card), strings[0] if strings else None] += number
    return places.most_common(1)[0][0]


def _clear(left: Sequence[float], chance: float) -> float:
    """What is left over, in standard deviations: of chance, or of what the cards show of it if that is more."""
    among = len(left) * _variance(left)
    return sum(left) / math.sqrt(max(chance, among, 1e-9))


def _variance(values: Sequence[float]) -> float:
    mean = sum(values) / len(values)
    return sum((value - mean) ** 2 for value in values) / (len(values) - 1) if len(values) > 1 else 0.0


def matters(weakness: Weakness) -> bool:
    """Whether it is large enough to be worth a teacher's time: beside what is usual, and by itself."""
    sure = weakness.answers / (weakness.answers + DOUBT)
    if weakness.found < {"misses": LEAST_WRONG, "slow": LEAST_LATE, "mix-up": LEAST_MIXED_UP}[weakness.sort]:
        return False
    if weakness.sort == "slow":
        return sure * math.log(weakness.found / weakness.usual) >= SLOWER
    more = sure * (weakness.found - weakness.usual)
    if weakness.sort == "mix-up":
        often = weakness.found * weakness.answers >= FEWEST_MIXUPS
        return often and more >= MIXED_UP and weakness.found >= TIMES_MIXED_UP * weakness.usual
    return more >= MORE_WRONG and weakness.usual + more >= TIMES_WRONG * weakness.usual


def _stand_out(tallies: Sequence[Sequence[Tally]]) -> Iterator[tuple[int, Weakness]]:
    """Students who err or dawdle as a whole, far outside of what is usual in the class."""
    enough = [number for number, rows in enumerate(tallies) if sum(row.answers for row in rows) >= 2 * FEWEST_ANSWERS]
    if len(enough) < FEWEST_STUDENTS:
        return
    bar = NormalDist().inv_cdf(1.0 - FALSE_ALARMS / 4)  # two sorts, beside all that is looked for one by one
    for sort, of in (("misses", level_of), ("slow", lateness_of)):
        levels = {number: of(tallies[number]) for number in enough}
        middle = median(levels.values())
        spread = max(0.1, 1.4826 * median(abs(level - middle) for level in levels.values()))
        for number, level in levels.items():
            found = _as_a_whole(sort, tallies[number], middle, (level - middle) / spread)  # type: ignore[arg-type]
            least = AS_A_WHOLE if sort == "misses" else 0.75 * AS_A_WHOLE
            if found.clearness >= bar and matters(found) and found.found >= least * found.usual:
                yield number, found


def _as_a_whole(sort: Sort, rows: Sequence[Tally], middle: float, clearness: float) -> Weakness:
    answers, timed = sum(row.answers for row in rows), sum(row.timed for row in rows)
    if sort == "misses":
        found, usual = sum(row.wrong for row in rows) / answers, shifted(rows, middle) / answers
        return Weakness(sort, EVERYTHING, found, usual, round(answers), clearness)
    late, usual_late = sum(row.late for row in rows), sum(row.usual_late for row in rows) + middle * timed
    found, usual = (math.exp(total / timed) if timed else 1.0 for total in (late, usual_late))
    return Weakness(sort, EVERYTHING, found, usual, round(timed), clearness)
