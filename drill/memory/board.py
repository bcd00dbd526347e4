"""Where the cards of a drill stand: prospects, which are fresh, which are known, and what proves what."""

import math
from collections.abc import Iterable, Iterator
from itertools import chain, islice
from typing import Literal, NamedTuple

from drill.memory.anatomy import Anatomy
from drill.memory.belief import logistic
from drill.memory.constants import DAY_S
from drill.memory.diary import Diary
from drill.memory.gain import rate, within_target
from drill.memory.item import Item
from drill.memory.kinds import Kinds
from drill.memory.learner import Learner
from drill.memory.states import is_fresh

Start = Literal["notes", "shapes", "speed"]
"""Where a learner begins: without the names of the notes, without the shapes, or only to become faster."""
LASTING = 0.95
"""The strength that a settled card still has in a week."""
WEEK_S = 7 * DAY_S
STRETCH = 2.0
"""No card is trusted beyond so many times the longest gap after which it came right: a model is no test."""
OVERNIGHT_S = DAY_S / 2
"""What came right after such a gap was not only remembered from the same sitting."""
STEADY = 0.8
"""The chance of a right answer within the bar from which a card is steady."""
KNEW_THEM = 0.9
"""Who has so many of the cards right in time at the first go of a drill knew them before it."""
PROVERS = 6
"""Of the cards that may prove another, so many are looked at."""
MOST_CARRIED = 9
"""A fact on which many cards rest makes a card worth more, up to so many of them."""


class Prospect(NamedTuple):
    """What the choice of a card depends on.

    Strength is the chance to be right, 0 to 1; `in_time` and `tomorrow` the chances to be right within the bar, or the
    card's longer target, now and in a day. `speed_s` is the expected thinking time, `rate` the gain per second.
    """

    strength: float
    speed_s: float
    rate: float
    in_time: float
    tomorrow: float


class Board:
    """The cards of a drill, in the order of the deck, and what is known of each of them now."""

    def __init__(self, learner: Learner, items: Iterable[Item], now_s: float, start: Start | None) -> None:
        ordered = sorted(items, key=lambda item: (item.order, item.card))
        self.items = {item.card: item for item in ordered}
        self.start = start
        self.now_s = now_s
        self.anatomy = Anatomy(self.items)
        self.bar_s = max((item.target_s for item in ordered), default=0.0)
        self.diary = Diary(now_s, self.bar_s)
        self.left_out: set[str] = set()
        """Cards that this drill asks no more."""
        self.kinds = Kinds()
        self.prospects: dict[str, Prospect] = {}
        self._provers = {item.card: tuple(self.anatomy.proving(item))[:PROVERS] for item in ordered}
        self._carriers = {item.card: tuple(self.anatomy.carrying(item))[:PROVERS] for item in ordered}
        self._carries = {item.card: self._carried(item) for item in ordered}
        self._proved: dict[str, bool] = {}
        self.renew(learner, now_s)

    def renew(self, learner: Learner, now_s: float) -> None:
        """Use another `Learner` from now on."""
        self.learner = learner
        done = self.diary.done
        self.fresh = {card: item for card, item in self.items.items() if is_fresh(learner, item) and card not in done}
        self.waiting = {card: item for card, item in self.items.items() if not (card in self.fresh or card in done)}
        """Cards met in earlier drills that this one has not asked yet."""
        self.told = [item for card, item in self.waiting.items() if learner.cards[card].was_told_last]
        """Those of them whose answer was told last, as after one that was played and missed, and not asked since."""
        self.kinds.renew(learner, self.items)
        self._ranked: list[Item] | None = None
        self._untried: set[str] = set()
        self._trusted = sorted(((self._trusted_until(card), card) for card in self.waiting), reverse=True)
        """The other waiting cards, and until when their past answers say enough; those for the longest first."""
        self.update(self.items.values(), now_s)

    def update(self, items: Iterable[Item], now_s: float) -> None:
        """Update the prospects of these cards; the time is now `now_s`."""
        self.now_s = now_s
        self._proved.clear()
        self._ranked = None
        learner = self.learner
        ticks = learner.clock.read(now_s, learner.constants)
        for item in items:
            strength = logistic(learner.log_odds(item, ticks))
            speed_s = math.exp(learner.ln_speed(item, strength))
            gain_per_s = rate(learner, item, ticks) * self._carries[item.card]
            in_time = self._in_time(item, strength)
            tomorrow = self._in_time(item, learner.strength(item, now_s + DAY_S))
            self.prospects[item.card] = Prospect(strength, speed_s, gain_per_s, in_time, tomorrow)

    def _in_time(self, item: Item, strength: float) -> float:
        return strength * within_target(self.learner, item, strength, max(item.target_s, self.bar_s))

    def _carried(self, item: Item) -> float:
        """How far the card helps others: the square root of the mean number of cards that rest on one of its facts."""
        cards = [min(len(self.anatomy.by_fact[fact]), MOST_CARRIED) for fact in item.facts]
        return math.sqrt(sum(cards) / len(cards)) if cards else 1.0

    # -- one card -------------------------------------------------------------------------------------------------

    def strength(self, item: Item) -> float:
        """Chance of recall now."""
        return self.prospects[item.card].strength

    def limit_s(self, item: Item) -> float:
        """The time above which a card counts as slow: its target; while new tasks wait, never less than a bar."""
        return max(item.target_s, self.bar_s) if self.unmet else item.target_s

    def is_slow(self, item: Item) -> bool:
        """Whether an answer is expected to take too long."""
        speed_s = self.prospects[item.card].speed_s
        return speed_s > item.target_s and speed_s > self.limit_s(item)

    def is_steady(self, item: Item) -> bool:
        """Whether the card holds in time, and not only because a miss was corrected a moment ago."""
        if item.card in self.fresh or item.card in self.diary.failed:
            return False
        return self.prospects[item.card].in_time >= STEADY

    def is_proved(self, item: Item) -> bool:
        """Whether a card that rests on the same facts keeps proving this one, so that it need not be asked itself."""
        proved = self._proved.get(item.card)
        if proved is None:
            proved = self._proved[item.card] = self.prover(item) is not None
        return proved

    def prover(self, item: Item) -> Item | None:
        """The first card that proves this one; None if there is none, or if this one was missed when last asked."""
        state = self.learner.cards.get(item.card)
        if item.card in self.diary.failed or (state is not None and state.failed):
            return None
        return next(filter(self.is_steady, self._provers[item.card]), None)

    def is_spared(self, item: Item) -> bool:
        """Whether the card needs no question of its own now: it is proved, or whole tasks carry it.

        A whole task that was met practises all that it takes, and when it fails, the part that failed comes by itself.
        A card that was ever missed is not spared before it has come right on a later day.
        """
        return self._is_carried(item) or self.is_proved(item)

    def _is_carried(self, item: Item) -> bool:
        state = self.learner.cards.get(item.card)
        if item.card in self.fresh or state is None or state.failed or (state.missed and state.proven_s < OVERNIGHT_S):
            return False
        return any(whole.card not in self.fresh for whole in self._carriers[item.card])

    def is_familiar(self, item: Item) -> bool:
        """Whether whole tasks have brought up all that the card asks: of what is new, it is the least new."""
        return bool(item.facts) and all(map(self._is_met_in_a_whole, item.facts))

    def _is_met_in_a_whole(self, fact: str) -> bool:
        anatomy = self.anatomy
        return any(other.card not in self.fresh and anatomy.is_whole(other) for other in anatomy.by_fact[fact])

    def was_asked(self, facts: Iterable[str]) -> bool:
        """Whether each of these facts was asked, in whatever cards."""
        known = self.learner.facts
        return all(fact in known and known[fact].asked for fact in facts)

    def was_told(self, item: Item) -> bool:
        """Whether the card's answer had been told before it came up last: by the card itself, or as a rule."""
        state, facts = self.learner.cards.get(item.card), self.learner.facts
        if state is not None and len(state.traces) > 1:
            return True
        rules = all(map(self.anatomy.is_rule, item.facts))
        return bool(item.facts) and rules and all(f in facts and len(facts[f].traces) > 1 for f in item.facts)

    def is_untried(self, item: Item) -> bool:
        """Whether the card was not asked for so long that its past answers say little, whatever the model predicts."""
        return item.card in self.learner.cards and self.now_s > self._trusted_until(item.card)

    def _trusted_until(self, card: str) -> float:
        state = self.learner.cards[card]
        return state.last_s + STRETCH * max(state.proven_s, DAY_S)

    def is_settled(self, item: Item) -> bool:
        """Whether the card is steady, will be strong and in time in a week, and has stood half of that untouched.

        The last is no prediction, and a weekend is too short for it: what is only predicted does not end a drill.
        """
        state = self.learner.cards.get(item.card)
        if state is None or STRETCH * state.proven_s < WEEK_S or self.is_slow(item) or not self.is_steady(item):
            return False
        in_a_week = self.learner.strength(item, self.now_s + WEEK_S)
        return in_a_week >= LASTING and self._in_time(item, in_a_week) >= STEADY

    # -- many cards ------------------------------------------------------------------------------------------------

    @property
    def unmet(self) -> bool:
        """Whether any card that nothing else proves was never asked."""
        return any(not self.anatomy.is_part(item) for item in self.fresh.values())

    def ranked(self) -> list[Item]:
        """The waiting cards, those first whose asking gains most for the time; as long as nothing is updated."""
        if self._ranked is None:
            self._ranked = self.by_rate(self.waiting.values())
        return self._ranked

    def by_rate(self, items: Iterable[Item]) -> list[Item]:
        """These cards, those first whose asking gains most for the time."""
        prospects = self.prospects
        return sorted(items, key=lambda item: prospects[item.card].rate, reverse=True)

    def untried(self) -> Iterator[Item]:
        """The waiting cards that are untried, those first whose asking gains most for the time."""
        while self._trusted and self._trusted[-1][0] < self.now_s:
            self._untried.add(self._trusted.pop()[1])
        if self._untried:
            yield from (item for item in self.ranked() if item.card in self._untried and self.is_untried(item))

    def has_open(self, count: int) -> bool:
        """Whether at least so many cards that nothing else proves were met and will not be steady tomorrow."""
        met = (item for card, item in self.items.items() if card not in self.fresh)
        open_ones = (i for i in met if self.prospects[i.card].tomorrow < STEADY and not self.is_spared(i))
        return sum(1 for _ in islice(open_ones, count)) == count

    def back(self) -> Iterator[Item]:
        """Cards missed in this drill that may return."""
        return (self.items[card] for card in self.diary.back(self.now_s, len(self.items) - 1, self._comes))

    def _comes(self, part: str) -> bool:
        """Whether a part that was asked for, or missed, is still to come in this drill."""
        return not self.kinds.rests(self.items[part].family) or (part in self.diary.missed and self.comes_back(part))

    def comes_back(self, card: str, *, surely: bool = False) -> bool:
        """Whether a card missed in this drill returns; of a kind that rests only the one missed longest ago does.

        It does so `surely` where no single miss could let its kind rest.
        """
        missed, family = self.diary.missed, self.items[card].family
        if card not in missed or not self.kinds.returns(family):
            return False
        first = next(other for other in missed if self.items[other].family == family)
        rests = self.kinds.may_rest_soon if surely else self.kinds.rests
        return card == first or not rests(family)

    def unproven(self) -> Iterator[Item]:
        """The cards that need a question and do not hold, in time, now and tomorrow; those never asked among them.

        What came right only in one sitting does not count: that it holds is no more than predicted.
        """
        for card, item in self.items.items():
            needs = not self.anatomy.is_part(item) if card in self.fresh else not self.is_spared(item)
            if needs and (card in self.fresh or not self._holds(item)):
                yield item

    def all_hold(self) -> bool:
        """Whether every card that needs a question was asked, and holds, in time, now and tomorrow."""
        return next(self.unproven(), None) is None

    def all_prompt(self) -> bool:
        """Whether all that this drill asked, and all that still needs a question, came right within its target.

        Only a learner who knew nearly all of it is done by that: what was told a moment ago is drilled on.
        """
        diary = self.diary
        return self.knew_them and all(item.card in diary.prompt for item in chain(diary.done.values(), self.unproven()))

    @property
    def knew_them(self) -> bool:
        """Whether nearly all cards of this drill came right in time at the first go."""
        first = self.diary.in_time.values()
        return sum(first) >= KNEW_THEM * len(first)

    def is_late(self, item: Item) -> bool:
        """Whether the card came right too late in this drill for who knew most of the others."""
        return self.knew_them and item.card not in self.diary.prompt

    def _holds(self, item: Item) -> bool:
        prospect, state = self.prospects[item.card], self.learner.cards[item.card]
        proven = state.proven_s >= OVERNIGHT_S and not state.failed
        return proven and not self.is_slow(item) and min(prospect.in_time, prospect.tomorrow) >= STEADY
