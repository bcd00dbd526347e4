"""The front: which card is asked for the first time next, and how much of a drill is new.

Every drill brings something new. When more than one in four of the latest twenty first answers to cards met before went
wrong, or many missed cards wait for their return, it is a card in SPARING_S seconds and no more. Otherwise at least a
tenth of the time is new while unmet cards remain, and more where few cards are open. While three in four answers come
right, up to a third is new before anything is refreshed, and facts never met come first: a card is put off while whole
tasks have brought up all that it asks. Whoever misses more goes on in the deck's order, parts before their wholes.

Where to begin is decided by `start`, or, without it, by the first answers: whole tasks from all over the deck, as long
as they come right in time. Whoever misses goes on in the deck's order. Whoever begins with the notes first meets those
that stand at the head of the deck, and in the first drill nothing else before almost all came right twice.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from itertools import islice, takewhile

from drill.memory.belief import logistic
from drill.memory.board import Board
from drill.memory.item import Item

SHARE = 0.1
"""The least share of a drill's time that is new."""
BRISK_SHARE = 1 / 3
"""The share that is new at most before cards that fade, while three in four answers come right."""
SPARING_S = 90.0
"""Where what is new is held back, one card comes in so many seconds: three in five minutes."""
OPEN_CARDS = 8
"""With so many open cards no more than the least share is new."""
OPEN_MISSES = 6
"""With so many missed cards waiting what is new is held back."""
PROBE = 10
"""So many first answers choose the place."""
PROBE_MISSES = 2
"""After so many of them that were not right in time, or one before any was, the learner goes on in the deck's order."""
PROBE_SHARE = 0.3
"""After the probe, the learner goes on as one who knows it all if less than this share was not right in time."""
GOLDEN = 0.618034
"""Steps of this share of a circle scatter any number of cards evenly."""
SURE_AFTER = 2
"""Whoever begins with the notes has them right so often, or is asked them once more than that, all but ..."""
STRAGGLERS = 2
"""... so many, before the first shape comes."""
KNOWN_AT_SIGHT = 0.9
"""Fresh cards that come right at first sight as surely as this let those of other families go first."""


class Front:
    """What is new, on the board of one drill."""

    def __init__(self, board: Board) -> None:
        self.board = board
        wholes = [item for item in board.items.values() if board.anatomy.is_whole(item)]
        self._scattered = _scattered(wholes)
        parts = takewhile(board.anatomy.is_part, board.items.values())
        self.opening = {part.card: part for part in parts} if board.start == "notes" else {}
        """The notes at the head of the deck, for who begins with them: the first drill makes sure of them by itself."""
        self._rehearsal = _scattered(self.opening.values())
        """The same in another order than they were met: each would else follow from the one before."""
        self._first_drill = all(item.card in board.fresh for item in wholes)
        self._too_many_misses = board.learner.recent.too_many_misses

    @property
    def held_back(self) -> bool:
        """Whether little is new, because too much of what was met went wrong."""
        return self._too_many_misses or self._misses_wait

    @property
    def is_owed(self) -> bool:
        """Whether what is new has had less than its least share so far."""
        diary = self.board.diary
        if self.held_back:
            return len(diary.new & diary.done.keys()) < self._spared(diary.spent_s)
        return diary.new_s < SHARE * diary.spent_s

    @property
    def is_brisk(self) -> bool:
        """Whether new cards come before those that fade: what was met goes well, and less than a third was new."""
        diary = self.board.diary
        return self.goes_well and not self.is_closed and diary.new_s < BRISK_SHARE * diary.spent_s

    @property
    def goes_well(self) -> bool:
        """Whether three in four answers come right: at first to what was met before, and in this drill."""
        diary = self.board.diary
        return self.board.learner.recent.goes_well and 4 * diary.right >= 3 * diary.answers

    @property
    def has_room(self) -> bool:
        """Whether more than the least share may be new: what was met comes easily, or few cards are open."""
        if self.held_back:
            return False
        return self.board.learner.recent.too_easy or not self.board.has_open(OPEN_CARDS)

    @property
    def is_closed(self) -> bool:
        """Whether nothing at all is asked for the first time now."""
        return (self.held_back and not self.is_owed) or bool(self.rehearsed)

    @property
    def rehearsed(self) -> list[Item]:
        """In the first drill of whoever begins with the notes, once all were asked: those to be made sure of first."""
        board, cards = self.board, self.board.learner.cards
        waits = self._first_drill and not board.kinds.any_rests
        if not waits or any(card in board.fresh for card in self.opening):
            return []
        states = ((item, cards[item.card]) for item in self._rehearsal if item.card not in board.left_out)
        unsure = [item for item, state in states if state.right < SURE_AFTER and state.asked <= SURE_AFTER]
        return unsure if len(unsure) > STRAGGLERS else []

    @property
    def _misses_wait(self) -> bool:
        """Whether too many missed cards wait for their return; those of one kind that rests do not count.

        Nothing of that kind is new then.
        """
        board, missed = self.board, self.board.diary.missed
        kinds = Counter(board.items[card].family for card in missed)
        spared = max((count for kind, count in kinds.items() if board.kinds.rests(kind)), default=0)
        return len(missed) - spared >= OPEN_MISSES

    def next(self, may: Callable[[Item], bool]) -> Iterator[Item]:
        """The next card to be asked for the first time, if any may be asked now."""
        if not self.is_closed:
            yield from islice(self._in_order(may), 1)

    def ahead(self, seconds: float, most: int) -> list[Item]:
        """The cards to be asked for the first time in a drill of so many seconds, at `most` so many of them."""
        if self.rehearsed:
            return []
        most = min(most, self._spared(seconds)) if self.held_back else most
        return list(islice(self._in_order(lambda item: True), most))

    @staticmethod
    def _spared(seconds: float) -> int:
        """How many new cards come in so many seconds while what is new is held back."""
        return round(seconds / SPARING_S)

    def _in_order(self, wanted: Callable[[Item], bool]) -> Iterator[Item]:
        board, fresh = self.board, self.board.fresh

        def may(item: Item) -> bool:
            return not board.kinds.rests(item.family) and wanted(item)

        if self.is_probing:
            yield from (item for item in self._scattered if item.card in fresh and may(item))
        yield from (item for item in self.opening.values() if item.card in fresh and may(item))
        familiar, later, goes_well = [], [], self.goes_well
        for item in fresh.values():
            if board.anatomy.is_part(item) or board.is_proved(item):
                continue
            if goes_well and board.is_familiar(item):
                familiar.append(item)
                continue
            parts = self._parts_first(item)
            yield from filter(may, parts)
            if may(item):
                if parts or self._is_known_at_sight(item):
                    later.append(item)
                else:
                    yield item
        yield from filter(may, familiar)
        yield from later

    def _parts_first(self, whole: Item) -> list[Item]:
        """The parts that come before a new whole, for who begins with the notes, and after many misses.

        A part whose facts were all asked in other cards, such as a rule in another key, does not come first, nor one of
        a kind that rests.
        """
        if self.board.start != "notes" and not self._too_many_misses:
            return []
        board, rests = self.board, self.board.kinds.rests
        new = (part for part in board.anatomy.parts.get(whole.card, ()) if part.card in board.fresh)
        return [part for part in new if not board.was_asked(part.facts) and not rests(part.family)]

    def _is_known_at_sight(self, item: Item) -> bool:
        """Whether cards like this, but for whole tasks, surely come right when they are first asked."""
        if self.board.anatomy.is_whole(item):
            return False
        return logistic(self.board.learner.first_sight_log_odds(item.family)) >= KNOWN_AT_SIGHT

    @property
    def is_probing(self) -> bool:
        """Whether whole tasks from all over the deck are asked, to find the learner's place."""
        if self.board.start == "speed":
            return True
        if self.board.start is not None or not self._first_drill:
            return False
        in_time = self.board.diary.in_time
        answers = [in_time[item.card] for item in self._scattered if item.card in in_time]
        late = answers.count(False)
        if late and not any(answers):
            return False
        return late < PROBE_MISSES or (len(answers) >= PROBE and late < PROBE_SHARE * len(answers))


def _scattered(items: Iterable[Item]) -> list[Item]:
    """The items from all over a list, evenly."""
    return [item for _, item in sorted(enumerate(items), key=lambda each: each[0] * GOLDEN % 1.0)]
