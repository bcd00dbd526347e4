"""Questions that are heard: played with sound, left out without, and said."""

from __future__ import annotations

import numpy as np
import pytest

from drill.decks import load_deck, shipped_decks
from drill.decks.targets import HEARD
from drill.errors import NoSound
from drill.practice.heard_first import HeardFirst, with_sound
from drill.practice.session import Session
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.neck import STANDARD, Neck
from tests.support.speakers import SpeakerShop
from tests.support.worlds import HandClock

NECK = Neck(STANDARD)
DECK = load_deck("minor-or-major", NECK)


@pytest.fixture
def shop(clock: HandClock) -> SpeakerShop:
    return SpeakerShop(clock)


@pytest.fixture
def loud(fake_environment: Environment, shop: SpeakerShop) -> Environment:
    return fake_environment._replace(open_speaker=shop)


def heard(shop: SpeakerShop) -> np.ndarray:
    assert shop.speaker is not None
    return np.frombuffer(bytes(shop.speaker.heard), dtype="<i2")


def test_a_question_is_heard_as_it_is_asked_and_falls_silent_with_its_answer(
    loud: Environment, record: Record, shop: SpeakerShop, clock: HandClock
) -> None:
    session = Session.start(loud, Settings(), record, DECK)
    question = session.ask()
    while question is not None and question.solved:
        session.shown()
        question = session.ask()
    assert question is not None and question.card.heard and shop.speaker is not None
    asked = shop.speaker
    clock.tick(1.0)
    assert not asked.stopped and asked.position_s == pytest.approx(1.0, abs=0.1)
    assert np.abs(heard(shop)).max() > 300
    session.hear_again()
    assert asked.stopped and shop.speaker is not asked
    clock.tick(6.0)
    assert shop.speaker.position_s > 5 and not heard(shop)[-10_000:].any(), "it is over, and not begun anew"
    session.answer(question.card.accepts[0])
    assert shop.speaker.stopped


def test_a_pause_falls_silent_and_its_end_begins_anew(loud: Environment, record: Record, shop: SpeakerShop) -> None:
    session = Session.start(loud, Settings(), record, DECK)
    session.ask()
    first = shop.speaker
    session.pause()
    assert first is not None and first.stopped
    session.resume()
    assert shop.speaker is not first and shop.speaker is not None and not shop.speaker.stopped
    session.finish()
    assert shop.speaker.stopped


def test_the_same_card_is_not_the_same_phrase_twice(loud: Environment, shop: SpeakerShop, clock: HandClock) -> None:
    card = next(DECK.cards())
    player, phrases = HeardFirst(loud, 20), set()
    for _ in range(4):
        player.play(card)
        clock.tick(4.0)
        assert shop.speaker is not None and shop.speaker.position_s > 3
        phrases.add(heard(shop)[:160_000].tobytes())
    assert len(phrases) > 1


def test_without_sound_the_deck_says_so_in_one_sentence_and_nothing_is_written(
    fake_environment: Environment, record: Record
) -> None:
    with pytest.raises(NoSound) as caught:
        Session.start(fake_environment, Settings(), record, DECK)
    assert str(caught.value).startswith("“Minor or major by ear” has to be heard. No sound card was found.")
    assert caught.value.exit_code == 2
    assert list(record.drills()) == []


def test_a_mixed_deck_asks_the_rest(fake_environment: Environment, loud: Environment) -> None:
    two = load_deck("two-shapes", NECK)
    mixed = two._replace(entries={**two.entries, **DECK.entries})
    assert with_sound(mixed, fake_environment).entries == two.entries
    assert with_sound(mixed, loud).entries == mixed.entries
    assert with_sound(two, fake_environment) is two


def test_a_sound_card_that_goes_ends_the_drill_and_charges_nothing(
    loud: Environment, fake_environment: Environment, record: Record
) -> None:
    session = Session.start(loud, Settings(), record, DECK)
    session.heard = HeardFirst(fake_environment, 20)
    assert session.ask() is None
    assert record.attempt_count() == 0
    assert "What has to be heard waits for another drill." in record.notices[-1]
    assert session.finish().answered == 0


def test_no_other_deck_asks_what_has_to_be_heard() -> None:
    asking = {deck.id for deck in shipped_decks(NECK) if any("ear-tonic" in card for card in deck.entries)}
    assert asking == {"minor-or-major"}
    assert {entry.item.target_s for entry in DECK.entries.values()} == {5.0}


def test_what_is_left_out_without_sound_is_just_what_cards_have_to_be_heard_for() -> None:
    """`HEARD` names these families, so that a deck can be laid out without deriving a card."""
    last = {entry.item.family: (deck, card) for deck in shipped_decks(NECK) for card, entry in deck.entries.items()}
    assert {family for family, (deck, card) in last.items() if deck.card(card).heard} == HEARD
