"""A drill in lines that is answered on the guitar: notes and lines, whichever come first, and nothing lost."""

from __future__ import annotations

import io
from collections.abc import Iterable
from contextlib import suppress
from typing import Literal

import pytest

from drill.cli.line_mode import NO_QUESTION, drill_in_words
from drill.cli.played_lines import PlayedLines, heard
from drill.decks import Focus, load_deck
from drill.errors import CannotWrite
from drill.practice.hearing import LOST, open_ears
from drill.practice.played_drill import NOBODY_S, READ_WRONG_S, PlayedDrill
from drill.practice.request import DrillRequest
from drill.practice.session import Question, Session
from drill.present.played_words import CANNOT_BE_HEARD, NOBODY_PLAYS, NOTHING_YET, TYPED_AGAIN, UNCLEAR
from drill.present.verdicts import ONLY_TYPED, Verdict
from drill.questions.by_ear import playing
from drill.record import AttemptRow, Record
from drill.settings import Settings
from drill.system.audio import NOT_INSTALLED
from drill.system.duplex import open_duplex
from drill.system.environment import Environment
from drill.theory.neck import STANDARD, Neck
from tests.support.asking import answers, introduce
from tests.support.guitarist import KNOCK, Deed, Guitarist, Plan, right_notes, well_played
from tests.support.microphone import FakeDuplex, MicrophoneShop
from tests.support.missing import hide_numpy
from tests.support.worlds import HandClock

SETTINGS = Settings()


class Played:
    """A drill that somebody plays by a plan: what was printed, what was saved, and the guitarist."""

    def __init__(
        self,
        environment: Environment,
        record: Record,
        clock: HandClock,
        plan: Plan,
        families: Iterable[str] = (),
        minutes: float = 1,
        settings: Settings = SETTINGS,
    ) -> None:
        shop = MicrophoneShop(clock)
        environment = environment._replace(open_duplex=shop, stdout=io.StringIO())
        ears = open_ears(environment, SETTINGS)
        assert isinstance(shop.duplex, FakeDuplex)
        self.ears, self.guitarist = ears, Guitarist(clock, shop.duplex, plan)
        environment = environment._replace(stdin=self.guitarist)
        introduce(record, clock.now())
        focus = Focus(families=tuple(families)) if families else None
        deck = load_deck("two-shapes", Neck(STANDARD))
        self.session = Session.start(environment, settings, record, deck, minutes, focus)
        self.guitarist.session = self.session
        drill = PlayedDrill(self.session, ears)
        drill.start()
        said: list[str] = []
        lines = PlayedLines(drill, self.guitarist, clock.monotonic, lambda sentence: said.append(sentence))
        drill_in_words(self.session, environment, lines)
        ears.stop()
        assert isinstance(environment.stdout, io.StringIO)
        self.printed, self.said, self.rows = environment.stdout.getvalue(), said, answers(record)


@pytest.fixture
def play(fake_environment: Environment, record: Record, clock: HandClock):  # type: ignore[no-untyped-def]
    def run(plan: Plan, families: Iterable[str] = (), minutes: float = 1, settings: Settings = SETTINGS) -> Played:
        return Played(fake_environment, record, clock, plan, families, minutes, settings)

    return run


def of(rows: list[AttemptRow], how: str) -> list[AttemptRow]:
    return [row for row in rows if row.how == how]


@pytest.mark.long
def test_what_can_be_heard_is_played_and_the_rest_is_typed(play) -> None:  # type: ignore[no-untyped-def]
    drill = play(well_played(), ("relative-minor", "tonic-finger"))
    played, typed = of(drill.rows, "played"), of(drill.rows, "typed")
    assert len(played) >= 5
    assert {row.family for row in played} == {"relative-minor"}
    assert typed and {row.family for row in typed} == {"tonic-finger"}
    assert all(row.correct for row in drill.rows)
    assert "play the tonic, anywhere on the neck, or type a minor key" in drill.printed
    assert CANNOT_BE_HEARD in drill.printed


@pytest.mark.long
def test_the_time_is_that_of_the_pluck(play) -> None:  # type: ignore[no-untyped-def]
    """However long the note takes to be named, and whenever the program looks."""
    drill = play(well_played(1.5), ("relative-minor",))
    off = [(row.thinking_ms or 0) - drill.guitarist.plucked_ms[row.card] for row in of(drill.rows, "played")]
    assert len(off) >= 8
    assert all(-25 <= each <= 25 for each in off), off


def a_semitone_up(question: Question) -> list[int]:
    return [note + 1 for note in right_notes(question)[:1]]


@pytest.mark.long
def test_another_note_is_told_and_the_right_one_counts(play) -> None:  # type: ignore[no-untyped-def]
    def plan(question: Question) -> list[tuple[float, Deed]]:
        (right,) = right_notes(question)
        return [(1.0, right + 1), (3.0, right)]

    drill = play(plan, ("relative-minor",))
    assert drill.rows and all(row.correct for row in drill.rows)
    assert all("play it again" in sentence for sentence in drill.said)
    assert len(drill.said) == len(drill.rows)


def one_missed_first(missed: list[str]) -> Plan:
    """The first card is missed by ear and typed if it comes back; the others are played right."""

    def plan(question: Question) -> Iterable[tuple[float, Deed]]:
        card = question.card.id
        if card in missed:
            return [(2.0, question.card.accepts[0])]
        if missed:
            return well_played()(question)
        missed.append(card)
        (wrong,) = a_semitone_up(question)
        return [(1.0, wrong), (2.5, wrong)]

    return plan


@pytest.mark.long
def test_a_played_miss_comes_back_typed_and_that_answer_counts(play) -> None:  # type: ignore[no-untyped-def]
    missed: list[str] = []
    drill = play(one_missed_first(missed), ("relative-minor",), minutes=2)
    rows = [row for row in drill.rows if row.card == missed[0]]
    assert [(row.how, row.correct) for row in rows][:2] == [("played", False), ("typed", True)]
    assert TYPED_AGAIN in drill.printed
    first = drill.printed.splitlines()
    assert any(line.startswith("Wrong: heard ") for line in first)


@pytest.mark.long(but=1)
@pytest.mark.parametrize(("plucked_s", "until_s"), [([], 2.5 + READ_WRONG_S), ([5.0], 5.0)])
def test_a_wrong_answer_can_be_read_before_the_next_question(play, plucked_s: list[float], until_s: float) -> None:  # type: ignore[no-untyped-def]
    """It stands for some seconds, or until a note is plucked."""
    asked: list[Question] = []

    def plan(question: Question) -> Iterable[tuple[float, Deed]]:
        asked.append(question)
        if len(asked) != 2:  # a miss on a kind that was never right would bring a solved card
            return well_played()(question)
        (wrong,) = a_semitone_up(question)
        return [(at_s, wrong) for at_s in (1.0, 2.5, *plucked_s)]

    _, wrong, following, *_ = play(plan, ("relative-minor",)).rows
    assert not wrong.correct
    assert (following.asked_at - wrong.asked_at) / 1000 == pytest.approx(until_s, abs=0.5)


@pytest.mark.long
def test_where_nothing_is_to_be_typed_a_played_miss_does_not_come_back_and_lowers_nothing(play) -> None:  # type: ignore[no-untyped-def]
    """The setting "hands free": not one of many questions asks for a line, in a drill that would ask a miss again."""
    missed: list[str] = []
    drill = play(one_missed_first(missed), ("relative-minor",), 3, SETTINGS._replace(answers="hands free"))
    assert {row.how for row in drill.rows} == {"played"}
    assert [row.correct for row in drill.rows if row.card == missed[0]] == [False]
    assert len(drill.rows) > 12
    assert drill.printed.count(ONLY_TYPED) == 1
    assert TYPED_AGAIN not in drill.printed
    item = drill.session.deck.entries[missed[0]].item
    miss = next(verdict for verdict in drill.session.verdicts if not verdict.right)
    assert drill.session.store.learner.strength(item, drill.session.environment.now()) >= miss.strength_before


@pytest.mark.long
def test_no_line_that_is_typed_meanwhile_is_lost(play) -> None:  # type: ignore[no-untyped-def]
    """Three lines at once: each answers a question, or is said to have come where none was open."""
    lines, sent = ("E minor", "A minor", "B minor"), list[Question]()

    def plan(question: Question) -> Iterable[tuple[float, Deed]]:
        sent.append(question)
        return [(1.0, line) for line in lines] if len(sent) == 1 else well_played()(question)

    drill = play(plan, ("relative-minor",))
    typed = [row.given for row in of(drill.rows, "typed")]
    assert typed[0] == lines[0]
    assert set(typed) <= set(lines)
    assert len(typed) + drill.printed.count(NO_QUESTION) == len(lines)
    assert of(drill.rows, "played")


@pytest.mark.long
def test_silence_never_counts_and_typing_is_offered(play) -> None:  # type: ignore[no-untyped-def]
    drill = play(lambda question: [(15.0, question.card.accepts[0])], ("relative-minor",))
    assert drill.said and set(drill.said) == {NOTHING_YET}
    assert {row.how for row in drill.rows} == {"typed"}


@pytest.mark.long
def test_noise_is_told_of_once_a_question_and_moves_nothing_on(play) -> None:  # type: ignore[no-untyped-def]
    """Seven knocks a question, none of which has a pitch: one sentence, and never a count."""

    def plan(question: Question) -> Iterable[tuple[float, Deed]]:
        return [(float(second), KNOCK) for second in range(1, 8)] + [(8.0, question.card.accepts[0])]

    drill = play(plan, ("relative-minor",))
    assert drill.said.count(UNCLEAR) == len(drill.rows)
    assert {row.how for row in drill.rows} == {"typed"}


@pytest.mark.long
def test_where_nobody_plays_the_microphone_closes(play) -> None:  # type: ignore[no-untyped-def]
    drill = play(lambda question: [(NOBODY_S + 5, "?")], ("relative-minor",))
    assert drill.said[-1] == NOBODY_PLAYS
    assert not drill.guitarist.duplex.is_open


def test_an_unplugged_microphone_leaves_a_drill_that_is_typed(play) -> None:  # type: ignore[no-untyped-def]
    pulled: list[Question] = []

    def plan(question: Question) -> Iterable[tuple[float, Deed]]:
        if not pulled:
            pulled.append(question)
            drill_guitar[0].unplug()
        return [(3.0, question.card.accepts[0])]

    drill_guitar: list[FakeDuplex] = []
    original = MicrophoneShop.__call__

    def remembering(shop, *args):  # type: ignore[no-untyped-def]
        drill_guitar.append(original(shop, *args))  # type: ignore[arg-type]
        return drill_guitar[0]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(MicrophoneShop, "__call__", remembering)
        drill = play(plan, ("relative-minor",))
    assert len(drill.said) == 1
    assert drill.said[0].endswith("Type the answers from here on.")
    assert len(of(drill.rows, "typed")) == len(drill.rows) > 3


@pytest.mark.long
def test_the_state_kept_is_what_the_log_alone_gives(play, record: Record) -> None:  # type: ignore[no-untyped-def]
    """Played and typed, right and wrong: who starts from the log knows as much as who was there."""
    from drill.practice.learner_store import LearnerStore
    from drill.practice.replay import DerivedState, observations

    missed: list[str] = []

    def plan(question: Question) -> Iterable[tuple[float, Deed]]:
        card = question.card.id
        if question.number % 4 == 0 and right_notes(question) and card not in missed:
            missed.append(card)
            (wrong,) = a_semitone_up(question)
            return [(1.0, wrong), (2.5, wrong)]
        is_typed = card in missed or not question.number % 3
        return [(1.0, question.card.accepts[0])] if is_typed else well_played()(question)

    drill = play(plan, minutes=2)
    assert {(row.how, row.correct) for row in drill.rows} >= {("played", True), ("played", False), ("typed", True)}
    replayed = DerivedState()
    for item, attempt in observations(record.attempts()):
        replayed.learn(item, attempt)
    assert LearnerStore.of(record).state.rows() == replayed.rows() == drill.session.store.state.rows()


@pytest.mark.long
def test_every_card_of_the_first_deck_that_a_guitar_answers_is_heard_right(play) -> None:  # type: ignore[no-untyped-def]
    drill = play(well_played(1.0), minutes=2)
    asked = {row.card: row for row in of(drill.rows, "played")}
    deck = drill.session.deck
    assert asked.keys() <= {card.id for card in deck.cards() if playing(card)}
    assert len(asked) >= 10
    assert all(row.correct for row in asked.values())


@pytest.mark.long
def test_an_answer_that_cannot_be_saved_is_played_again(play, monkeypatch: pytest.MonkeyPatch) -> None:  # type: ignore[no-untyped-def]
    refused: list[str] = []
    save = Session.answer_played

    def failing(session: Session, given: str, midi: int, **how: object) -> Verdict:
        if not refused:
            refused.append(given)
            raise CannotWrite("The disk is full.", "Make room.")
        return save(session, given, midi, **how)  # type: ignore[arg-type]

    monkeypatch.setattr(Session, "answer_played", failing)
    poll = PlayedDrill.poll

    def patient(drill: PlayedDrill) -> list[str | Verdict]:
        with suppress(CannotWrite):
            return poll(drill)
        return []

    monkeypatch.setattr(PlayedDrill, "poll", patient)

    def plan(question: Question) -> list[tuple[float, Deed]]:
        (right,) = right_notes(question)
        return [(1.0, right), (3.0, right)] if not refused else [(1.0, right)]

    drill = play(plan, ("relative-minor",))
    assert refused
    assert len(drill.rows) > 3
    assert all(row.correct for row in drill.rows)
    assert {row.how for row in drill.rows} == {"played"}


def test_a_microphone_that_is_gone_after_a_suspension_is_told(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    shop = MicrophoneShop(clock)
    environment = fake_environment._replace(open_duplex=shop)
    introduce(record, clock.now())
    session = Session.start(environment, SETTINGS, record, load_deck("two-shapes", Neck(STANDARD)), 1, None)
    drill = PlayedDrill(session, open_ears(environment, SETTINGS))
    drill.start()
    drill.ears.pause()
    assert isinstance(shop.duplex, FakeDuplex)
    shop.duplex.unplug()
    drill.ears.resume()
    (told,) = drill.poll()
    assert str(told).startswith(LOST)
    assert drill.poll() == []


@pytest.mark.parametrize("setting", ["played", "hands free"])
def test_without_numpy_the_drill_is_typed_and_says_so(
    setting: Literal["played", "hands free"], fake_environment: Environment, monkeypatch: pytest.MonkeyPatch
) -> None:
    hide_numpy(monkeypatch)
    from drill.cli.played_lines import heard  # anew, where numpy is missing

    world = fake_environment._replace(open_duplex=open_duplex)
    deck = load_deck("two-shapes", Neck(STANDARD))
    with heard(DrillRequest(), deck, None, Settings(answers=setting), world) as (given, ears):
        assert given is deck
        assert ears is None
    assert isinstance(world.stderr, io.StringIO)
    assert NOT_INSTALLED in world.stderr.getvalue()


class BrokenPipe(io.StringIO):
    def write(self, text: str, /) -> int:
        raise BrokenPipeError


def test_a_broken_pipe_leaves_no_microphone_open(fake_environment: Environment, clock: HandClock) -> None:
    shop = MicrophoneShop(clock)
    world = fake_environment._replace(open_duplex=shop, stdout=BrokenPipe())
    deck = load_deck("two-shapes", Neck(STANDARD))
    with pytest.raises(BrokenPipeError), heard(DrillRequest(listen=True), deck, None, SETTINGS, world):
        pass
    assert isinstance(shop.duplex, FakeDuplex)
    assert not shop.duplex.is_open
