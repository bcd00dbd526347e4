"""One card's history: why it is or is not asked."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from drill.decks import load_deck
from drill.errors import UnknownName
from drill.memory import Attempt, Learner, Planner, fades_at
from drill.practice.session import Session
from drill.present.figures import per_cent
from drill.present.reasons import reason_sentence
from drill.progress import Progress
from drill.progress.card_history import card_history
from drill.questions.wording import to_ascii
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.neck import STANDARD, Neck
from tests.support.asking import ask
from tests.support.learners import Empty, beginner
from tests.support.worlds import MONDAY_MORNING


def newcomer(learner: Learner | None = None) -> Progress:
    return replace(beginner(learner), log=Empty())


def test_the_first_card_is_what_a_drill_would_ask_first() -> None:
    progress = newcomer()
    choice = Planner(Learner(), progress.deck.items, progress.now_s).next(progress.now_s, 300)
    assert choice is not None
    history = card_history(choice.card, progress)
    assert history.why.startswith("It is what a drill would ask first.")
    assert history.why.endswith(reason_sentence(choice.reason))
    assert history.status.state == "fresh"
    assert history.attempts == ()


def test_a_part_waits_for_the_whole_tasks_that_rest_on_it() -> None:
    progress = newcomer()
    history = card_history("fret-of-note:string=6:note=A", progress)
    # A on the low E string (fret 5) holds the index finger in A minor and in C major
    assert set(history.waits_for) == {"shape-anchor:key=Am:shape=string-6", "shape-anchor:key=C:shape=string-6"}
    assert history.why == (
        "It is not asked yet: 2 larger questions contain it and come first; if one of them goes wrong, this one is "
        "asked by itself."
    )
    assert card_history("shape-anchor:key=Em:shape=string-5", progress).waits_for == ()


def test_for_whoever_begins_with_the_notes_no_part_waits_for_its_whole() -> None:
    progress = replace(newcomer(), settings=Settings(start="notes"))
    first = card_history("fret-of-note:string=6:note=E", progress)
    assert first.why.startswith("It is what a drill would ask first.")
    later = card_history("fret-of-note:string=6:note=B", progress)
    assert later.waits_for == ()
    assert later.why == "It is not asked yet: new cards come a few at a time, in the order of the deck."


def test_a_part_that_its_whole_proves_says_so() -> None:
    learner, deck = Learner(), newcomer().deck
    whole = deck.entries["shape-anchor:key=Am:shape=string-6"].item
    for day in (4, 3, 2, 1):
        learner.observe(whole, Attempt(whole.card, MONDAY_MORNING - day * 86_400.0, True, 1.2))
    history = card_history("fret-of-note:string=6:note=A", newcomer(learner))
    assert history.why == "It is not asked: a question that rests on the same facts keeps proving it."


def test_new_cards_that_wait_for_nothing_wait_for_their_turn() -> None:
    progress = newcomer()
    cards = [card for card, entry in progress.deck.entries.items() if entry.item.family == "note-at-fret"]
    for card in cards[1:]:
        why = "It is not asked yet: new cards come a few at a time, in the order of the deck."
        assert card_history(card, progress).why == why


def test_a_card_of_another_deck_says_so() -> None:
    history = card_history("note-at-fret:string=1:fret=5", newcomer())
    assert history.why == "It is not asked: it is not in the deck “Two shapes, every key”."
    assert history.card.accepts == ("A",)


@pytest.mark.parametrize(
    "card", ["", "nonsense", "note-at-fret", "note-at-fret:string=6", "note-at-fret:fret=3:fret=4"]
)
def test_no_card(card: str) -> None:
    with pytest.raises(UnknownName):
        card_history(card, newcomer())


def test_a_known_card_tells_its_history_and_when_it_fades(progress: Progress) -> None:
    fluent = next(s for s in progress.statuses if s.state == "fluent" and s.asked > 3)
    history = card_history(fluent.card, progress)
    assert {row.card for row in history.attempts} == {fluent.card}
    assert sum(row.correct is not None for row in history.attempts) == fluent.asked
    assert history.status == fluent
    assert history.fades_at_s == fades_at(progress.learner, fluent.item, progress.now_s)
    assert history.fades_at_s is not None
    assert history.fades_at_s > progress.now_s


@pytest.mark.long(but=1)
@pytest.mark.parametrize("state", ["fading", "fluent"])
def test_a_card_met_before_tells_how_well_it_is_known_and_no_place_in_a_queue(progress: Progress, state: str) -> None:
    """The planner follows no fixed order, so that a place in it would not be true."""
    alike = [card_history(status.card, progress) for status in progress.statuses if status.state == state]
    told = [history for history in alike if not history.why.startswith("It is what a drill would ask first")]
    assert told
    for history in told:
        missed = history.attempts[-1].correct is False
        assert missed == history.why.startswith("You missed it when it was last asked."), history.why
        assert missed or f" {per_cent(history.status.strength)}" in history.why
        assert not re.search(r"\bdue\b|\bfirst\b|[0-9] (of [0-9]+ )?cards", history.why)
        assert missed or history.why.startswith("It is fading" if state == "fading" else "It holds")


def test_a_card_that_holds_but_is_slow_says_by_how_much() -> None:
    learner, deck = Learner(), newcomer().deck
    cards = [entry.item for entry in deck.entries.values() if entry.item.family == "fret-of-note"][:2]
    for day in (3, 2, 1):
        for item in cards:
            learner.observe(item, Attempt(item.card, MONDAY_MORNING - day * 86_400.0, True, 20.0))
    told = [card_history(item.card, newcomer(learner)) for item in cards]
    assert {history.status.state for history in told} == {"slow"}
    history = next(history for history in told if not history.why.startswith("It is what a drill would ask first"))
    assert re.fullmatch(r"You know it, but slowly: in about [0-9.]+ s; the target is 1\.5 s\.", history.why)


def test_what_never_came_right_is_not_said_to_be_known(fake_environment: Environment) -> None:
    with Record.open(fake_environment.record_path, fake_environment.now) as record:
        session = Session.start(fake_environment, Settings(), record, load_deck("naturals", Neck(STANDARD)))
        card = ask(session).card.id  # type: ignore[union-attr]
        session.give_up()
        progress = Progress(session.store.learner, record, session.deck, session.settings, fake_environment.now())
        why = "You have not had it right yet."
        assert card_history(card, progress).why == why


def test_a_card_of_another_deck_is_quoted_as_this_learner_is_asked_it() -> None:
    """On 15 frets A minor fits only at fret 12 of the A string, D flat major not where its neck ends."""
    progress = replace(beginner(deck="naturals"), log=Empty())
    for key, asked in (
        ("Am", "A minor, A-string shape: index"),
        ("Db", "Db major, A-string shape, whole on the neck"),
    ):
        history = card_history(f"shape-anchor:key={key}:shape=string-5", progress)
        assert to_ascii(history.card.prompt).startswith(asked)
        assert progress.prompt(history.status.entry) == history.card.prompt
