"""What came of a drill: what moved, what was mixed up, what was slow, and when to come back."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from statistics import median
from typing import NamedTuple

from drill.decks import Deck
from drill.memory import Learner, fades_at
from drill.practice.verdict import Verdict
from drill.present.figures import per_cent
from drill.questions.facets import Group

MOST_MOVES = 5
MOST_SLOW = 3


class Move(NamedTuple):
    """How the strength of a card (0-1) changed over the drill.

    Of a `fresh` card, met for the first time, `before` is a guess from others of its family.
    """

    card: str
    prompt: str
    fresh: bool
    before: float
    after: float

    @property
    def start(self) -> str:
        """Where it stood before, in words: nobody had measured a fresh card."""
        return "new" if self.fresh else per_cent(self.before)


class MixupCount(NamedTuple):
    """A kind of mix-up met in the drill, how often, and one example in words."""

    name: str
    times: int
    example: str


class Slow(NamedTuple):
    """A string or a key, and the median thinking time of its right answers, in seconds."""

    group: Group
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
    last = {verdict.card.id: verdict for verdict in verdicts}
    fading = [fades_at(learner, deck.entries[card].item, now_s) for card in first]
    return Summary(
        answered=len(verdicts),
        right=sum(verdict.right for verdict in verdicts),
        first_time=sum(verdict.fresh for verdict in first.values()),
        seconds=seconds,
        moved=_moves(first, last, deck, learner, now_s),
        mixups=_mixups(verdicts),
        slowest=_slowest(verdicts, deck),
        come_back_s=min((at for at in fading if at is not None), default=None),
    )


def _moves(
    first: Mapping[str, Verdict], last: Mapping[str, Verdict], deck: Deck, learner: Learner, now_s: float
) -> tuple[Move, ...]:
    """The cards whose strength changed most, from before their first answer to now.

    A card that was not known when it was last asked has gained nothing yet: its answer was shown, and that is all. One
    that has never come right has had nothing to lose either.
    """
    moves = [
        Move(card, v.card.prompt, v.fresh, v.strength_before, learner.strength(deck.entries[card].item, now_s))
        for card, v in first.items()
    ]
    known = [move for move in moves if learner.cards[move.card].right]
    true = [move for move in known if last[move.card].right or move.after < move.before]
    return tuple(sorted(true, key=lambda move: -abs(move.after - move.before))[:MOST_MOVES])


def _mixups(verdicts: Iterable[Verdict]) -> tuple[MixupCount, ...]:
    met = [verdict.mixup for verdict in verdicts if verdict.mixup]
    counts = Counter(mixup.name for mixup in met)
    examples = {mixup.name: mixup.sentence for mixup in reversed(met)}
    return tuple(MixupCount(name, count, examples[name]) for name, count in counts.most_common())


def _slowest(verdicts: Iterable[Verdict], deck: Deck) -> tuple[Slow, ...]:
    """Strings and keys by the median thinking time of their right answers, slowest first."""
    times: dict[Group, list[float]] = defaultdict(list)
    for verdict in verdicts:
        if verdict.right and verdict.thinking_s is not None:
            for group in deck.entries[verdict.card.id].groups:
                if group.facet in ("string", "key"):
                    times[group].append(verdict.thinking_s)
    slow = [Slow(group, median(seconds)) for group, seconds in sorted(times.items(), key=lambda item: str(item[0]))]
    return tuple(sorted(slow, key=lambda each: -each.seconds)[:MOST_SLOW])
