"""Made-up learners who can work an answer out: a race of direct recall and rule (Logan 1988, Psych Rev 95:492-527).

Each fact (a spot, a bond of relatives, a finger) has a strength that study raises by a share of what is missing and
that is lost by a power of the days (error-correcting strength after Reder, Paynter, Diana, Ngiam & Dickison 2007).
If the fact does not come at once, a learner who has its rule counts it out, which is right but slow. A card takes all
its facts, one after another. `MINDS` are constants; whoever plans knows none of them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from itertools import product

from drill.memory.item import Attempt, Item
from tests.support.simulated import Chance, Correcting

LANDMARKS = (0, 5, 7, 12)
"""Frets of a string that a beginner knows by the open strings next to it, and by the octave."""


@dataclass(frozen=True, slots=True)
class Mind:
    """The constants of one kind of learner. Seconds; shares and chances from 0 to 1."""

    base_s: float = 0.9
    """Reading and the first key. With `recall_s` it makes the middle time of a well-known single fact 1.2 to 1.4 s, and
    of a core card 1.7 to 2: in an open set of timed practice, real people's middle thinking times were up to 1.5 s for
    29 in 100, up to 2 s for 73, up to 2.5 s for 94."""
    recall_s: float = 0.25
    """Direct recall of one fact at full strength (.4 to .9 s in mental arithmetic: Ashcraft 1982, Dev Rev 2:213)."""
    fading_s: float = 0.4
    """What recall takes more as its strength goes from one to nothing."""
    setting_out_s: float = 0.4
    """The time before a rule is under way."""
    step_s: float = 0.4
    """One step of counting (about .45 s a letter in alphabet arithmetic: Logan & Klapp 1991, JEP:LMC 17:179)."""
    careful: float = 0.96
    """The chance that a rule is worked through without a mistake."""
    noise: float = 0.22
    """Spread of the logarithm of an answer's time from one time to the next."""
    slips: float = 0.02
    """Share of answers that go wrong though all was known."""
    rules: float = 1.0
    """The chance to have a rule at the start."""
    insight: float = 0.4
    """The chance to get a rule from one explanation: a corrected miss, or a card shown solved."""
    recalled: float = 0.55
    """The share of the missing strength that a recalled answer adds; `worked` and `shown` the same for an answer that
    was counted out, and for one that was missed or shown. The three shares are chosen, not measured: with
    them the first release, with its deck in layers, made about as many of 24 keys ready as for similar people that
    another hand made up. After one and two weeks: 16 and 22 for who understands (the others 9 and 16), 8 and 17 for a
    student (5 and 11), 2 and 10 for a slow one (0 and 5); with the deck key by key 20 and 24 (17 and 24), 14 and 20 (11
    and 18), 4 and 14 (5 and 12)."""
    worked: float = 0.5
    shown: float = 0.4
    unlike: float = 0.9
    """How unlike each other the facts are to this learner."""
    hard: float = 0.0
    """How much harder than usual all facts are to this learner."""
    loss: float = 0.35
    """The power of the days by which strength is lost at first, and `gentler` what spaced recall takes off it; chosen
    together with the shares above."""
    gentler: float = 0.3
    known: float = 0.0
    """Share of the facts well known at the start."""
    never_faster_s: float = 0.0
    """No answer ever comes sooner than this."""


MINDS = {
    "understands": Mind(),
    "student": Mind(base_s=0.95, recall_s=0.3, setting_out_s=0.5, step_s=0.5, rules=0.2, insight=0.35, hard=0.2),
    "slow student": Mind(
        base_s=1.0, recall_s=0.32, setting_out_s=0.5, step_s=0.6, careful=0.9, rules=0.0, insight=0.15, recalled=0.5,
        worked=0.45, shown=0.35, hard=0.35,
    ),
    "expert": Mind(known=0.97),
    "plateau": Mind(slips=0.1, known=0.3, never_faster_s=3.05),
    "errs a quarter": Mind(slips=0.25),
}  # fmt: skip


@dataclass(slots=True)
class Reasoner:
    """A made-up learner: see the module. Times are seconds since the epoch."""

    mind: Mind
    source: Chance
    facts: dict[str, Correcting] = field(default_factory=dict)
    rules: dict[str, bool] = field(default_factory=dict)

    def chance(self, item: Item, now_s: float) -> float:
        """The true chance that the card comes right at `now_s`, at any speed."""
        return self.within(item, now_s, math.inf)

    def within(self, item: Item, now_s: float, limit_s: float) -> float:
        """The true chance that the card comes right within `limit_s` seconds, the key press included."""
        total = 0.0
        for way in product(*(self._ways(fact, now_s) for fact in self._facts(item))):
            chance = math.prod(each for each, _ in way)
            seconds = self.mind.base_s + sum(each for _, each in way)
            total += chance * self._in_time(seconds, limit_s)
        return (1.0 - self.mind.slips) * total

    def thinking(self, item: Item, now_s: float) -> float:
        """The middle thinking time, in seconds, of an answer that is recalled."""
        seconds = self.mind.base_s + sum(self._ways(fact, now_s)[0][1] for fact in self._facts(item))
        return max(seconds, self.mind.never_faster_s)

    def answer(self, item: Item, now_s: float) -> Attempt:
        """Answer the card asked at `now_s`, and learn from it; the attempt's `at_s` is when the answer came."""
        seconds, failed = self.mind.base_s, []
        studies: list[tuple[str, float]] = []
        for fact in self._facts(item):
            took, share, right = self._produce(fact, now_s)
            seconds += took
            studies.append((fact, share))
            if not right:
                failed.append(fact)
        seconds = max(seconds * math.exp(self.source.gauss(0.0, self.mind.noise)), self.mind.never_faster_s)
        right = not failed and self.source.random() >= self.mind.slips
        for fact, share in studies:
            self._study(fact, now_s + seconds, share)
        if not right:
            self._explain(item)
        named = failed[0] if len(failed) == 1 and len(item.facts) > 1 and self.source.random() < 0.5 else None
        return Attempt(item.card, now_s + seconds, right, seconds, named)

    def watch(self, item: Item, now_s: float) -> Attempt:
        """Look at the card's answer and its reason, unasked."""
        for fact in self._facts(item):
            self._study(fact, now_s, self.mind.shown)
        self._explain(item)
        return Attempt(item.card, now_s, None)

    # -- one fact --------------------------------------------------------------------------------------------------

    def _ways(self, fact: str, now_s: float) -> list[tuple[float, float]]:
        """(chance, seconds) of coming to the fact rightly: by recall, and by the rule where recall fails."""
        memory = self._memory(fact, now_s)
        p = memory.chance(now_s)
        ways = [(p, self._recall_s(memory, now_s))]
        if self._has_rule(fact):
            ways.append(((1.0 - p) * self.mind.careful, self._rule_s(fact)))
        return ways

    def _produce(self, fact: str, now_s: float) -> tuple[float, float, bool]:
        """(seconds, share of the missing strength that it adds, right) of one try at the fact."""
        memory = self._memory(fact, now_s)
        if self.source.random() < memory.chance(now_s):
            took = self._recall_s(memory, now_s)
            return (min(took, self._rule_s(fact)) if self._has_rule(fact) else took), self.mind.recalled, True
        if self._has_rule(fact):
            right = self.source.random() < self.mind.careful
            return self._rule_s(fact), self.mind.worked if right else self.mind.shown, right
        return self.mind.recall_s + 2 * self.mind.fading_s, self.mind.shown, False

    def _recall_s(self, memory: Correcting, now_s: float) -> float:
        return self.mind.recall_s + self.mind.fading_s * (1.0 - memory.held(now_s))

    def _rule_s(self, fact: str) -> float:
        return self.mind.setting_out_s + self.mind.step_s * steps_of(fact)

    def _has_rule(self, fact: str) -> bool:
        kind = fact.split(":")[0]
        if kind not in self.rules:
            self.rules[kind] = self.source.random() < self.mind.rules
        return self.rules[kind]

    def _explain(self, item: Item) -> None:
        for kind in sorted({fact.split(":")[0] for fact in self._facts(item)}):
            if not self._has_rule(kind):
                self.rules[kind] = self.source.random() < self.mind.insight

    def _study(self, fact: str, now_s: float, share: float) -> None:
        self._memory(fact, now_s).raise_by(now_s, share, recalled=share == self.mind.recalled)

    def _in_time(self, seconds: float, limit_s: float) -> float:
        if limit_s < self.mind.never_faster_s:
            return 0.0
        return 0.5 * math.erfc(-math.log(limit_s / seconds) / self.mind.noise / math.sqrt(2)) if limit_s < 1e9 else 1.0

    def _facts(self, item: Item) -> tuple[str, ...]:
        return item.facts or (item.card,)

    def _memory(self, fact: str, now_s: float) -> Correcting:
        if fact not in self.facts:
            memory = Correcting(
                self.source.gauss(0.0, self.mind.unlike) - self.mind.hard,
                loss=self.mind.loss,
                gentler=self.mind.gentler,
            )
            if self.source.random() < self.mind.known:
                for days in (120, 100, 70, 40, 20, 8, 3, 1):
                    memory.study(now_s - days * 86_400.0, recalled=True)
            self.facts[fact] = memory
        return self.facts[fact]


def steps_of(fact: str) -> int:
    """How many steps a rule takes to a fact: frets from a landmark, three to a relative, one to a finger."""
    kind, *parts = fact.split(":")
    if kind == "spot":
        return min(abs(int(parts[1]) - mark) for mark in LANDMARKS)
    return {"relative": 3, "finger": 1, "three-frets": 2}.get(kind, 3)
