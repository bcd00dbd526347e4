"""What came of a drill: what moved, what was mixed up, what was slow, and when to come back."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from statistics import median
from typing import NamedTuple

from drill.decks import Deck
from drill.memory import Learner, fades_at
from drill.verdict import Verdict

MOST_MOVES = 5
MOST_SLOW = 3


class Move(NamedTuple):
    """How the strength of a card (0-1) changed over the drill."""

    card: str
    prompt: str
    before: float
    after: float


class MixupCount(NamedTuple):
    """A kind of mix-up met in the drill, how often, and one example in words."""

    name: str
    times: int
    example: str


class Slow(NamedTuple):
    """A string or key group ('string-6', 'key-Fm') and the median thinking time of its right answers, in seconds."""

    group: str
    seconds: float


class Summary(NamedTuple):
    """The whole of a drill. `come_back_s` is when the first of its cards fades, in seconds since the epoch."""

    answered: int
    right: int
    first_time: int
    seconds: float
    moved: tuple[Move, ...]
    mixups: tuple[MixupCount, ...]
    slowest: tuple[Slow, ...]
    come_back_s: float | None


def summarise(verdicts: Sequence[Verdict], seconds: float, deck: Deck, learner: Learner, now_s: float) -> Summary:
    """Sum a drill up from its verdicts."""
    first = {verdict.card.id: verdict for verdict in reversed(verdicts)}
    fading = [fades_at(learner, deck.entries[card].item, now_s) for card in first]
    return Summary(
        answered=len(verdicts),
        right=sum(verdict.right for verdict in verdicts),
        first_time=sum(verdict.fresh for verdict in first.values()),
        seconds=seconds,
        moved=_moves(first.values(), deck, learner, now_s),
        mixups=_mixups(verdicts),
        slowest=_slowest(verdicts, deck),
        come_back_s=min((at for at in fading if at is not None), default=None),
    )


def _moves(first: Iterable[Verdict], deck: Deck, learner: Learner, now_s: float) -> tuple[Move, ...]:
    """The cards whose strength changed most, from before their first answer to now."""
    moves = [
        Move(v.card.id, v.card.prompt, v.strength_before, learner.strength(deck.entries[v.card.id].item, now_s))
        for v in first
    ]
    return tuple(sorted(moves, key=lambda move: -abs(move.after - move.before))[:MOST_MOVES])


def _mixups(verdicts: Iterable[Verdict]) -> tuple[MixupCount, ...]:
    met = [verdict.mixup for verdict in verdicts if verdict.mixup]
    counts = Counter(mixup.name for mixup in met)
    examples = {mixup.name: mixup.sentence for mixup in reversed(met)}
    return tuple(MixupCount(name, count, examples[name]) for name, count in counts.most_common())


def _slowest(verdicts: Iterable[Verdict], deck: Deck) -> tuple[Slow, ...]:
    """Strings and keys by the median thinking time of their right answers, slowest first."""
    times: dict[str, list[float]] = defaultdict(list)
    for verdict in verdicts:
        if verdict.right and verdict.thinking_s is not None:
            for group in deck.entries[verdict.card.id].item.groups:
                if group.startswith(("string-", "key-")):
                    times[group].append(verdict.thinking_s)
    slow = [Slow(group, median(seconds)) for group, seconds in sorted(times.items())]
    return tuple(sorted(slow, key=lambda each: -each.seconds)[:MOST_SLOW])
