"""Plans a drill: what to ask next, and why.

The rules are those of a private teacher with five minutes a day:

- The whole task comes first, from the first drill on; its parts come when it fails (`anatomy`).
- What was missed in this drill comes back after RETURN_S seconds and RETURN_AFTER other questions (`diary`).
- The front always moves: every drill brings something new while there is anything new (`front`).
- What was asked MOST_ASKED times in this drill rests until tomorrow while anything else may come (`diary`).
- What whole tasks practise anyway needs no question of its own until it was missed (`board`).
- Of the cards that may come for the same reason, the one with the highest gain per second of the learner's time comes
  (`gain`); it counts for more if many others rest on its facts, and for less if it resembles the question before.
- The first card of a kind is shown solved, and the next one is asked (`solved`).
- A kind that goes badly rests until tomorrow while anything else may come, but for one missed card, and holds nothing
  else up (`kinds`).
- When everything is known and will be tomorrow, the drill ends early: at once if it is settled, or else after ENOUGH_S.
  So it does once everything that needs a question came right in time today, almost always at the first go.

`pools.POOLS` says in which order. The planner never asks a card that it asked just before, nor one whose answer the
question before gave away, as long as there is another. Nothing depends on chance.
"""

import math
from collections.abc import Iterable, Iterator
from itertools import chain, cycle, islice
from typing import NamedTuple

from drill.memory.board import Board, Start
from drill.memory.diary import RETURN_S
from drill.memory.front import Front
from drill.memory.item import Attempt, Item
from drill.memory.learner import Learner
from drill.memory.pools import POOLS, REFRESH_BELOW, May, Pool
from drill.memory.reasons import Ending, Reason, ReasonKind
from drill.memory.solved import Lessons
from drill.memory.states import State, state_of

ALIKE = 0.8
"""Factor for each thing that a card has in common with the question before: family, string, key, shape."""
LEAST_S = 2.0
"""With less time left than this, nothing more is asked."""
TIGHT_S = 20.0
"""With less time left than this, a card is asked only if its answer is expected in time."""
ENOUGH_S = 60.0
"""After so many seconds a drill ends if all that is left is to deepen what holds, or came right in time today."""
SHORTLIST = 8
FORESEEN = 6
"""A preview names so many of the cards to be asked for the first time."""
SLICE = 8
"""Before each choice the planner updates the prospects of so many of the likeliest cards, and of the rest in turn."""


_NEEDED_AGAIN = (ReasonKind.FADING, ReasonKind.UNTRIED, ReasonKind.SLOW)
"""The pools of cards that were asked before and need it again."""
_PLAIN = tuple(map(ReasonKind, ("part", "missed", "failed", "fresh", "example", "reminder")))
"""What is told as it is, whatever the state of the card."""
_DEEPENING = (ReasonKind.HOLDING, ReasonKind.AGAIN)
"""The pools of cards that can wait."""


class Choice(NamedTuple):
    """The next card, and why it was chosen."""

    card: str
    reason: Reason
    solved: bool = False
    """Whether the card is to be shown with its answer and its reason, and not to be asked."""


class Standing(NamedTuple):
    """Why a card is, or is not, what a drill asks now.

    `first` says that a drill which began now would ask it first; `after` names the cards, never asked yet, that come
    before it the first time.
    """

    reason: Reason
    first: bool
    after: tuple[str, ...] = ()


class Preview(NamedTuple):
    """What a drill will hold: cards in each state, and the cards it begins with.

    `new` are to be asked for the first time, in their order; `back` were asked and need it again, the worthiest first.
    A drill that has to ask `needed` cards before it may end early ends at once where it `asks` nothing.
    """

    fading: int
    slow: int
    fresh: int
    fluent: int
    needed: int
    asks: bool = True
    new: tuple[str, ...] = ()
    back: tuple[str, ...] = ()


class Planner:
    """Plans one drill over `items` (a deck, or the part of it that a focus leaves), beginning at `now_s`."""

    def __init__(self, learner: Learner, items: Iterable[Item], now_s: float, start: Start | None = None) -> None:
        self._board = Board(learner, items, now_s, start)
        self._front = Front(self._board)
        self._lessons = Lessons(self._board)
        self._touched: list[Item] = []
        """Cards whose prospects have changed since the last choice."""
        self._turn = cycle(self._board.items.values())
        self.ending: Ending | None = None
        """Why `next` gave None the last time."""

    @property
    def learner(self) -> Learner:
        """The learner whose memory the planner goes by."""
        return self._board.learner

    def renew(self, learner: Learner, now_s: float) -> None:
        """Use another `Learner` from now on: the same person, of whom more attempts have been read."""
        self._board.renew(learner, now_s)
        self._lessons.renew()

    def leave_out(self, card: str) -> None:
        """Ask a card no more in this drill."""
        self._board.left_out.add(card)

    def preview(self, now_s: float, seconds: float) -> Preview:
        """What a drill of so many seconds that begins at `now_s` will hold."""
        states = [state_of(self.learner, item, now_s) for item in self._board.items.values()]
        counts = {state.value: states.count(state) for state in State}
        needed, asks = sum(1 for _ in self._board.unproven()), self.next(now_s, seconds) is not None
        new = tuple(item.card for item in self._front.ahead(seconds, FORESEEN))
        return Preview(**counts, needed=needed, asks=asks, new=new, back=self._back_again())

    def is_through(self, attempts: Iterable[Attempt]) -> bool:
        """Whether nothing is left that a drill has to ask today, after these attempts of today that were learnt."""
        board = self._board
        for attempt in attempts:
            if attempt.card in board.items:
                board.diary.add(board.items[attempt.card], attempt, new=False)
        return bool(board.diary.done) and self._is_all_done

    def _back_again(self) -> tuple[str, ...]:
        pools = (pool for pool in POOLS if pool.name in _NEEDED_AGAIN)
        again = chain.from_iterable(pool.members(self._board, self._front, lambda item: True) for pool in pools)
        members = chain(again, self._front.rehearsed)
        prospects = self._board.prospects
        return tuple(sorted({item.card for item in members}, key=lambda card: (-prospects[card].rate, card)))

    def next(self, now_s: float, seconds_left: float) -> Choice | None:
        """The card to ask at `now_s`; None if nothing is left to ask, or no time to ask it: `ending` says which."""
        self._board.update(chain(self._touched, self._slice()), now_s)
        self._touched.clear()
        found = self._pick(seconds_left) if seconds_left >= LEAST_S else None
        if found is None or self._is_enough(*found, seconds_left):
            self.ending = self._ending(seconds_left)
            return None
        item, pool = found
        solved = self._lessons.wants(item)
        return Choice(item.card, self._reason(item, self._why_solved(item, pool) if solved else pool.name), solved)

    def _why_solved(self, item: Item, pool: Pool) -> ReasonKind:
        if self._lessons.is_reminder(item):
            return ReasonKind.REMINDER
        return ReasonKind.EXAMPLE if self._lessons.is_met(item) else pool.name

    def _is_enough(self, item: Item, pool: Pool, seconds_left: float) -> bool:
        """Whether the rest of the time is better spent on something else."""
        enough = self._board.diary.spent_s >= ENOUGH_S and seconds_left >= TIGHT_S
        can_wait = pool.name in _DEEPENING or (pool.name is ReasonKind.FRESH and self._board.anatomy.is_part(item))
        return enough and can_wait and self._is_all_done

    @property
    def _is_all_done(self) -> bool:
        """Whether whatever needs a question holds, or came right in time in this drill."""
        return self._board.all_hold() or self._board.all_prompt()

    def comes_back(self, card: str, seconds_left: float) -> bool:
        """Whether a card that was missed just now is sure to be asked again in this drill."""
        if seconds_left < RETURN_S + TIGHT_S or card in self._board.left_out:
            return False
        return self._board.comes_back(card, surely=True)

    def standing(self, card: str, now_s: float, seconds_left: float) -> Standing:
        """Why the card would be asked now, or why not; `KeyError` for a card that is not among the items."""
        choice = self.next(now_s, seconds_left)
        if choice is not None and choice.card == card:
            return Standing(choice.reason, True)
        board, item = self._board, self._board.items[card]
        board.update([item], now_s)
        if card not in board.fresh:
            return Standing(self._reason(item, ReasonKind.HOLDING), False)
        prover = board.prover(item)
        after = tuple(whole.card for whole in board.anatomy.wholes_of.get(card, ()) if whole.card in board.fresh)
        kind = ReasonKind.PROVED if prover else ReasonKind.LATER
        told = self._reason(item, ReasonKind.FRESH)._replace(kind=kind, other=prover.card if prover else None)
        return Standing(told, False, after)

    def observe(self, attempt: Attempt) -> None:
        """Take an attempt with its net thinking time into account, after `Learner.observe` has."""
        board = self._board
        item = board.items.get(attempt.card)
        if item is None:
            return
        part = self._failed_part(item, attempt) if attempt.right is False else None
        board.diary.add(item, attempt, new=item.card in board.fresh, part=part.card if part else None)
        self._lessons.observe(item, attempt)
        if attempt.right is not None:
            board.kinds.observe(item, attempt.right, board.was_told(item))
            board.fresh.pop(item.card, None)
            board.waiting.pop(item.card, None)
        self._touched.append(item)
        self._touched += (other for fact in item.facts for other in board.anatomy.by_fact[fact][:SHORTLIST])

    def _failed_part(self, item: Item, attempt: Attempt) -> Item | None:
        """The part that a missed whole is put down to: the one about the mix-up's fact, or else the weakest.

        What is the whole's own is likelier to have failed than a rule, which holds in every key. None has failed where
        the mix-up says that the parts were right.
        """
        anatomy = self._board.anatomy
        if attempt.parts_right:
            return None
        if attempt.mixed_fact in item.facts:
            return anatomy.part_about(item, attempt.mixed_fact)
        return min(anatomy.parts.get(item.card, ()), key=self._shakiness, default=None)

    def _shakiness(self, part: Item) -> tuple[bool, float, float]:
        prospect = self._board.prospects[part.card]
        return all(map(self._board.anatomy.is_rule, part.facts)), prospect.strength, -prospect.speed_s

    def _slice(self) -> Iterator[Item]:
        return islice(self._turn, min(SLICE, len(self._board.items)))

    # -- choosing -------------------------------------------------------------------------------------------------

    def _pick(self, seconds_left: float) -> tuple[Item, Pool] | None:
        """The best card and its pool, chosen as far from the questions before as the size of the deck allows."""
        for may in self._distances(seconds_left):
            for pool in POOLS:
                members = pool.members(self._board, self._front, may)
                item = self._worthiest(members) if pool.by_worth else next(iter(members), None)
                if item is not None:
                    return item, pool
        return None

    def _distances(self, seconds_left: float) -> tuple[May, ...]:
        """Which cards may come: those that the question before does not give away, then those not asked just now.

        Before them those of kinds that do not rest, and first the cards that do not rest themselves; and after a solved
        card before all another of its kind that has nothing else in common with it.
        """
        board = self._board
        asked = board.diary.asked
        recent = {item.card for item in asked}
        told = board.anatomy.given_away(asked[-1]) if asked else set()
        tight = seconds_left < TIGHT_S

        def fits(item: Item) -> bool:
            in_time = not tight or board.prospects[item.card].speed_s <= seconds_left
            return in_time and item.card not in board.left_out

        def rested(item: Item) -> bool:
            return item.card not in recent and fits(item)

        def apart(item: Item) -> bool:
            return rested(item) and told.isdisjoint(item.facts)

        def welcome(item: Item) -> bool:
            return (not board.kinds.rests(item.family) or board.comes_back(item.card)) and apart(item)

        def awake(item: Item) -> bool:
            return not board.diary.is_tired(item.card) and welcome(item)

        def other(item: Item) -> bool:
            return (item is not asked[-1] or len(board.items) == 1) and fits(item)

        def of_its_kind(item: Item) -> bool:
            shown = board.diary.shown
            return shown is not None and item.family == shown.family and not item.groups & shown.groups and apart(item)

        if not asked:
            return (apart,)
        return (*((of_its_kind,) if board.diary.shown else ()), awake, welcome, apart, rested, other)

    def _worthiest(self, members: Iterable[Item]) -> Item | None:
        prospects, shortlist = self._board.prospects, list(islice(members, SHORTLIST))
        if not shortlist:
            return None
        self._board.update(shortlist, self._board.now_s)
        return max(shortlist, key=lambda item: (prospects[item.card].rate * self._variety(item), -item.order))

    def _variety(self, item: Item) -> float:
        asked = self._board.diary.asked
        if not asked:
            return 1.0
        return math.pow(ALIKE, len(asked[-1].groups & item.groups) + (asked[-1].family == item.family))

    def _ending(self, seconds_left: float) -> Ending:
        if self._board.items and seconds_left < TIGHT_S:
            return Ending.TIME
        if not self._board.items or not self._is_all_done:
            return Ending.EMPTY
        return Ending.KNOWN if self._board.all_hold() else Ending.IN_TIME

    # -- reasons --------------------------------------------------------------------------------------------------

    def _reason(self, item: Item, kind: ReasonKind) -> Reason:
        prospect = self._board.prospects[item.card]
        state = self.learner.cards.get(item.card)
        idle_s = self._board.now_s - state.last_s if state else 0.0
        kind, other = self._told(item, kind), self._board.diary.errands.get(item.card)
        return Reason(kind, prospect.strength, prospect.speed_s, item.target_s, idle_s, other)

    def _told(self, item: Item, kind: ReasonKind) -> ReasonKind:
        """What to tell of a card from a pool of this name: where its own state says more, that."""
        if kind is ReasonKind.FRESH and item.card in self.learner.cards:
            return ReasonKind.SHOWN
        if kind is ReasonKind.PART and item.card in self._board.diary.blamed:
            return ReasonKind.FAILED_PART
        if kind in _PLAIN:
            return kind
        state, answers = state_of(self.learner, item, self._board.now_s), self.learner.cards[item.card]
        if not answers.right:
            return ReasonKind.NEVER_RIGHT
        if answers.failed:
            return ReasonKind.FAILED
        if kind in _DEEPENING and self._comes_instead(item):
            return ReasonKind.INSTEAD
        if kind in (ReasonKind.UNTRIED, ReasonKind.SETTLING, ReasonKind.AGAIN):
            return kind
        if state in (State.FADING, State.SLOW):
            return ReasonKind(state.value)
        return ReasonKind.REFRESH if self._board.strength(item) < REFRESH_BELOW else ReasonKind.HOLDING

    def _comes_instead(self, item: Item) -> bool:
        """Whether the card goes well and comes because others, which do not, rest until tomorrow."""
        kinds, diary = self._board.kinds, self._board.diary
        if kinds.rests(item.family):
            return False
        return kinds.any_rests or (diary.any_left and not diary.is_tired(item.card))
