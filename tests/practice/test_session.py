"""A drill without a screen: questions, answers, pauses, the end, and what stays on the disk."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Literal

import pytest
from freezegun import freeze_time

from drill.decks import Deck, Focus, entry_of, load_deck
from drill.errors import UnknownName, UsageProblem
from drill.memory import TARGET_STRENGTH, Ending, Reason, ReasonKind, is_fresh
from drill.practice.session import RULE_KNOWN, Question, Session
from drill.present.verdicts import Verdict
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.record import Record, backups, whose
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.bars import bar_seconds
from drill.theory.keys import parse_key
from drill.theory.neck import STANDARD, Neck
from tests.support.asking import ask, judged
from tests.support.worlds import HandClock

SETTINGS = Settings()


@pytest.fixture
def deck() -> Deck:
    return load_deck("two-shapes", Neck(STANDARD))


@pytest.fixture
def record(fake_environment: Environment) -> Iterator[Record]:
    with Record.open(fake_environment.record_path, fake_environment.now) as opened:
        yield opened


@pytest.fixture
def session(fake_environment: Environment, record: Record, deck: Deck) -> Session:
    return Session.start(fake_environment, SETTINGS, record, deck, minutes=5)


def answered(session: Session, clock: HandClock, *, right: bool = True, thinking_s: float = 1.0) -> Verdict:
    """Ask, think, type and answer one question, then read the verdict for two seconds."""
    question = ask(session)
    assert question is not None
    clock.tick(thinking_s)
    session.first_response()
    clock.tick(0.5)
    verdict = session.answer(question.card.accepts[0]) if right else session.give_up()
    clock.tick(2.0)
    return verdict


def test_an_answer_that_cannot_be_read_lets_thinking_go_on(session: Session, clock: HandClock) -> None:
    question = ask(session)
    assert question is not None
    clock.tick(1.0)
    session.first_response()
    with pytest.raises(UnknownName):
        session.read("potato")
    clock.tick(2.0)
    session.first_response()
    clock.tick(5.0)
    assert session.answer(question.card.accepts[0]).thinking_s == pytest.approx(3.0)


def test_a_right_answer_is_right_and_timed_to_its_first_key(session: Session, clock: HandClock) -> None:
    verdict = answered(session, clock, thinking_s=1.25)
    assert verdict.right
    assert verdict.thinking_s == pytest.approx(1.25)
    item = session.deck.entries[verdict.card.id].item
    assert session.store.learner.strength(item, clock.now()) > verdict.strength_before


def test_every_answer_is_on_the_disk_before_its_verdict_is_seen(
    session: Session, clock: HandClock, fake_environment: Environment
) -> None:
    for count in range(1, 6):
        verdict = answered(session, clock, right=count % 2 == 0)
        with Record.open(fake_environment.record_path, fake_environment.now) as other:
            rows = [row for row in other.attempts() if row.kind == "asked"]
        assert len(rows) == count
        assert rows[-1].card == verdict.card.id
        assert rows[-1].correct is verdict.right
        assert rows[-1].thinking_ms == 1000


def test_a_line_that_cannot_be_read_is_not_an_answer(session: Session, record: Record) -> None:
    question = ask(session)
    assert question is not None
    with pytest.raises(UnknownName, match="is not a"):
        session.read("fret ninety-nine")
    assert not [row for row in record.attempts() if row.kind == "asked"]
    assert session.answer(question.card.accepts[0]).right


def test_a_canonical_answer_is_judged_as_it_stands_and_not_read_once_more() -> None:
    """In A minor bVII diminished is 'viio' (G B♭ D♭), and 'viio' as typed is the raised seventh, '#viio'."""
    entry, neck = entry_of("numeral-of-chord:key=Am:chord=Bdim")
    card = FAMILIES["numeral-of-chord"].card(entry.facets, neck)
    assert card.judge_answer(card.kind.read("bviio")).given == "viio"
    assert judged(card, "viio").given == "#viio"


def test_no_answer_without_a_question(session: Session) -> None:
    with pytest.raises(UsageProblem, match="No question is open"):
        session.answer("E")


def test_the_drill_ends_on_time_and_never_mid_question(session: Session, clock: HandClock) -> None:
    count = 0
    while (question := ask(session)) is not None:
        clock.tick(7.0)
        assert session.answer(question.card.accepts[0]).card is question.card
        count += 1
    assert session.seconds_left < 7.0
    assert count == 300 // 7 + (300 % 7 > 0)


def test_a_pause_stops_the_clock_and_is_never_thinking_time(session: Session, clock: HandClock) -> None:
    ask(session)
    clock.tick(2.0)
    session.pause()
    left = session.seconds_left
    clock.tick(3600.0)
    assert session.seconds_left == left == pytest.approx(298.0)
    session.resume()
    clock.tick(1.0)
    verdict = session.give_up()
    assert verdict.thinking_s is None
    assert session.seconds_left == pytest.approx(297.0)


def test_a_machine_that_slept_mid_question_has_measured_nothing(session: Session, clock: HandClock) -> None:
    ask(session)
    clock.tick(1.0)
    clock.jump(8 * 3600.0)  # the wall clock went on, the clock that only grows did not
    assert session.give_up().thinking_s is None


@pytest.mark.parametrize("jump_s", [-86_400.0, 365 * 86_400.0, 3600.0])
def test_a_clock_that_is_set_mid_drill_loses_nothing(
    session: Session, record: Record, clock: HandClock, jump_s: float
) -> None:
    answered(session, clock)
    clock.jump(jump_s)
    answered(session, clock)
    answered(session, clock)
    assert sum(row.kind == "asked" for row in record.attempts()) == 3
    assert session.finish().answered == 3


def test_a_missed_card_comes_back_after_a_minute_and_some_others(session: Session, clock: HandClock) -> None:
    missed = answered(session, clock, right=False)
    assert missed.comes_back
    asked_at, between = clock.now_s, 0
    while (question := ask(session)) is not None and question.card.id != missed.card.id:
        clock.tick(3.0)
        session.answer(question.card.accepts[0])
        between += 1
    assert question is not None, "the missed card did not come back in a drill of five minutes"
    assert question.reason.kind == "missed"
    assert clock.now_s - asked_at >= 60.0
    assert between >= 3


@pytest.mark.long
def test_an_open_string_for_an_index_fret_sends_no_question_about_the_note(
    session: Session, clock: HandClock, deck: Deck
) -> None:
    clock.tick(1.0)
    card = deck.card("shape-anchor:key=Am:shape=string-5")
    session.question = Question(card, 1, Reason(ReasonKind.FRESH, 0.5, 2.0, 3.0, 0.0), 3.0)
    verdict = session.answer("0")
    assert not verdict.right
    assert [mixup.name for mixup in verdict.mixups] == ["right note, wrong octave"]
    clock.tick(3.0)
    while (question := ask(session)) is not None:
        assert question.reason.kind not in (ReasonKind.PART, ReasonKind.FAILED_PART)
        clock.tick(3.0)
        session.answer(question.card.accepts[0])


@pytest.mark.long
def test_no_two_neighbours_give_each_other_away(session: Session, clock: HandClock, deck: Deck) -> None:
    before: Question | None = None
    while (question := session.ask()) is not None:
        if before is not None:
            facts = [set(deck.entries[each.card.id].item.facts) for each in (before, question)]
            rules = ("finger:", "three-frets:")  # they hold in all keys, and give no other key away
            shared = {fact for fact in facts[0] & facts[1] if not fact.startswith(rules)}
            assert not shared, (before.card.id, question.card.id)
        clock.tick(3.0)
        session.shown() if question.solved else session.answer(question.card.accepts[0])
        before = question


def test_a_focus_asks_nothing_else(fake_environment: Environment, record: Record, deck: Deck, clock: HandClock) -> None:
    focus = Focus(strings=(5,), keys=(parse_key("Bb minor"),))
    session = Session.start(fake_environment, SETTINGS, record, deck, minutes=1, focus=focus)
    seen = set()
    while (question := ask(session)) is not None:
        clock.tick(3.0)
        session.answer(question.card.accepts[0])
        seen.add(question.card.id)
    assert seen == {card for card, entry in deck.entries.items() if focus.holds(entry)}
    assert "shape-anchor:key=Bbm:shape=string-5" in seen


def test_a_focus_with_nothing_to_ask_offers_what_there_is(
    fake_environment: Environment, record: Record, deck: Deck
) -> None:
    with pytest.raises(UsageProblem, match=r"no card for this focus.*cards for string 5"):
        Session.start(fake_environment, SETTINGS, record, deck, focus=Focus(strings=(5,), shapes=("string-6",)))
    assert list(record.drills()) == []


def test_the_summary_counts_what_happened(fake_environment: Environment, record: Record, clock: HandClock) -> None:
    session = Session.start(fake_environment, SETTINGS, record, load_deck("naturals", Neck(STANDARD)), minutes=5)
    first = answered(session, clock)
    answered(session, clock, right=False)
    answered(session, clock, thinking_s=2.0)
    summary = session.finish()
    assert (summary.answered, summary.right, summary.first_time) == (3, 2, 3)
    assert summary.seconds == pytest.approx(1.0 + 1.0 + 2.0 + 3 * 2.5)
    assert {move.card for move in summary.moved} >= {first.card.id}
    slowest = [slow.seconds for slow in summary.slowest]
    assert slowest == sorted(slowest, reverse=True)
    assert 1.5 <= slowest[0] <= 2.0, "by string, the median of right answers"
    assert summary.returns_at_s is not None
    assert summary.returns_at_s >= clock.now_s


@pytest.mark.parametrize(("called", "kept"), [(None, "Paul"), ("", "Paul"), ("Ana", "Ana")])
def test_the_name_in_the_settings_comes_into_a_record_without_one_and_so_into_the_backup_of_today(
    called: str | None, kept: str, fake_environment: Environment, record: Record, deck: Deck, clock: HandClock
) -> None:
    if called is not None:
        record.call(called)
    session = Session.start(fake_environment, SETTINGS._replace(learner=" Paul "), record, deck)
    answered(session, clock)
    session.finish()
    [backup] = backups.all_of(fake_environment.record_path)
    found = whose(backup)
    assert found and found.owner and found.owner.name == kept


def test_a_drill_without_an_answer_gives_no_record_a_name(
    fake_environment: Environment, record: Record, deck: Deck
) -> None:
    Session.start(fake_environment, SETTINGS._replace(learner="Paul"), record, deck).finish()
    assert record.owner is None


def test_the_record_knows_when_a_drill_began_and_ended(session: Session, record: Record, clock: HandClock) -> None:
    answered(session, clock)
    (running,) = record.drills()
    assert running.ended_at is None
    session.finish()
    (ended,) = record.drills()
    assert ended.ended_at == round(clock.now_s * 1000)


@pytest.mark.long
def test_a_week_of_drills_brings_new_cards_and_keeps_old_ones(fake_environment: Environment, deck: Deck) -> None:
    """Whole days under a frozen clock; the learner knows a card from its second meeting on."""
    start = datetime(2026, 3, 2, 19, 0)
    known, before_today = set[str](), set[str]()
    for day in range(7):
        with freeze_time(start + timedelta(days=day)) as frozen:
            environment = Environment.real(record=fake_environment.record_path)
            with Record.open(environment.record_path, environment.now) as record:
                session = Session.start(environment, SETTINGS, record, deck, minutes=5)
                today = set()
                while (question := ask(session)) is not None:
                    frozen.tick(1.2)
                    session.first_response()
                    met_before = question.card.id in known | today
                    session.answer(question.card.accepts[0]) if met_before else session.give_up()
                    frozen.tick(2.5)
                    today.add(question.card.id)
            if day:
                assert today & known, f"day {day} asked nothing of the days before"
            before_today = known.copy()
            known |= today
    assert len(known) > 30
    with freeze_time(start + timedelta(days=7)):
        environment = Environment.real(record=fake_environment.record_path)
        with Record.open(environment.record_path, environment.now) as record:
            learner = Session.start(environment, SETTINGS, record, deck).store.learner
            now_s = environment.now()
            holding = [c for c in before_today if learner.strength(deck.entries[c].item, now_s) > TARGET_STRENGTH]
            assert len(holding) > len(before_today) / 2, "what was met on the last day was not known yet"


# -- cards that are shown solved ---------------------------------------------------------------------------------------


def test_a_solved_card_is_logged_as_shown_and_takes_no_answer(session: Session, record: Record) -> None:
    question = session.ask()
    assert question is not None and question.solved
    for answer in (lambda: session.answer(question.card.accepts[0]), session.give_up, lambda: session.read("E")):
        with pytest.raises(UsageProblem, match="shown with its answer"):
            answer()
    session.shown()
    (row,) = record.attempts()
    assert (row.card, row.kind, row.correct, row.thinking_ms) == (question.card.id, "shown", None, None)
    assert session.finish().answered == 0
    with pytest.raises(UsageProblem, match="No solved card is open"):
        session.shown()


def drilled_rightly(session: Session, clock: HandClock) -> list[Card]:
    """Answer every question of a drill in three seconds, and rightly; gives the cards that were shown solved."""
    shown = []
    while (question := session.ask()) is not None:
        clock.tick(3.0)
        if question.solved:
            shown.append(question.card)
            session.shown()
        else:
            session.answer(question.card.accepts[0])
    return shown


@pytest.mark.long
def test_a_card_is_new_when_it_is_first_asked_even_if_it_was_shown_solved(session: Session, clock: HandClock) -> None:
    """What the end of a drill calls new is what has ceased to be unasked, whether an example came before it or not."""
    shown = {card.id for card in drilled_rightly(session, clock)}
    summary = session.finish()
    assert shown & {verdict.card.id for verdict in session.verdicts}, "an example is asked in the same drill"
    assert summary.first_time == sum(not is_fresh(session.store.learner, item) for item in session.deck.items)


@pytest.mark.parametrize(("looked_s", "kinds"), [(5.0, ["shown"]), (0.2, [])])
def test_a_solved_card_at_which_the_drill_ends_was_seen_if_there_was_time(
    session: Session, record: Record, clock: HandClock, looked_s: float, kinds: list[str]
) -> None:
    question = session.ask()
    assert question is not None and question.solved
    clock.tick(looked_s)
    session.finish()
    assert [row.kind for row in record.attempts()] == kinds


@pytest.mark.long
def test_each_kind_is_shown_once_and_never_again_after_it_came_right(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock
) -> None:
    shown: list[str] = []
    for _ in range(3):
        session = Session.start(fake_environment, SETTINGS, record, deck, minutes=5)
        shown += [card.family for card in drilled_rightly(session, clock)]
        clock.tick(86_400.0)
    assert len(shown) == len(set(shown)) > 1


def test_a_verdict_knows_when_the_card_last_came_right_and_how_fast(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock
) -> None:
    card = "shape-anchor:key=Fm:shape=string-6"
    alone = deck._replace(entries={card: deck.entries[card]})
    last = []
    for right, thinking_s in ((True, 4.0), (False, 1.0), (True, 2.5), (True, 2.0)):
        session = Session.start(fake_environment, SETTINGS, record, alone, minutes=5)
        last.append(answered(session, clock, right=right, thinking_s=thinking_s).last_thinking_s)
        clock.tick(86_400.0)
    assert last == pytest.approx([None, 3.7, 3.7, 2.2]), "less 0.3 s for a key press that nobody measured"


def test_a_reason_is_to_be_read_while_card_or_rule_is_new_and_after_a_miss(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock
) -> None:
    card = "shape-anchor:key=Fm:shape=string-6"
    alone = deck._replace(entries={card: deck.entries[card]})
    new = []
    for right in (True, True, False, True, True):
        session = Session.start(fake_environment, SETTINGS, record, alone, minutes=5)
        new.append(answered(session, clock, right=right).is_new)
    assert new == [True, False, False, True, False]
    session = Session.start(fake_environment, SETTINGS, record, deck, minutes=5)
    in_time, late = answered(session, clock), answered(session, clock, thinking_s=9.0)
    assert (in_time.card.family, late.card.family) == ("shape-anchor", "shape-anchor")
    assert (in_time.is_new, late.is_new) == (False, True), "the rule is known by now"


def test_what_comes_in_time_by_its_net_thinking_is_not_to_be_read(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock
) -> None:
    """Each answer takes longer than its target by a part of what a key press takes."""
    session, verdicts = Session.start(fake_environment, SETTINGS, record, deck, minutes=5), []
    for _ in range(RULE_KNOWN + 3):
        question = ask(session)
        assert question is not None
        clock.tick(1.05 * question.target_s)
        verdicts.append(session.answer(question.card.accepts[0]))
    assert len({verdict.card.family for verdict in verdicts}) == 1
    assert all(verdict.in_time for verdict in verdicts)
    assert [verdict.is_new for verdict in verdicts] == [True] * RULE_KNOWN + [False] * 3


@pytest.mark.parametrize(("deck_id", "thinking_s"), [("naturals", 1.6), ("two-shapes", 2.2)])
def test_only_a_drill_of_which_each_card_came_within_its_own_net_target_ends_early(
    fake_environment: Environment, record: Record, clock: HandClock, deck_id: str, thinking_s: float
) -> None:
    """A natural note has 1.5 s, without the key press; a part of a shape has no longer, however long a shape has."""
    session = Session.start(fake_environment, SETTINGS, record, load_deck(deck_id, Neck(STANDARD)), minutes=5)
    while (question := ask(session)) is not None:
        clock.tick(thinking_s)
        session.answer(question.card.accepts[0])
        clock.tick(1.0)
    last = {verdict.card.id: verdict for verdict in session.verdicts}
    all_in_time = all(verdict.in_time for verdict in last.values())
    assert all_in_time is (deck_id == "naturals")
    assert session.planner.ending is (Ending.IN_TIME if all_in_time else Ending.TIME)


def test_each_attempt_keeps_the_target_it_was_asked_with(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    """A bar lasts 3 s at 80 beats a minute and 2 s at 120."""
    card = "shape-anchor:key=Fm:shape=string-6"
    for bpm in (80, 120):
        deck = load_deck("two-shapes", Neck(STANDARD), bar_seconds(bpm))
        alone = deck._replace(entries={card: deck.entries[card]})
        session = Session.start(fake_environment, Settings(tempo_bpm=bpm), record, alone, minutes=5)
        verdict = answered(session, clock)
        assert verdict.beat_s == 60 / bpm
        clock.tick(86_400.0)
    assert [row.target_ms for row in record.attempts() if row.kind == "asked"] == [3000, 2000]


def test_what_was_played_and_missed_hands_free_comes_early_in_the_next_drill(
    fake_environment: Environment, record: Record, deck: Deck, clock: HandClock
) -> None:
    """A played miss says nothing certain, so nothing in its strength brings the card forward."""
    deck = deck.focused(Focus(families=("shape-anchor",)))

    def drilled(answers: Literal["typed", "hands free"], missed: int = -1) -> list[Question]:
        session, asked = Session.start(fake_environment, Settings(answers=answers), record, deck, minutes=3), []
        while question := ask(session):
            clock.tick(2.0)
            wrong = len(asked) == missed
            asked.append(question)
            if answers == "typed":
                session.answer(question.card.accepts[0])
            else:
                session.answer_played("14" if wrong else question.card.accepts[0], 50, right=not wrong, thinking_s=2.0)
            clock.tick(2.0)
        session.finish()
        clock.tick(86_400.0)
        return asked

    for _ in range(4):
        drilled("typed")
    missed = drilled("hands free", missed=10)[10]
    assert missed.reason.kind is not ReasonKind.FRESH
    early = {question.card.id: question.reason.kind for question in drilled("typed")[:3]}
    assert early[missed.card.id] is ReasonKind.FAILED
    assert missed.card.id not in [question.card.id for question in drilled("typed")[:3]], "once is enough"
