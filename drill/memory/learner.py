"""One learner: how strong and how fast each card is, and how each answer changes that.

The chance of recall is logistic(slope * (activation - threshold) + what the learner adds + card's offset + facts'
offset). What the learner adds is their own and learned from every answer: a level, how much a corrected miss teaches
them, and how steeply recall follows practice and forgetting in them.

The thinking time is exp(tempo + kind - speed slope * logit(chance) + card's speed offset), times a factor whose
logarithm is normal with the learner's own spread. What the drill has not brought up yet comes slower than what it has:
how much is learned apart, for whoever asks about tomorrow must not count on today's drill. Every answer is O(1).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from drill.memory.belief import Belief, Spread, Weights, logistic, logit
from drill.memory.clock import Clock
from drill.memory.constants import DAY_S, DEFAULT, Constants
from drill.memory.item import Attempt, Item
from drill.memory.recent import Recent
from drill.memory.traces import Traces

LEARNER_ROW = "learner"
LEVEL, MISSED, STEEPNESS = range(3)
"""What is the learner's own in the log-odds of recall, by its place in `Learner.person`."""
KEY_PRESS = Item("key-press")
"""The task "press the shown key": an attempt at it measures the key press, its time being `thinking_s`."""


@dataclass(slots=True)
class CardState:
    """The state of one card: traces, offset of its strength, offset of its speed, and a short history."""

    traces: Traces
    offset: Belief
    speed: Belief
    asked: int = 0
    right: int = 0
    first_s: float = 0.0
    last_s: float = 0.0
    proven_s: float = 0.0
    """The longest gap (seconds) after which it came right. A miss halves it, or the gap before the miss if shorter."""
    failed: bool = False
    """Whether the latest answer was wrong."""
    shown_s: float | None = None
    """When it was last shown and not asked; None if it never was."""

    @property
    def missed(self) -> int:
        """How often it was answered wrong."""
        return self.asked - self.right

    @property
    def was_told_last(self) -> bool:
        """Whether its answer was last told and not asked: it was shown, or played and missed (`Attempt.learnable`)."""
        return self.shown_s is not None and self.shown_s == self.last_s


@dataclass(slots=True)
class FactState:
    """The state of one fact: the traces of every card that rests on it, its offset, and the answers that took it."""

    traces: Traces
    offset: Belief
    asked: int = 0


@dataclass(slots=True)
class FamilyState:
    """The state of one family: how often its cards are known at first sight, and how slow its kind of question is."""

    first_sight: Belief
    kind: Belief


@dataclass(slots=True)
class Learner:
    """A learner's memory. `observe` each attempt in order; ask `strength` and `speed` of any item at any time."""

    constants: Constants = DEFAULT
    clock: Clock = field(default_factory=Clock)
    person: Weights = field(init=False)
    """What is the learner's own in the log-odds of recall: level, weight of misses, steepness."""
    first_sight: Belief = field(init=False)
    tempo: Belief = field(init=False)
    speed_slope: Belief = field(init=False)
    cold: Belief = field(init=False)
    """How much longer an answer takes, in ln seconds, when the drill has brought up nothing of it yet."""
    spread: Spread = field(init=False)
    """Of ln thinking time around what was expected."""
    key_press_s: float = field(init=False)
    cards: dict[str, CardState] = field(default_factory=dict)
    facts: dict[str, FactState] = field(default_factory=dict)
    families: dict[str, FamilyState] = field(default_factory=dict)
    recent: Recent = field(default_factory=Recent)

    def __post_init__(self) -> None:
        c = self.constants
        self.person = _new_person(c)
        self.first_sight = Belief(c.first_sight, c.first_sight_variance)
        self.tempo = Belief(c.tempo, c.tempo_variance)
        self.speed_slope = Belief(c.speed_slope, c.speed_slope_variance)
        self.cold = Belief(c.cold, c.cold_variance)
        self.spread = Spread(c.speed_spread**2, c.spread_trust)
        self.key_press_s = c.key_press_s

    # -- asking ---------------------------------------------------------------------------------------------------

    def strength(self, item: Item, now_s: float) -> float:
        """Chance, 0..1, that `item` would be answered right at `now_s` (for a fresh card: right at first sight)."""
        return logistic(self.log_odds(item, self.clock.read(now_s, self.constants)))

    def speed(self, item: Item, now_s: float) -> float:
        """Expected thinking time in seconds, key press taken off, if `item` is answered right at `now_s`."""
        return math.exp(self.ln_speed(item, self.strength(item, now_s), self.coldness(item, now_s)))

    def usual_speed(self, item: Item, now_s: float) -> tuple[float, float]:
        """The thinking times in seconds, key press taken off, between which two right answers of three lie."""
        middle, factor = self.speed(item, now_s), math.exp(math.sqrt(self.spread.variance))
        return middle / factor, middle * factor

    @property
    def taught_by_misses(self) -> float:
        """How much more a corrected miss teaches this learner than is usual: log-odds for each ln(1 + misses)."""
        return self.person.mean[MISSED]

    @property
    def slower_when_cold(self) -> float | None:
        """By what share an answer takes this learner longer when the drill has not brought it up yet; None at first."""
        is_measured = self.cold.variance < self.constants.cold_variance / 4
        return math.expm1(self.cold.mean) if is_measured else None

    def net_thinking(self, thinking_s: float) -> float:
        """Thinking time without the learner's own key press; at least the fastest time that counts."""
        return max(thinking_s - self.key_press_s, self.constants.fastest_s)

    def total(self, item: Item, ticks: float) -> float:
        """exp(activation): the total of the card's own traces, raised towards the total of its weakest fact.

        Facts are practised through every card that rests on them; a card is only as good as the weakest of its facts.
        """
        c = self.constants
        card = self.cards.get(item.card)
        own = card.traces.total(ticks, c) if card else 0.0
        if not item.facts:
            return own
        weakest = min(self.facts[f].traces.total(ticks, c) if f in self.facts else 0.0 for f in item.facts)
        return own + c.fact_share * max(0.0, weakest - own)

    def log_odds(self, item: Item, ticks: float) -> float:
        """Log-odds of recall at `ticks`."""
        return self.log_odds_at(item, self.total(item, ticks))

    def log_odds_at(self, item: Item, total: float) -> float:
        """Log-odds of recall when exp(activation) is `total`.

        What was known at first sight is not forgotten as fast as what was learned here: until a card is missed, it is
        at least as strong as a fresh one of its family.
        """
        card = self.cards.get(item.card)
        if card is not None and card.missed:
            return self.recalled(item, total)
        return max(self.recalled(item, total), self.first_sight_log_odds(item.family))

    def recalled(self, item: Item, total: float) -> float:
        """Log-odds of recall by what was practised here, when exp(activation) is `total`."""
        if total <= 0:
            return -math.inf
        c, activation, card = self.constants, math.log(total), self.cards.get(item.card)
        facts = sum(self.facts[f].offset.mean for f in item.facts if f in self.facts) / max(len(item.facts), 1)
        added = self.person.sum(self._factors(card, activation)) + (card.offset.mean if card else 0.0) + facts
        return c.slope * (activation - c.threshold) + added

    def _factors(self, card: CardState | None, activation: float) -> tuple[float, float, float]:
        """How often level, weight of misses and steepness count for a card of this activation."""
        c = self.constants
        return 1.0, math.log1p(card.missed) if card else 0.0, min(max(activation - c.faint, 0.0), c.clear)

    def first_sight_log_odds(self, family: str) -> float:
        """Log-odds that a card of `family` comes right when it is asked for the first time."""
        state = self.families.get(family)
        of_family = state.first_sight.mean if state else 0.0
        return self.first_sight.mean + of_family + self.constants.first_sight_share * self.person.mean[LEVEL]

    def proved(self, fact: str, now_s: float) -> float:
        """Chance, 0..1, that `fact` alone is recalled at `now_s`, by the answers to all cards that rest on it."""
        alone = Item("", facts=(fact,))
        return logistic(self.recalled(alone, self.total(alone, self.clock.read(now_s, self.constants))))

    def coldness(self, item: Item, now_s: float) -> float:
        """Share of the card's facts, 0 to 1, that earlier drills have brought up and the one at `now_s` has not yet.

        It does not matter by which card. A card without facts is cold itself, or not.
        """
        met = [self.facts[fact].traces for fact in item.facts if fact in self.facts]
        if not item.facts and item.card in self.cards:
            met = [self.cards[item.card].traces]
        began = math.inf if self.clock.begins_drill(now_s) else self.clock.began
        return sum(bool(traces.at) and traces.at[-1] < began for traces in met) / max(len(item.facts), 1)

    def ln_speed(self, item: Item, strength: float, coldness: float = 0.0) -> float:
        """ln of the expected thinking time (key press taken off) at a given strength, see `coldness`."""
        card = self.cards.get(item.card)
        family = self.families.get(item.family)
        mean = self.tempo.mean + (card.speed.mean if card else 0.0) + (family.kind.mean if family else 0.0)
        return mean - self.speed_slope.mean * logit(strength) + self.cold.mean * coldness

    def in_time(self, item: Item, strength: float, limit_s: float, coldness: float = 0.0) -> float:
        """Chance that a right answer takes at most `limit_s` seconds (key press taken off); see `ln_speed`."""
        variance = self.spread.variance + coldness * coldness * self.cold.variance
        z = (math.log(limit_s) - self.ln_speed(item, strength, coldness)) / math.sqrt(2.0 * variance)
        return 0.5 * math.erfc(-z)

    def weakest_fact(self, item: Item, now_s: float) -> str | None:
        """Of several facts of the card, the one with the lowest activation and offset; None with fewer than two."""
        c, ticks = self.constants, self.clock.read(now_s, self.constants)
        met = [
            (c.slope * self.facts[f].traces.activation(ticks, c) + self.facts[f].offset.mean, f)
            for f in item.facts
            if f in self.facts
        ]
        return min(met)[1] if len(met) > 1 else None

    # -- learning -------------------------------------------------------------------------------------------------

    def observe(self, item: Item, attempt: Attempt) -> tuple[str, ...]:
        """Learn from one attempt; returns the names of the rows it changed (see `rows.dump`)."""
        self._note(item, attempt)
        self._drift(attempt.at_s)
        ticks = self.clock.advance(attempt.at_s, self.constants)
        if item == KEY_PRESS:
            self._press(attempt.thinking_s)
            return (LEARNER_ROW,)
        if attempt.right is not None:
            total = self.total(item, ticks)
            log_odds = self.log_odds_at(item, total)
            self._learn_strength(item, attempt, total, logistic(log_odds))
            self._learn_speed(item, attempt, log_odds)
        self._add_traces(item, attempt, ticks)
        self._count(item, attempt)
        return (LEARNER_ROW, f"card:{item.card}", *(f"fact:{f}" for f in item.facts))

    def _note(self, item: Item, attempt: Attempt) -> None:
        """Keep what the planner needs to know of the latest drills: of what is played only the right half counts."""
        card = self.cards.get(item.card)
        if card is not None and card.asked and attempt.right is not None and not attempt.played:
            self.recent.add(attempt.at_s - card.last_s, attempt.right, item.family)

    def _drift(self, now_s: float) -> None:
        """After days away the learner's level is less certain, so the first answers back move it more."""
        c = self.constants
        if self.clock.last_s is not None:
            days = max(0.0, now_s - self.clock.last_s) / DAY_S
            self.person.drift(LEVEL, c.learner_drift * days, c.learner_variance)

    def _press(self, seconds: float | None) -> None:
        """Learn from one measured key press: the baseline moves a quarter of the way to it."""
        if seconds is not None and 0.1 <= seconds <= 2.0:
            self.key_press_s += 0.25 * (seconds - self.key_press_s)

    def _learn_strength(self, item: Item, attempt: Attempt, total: float, p: float) -> None:
        residual, information = float(bool(attempt.right)) - p, p * (1 - p)
        if total > 0:
            self._learn_person(self._factors(self.cards.get(item.card), math.log(total)), residual, information)
            self._learn_facts(item, attempt, p)
        else:
            share = self.constants.first_sight_share
            self.person.learn_outcome((share, 0.0, 0.0), residual, information)
            self.first_sight.learn_outcome(residual, information)
            self._family(item.family).first_sight.learn_outcome(residual, information)
        card = self._card(item.card)
        if not self._blamed(item, attempt):
            card.offset.learn_outcome(residual, information)
            card.offset.variance += self.constants.card_drift

    def _learn_person(self, factors: Sequence[float], residual: float, information: float) -> None:
        """Learn what is the learner's own, within the bounds in which every right answer counts."""
        c, mean = self.constants, self.person.mean
        self.person.learn_outcome(factors, residual, information)
        mean[MISSED] = min(mean[MISSED], c.missed_most)
        mean[STEEPNESS] = min(max(mean[STEEPNESS], -c.steepness_most), c.steepness_most)

    def _learn_facts(self, item: Item, attempt: Attempt, p: float) -> None:
        """Move the offsets of the facts: a named mix-up counts against its fact only, and for all the others."""
        blamed = self._blamed(item, attempt)
        for name in item.facts:
            outcome = float(name != blamed) if blamed else float(bool(attempt.right))
            share = 1.0 if blamed else 1.0 / len(item.facts)
            self._fact(name).offset.learn_outcome(share * (outcome - p), share * share * p * (1 - p))

    @staticmethod
    def _blamed(item: Item, attempt: Attempt) -> str | None:
        """The fact that a mix-up points at, if the answer was wrong and the card rests on that fact."""
        return attempt.mixed_fact if attempt.right is False and attempt.mixed_fact in item.facts else None

    def _learn_speed(self, item: Item, attempt: Attempt, log_odds: float) -> None:
        c = self.constants
        if not attempt.right or attempt.thinking_s is None or not c.fastest_s <= attempt.thinking_s <= c.slowest_s:
            return
        if attempt.thinking_s < self.key_press_s:  # so the key press itself is quicker than was known
            self._press(attempt.thinking_s)
        measured = math.log(self.net_thinking(attempt.thinking_s))
        strength, coldness = logistic(log_odds), self.coldness(item, attempt.at_s)
        residual = measured - self.ln_speed(item, strength, coldness)
        residual = min(max(residual, -c.residual_clip), c.residual_clip)
        card, family, noise = self._card(item.card), self._family(item.family), self.spread.variance
        for belief, spread, drift in (
            (card.speed, c.card_speed_noise * noise, c.card_speed_drift),
            (family.kind, noise, c.kind_drift),
            (self.tempo, noise, c.tempo_drift),
        ):
            belief.learn_measure(residual, spread)
            belief.variance += drift
        self.speed_slope.learn_measure(residual, noise, factor=-logit(strength))
        self.speed_slope.mean = max(self.speed_slope.mean, 0.0)
        self.cold.learn_measure(residual, noise, factor=coldness)
        self.cold.mean = max(self.cold.mean, 0.0)
        self.spread.learn(residual, c.spread_memory)

    def _add_traces(self, item: Item, attempt: Attempt, ticks: float) -> None:
        c = self.constants
        weight = c.weight_shown if attempt.right is None else c.weight_right if attempt.right else c.weight_wrong
        blamed = self._blamed(item, attempt)
        self._card(item.card).traces.add(ticks, weight, c)
        for fact in item.facts:
            self._fact(fact).traces.add(ticks, c.weight_right if blamed and fact != blamed else weight, c)
            self._fact(fact).asked += attempt.right is not None

    def _count(self, item: Item, attempt: Attempt) -> None:
        card = self._card(item.card)
        if len(card.traces) == 1:
            card.first_s = attempt.at_s
        gap_s = max(0.0, attempt.at_s - card.last_s) if len(card.traces) > 1 else 0.0
        card.last_s = attempt.at_s
        if attempt.right is None:
            card.shown_s = attempt.at_s
        else:
            card.proven_s = max(card.proven_s, gap_s) if attempt.right else min(card.proven_s, gap_s) / 2
            card.asked += 1
            card.right += attempt.right
            card.failed = not attempt.right

    def _card(self, card: str) -> CardState:
        c = self.constants
        if card not in self.cards:
            self.cards[card] = CardState(Traces(), Belief(0.0, c.card_variance), Belief(0.0, c.card_speed_variance))
        return self.cards[card]

    def _fact(self, fact: str) -> FactState:
        if fact not in self.facts:
            self.facts[fact] = FactState(Traces(), Belief(0.0, self.constants.fact_variance))
        return self.facts[fact]

    def _family(self, family: str) -> FamilyState:
        c = self.constants
        if family not in self.families:
            self.families[family] = FamilyState(Belief(0.0, c.first_sight_variance / 2), Belief(0.0, c.kind_variance))
        return self.families[family]


def _new_person(c: Constants) -> Weights:
    """What to expect of a new learner.

    The level is known best in the middle between faint and clear, so from a steepness above none follows a lower level.
    """
    middle = c.clear / 2
    shared = -middle * c.steepness_variance
    level = c.learner_variance - middle * shared
    return Weights(
        [0.0, 0.0, 0.0],
        [[level, 0.0, shared], [0.0, c.missed_variance, 0.0], [shared, 0.0, c.steepness_variance]],
    )
