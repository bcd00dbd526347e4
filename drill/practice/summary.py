"""Sums up a drill from its verdicts."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from statistics import median

from drill.decks import Deck
from drill.memory import Ending, Item, Learner, fades_at, is_fresh, is_holding
from drill.memory.board import STRETCH
from drill.memory.constants import DAY_S
from drill.present.dates import FAR_DAYS
from drill.present.summaries import EARLY, MixupCount, Move, Return, Slow, Summary
from drill.present.verdicts import Verdict
from drill.questions.facets import Group
from drill.theory.keys import Key

MOST_MOVES = 5
MOST_SLOW = 3


def summarise(
    verdicts: Sequence[Verdict],
    seconds: float,
    deck: Deck,
    learner: Learner,
    now_s: float,
    ending: Ending | None = None,
) -> Summary:
    """The summary of a drill of so many seconds that ends at `now_s`, for this reason if it was not left.

    Once all that needs a question was asked, cards that were not are no reason to come back.
    """
    first = {verdict.card.id: verdict for verdict in reversed(verdicts)}
    last = {verdict.card.id: verdict for verdict in verdicts}
    items = [deck.entries[card].item for card in first if not is_fresh(learner, deck.entries[card].item)]
    is_more_new = ending not in EARLY and any(is_fresh(learner, item) for item in deck.items)
    returns_for, returns_at_s = _return(items, is_more_new, learner, now_s)
    if ending is Ending.IN_TIME:
        returns_for, returns_at_s = Return.TEST, now_s + DAY_S
    return Summary(
        answered=len(verdicts),
        right=sum(verdict.right for verdict in verdicts),
        first_time=sum(verdict.fresh for verdict in first.values()),
        seconds=seconds,
        moved=_moves(first, last, deck, learner, now_s),
        mixups=_mixups(verdicts),
        slowest=_slowest(verdicts, deck),
        returns_at_s=returns_at_s,
        returns_for=returns_for,
        keys=_keys(verdicts, deck),
        ending=ending,
    )


def _return(
    items: Sequence[Item], is_more_new: bool, learner: Learner, now_s: float
) -> tuple[Return | None, float | None]:
    """Why to drill again, and when: not before tomorrow, for a night does more for a miss than a second drill."""
    if not items:
        return None, None
    tomorrow_s = now_s + DAY_S
    if is_more_new:
        return Return.NEW, tomorrow_s
    if not all(is_holding(learner, item, now_s) for item in items):
        return Return.MISSED, tomorrow_s
    fades_s = min(fades_at(learner, item, now_s) or now_s for item in items)
    tested_s = min(_trusted_until_s(learner, item, now_s) for item in items)
    return (Return.FADES, max(fades_s, tomorrow_s)) if fades_s <= tested_s else (Return.TEST, tested_s)


def _trusted_until_s(learner: Learner, item: Item, now_s: float) -> float:
    """Until when a card that holds is left alone, however strong the model expects it to be.

    The planner trusts it no longer than STRETCH times the longest gap after which it came right; see also FAR_DAYS.
    """
    proven_s = max(learner.cards[item.card].proven_s, DAY_S)
    return now_s + min(STRETCH * proven_s, FAR_DAYS * DAY_S)


def _moves(
    first: Mapping[str, Verdict], last: Mapping[str, Verdict], deck: Deck, learner: Learner, now_s: float
) -> tuple[Move, ...]:
    """The cards whose strength changed most, from before their first answer to now.

    A card that was not known when it was last asked has gained nothing yet: the learner only saw its answer. A card
    that has never come right had nothing to lose either.
    """
    moves = [
        Move(
            card,
            v.card.prompt,
            v.fresh,
            v.strength_before,
            learner.strength(deck.entries[card].item, now_s),
            v.last_thinking_s,
            last[card].counted_s if last[card].right and last[card].how == v.how else None,
        )
        for card, v in first.items()
    ]
    known = [move for move in moves if learner.cards[move.card].right]
    moved = [move for move in known if last[move.card].right or move.after < move.before]
    return tuple(sorted(moved, key=lambda move: -abs(move.after - move.before))[:MOST_MOVES])


def _mixups(verdicts: Iterable[Verdict]) -> tuple[MixupCount, ...]:
    mixups = [(verdict.mixup, verdict.card.prompt) for verdict in verdicts if verdict.mixup]
    counts = Counter(mixup.name for mixup, _ in mixups)
    examples = {mixup.name: (mixup.sentence, prompt) for mixup, prompt in reversed(mixups)}
    return tuple(MixupCount(name, count, *examples[name]) for name, count in counts.most_common())


def _keys(verdicts: Sequence[Verdict], deck: Deck) -> tuple[Key, ...]:
    """The keys of these questions, those missed most first, then the slowest."""
    missed: Counter[Key] = Counter()
    times: dict[Key, list[float]] = defaultdict(list)
    for verdict in verdicts:
        key = getattr(deck.entries[verdict.card.id].facets, "key", None)
        if isinstance(key, Key):
            missed[key] += not verdict.right
            times[key].append(verdict.counted_s or 0.0)
    return tuple(sorted(times, key=lambda key: (-missed[key], -median(times[key]))))


def _slowest(verdicts: Iterable[Verdict], deck: Deck) -> tuple[Slow, ...]:
    """Strings and keys by the median thinking time of their right answers, slowest first; played ones take longer."""
    times: dict[Group, list[float]] = defaultdict(list)
    for verdict in verdicts:
        if verdict.right and verdict.counted_s is not None and verdict.how == "typed":
            for group in deck.entries[verdict.card.id].groups:
                if group.facet in ("string", "key"):
                    times[group].append(verdict.counted_s)
    slow = [Slow(group, median(seconds)) for group, seconds in sorted(times.items(), key=lambda item: str(item[0]))]
    return tuple(sorted(slow, key=lambda each: -each.seconds)[:MOST_SLOW])
