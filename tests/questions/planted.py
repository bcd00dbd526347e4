"""How many of the plausible confusions are named, by family and by confusion."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from functools import cache

from drill.decks import shipped_decks
from drill.questions.card import Card
from drill.theory.neck import Neck
from tests.questions.confusions import wrong_answers
from tests.questions.mixup_truth import sounds_alike
from tests.support.asking import judged

Place = tuple[str, str]
"""A family and a confusion."""


def settled(card: Card) -> Card:
    """The same card, which finds out once what may be confused in it, however many answers it judges."""
    return replace(card, confuse=cache(lambda: tuple(card.confuse())))


@cache
def every_card(neck: Neck) -> tuple[Card, ...]:
    """Every card of every shipped deck, once; the bass deck's are on a bass."""
    found: dict[str, Card] = {}
    for deck in shipped_decks(neck):
        for card in deck.cards():
            found.setdefault(card.id, card)
    return tuple(map(settled, found.values()))


@dataclass
class Named:
    """Wrong answers that a confusion leads to: how many, how many got a name, and how many that very one.

    Where an answer fits several confusions, `fitting` counts it for each of them if any of them is named.
    """

    planted: Counter[Place] = field(default_factory=Counter)
    fitting: Counter[Place] = field(default_factory=Counter)
    itself: Counter[Place] = field(default_factory=Counter)

    @classmethod
    def of(cls, cards: Iterable[Card]) -> Named:
        named = cls()
        for card in cards:
            named.add(card)
        return named

    def add(self, card: Card) -> None:
        wrong = wrong_answers(card.id, card.neck.frets, card.accepts)
        typed = {answer: card.kind.read(answer) for answers in wrong.values() for answer in answers}
        for confusion, answers in wrong.items():
            for answer in {typed[each] for each in answers} - set(card.accepts):
                place = card.family, confusion
                names = {mixup.name for mixup in judged(card, answer).mixups}
                leads_there = {
                    other for other in names if any(sounds_alike(answer, each, card) for each in wrong.get(other, ()))
                }
                self.planted[place] += 1
                self.fitting[place] += bool(leads_there)
                self.itself[place] += confusion in names

    def share(self, family: str = "") -> float:
        """The share that got a fitting name, of one family or of all."""
        places = [place for place in self.planted if family in ("", place[0])]
        return sum(self.fitting[place] for place in places) / sum(self.planted[place] for place in places)
