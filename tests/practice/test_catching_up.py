"""A long record holds nothing up: it is read in slices, and what comes of it is what a replay in order gives."""

from __future__ import annotations

import io
import json
import random
import sqlite3
from collections.abc import Iterator

import pytest

from drill.cli.json_mode import drill_in_json
from drill.cli.line_mode import drill_in_words
from drill.decks import Deck, load_deck
from drill.memory import dump
from drill.practice import replay
from drill.practice.learner_store import BEHIND, LearnerStore
from drill.practice.replay import DerivedState, observations
from drill.practice.session import Session
from drill.record import BASE, POSITION, AttemptRow, Record
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.neck import STANDARD, Neck
from tests.support.asking import ask
from tests.support.records import attempt, drill
from tests.support.worlds import HandClock

LONG_AGO = -100_000
"""A number that puts an attempt days before those numbered from 0."""
SETTINGS = Settings(deck="naturals")
BASE_EVERY, TAIL, PAGE = 60, 30, 10


class Steps:
    """A clock on which every look takes a second: so many seconds are so many attempts, or rows written."""

    def __init__(self, step_s: float = 1.0) -> None:
        self._step_s, self.now_s = step_s, 0.0

    def __call__(self) -> float:
        self.now_s += self._step_s
        return self.now_s


@pytest.fixture(autouse=True)
def small_numbers(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(replay, "BASE_EVERY", BASE_EVERY)
    monkeypatch.setattr(replay, "TAIL", TAIL)
    monkeypatch.setattr(replay, "PAGE", PAGE)


@pytest.fixture
def deck() -> Deck:
    return load_deck("naturals", Neck(STANDARD))


@pytest.fixture
def record(fake_environment: Environment) -> Iterator[Record]:
    with Record.open(fake_environment.record_path, fake_environment.now) as opened:
        yield opened


@pytest.fixture
def slow(fake_environment: Environment) -> Environment:
    """A world in which every look at the clock takes ten milliseconds: a start takes in some 200 attempts."""
    return fake_environment._replace(monotonic=Steps(0.01))


def answers(numbers: range, deck: Deck) -> list[AttemptRow]:
    """Attempts at cards of the deck, four in five of them right; the uid falls as the number grows."""
    chance, cards = random.Random(numbers.start), list(deck.entries)
    return [
        attempt(number, uid=f"uid-{10**6 - number}", card=card, correct=chance.random() < 0.8)
        for number, card in zip(numbers, chance.choices(cards, k=len(numbers)), strict=True)
    ]


def add(record: Record, rows: list[AttemptRow]) -> None:
    record.merge([drill()], rows)


def in_order(record: Record) -> DerivedState:
    """What a replay of the whole log gives, in the order it was asked."""
    known = DerivedState()
    for item, each in observations(sorted(record.attempts(), key=lambda row: (row.asked_at, row.uid))):
        known.learn(item, each)
    return known


def assert_whole(store: LearnerStore) -> None:
    """It knows just what a replay gives, and so does the record for the next start."""
    assert not store.behind
    assert store.state.rows() == in_order(store.record).rows()
    assert store.record.states() == in_order(store.record).rows() | {POSITION: str(store.record.last_attempt_id())}


def finish(store: LearnerStore, seconds: float = 7.0) -> int:
    """Catch up to the end; gives the number of slices it took."""
    clock, slices = Steps(), 0
    while store.behind:
        began = clock.now_s
        store.catch_up(clock, seconds)
        assert clock.now_s - began <= seconds + 2, "a slice ends when its time is up"
        slices += 1
    return slices


def answer(session: Session, clock: HandClock, *, rightly: bool = True) -> None:
    question = ask(session)
    assert question is not None
    clock.tick(1.5)
    session.answer(question.card.accepts[0]) if rightly else session.give_up()
    clock.tick(1.5)


def test_a_start_takes_no_longer_than_it_may_and_the_rest_comes_in_slices(record: Record, deck: Deck) -> None:
    add(record, answers(range(400), deck))
    clock = Steps()
    store = LearnerStore.begin(record, clock, wait_s=100.0)
    assert clock.now_s <= 102
    assert store.behind
    assert 50 < sum(card.asked for card in store.learner.cards.values()) < 100, "it knows what was read so far"
    assert finish(store) > 300 / 7
    assert_whole(store)
    assert not LearnerStore.begin(record, Steps(), wait_s=0.0).behind


def test_without_older_state_more_and_more_is_known(record: Record, deck: Deck) -> None:
    add(record, answers(range(400), deck))
    store, clock = LearnerStore.begin(record, Steps(), wait_s=10.0), Steps()
    known = [0]
    while store.behind:
        store.catch_up(clock, 10.0)
        known.append(sum(card.asked for card in store.learner.cards.values()))
    assert known == sorted(known)
    assert len(set(known)) > 400 / BASE_EVERY


def test_older_state_serves_until_all_is_read(record: Record, deck: Deck) -> None:
    add(record, answers(range(100), deck))
    older = dump(LearnerStore.of(record).learner)
    add(record, answers(range(LONG_AGO, LONG_AGO + 300), deck))
    store = LearnerStore.begin(record, Steps(), wait_s=20.0)
    store.catch_up(Steps(), 200.0)
    assert store.behind
    assert dump(store.learner) == older
    finish(store)
    assert_whole(store)


@pytest.mark.parametrize("other", [range(100, 400), range(LONG_AGO, LONG_AGO + 300)], ids=["later", "earlier"])
def test_a_program_that_is_killed_does_not_begin_again(record: Record, deck: Deck, other: range) -> None:
    """It comes back with what it kept, again and again, though it never lives long enough to read the whole log."""
    add(record, answers(range(100), deck))
    LearnerStore.of(record)
    add(record, answers(other, deck))
    lives = 1
    while (store := LearnerStore.begin(record, Steps(), wait_s=150.0)).behind:
        assert json.loads(record.states()[POSITION]) == 100, "a part never passes for the whole"
        lives += 1
        assert lives < 20
    assert lives > 2
    assert_whole(store)


@pytest.mark.long(but=1)
@pytest.mark.parametrize(
    "damage",
    ['{"learner": "[1, 2"}', '{"position": "9999"}', '{"position": "x"}', '{"place": "[1]"}', '{"place": "7"}',
     '{"calibration": "[[1]]"}', '{"learner": "VERSION"}', '{"card:none": "[]"}', '{"learner": null}'],
)  # fmt: skip
def test_a_base_that_is_damaged_or_of_another_version_is_not_built_on(record: Record, deck: Deck, damage: str) -> None:
    add(record, answers(range(400), deck))
    LearnerStore.begin(record, Steps(), wait_s=200.0)
    base = record.states(BASE)
    assert base, "so much was read that a base was kept"
    changed = {**base, **json.loads(damage.replace("VERSION", '{\\"version\\": 0}'))}
    record.replace_states({name: value for name, value in changed.items() if value is not None}, BASE)
    store = LearnerStore.begin(record, Steps(), wait_s=1.0)
    finish(store)
    assert_whole(store)


@pytest.mark.long
def test_state_of_another_version_is_derived_anew_in_slices(record: Record, deck: Deck) -> None:
    add(record, answers(range(400), deck))
    LearnerStore.of(record)
    for shelf in ("", BASE):
        make_old(record, shelf)
    store = LearnerStore.begin(record, Steps(), wait_s=50.0)
    assert store.behind
    finish(store)
    assert_whole(store)


def make_old(record: Record, shelf: str = "") -> None:
    """Let the stored state be of another version."""
    rows = record.states(shelf)
    record.replace_states(rows | {"learner": json.dumps({**json.loads(rows["learner"]), "version": 0})}, shelf)


def test_an_answer_is_not_added_to_stored_state_of_another_version(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock
) -> None:
    add(record, answers(range(LONG_AGO, LONG_AGO + 100), deck))
    LearnerStore.of(record)
    make_old(record)
    old = record.states()
    store = LearnerStore.begin(record, Steps(), wait_s=10.0)
    assert store.behind
    answer(Session.start(fake_environment, SETTINGS, record, deck, minutes=60, store=store), clock)
    assert record.states() == old


def test_an_answer_is_not_added_to_state_that_could_not_be_replaced(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock
) -> None:
    add(record, answers(range(LONG_AGO, LONG_AGO + 50), deck))
    LearnerStore.of(record)
    make_old(record)
    old = record.states()
    store = LearnerStore.begin(record, Steps(), wait_s=10.0)
    writer = sqlite3.connect(record.path, isolation_level=None)
    writer.execute("BEGIN IMMEDIATE")
    finish(store)
    writer.execute("ROLLBACK")
    writer.close()
    answer(Session.start(fake_environment, SETTINGS, record, deck, minutes=60, store=store), clock)
    assert record.states() == old
    assert_whole(LearnerStore.of(record))


def test_a_drill_forgets_none_of_its_answers_while_those_of_another_program_are_read(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock
) -> None:
    session, began_s = Session.start(fake_environment, SETTINGS, record, deck, minutes=60), clock.now()
    for _ in range(20):
        answer(session, clock)
    with Record.open(fake_environment.record_path, fake_environment.now) as other:
        add(other, answers(range(LONG_AGO, LONG_AGO + 300), deck))
    answer(session, clock)
    while session.store.behind:
        session.store.catch_up(Steps(), 15.0)
        cards = session.store.learner.cards
        assert all(cards[verdict.card.id].last_s > began_s for verdict in session.verdicts)
    assert_whole(session.store)


def test_what_comes_late_but_before_the_base_is_in_its_place_at_the_end(record: Record, deck: Deck) -> None:
    add(record, answers(range(400), deck))
    store = LearnerStore.begin(record, Steps(), wait_s=200.0)
    add(record, answers(range(LONG_AGO, LONG_AGO + 5), deck))
    finish(store)
    assert_whole(store)


@pytest.mark.long
def test_a_drill_never_stands_while_another_program_merges(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    session = Session.start(fake_environment, SETTINGS, record, deck, minutes=60)
    answer(session, clock)
    with Record.open(fake_environment.record_path, fake_environment.now) as other:
        add(other, answers(range(LONG_AGO, LONG_AGO + 300), deck))
    learnt: list[str] = []
    learn = DerivedState.learn
    monkeypatch.setattr(DerivedState, "learn", lambda known, *what: learnt.append("") or learn(known, *what))
    answer(session, clock)
    assert len(learnt) == 1, "the answer alone is learnt before its verdict"
    assert session.store.behind
    met = session.store.learner
    while session.store.behind:
        answer(session, clock, rightly=len(session.verdicts) % 3 > 0)
        session.store.catch_up(Steps(), 15.0)
    assert session.store.learner is not met
    assert_whole(session.store)
    answer(session, clock)
    assert session.planner.learner is session.store.learner, "the next question goes by all that is known"
    assert_whole(session.store)


@pytest.mark.long
def test_two_programs_that_drill_at_once_keep_each_other_in_step(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock
) -> None:
    add(record, answers(range(LONG_AGO, LONG_AGO + 300), deck))
    LearnerStore.of(record)
    with Record.open(fake_environment.record_path, fake_environment.now) as second:
        sessions = [Session.start(fake_environment, SETTINGS, each, deck, minutes=60) for each in (record, second)]
        chance = random.Random(3)
        for _ in range(60):
            session = chance.choice(sessions)
            answer(session, clock, rightly=chance.random() < 0.8)
            session.store.catch_up(Steps(), 20.0)
        for session in sessions:
            asked = sum(card.asked for card in session.store.learner.cards.values())
            assert asked >= 300 + len(session.verdicts), "a drill knows at least its own answers at once"
            session.finish()
    read = Steps()
    assert not LearnerStore.begin(record, read, wait_s=2.0 * (TAIL + PAGE + 60) + 100).behind, (
        "the old answers are not read"
    )
    assert_whole(LearnerStore.of(record))


def test_what_was_learnt_in_another_order_is_never_stored(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock
) -> None:
    """A drill that learns of another program's answer after its own has not learnt what a replay would."""
    mine = Session.start(fake_environment, SETTINGS, record, deck, minutes=60)
    with Record.open(fake_environment.record_path, fake_environment.now) as second:
        theirs = Session.start(fake_environment, SETTINGS, second, deck, minutes=60)
        answer(mine, clock)
        for rightly in (False, True, False):
            answer(theirs, clock, rightly=rightly)
        answer(mine, clock, rightly=False)
        assert not mine.store.is_current
        assert_whole(LearnerStore.of(second))  # a third program reads all of it, in order, and stores that
    answer(mine, clock)
    assert_whole(LearnerStore.of(record))


def test_after_a_drill_a_late_answer_of_another_program_does_not_send_a_start_back_to_the_first(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = Session.start(fake_environment, SETTINGS, record, deck, minutes=60)
    for number in range(2 * TAIL):
        answer(first, clock, rightly=number % 4 > 0)  # who knows it all would be through in minutes
    first.finish()
    second = Session.start(fake_environment, SETTINGS, record, deck, minutes=60)
    answer(second, clock)
    earlier = round(clock.now() * 1000) - 2_000
    answer(second, clock)
    add(record, [attempt(0, uid="late", card=next(iter(deck.entries)), asked_at=earlier)])
    learnt: list[str] = []
    learn = DerivedState.learn
    monkeypatch.setattr(DerivedState, "learn", lambda known, *what: learnt.append("") or learn(known, *what))
    store = LearnerStore.of(record)
    assert len(learnt) == 3
    assert_whole(store)


def test_no_base_is_made_of_answers_that_a_clock_set_back_has_put_in_another_order(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock
) -> None:
    session = Session.start(fake_environment, SETTINGS, record, deck, minutes=60)
    for number in range(2 * TAIL):
        clock.jump(-3600.0 if number == TAIL else 0.0)
        answer(session, clock, rightly=number % 3 > 0)
    session.finish()
    assert record.states(BASE) == {}
    add(record, answers(range(LONG_AGO, LONG_AGO + 3), deck))
    assert_whole(LearnerStore.of(record))


@pytest.mark.long(but=1)
@pytest.mark.parametrize("seed", range(12))
def test_whatever_happens_in_whatever_order_a_replay_gives_the_same(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock, seed: int
) -> None:
    """Drills, merges, slices, programs that are killed, at random."""
    chance, fresh = random.Random(seed), list(range(LONG_AGO, LONG_AGO + 10_000, 40))
    session = Session.start(fake_environment, SETTINGS, record, deck, minutes=600)
    with Record.open(fake_environment.record_path, fake_environment.now) as other:
        for _ in range(60):
            match chance.choice(["answer", "answer", "slice", "slice", "merge", "kill"]):
                case "answer":
                    answer(session, clock, rightly=chance.random() < 0.7)
                case "slice":
                    session.store.catch_up(Steps(), chance.uniform(1, 120))
                case "merge":
                    first = fresh.pop(chance.randrange(len(fresh)))
                    add(other, answers(range(first, first + chance.randint(1, 39)), deck))
                case "kill":
                    store = LearnerStore.begin(record, Steps(), wait_s=chance.uniform(0, 200))
                    session = Session.start(fake_environment, SETTINGS, record, deck, minutes=600, store=store)
    assert_whole(LearnerStore.of(record))


def test_a_slice_does_not_wait_for_a_program_that_writes(record: Record, deck: Deck) -> None:
    add(record, answers(range(200), deck))
    store = LearnerStore.begin(record, Steps(), wait_s=20.0)
    writer = sqlite3.connect(record.path, isolation_level=None)
    writer.execute("BEGIN IMMEDIATE")
    finish(store)
    assert store.state.rows() == in_order(record).rows()
    writer.execute("ROLLBACK")
    writer.close()
    assert record.states() == {}, "nothing could be kept"
    assert_whole(LearnerStore.of(record))


def test_an_older_program_does_not_write_into_state_that_another_keeps(record: Record, deck: Deck) -> None:
    add(record, answers(range(5), deck))
    LearnerStore.of(record)
    record.replace_states({POSITION: "3", "learner": "theirs"})
    record.append(answers(range(5, 6), deck)[0], {POSITION: "6", "learner": "mine"}, after=5)
    assert record.states() == {POSITION: "3", "learner": "theirs"}


def test_line_mode_says_that_a_part_of_the_record_is_not_read_yet(
    slow: Environment, record: Record, deck: Deck
) -> None:
    add(record, answers(range(LONG_AGO, LONG_AGO + 600), deck))
    session = Session.start(slow, SETTINGS, record, deck, minutes=5)
    drill_in_words(session, slow._replace(stdin=io.StringIO("?\n" * 9), stdout=(said := io.StringIO())))
    assert said.getvalue().splitlines()[1] == BEHIND
    assert said.getvalue().count(BEHIND) == 1


def test_json_mode_says_it_on_standard_error_and_asks_at_once(slow: Environment, record: Record, deck: Deck) -> None:
    add(record, answers(range(LONG_AGO, LONG_AGO + 600), deck))
    session = Session.start(slow, SETTINGS, record, deck, minutes=5)
    out, errors = io.StringIO(), io.StringIO()
    drill_in_json(session, slow._replace(stdin=io.StringIO("\n"), stdout=out, stderr=errors))
    assert errors.getvalue() == f"fretsure: {BEHIND}\n"
    assert json.loads(out.getvalue().splitlines()[0])["type"] == "question"


@pytest.mark.parametrize("run", [drill_in_words, drill_in_json])
def test_between_questions_the_rest_is_read(slow: Environment, record: Record, deck: Deck, run: object) -> None:
    add(record, answers(range(LONG_AGO, LONG_AGO + 250), deck))
    session = Session.start(slow, SETTINGS, record, deck, minutes=5)
    assert session.store.behind
    lines = "C\nD\n" * 30  # not ten passes in a row, after which nobody would be there
    run(session, slow._replace(stdin=io.StringIO(lines), stdout=io.StringIO()))  # type: ignore[operator]
    assert not session.store.behind
