"""What the memory derives stays in step with the log, whatever happens to either."""

from __future__ import annotations

import random
from collections.abc import Iterator

import pytest

from drill.decks import Deck, Focus, load_deck
from drill.errors import CannotWrite
from drill.memory import Learner, dump
from drill.practice.learner_store import LearnerStore
from drill.practice.replay import CALIBRATION, DerivedState, observations
from drill.practice.session import Session
from drill.record import POSITION, Record
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.neck import STANDARD, Neck
from tests.support.asking import ask
from tests.support.worlds import HandClock

SETTINGS = Settings()


@pytest.fixture
def deck() -> Deck:
    return load_deck("two-shapes", Neck(STANDARD))


@pytest.fixture
def record(fake_environment: Environment) -> Iterator[Record]:
    with Record.open(fake_environment.record_path, fake_environment.now) as opened:
        yield opened


def drilled(environment: Environment, record: Record, deck: Deck, clock: HandClock, answers: int, seed: int) -> Session:
    """A drill of so many answers, some wrong in ways that have a name, some passed."""
    chance = random.Random(seed)
    session = Session.start(environment, SETTINGS, record, deck, minutes=60)
    for _ in range(answers):
        question = ask(session)
        assert question is not None
        clock.tick(chance.uniform(0.5, 4.0))
        session.first_response()
        wrong = [mixup.answer for mixup in question.card.mixups]
        given = chance.choice([question.card.accepts[0]] * len(wrong) + wrong)
        session.give_up() if chance.random() < 0.1 else session.answer(given)
        clock.tick(2.0)
    return session


def replayed(record: Record) -> Learner:
    known = DerivedState()
    for item, attempt in observations(record.attempts()):
        known.learn(item, attempt)
    return known.learner


@pytest.mark.long
def test_the_kept_state_is_what_a_replay_of_the_log_gives(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock
) -> None:
    deck = deck.focused(Focus(families=("shape-anchor", "relative-minor", "tonic-finger")))
    session = drilled(fake_environment, record, deck, clock, answers=120, seed=1)
    assert any(verdict.mixup and verdict.mixup.fact for verdict in session.verdicts)
    assert dump(LearnerStore.of(record).learner) == dump(replayed(record)) == dump(session.store.learner)


def test_a_start_does_not_read_the_log_again(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    drilled(fake_environment, record, deck, clock, answers=10, seed=2)
    monkeypatch.setattr(Record, "attempts", lambda *_: pytest.fail("the log was read"))
    assert LearnerStore.of(record).position == record.attempt_count() >= 10


@pytest.mark.long(but=2)
@pytest.mark.parametrize(
    "damage",
    [
        {},
        {POSITION: "12"},
        {POSITION: "30", "learner": "[1, 2"},
        {POSITION: "x"},
        {POSITION: "-5", CALIBRATION: "[]"},
        {POSITION: "31", CALIBRATION: "[]"},
        {POSITION: "30", CALIBRATION: "[[1]]"},
        {POSITION: "30", CALIBRATION: "[[Infinity, 1, 0.5, 1]]"},
        {POSITION: "30", CALIBRATION: '[[1, "a", "b", "c"]]'},
        {POSITION: "30", CALIBRATION: "[[1, 0, 0, 0]]"},
        {POSITION: "30", CALIBRATION: "[" * 20_000},
        {POSITION: "30", CALIBRATION: "[]", "learner": "[" * 20_000},
        {POSITION: "30", CALIBRATION: "[]", "card:x": "[[], [], [], [0, 1], [0, 1], [Infinity, 1, 0, 0, 0]]"},
        {POSITION: "30", CALIBRATION: "[]", "card:x": "[[], [], [], [0, -1], [0, 1], [1, 1, 0, 0, 0]]"},
        {POSITION: "30", CALIBRATION: "[]", "fact:x": "[[0], [-1e308], [1], [0, 1]]"},
        {POSITION: "30", CALIBRATION: "[]", "fact:x": "[[0], [0.5], [1], [1e308, 1]]"},
    ],
)
def test_derived_state_that_is_lost_or_damaged_is_derived_anew(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock, damage: dict[str, str]
) -> None:
    drilled(fake_environment, record, deck, clock, answers=30, seed=3)
    kept, last = record.states(), record.attempt_count()
    if POSITION in damage:
        damage = damage | {POSITION: {"30": f"{last}", "31": f"{last + 1}"}.get(damage[POSITION], damage[POSITION])}
    if damage == {POSITION: "12"}:  # the state of an earlier moment: only the rest is taken in
        damage = dict(_state_after(record, 12))
    elif "learner" not in damage:
        damage = kept | damage
    record.replace_states(damage)
    assert dump(LearnerStore.of(record).learner) == dump(replayed(record))
    assert record.states() == kept


def _state_after(record: Record, attempts: int) -> dict[str, str]:
    known = DerivedState()
    for item, attempt in list(observations(record.attempts()))[:attempts]:
        known.learn(item, attempt)
    return known.rows() | {POSITION: str(attempts)}


def test_two_programs_on_one_record_lose_nothing(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock
) -> None:
    with Record.open(fake_environment.record_path, fake_environment.now) as second:
        mine = Session.start(fake_environment, SETTINGS, record, deck, minutes=5)
        theirs = Session.start(fake_environment, SETTINGS, second, deck, minutes=5)
        for _ in range(8):
            for session in (mine, theirs):
                question = ask(session)
                assert question is not None
                clock.tick(1.5)
                session.answer(question.card.accepts[0])
    assert sum(row.kind == "asked" for row in record.attempts()) == 16
    learner = LearnerStore.of(record).learner
    assert sum(state.asked for state in learner.cards.values()) == 16
    assert dump(learner) == dump(replayed(record))


def test_an_answer_that_could_not_be_written_is_forgotten_at_the_next_start(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    session = drilled(fake_environment, record, deck, clock, answers=5, seed=4)

    def full(*_: object, **__: object) -> int:
        raise CannotWrite("The disk is full.")

    question = ask(session)
    assert question is not None
    with monkeypatch.context() as patched:
        patched.setattr(Record, "append", full)
        with pytest.raises(CannotWrite):
            session.answer(question.card.accepts[0])
    session.answer(question.card.accepts[0])  # there is room again: the drill goes on with the same question
    assert sum(row.kind == "asked" for row in record.attempts()) == 6
    assert dump(LearnerStore.of(record).learner) == dump(replayed(record))


def test_the_other_string_casts_doubt_on_the_string_and_not_on_the_finger_rule(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock
) -> None:
    """F minor, low-E-string shape: 1; its F on the A string is at 8 (MIDI 41 and 53, both F)."""
    card_id = "shape-anchor:key=Fm:shape=string-6"
    alone = deck._replace(entries={card_id: deck.entries[card_id]})
    session = Session.start(fake_environment, SETTINGS, record, alone, minutes=5)
    for given in ("1", "1", "8"):
        assert ask(session) is not None
        clock.tick(4.0)
        verdict = session.answer(given)
        clock.tick(80.0)
        if given == "1":
            trusted = {name: fact.offset.mean for name, fact in session.store.learner.facts.items()}
    assert verdict.mixup is not None
    assert (verdict.mixup.name, verdict.mixup.fact) == ("other string", "spot:6:1")
    facts = session.store.learner.facts
    assert facts["spot:6:1"].offset.mean < trusted["spot:6:1"]
    assert facts["finger:minor"].offset.mean >= trusted["finger:minor"]
