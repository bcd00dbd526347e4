"""What a summary picks from a drill: the first, the most, the slowest."""

from __future__ import annotations

import pytest

from drill.memory import TARGET_STRENGTH, Attempt, Ending, Learner
from drill.memory.constants import DAY_S
from drill.practice.summary import summarise
from drill.present.summaries import Return, Summary
from drill.present.verdicts import Verdict
from drill.questions.mixups.mixup import Mixup, MixupName
from tests.support.learners import beginner
from tests.support.worlds import MONDAY_MORNING

DECK = beginner(deck="whole-neck").deck
E, F, G = (f"note-at-fret:string=6:fret={fret}" for fret in (0, 1, 3))


def verdict(card: str, thinking_s: float | None = 1.0, *, right: bool = True, mixup: Mixup | None = None) -> Verdict:
    return Verdict(DECK.card(card), False, right, "E", (mixup,) if mixup else (), thinking_s, 1.5, False, 0.5)


def summary(*verdicts: Verdict, learner: Learner | None = None) -> Summary:
    learner = learner or learner_of(*(each.card.id for each in verdicts))
    return summarise(verdicts, 60.0, DECK, learner, MONDAY_MORNING)


def learner_of(*cards: str) -> Learner:
    """Someone who knew every card a second ago."""
    learner = Learner()
    for card in cards:
        learner.observe(DECK.entries[card].item, Attempt(card, MONDAY_MORNING - 1, True, 1.0))
    return learner


def test_the_first_of_the_cards_to_fade_gives_the_day() -> None:
    learner = Learner()
    for ago in (30, 20, 10, 0):
        for card in (G, E):  # E was missed ten days ago
            attempt = Attempt(card, MONDAY_MORNING - 1 - DAY_S * ago, card == G or ago != 10, 1.0)
            learner.observe(DECK.entries[card].item, attempt)
    deck = DECK._replace(entries={card: DECK.entries[card] for card in (E, G)})
    found = summarise((verdict(E), verdict(G)), 60.0, deck, learner, MONDAY_MORNING)
    fades_at_s = found.returns_at_s
    assert found.returns_for is Return.FADES and fades_at_s is not None
    strengths = {
        when: [learner.strength(DECK.entries[card].item, fades_at_s + when) for card in (E, G)] for when in (-60, 60)
    }
    assert min(strengths[-60]) >= TARGET_STRENGTH
    assert min(strengths[60]) < TARGET_STRENGTH <= max(strengths[60])


def test_while_cards_wait_that_were_never_asked_the_next_drill_is_wanted_tomorrow() -> None:
    """A quick answer to a card that has been known for months says nothing of the others."""
    learner = Learner()
    for ago in (160, 120, 80, 40, 20, 9, 4, 2, 0):
        learner.observe(DECK.entries[E].item, Attempt(E, MONDAY_MORNING - 1 - 86_400 * ago, True, 0.5))
    only = DECK._replace(entries={E: DECK.entries[E]})
    alone = summarise((verdict(E),), 60.0, only, learner, MONDAY_MORNING)
    assert alone.returns_at_s is not None and alone.returns_at_s > MONDAY_MORNING + 2 * 86_400
    found = summary(verdict(E), learner=learner)
    assert (found.returns_at_s, found.returns_for) == (MONDAY_MORNING + 86_400, Return.NEW)


@pytest.mark.parametrize("ending", [Ending.KNOWN, Ending.IN_TIME])
def test_whose_drill_ended_early_is_not_sent_back_for_cards_that_need_no_question(ending: Ending) -> None:
    found = summarise((verdict(E),), 60.0, DECK, known_for(4, 3, 2, 1, 0), MONDAY_MORNING, ending)
    assert found.returns_for is Return.TEST
    days = 1 if ending is Ending.IN_TIME else 2
    assert found.returns_at_s == pytest.approx(MONDAY_MORNING + days * DAY_S), "what was right today is tested tomorrow"


def known_for(*days_ago: float) -> Learner:
    """Someone who knew E so many days ago, each time at once."""
    learner = Learner()
    for ago in days_ago:
        learner.observe(DECK.entries[E].item, Attempt(E, MONDAY_MORNING - 1 - DAY_S * ago, True, 0.5))
    return learner


@pytest.mark.parametrize(
    ("days_ago", "days"),
    [
        ((0,), 2),  # it never came right after a gap: a day is taken for proved
        ((4, 3, 2, 1, 0), 2),
        ((160, 120, 80, 60, 40, 20, 14, 9, 4, 2, 0), 28),  # it came right after 40 days, and once in four weeks is due
    ],
)
def test_nobody_is_sent_away_for_longer_than_was_tested_or_than_four_weeks(
    days_ago: tuple[float, ...], days: float
) -> None:
    only, learner = DECK._replace(entries={E: DECK.entries[E]}), known_for(*days_ago)
    found = summarise((verdict(E),), 60.0, only, learner, MONDAY_MORNING)
    assert found.returns_at_s is not None
    assert found.returns_at_s <= MONDAY_MORNING + days * DAY_S
    faded = learner.strength(DECK.entries[E].item, found.returns_at_s + 60) < TARGET_STRENGTH
    assert found.returns_for is (Return.FADES if faded else Return.TEST)
    assert faded or found.returns_at_s == MONDAY_MORNING + days * DAY_S


def test_what_was_missed_is_asked_again_tomorrow_and_not_said_to_fade() -> None:
    learner = known_for(9, 4, 2, 1)
    learner.observe(DECK.entries[E].item, Attempt(E, MONDAY_MORNING - 1, False))
    only = DECK._replace(entries={E: DECK.entries[E]})
    found = summarise((verdict(E),), 60.0, only, learner, MONDAY_MORNING)
    assert (found.returns_for, found.returns_at_s) == (Return.MISSED, MONDAY_MORNING + DAY_S)


def test_strings_are_ranked_by_the_median_time_of_right_answers() -> None:
    on = {string: f"note-at-fret:string={string}:fret=0" for string in range(1, 7)}
    times = {6: (1.0, 2.0, 9.0), 5: (3.0,), 4: (1.0, 2.0), 3: (2.5,)}
    verdicts = [verdict(on[string], time) for string, each in times.items() for time in each]
    wrong, unmeasured = verdict(on[2], 20.0, right=False), verdict(on[1], None)
    slowest = summary(*verdicts, wrong, unmeasured).slowest
    assert [(slow.group.value, slow.seconds) for slow in slowest] == [(5, 3.0), (3, 2.5), (6, 2.0)]


def test_mixups_come_with_their_first_example_the_most_frequent_first() -> None:
    given: list[tuple[MixupName, str]] = [("one fret off", "1"), ("another string", "2"), ("another string", "3")]
    found = summary(*(verdict(E, right=False, mixup=Mixup(name, "F", (), sentence)) for name, sentence in given)).mixups
    prompt = DECK.card(E).prompt
    assert found == (("another string", 2, "2", prompt), ("one fret off", 1, "1", prompt))


def test_a_card_that_was_missed_at_last_has_gained_nothing() -> None:
    moved = summary(verdict(E, right=False), verdict(E), verdict(F), verdict(F, right=False)).moved
    assert [move.card for move in moved] == [E]


def test_the_keys_of_a_drill_come_missed_ones_first_then_the_slowest() -> None:
    deck = beginner(deck="two-shapes").deck
    cards = {name: f"shape-anchor:key={name}:shape=string-6" for name in ("C", "Am", "G")}
    learner = Learner()

    def of(name: str, thinking_s: float, *, right: bool = True) -> Verdict:
        card = deck.card(cards[name])
        learner.observe(deck.entries[card.id].item, Attempt(card.id, MONDAY_MORNING - 1, right, thinking_s))
        return Verdict(card, True, right, "5", (), thinking_s, 3.0, False, 0.5, last_thinking_s=3.4)

    found = summarise([of("C", 1.0), of("Am", 2.0), of("G", 0.9, right=False)], 60.0, deck, learner, MONDAY_MORNING)
    assert [key.name for key in found.keys] == ["G major", "A minor", "C major"]
    assert {move.times for move in found.moved} >= {"3.4 → 2.0 s", "3.4 → 1.0 s"}
