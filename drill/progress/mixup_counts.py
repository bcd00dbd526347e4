"""Mix-ups counted from the log: how often each happened, and of how many answers where it could have.

A slip happens now and then wherever it can; a mix-up that is the learner's rule happens almost every time. So what
stands out is not the count but the rate.

    MixupCounts    one pass over the log
    MixupRow       what was confused with what, how often, the focus that cures it, and an example
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple

from drill.decks import Deck, Focus, card_of, entry_of
from drill.errors import FretsureError
from drill.progress.asked_cards import card_as_asked, entry_in
from drill.questions.card import Card
from drill.questions.facets import string_of
from drill.record import AttemptRow

DOUBT = 20
"""So many answers without the mix-up are added to what was seen when mix-ups are ranked: once in one proves little."""


class MixupRow(NamedTuple):
    """A kind of mix-up: how often, the focus within the deck that cures it, if there is one, and an example of that.

    `opportunities` counts the answers given to cards that have an answer of this mix-up. The cure is the kind of
    question, on the string, where it happens most; the example is the newest from there. `prompt` and `sentence` carry
    marked notes; `given` is the canonical answer.
    """

    name: str
    times: int
    opportunities: int
    last_at_ms: int
    card: Card
    given: str
    sentence: str
    focus: Focus | None

    @property
    def rate(self) -> float:
        """The share of opportunities that were this mix-up, 0 to 1."""
        return self.times / self.opportunities

    @property
    def prominence(self) -> float:
        """How far it stands out among slips: its rate, less sure the fewer its opportunities."""
        return self.times / (self.opportunities + DOUBT)


_Place = tuple[str, int | None]
"""A family and the string its card is about, None where it is about none."""


@dataclass(slots=True)
class _Times:
    """One kind of mix-up: when it was last, in which places, how often on which card."""

    last_at_ms: int = 0
    places: Counter[_Place] = field(default_factory=Counter)
    newest: dict[_Place, AttemptRow] = field(default_factory=dict)
    cards: Counter[str] = field(default_factory=Counter)

    def add(self, row: AttemptRow) -> None:
        place = (row.family, string_of(entry_of(row.card)[0].facets))
        self.last_at_ms = row.answered_at
        self.places[place] += 1
        self.newest[place] = row
        self.cards[row.card] += 1


class MixupCounts:
    """Counts answers by card and mix-ups by kind, given in the order in which they were asked."""

    def __init__(self) -> None:
        self._answers: Counter[str] = Counter()
        self._times: dict[str, _Times] = {}

    def add(self, row: AttemptRow) -> None:
        """Count one answer more. A pass gave none; a card that no family knows any more could not be explained."""
        try:
            if row.mixup is not None:
                self._times.setdefault(row.mixup, _Times()).add(row)
        except FretsureError:
            return
        if row.given or row.mixup is not None:
            self._answers[row.card] += 1

    def rows(self, deck: Deck) -> tuple[MixupRow, ...]:
        """Every kind of mix-up, the one that stands out most first."""
        rows = [self._row(name, times, deck) for name, times in self._times.items() if times.places]
        return tuple(sorted(rows, key=lambda row: (-row.prominence, -row.times, row.name)))

    def _row(self, name: str, times: _Times, deck: Deck) -> MixupRow:
        places = [(place, _drill_of(place)) for place, _ in times.places.most_common()]
        curable = ((place, focus) for place, focus in places if any(map(focus.holds, deck.entries.values())))
        place, cure = next(curable, (places[0][0], None))
        row = times.newest[place]
        card = card_as_asked(entry_in(deck, row.card), deck)
        sentence = next((mixup.sentence for mixup in card.mixups_behind(row.given) if mixup.name == name), "")
        opportunities = self._opportunities(name, times)
        return MixupRow(name, times.places.total(), opportunities, times.last_at_ms, card, row.given, sentence, cure)

    def _opportunities(self, name: str, times: _Times) -> int:
        """Answers to the cards where it can happen. A log may know of it on a card where it no longer has that name."""
        return sum(count if name in can_happen(card) else times.cards[card] for card, count in self._answers.items())


def _drill_of(place: _Place) -> Focus:
    family, string = place
    return Focus(strings=() if string is None else (string,), families=(family,))


@lru_cache(maxsize=4096)
def can_happen(card_id: str) -> frozenset[str]:
    """The mix-ups that some answer to the card would be told; none for a card that no family knows any more."""
    try:
        return frozenset(mixup.name for mixup in card_of(card_id).mixups)
    except FretsureError:
        return frozenset()
