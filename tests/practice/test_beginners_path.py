"""The first drills of somebody who said that they do not know the notes."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise, takewhile
from typing import Literal

import pytest

from drill.decks import Deck, load_deck, shipped_decks
from drill.memory.constants import DAY_S
from drill.memory.front import STRAGGLERS
from drill.practice.session import Question, Session
from drill.questions.wording import to_screen
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.keys import parse_key
from drill.theory.neck import STANDARD, Neck
from tests.support.asking import ask
from tests.support.worlds import HandClock

NECK = Neck(STANDARD)
PLAIN_FRETS = {6: (0, 1, 3, 5, 7, 8, 10), 5: (0, 2, 3, 5, 7, 8, 10)}
"""E F G A B C D and A B C D E F G, counted up each string: two frets, but one from B to C and from E to F."""
MISSED_EVERY = 20
"""A newcomer who learns quickly: each twentieth question goes wrong."""


def drilled(
    start: Literal["notes", "shapes"], environment: Environment, record: Record, clock: HandClock
) -> list[Question]:
    """What a drill of five minutes shows and asks a newcomer who needs four seconds an answer."""
    session = Session.start(environment, Settings(start=start), record, load_deck("two-shapes", NECK), minutes=5)
    asked: list[Question] = []
    while question := session.ask():
        asked.append(question)
        clock.tick(4.0)
        if question.solved:
            session.shown()
            continue
        session.first_response()
        session.give_up() if len(asked) % MISSED_EVERY == 0 else session.answer(question.card.accepts[0])
        clock.tick(1.5)
    session.finish()
    return asked


def has_sign(question: Question) -> bool:
    """Whether the question names a note with a sharp or a flat."""
    return bool({"♯", "♭"} & set(to_screen(question.card.prompt)))


def test_the_first_day_has_plain_letters_alone_teaches_before_it_asks_and_touches_the_shape(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    asked = drilled("notes", fake_environment, record, clock)
    assert len(asked) > 20
    assert not any(map(has_sign, asked))
    families = [each.card.family for each in asked]
    assert all(asked[families.index(family)].solved for family in families), "a kind is shown before it is asked"
    assert families[0] == "fret-of-note", "a note inside the first key comes before the shape"
    assert "shape-anchor" in families


@pytest.mark.long
def test_the_first_shape_waits_until_the_plain_notes_of_both_strings_came_twice(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    asked = [each.card for each in drilled("notes", fake_environment, record, clock) if not each.solved]
    before = list(takewhile(lambda card: card.family == "fret-of-note", asked))
    times = Counter((card.id.split("string=")[1][0], card.id[-1]) for card in before)
    assert times.keys() == {(string, letter) for string in "65" for letter in "ABCDEFG"}
    assert sum(count < 2 for count in times.values()) <= STRAGGLERS
    assert len(before) < len(asked) * 2 / 3, "and leave room for the shape on the first day"


@pytest.mark.long
def test_sharps_wait_until_all_plain_keys_were_met(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    asked: list[Question] = []
    while not any(map(has_sign, asked)):
        asked += drilled("notes", fake_environment, record, clock)
        clock.tick(DAY_S)
    before = takewhile(lambda question: not has_sign(question), asked)
    met = {question.card.id.split(":")[1] for question in before if question.card.family == "shape-anchor"}
    assert met >= {"key=Am", "key=Em", "key=Dm", "key=Bm"}


def test_notes_that_are_played_and_missed_hands_free_do_not_keep_the_shape_away(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    """This drill asks them no more, so it cannot make sure of them."""
    settings = Settings(start="notes", answers="hands free")
    session, asked = Session.start(fake_environment, settings, record, load_deck("two-shapes", NECK), minutes=5), []
    while question := ask(session):
        right = len(asked) not in range(STRAGGLERS + 1)
        asked.append(question.card.family)
        clock.tick(2.0)
        session.answer_played(question.card.accepts[0] if right else "", 50, right=right, thinking_s=2.0)
        clock.tick(1.5)
    assert "shape-anchor" in asked


def test_whoever_knows_the_notes_begins_with_the_shape(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    first, *_ = drilled("shapes", fake_environment, record, clock)
    assert first.card.family == "shape-anchor"


def plain_and_other_keys(deck: Deck) -> tuple[list[str], list[str]]:
    """The whole keys of a deck: those before the first with a sharp or a flat in its name, and the rest."""
    names = [key.short for key in deck.whole_keys]
    first = next(number for number, name in enumerate(names) if len(name.removesuffix("m")) > 1)
    return names[:first], names[first:]


def test_keys_whose_tonics_are_plain_letters_come_first_and_relatives_stay_together() -> None:
    deck = load_deck("two-shapes", NECK)
    plain, others = plain_and_other_keys(deck.begun_with("notes"))
    assert plain == ["Am", "C", "Em", "G", "Dm", "F", "Bm", "D"]
    assert sorted((*plain, *others)) == sorted(key.short for key in deck.whole_keys)
    pairs = zip(others[::2], others[1::2], strict=True)
    assert all(parse_key(minor).relative == parse_key(major) for minor, major in pairs)


def test_plain_notes_come_before_the_keys_on_each_string_every_second_letter_first() -> None:
    """In the order of the frets each could be counted on from the one before, and none would have to be known."""
    notes = list(load_deck("two-shapes", NECK).begun_with("notes").entries)[:14]
    assert notes == [f"fret-of-note:string=6:note={note}" for note in "EGBDFAC"] + [
        f"fret-of-note:string=5:note={note}" for note in "ACEGBDF"
    ]


@pytest.mark.parametrize("deck", shipped_decks(NECK), ids=lambda deck: deck.id)
def test_the_order_is_another_and_the_cards_are_the_same(deck: Deck) -> None:
    begun = deck.begun_with("notes")
    assert {card: entry._replace(item=entry.item._replace(order=0)) for card, entry in begun.entries.items()} == {
        card: entry._replace(item=entry.item._replace(order=0)) for card, entry in deck.entries.items()
    }
    assert [item.order for item in begun.items] == list(range(len(begun.entries)))
    for start in ("shapes", "speed", None):
        assert deck.begun_with(start) is deck  # type: ignore[arg-type]


def test_single_notes_come_without_sharps_first() -> None:
    entries = load_deck("whole-neck", NECK).begun_with("notes").entries
    signs = ["#" in card or card.endswith("b") for card in entries if card.startswith("fret-of-note")]
    assert any(signs)
    assert signs == sorted(signs)


def test_a_deck_of_notes_alone_has_every_second_letter_first_too() -> None:
    first = list(load_deck("naturals", NECK).begun_with("notes").entries)[:8]
    # E G B D, F A C, and E again
    assert first == [f"note-at-fret:string=6:fret={fret}" for fret in (0, 3, 7, 10, 1, 5, 8, 12)]


def test_notes_are_made_sure_of_in_another_order_than_they_were_met(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    asked = [question.card.id for question in drilled("notes", fake_environment, record, clock) if not question.solved]
    met = list(dict.fromkeys(asked))[:14]
    again = list(dict.fromkeys(asked[len(met) :]))[:14]
    follows = set(pairwise(met))
    assert len(again) == len(met)
    assert not follows & set(pairwise(again))
