"""The pools a card is chosen from, as rows: a name, who may come, and what counts. The first that is not empty decides.

POOLS says in which order; `Pool.name` is also the reason that a face puts into words, where the state of the card does
not say more.
"""

from collections.abc import Callable, Iterable, Iterator
from itertools import chain, islice, takewhile
from typing import NamedTuple

from drill.memory.board import Board
from drill.memory.diary import RETURN_S
from drill.memory.front import Front
from drill.memory.item import Item
from drill.memory.reasons import ReasonKind

FIRST_BELOW = 0.85
"""Cards weaker than this come before more of what is new."""
REFRESH_BELOW = 0.95
SETTLED = 0.6
"""A card that has this chance to come in time tomorrow has had its share of its first drill."""
HOPELESS = 5.0
"""A weak card waits while something new gains so many times as much in the same time."""

May = Callable[[Item], bool]


class Pool(NamedTuple):
    """Cards to choose from.

    `members` gives those that may come. The first of all comes; `by_worth`, the worthiest, and then the members are
    those first whose asking gains most for the time, so that only the first few need to be looked at.
    """

    name: ReasonKind
    members: Callable[[Board, Front, May], Iterable[Item]]
    by_worth: bool = True


def _errands(board: Board, front: Front, may: May) -> Iterator[Item]:
    """Parts of whole tasks that failed in this drill."""
    return (item for card in board.diary.errands if may(item := board.items[card]))


def _back(board: Board, front: Front, may: May) -> Iterator[Item]:
    """Cards missed in this drill that have rested."""
    return filter(may, board.back())


def _owed(board: Board, front: Front, may: May) -> Iterable[Item]:
    """What is new, while it has not had its least share of the time; at last the parts that were never asked."""
    return islice(chain(front.next(may), _parts(board, front, may)), 1) if front.is_owed else ()


def _missed_by_ear(board: Board, front: Front, may: May) -> Iterator[Item]:
    """Cards that were played and missed in an earlier drill, and have not been asked since."""
    return (item for item in board.told if item.card in board.waiting and may(item))


def _brisk(board: Board, front: Front, may: May) -> Iterable[Item]:
    """What is new, while what was met goes well."""
    return front.next(may) if front.is_brisk else ()


def _rehearsed(board: Board, front: Front, may: May) -> Iterable[Item]:
    """The notes of a first drill, before anything else is new."""
    return (item for item in front.rehearsed if item.card not in board.diary.missed and may(item))


def _weak(board: Board, front: Front, may: May) -> Iterator[Item]:
    """Cards that fade or soon will, and that need a question of their own."""
    weak = (i for i in board.ranked() if board.strength(i) < FIRST_BELOW and not board.is_spared(i) and may(i))
    first = next(weak, None)
    if first is not None:
        new = max((board.prospects[item.card].rate for item in front.next(may)), default=0.0)
        yield from takewhile(lambda item: board.prospects[item.card].rate >= new / HOPELESS, chain((first,), weak))


def _untried(board: Board, front: Front, may: May) -> Iterator[Item]:
    """Cards that were not asked for longer than they were ever tested, and that nothing proves."""
    return (item for item in board.untried() if not board.is_proved(item) and may(item))


def _settling(board: Board, front: Front, may: May) -> Iterator[Item]:
    """Cards of this drill that are not steady yet."""
    rested = board.now_s - RETURN_S
    return (
        item
        for item in board.by_rate(board.diary.done.values())
        if item.card not in board.diary.missed
        and item.card not in front.opening
        and board.diary.right_at.get(item.card, 0.0) < rested
        and (board.prospects[item.card].tomorrow < SETTLED or board.is_late(item))
        and not board.is_spared(item)
        and may(item)
    )


def _room(board: Board, front: Front, may: May) -> Iterable[Item]:
    """What is new, while few cards are open."""
    return front.next(may) if front.has_room else ()


def _unsteady(board: Board, front: Front, may: May) -> Iterator[Item]:
    """Cards that are slower than a bar, or will not hold for long."""
    return (
        item
        for item in board.ranked()
        if (board.strength(item) < REFRESH_BELOW or board.is_slow(item)) and not board.is_spared(item) and may(item)
    )


def _next_thing(board: Board, front: Front, may: May) -> Iterable[Item]:
    """What is new, when nothing is urgent."""
    return () if front.is_closed else front.next(may)


def _deepening(board: Board, front: Front, may: May) -> Iterator[Item]:
    """Cards that hold and are not settled for good."""
    return (i for i in board.ranked() if not board.is_spared(i) and not board.is_settled(i) and may(i))


def _parts(board: Board, front: Front, may: May) -> Iterable[Item]:
    """Parts that were never asked themselves, in the order of the deck."""
    if front.is_closed:
        return ()
    return (item for item in board.fresh.values() if not board.kinds.rests(item.family) and may(item))


def _automatic(board: Board, front: Front, may: May) -> Iterator[Item]:
    """Cards that need no question of their own, and do not come by themselves yet."""
    return (item for item in board.ranked() if not board.is_settled(item) and may(item))


def _again(board: Board, front: Front, may: May) -> Iterator[Item]:
    """Cards of this drill that are not settled, once they have rested."""
    rested = board.now_s - RETURN_S
    return (item for item in _at_once(board, front, may) if board.diary.right_at.get(item.card, 0.0) < rested)


def _at_once(board: Board, front: Front, may: May) -> Iterator[Item]:
    """Cards of this drill that are not settled, rested or not: only of a few cards so much is left."""
    done, missed = board.by_rate(board.diary.done.values()), board.diary.missed
    return (item for item in done if item.card not in missed and not board.is_settled(item) and may(item))


def _too_soon(board: Board, front: Front, may: May) -> Iterator[Item]:
    """Missed cards before their time, the one missed longest ago first."""
    return (item for card in board.diary.missed if may(item := board.items[card]))


POOLS = (
    Pool(ReasonKind.PART, _errands, by_worth=False),
    Pool(ReasonKind.MISSED, _back, by_worth=False),
    Pool(ReasonKind.FRESH, _owed, by_worth=False),
    Pool(ReasonKind.FAILED, _missed_by_ear, by_worth=False),
    Pool(ReasonKind.FRESH, _brisk, by_worth=False),
    Pool(ReasonKind.SETTLING, _rehearsed, by_worth=False),
    Pool(ReasonKind.FADING, _weak),
    Pool(ReasonKind.UNTRIED, _untried),
    Pool(ReasonKind.SETTLING, _settling),
    Pool(ReasonKind.FRESH, _room, by_worth=False),
    Pool(ReasonKind.SLOW, _unsteady),
    Pool(ReasonKind.FRESH, _next_thing, by_worth=False),
    Pool(ReasonKind.HOLDING, _deepening),
    Pool(ReasonKind.FRESH, _parts, by_worth=False),
    Pool(ReasonKind.HOLDING, _automatic),
    Pool(ReasonKind.AGAIN, _again),
    Pool(ReasonKind.AGAIN, _at_once),
    Pool(ReasonKind.MISSED, _too_soon, by_worth=False),
)
"""Every pool, the most urgent first."""
