"""A practice sheet: one page of A4 with blank necks and questions to write on, the answers on a second page.

Exercise   what is on a sheet: cards to mark on a neck, and cards to answer in writing
weakest    the cards that come right in time least often
mixed      cards of a deck by chance, from every family alike
sheet      the page
save_beside  the page of what is weakest, in a new file beside earlier ones
"""

from __future__ import annotations

import os
import random
from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, count, zip_longest
from pathlib import Path
from typing import Any, NamedTuple

from drill.decks import Deck
from drill.errors import UsageProblem
from drill.export import svg
from drill.export.look_up_pictures import marked_dots
from drill.export.pages import Drawing, page
from drill.progress import Progress
from drill.questions.answers import FretAnswer
from drill.questions.card import Card
from drill.questions.facets import shape_of
from drill.settings import Settings
from drill.system.files import write_new

MOST_NECKS = 3
MOST_QUESTIONS = 10
"""As many as one page of A4 has room for."""
FEW_QUESTIONS = 4
"""With so few, the page has room for one neck more."""


class Exercise(NamedTuple):
    """The cards of a sheet; `on_necks` are marked on a blank neck, `written` are answered in words."""

    on_necks: tuple[Card, ...]
    written: tuple[Card, ...]

    @classmethod
    def of(cls, cards: Iterable[Card]) -> Exercise:
        """As many of the cards, in this order, as a page holds.

        Where in a shape a finger goes is drawn and never written. What room is left on the necks goes to other frets,
        then to whatever else is about a shape.
        """
        drawn: list[Card] = []
        others: list[Card] = []
        for card in cards:
            if is_drawn(card) and shape_of(card.facets):
                drawn.append(card)
            elif len(others) < MOST_NECKS + MOST_QUESTIONS:
                others.append(card)
            if len(drawn) > MOST_NECKS and len(others) == MOST_NECKS + MOST_QUESTIONS:
                break
        frets = (card for card in others if is_drawn(card) and not card.question_picture)
        about_shapes = (card for card in others if not is_drawn(card) and shape_of(card.facets))
        necks = [*drawn[:MOST_NECKS], *frets, *about_shapes][:MOST_NECKS]
        written = [card for card in others if card not in necks][:MOST_QUESTIONS]
        more = drawn[MOST_NECKS : MOST_NECKS + 1] if len(written) <= FEW_QUESTIONS else []
        return cls((*necks, *more), tuple(written))


def is_drawn(card: Card) -> bool:
    """Whether the answer is a fret, to be marked on the neck."""
    return isinstance(card.kind, FretAnswer)


def weakest(progress: Progress) -> Iterator[Card]:
    """The cards that were asked, the least likely to come right in time first. Raises `UsageProblem` if none was."""
    seen = sorted((s for s in progress.statuses if s.seen), key=lambda status: status.fluent_chance)
    if not seen:
        raise UsageProblem(
            f"Nothing of “{progress.deck.title}” has been asked yet, so nothing is weak.", "Leave out --weakest."
        )
    return (progress.deck.card(status.card) for status in seen)


def mixed(deck: Deck, rng: random.Random) -> Iterator[Card]:
    """The cards of a deck in an order by chance, a card of each family in turn."""
    by_family: dict[str, list[str]] = {}
    for card_id, entry in deck.entries.items():
        by_family.setdefault(entry.item.family, []).append(card_id)
    for ids in by_family.values():
        rng.shuffle(ids)
    return (deck.card(card_id) for card_id in chain(*zip_longest(*by_family.values())) if card_id)


def sheet(deck: Deck, exercise: Exercise, settings: Settings, *, weak: bool, answers: bool) -> str:
    """The page, with the answers on a second one if they are wanted."""
    necks = [_on_neck(card, number, deck, settings) for number, card in enumerate(exercise.on_necks, 1)]
    written = [_written(card, settings) for card in exercise.written]
    return page(
        "sheet",
        title="Practice sheet",
        deck=deck.title,
        about="what is weakest now" if weak else deck.about,
        homework=deck.homework.sentence if deck.homework else "",
        note=deck.homework.note if deck.homework else "",
        necks=necks,
        first=len(necks) + 1,
        written=written,
        answers=answers,
    )


def save_beside(progress: Progress, folder: Path, rng: random.Random) -> Path:
    """Write a sheet with answers into a new file of this folder; returns which. Raises `CannotWrite`.

    It holds what is weakest, or cards by chance as long as nothing was asked.
    """
    weak = any(status.seen for status in progress.statuses)
    cards = weakest(progress) if weak else mixed(progress.deck, rng)
    text = sheet(progress.deck, Exercise.of(cards), progress.settings, weak=weak, answers=True)
    path = next(each for each in _names(folder, f"practice-sheet-{progress.today}") if not os.path.lexists(each))
    write_new(path, text)
    return path


def _names(folder: Path, name: str) -> Iterator[Path]:
    """A name in the folder, then the same with 2, 3 and so on after it."""
    yield folder / f"{name}.html"
    yield from (folder / f"{name}-{number}.html" for number in count(2))


def _on_neck(card: Card, number: int, deck: Deck, settings: Settings) -> dict[str, Any]:
    marks = marked_dots(card.answer_picture, settings.look)
    return _written(card, settings) | {
        "is_drawn": is_drawn(card),
        "blank": _drawn(deck, {}, settings, f"neck-{number}", "A blank neck to write on"),
        "solved": _drawn(deck, marks, settings, f"solved-{number}", "The neck with the answer"),
    }


def _drawn(deck: Deck, dots: dict[Any, svg.Dot], settings: Settings, name: str, title: str) -> Any:
    caption = svg.Caption(name, title, deck.neck.tuning.title)
    return Drawing(svg.neck(deck.neck, dots, settings.look, caption))


def _written(card: Card, settings: Settings) -> dict[str, Any]:
    voice = settings.voice
    shown: Sequence[str] = [card.kind.show(answer, voice.language) for answer in card.accepts]
    return {
        "question": voice.say(card.prompt),
        "answer": " or ".join(shown),
        "because": "; ".join(map(voice.say, card.because)),
    }
