"""Line mode: sentences for people, JSON Lines for programs."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterator
from typing import Any

import pytest

from drill.cli.json_mode import drill_in_json
from drill.cli.line_input import LONGEST_LINE, answer_from_lines
from drill.cli.line_mode import GO_ON, HOW, NO_QUESTION, UNREADABLE, drill_in_words
from drill.decks import Focus, load_deck
from drill.memory import is_fresh
from drill.practice.learner_store import LearnerStore
from drill.practice.session import Session
from drill.present.cautions import CAUTIONS
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.names import NoteLanguage
from drill.theory.neck import STANDARD, Neck
from tests.support.asking import answers, introduce
from tests.support.worlds import HandClock


class Drill:
    """A one-minute drill of naturals that is fed lines and heard."""

    def __init__(self, environment: Environment, record: Record, clock: HandClock) -> None:
        self.environment, self.record, self.clock = environment, record, clock
        self.settings = Settings()

    def _run(self, run: Any, lines: Iterator[str] | list[str]) -> str:
        environment = self.environment._replace(stdin=_Typed(lines, self.clock), stdout=io.StringIO())
        deck = load_deck("naturals", Neck(STANDARD))
        session = Session.start(environment, self.settings, self.record, deck, minutes=2)
        run(session, environment)
        assert isinstance(environment.stdout, io.StringIO)
        return environment.stdout.getvalue()

    def in_words(self, *lines: str) -> list[str]:
        return self._run(drill_in_words, list(lines)).splitlines()

    def in_json(self, *lines: str) -> list[dict[str, Any]]:
        return [json.loads(line) for line in self._run(drill_in_json, list(lines)).splitlines()]


class _Typed(io.StringIO):
    """Standard input on which every read takes two seconds of thought."""

    takes_s = 2.0

    def __init__(self, lines: Iterator[str] | list[str], clock: HandClock) -> None:
        super().__init__("".join(f"{line}\n" for line in lines))
        self._clock = clock

    def readline(self, size: int | None = -1, /) -> str:
        self._clock.tick(self.takes_s)
        return super().readline(-1 if size is None else size)


class _Pipe(io.StringIO):
    """Standard output to another program, at which nothing arrives before it is flushed."""

    arrived = ""

    def flush(self) -> None:
        self.arrived = self.getvalue()


class _Passing(io.StringIO):
    """Standard input from a program that passes on three questions and keeps what had arrived when it did."""

    def __init__(self, pipe: _Pipe) -> None:
        super().__init__("?\n" * 3)
        self.pipe, self.read = pipe, list[str]()

    def readline(self, size: int | None = -1, /) -> str:
        self.read.append(self.pipe.arrived.splitlines()[-1])
        return super().readline(-1 if size is None else size)


@pytest.fixture
def drill(fake_environment: Environment, clock: HandClock) -> Iterator[Drill]:
    with Record.open(fake_environment.record_path, fake_environment.now) as record:
        introduce(record, clock.now())
        yield Drill(fake_environment, record, clock)


@pytest.fixture
def first_drill(fake_environment: Environment, record: Record, clock: HandClock) -> Drill:
    """The drill of a learner who has not seen anything yet."""
    return Drill(fake_environment, record, clock)


def test_a_drill_without_an_answer_says_so(drill: Drill) -> None:
    assert drill.in_words()[-1] == "Nothing was answered, so nothing has changed."


@pytest.mark.parametrize("line", ["", "?", " ? "])
def test_a_line_can_say_that_the_answer_is_not_known(drill: Drill, line: str) -> None:
    assert drill.in_words(line)[2] == "Not known. It is E. It comes back."


def test_a_new_card_that_was_not_known_has_gained_nothing_and_is_not_said_to_be_known(drill: Drill) -> None:
    summary = drill.in_json("?")[-1]
    assert (summary["answered"], summary["moved"]) == (1, [])
    assert not any("->" in line for line in drill.in_words("?")), "nor has it anything to lose"


def test_a_new_card_that_was_known_began_as_new(drill: Drill) -> None:
    moved = re.compile(r"Fret 0, string 6 \(low E\): which note\? new -> \d+%")
    assert any(map(moved.fullmatch, drill.in_words("E")))


def test_a_card_that_never_came_right_is_not_said_to_be_known(drill: Drill) -> None:
    card = drill.in_json("?")[0]["card"]
    drill.clock.tick(3600)
    later = [each for each in drill.in_json("?", "?", "?") if each["type"] == "question"]
    assert next(each["why"] for each in later if each["card"] == card) == "You have not had it right yet."


def test_a_single_mixup_happened_once(drill: Drill) -> None:
    assert any(line.startswith("Mixed up once: one fret off.") for line in drill.in_words("F"))


def test_a_right_and_a_wrong_answer_in_words(drill: Drill) -> None:
    said = drill.in_words("E", "B")
    assert said[1] == "1. Fret 0, string 6 (low E): which note? (a note, such as Eb)"
    assert said[2] == "Right: E. 1.7 s of thinking."
    assert said[3] == "Why: string 6 (low E) sounds E open."
    assert said[4].startswith("2. Fret 1, string 6 (low E)")
    assert said[5] == "Wrong: B. It is F. It comes back."
    assert any(line.startswith("Why: string 6 (low E) sounds E open; then F at 1") for line in said)


def test_the_first_drill_begins_with_the_cautions_and_no_other(first_drill: Drill) -> None:
    assert first_drill.in_words("E")[:2] == [f"Naturals on two low strings. 2 min. {HOW}", " ".join(CAUTIONS)]
    assert not any(CAUTIONS[0] in line for line in first_drill.in_words("E"))


@pytest.mark.parametrize(("run", "question"), [(drill_in_words, r"\d+\. .*\?"), (drill_in_json, '.*"question"')])
def test_a_question_has_arrived_before_its_answer_is_awaited(drill: Drill, run: Any, question: str) -> None:
    stdin = _Passing(pipe := _Pipe())
    environment = drill.environment._replace(stdin=stdin, stdout=pipe)
    run(Session.start(environment, drill.settings, drill.record, load_deck("naturals", Neck(STANDARD))), environment)
    assert len(stdin.read) == 4  # three answers and the end of input
    assert all(re.match(question, line) for line in stdin.read)


def test_end_of_input_ends_the_drill_with_a_summary(drill: Drill) -> None:
    assert drill.in_words("E")[-1].startswith("Come back tomorrow")
    assert drill.in_json()[-1]["type"] == "summary"
    assert all(row.ended_at is not None for row in drill.record.drills())


def test_a_line_that_cannot_be_read_is_asked_again_and_not_counted(drill: Drill) -> None:
    said = drill.in_words("potato", "E")
    assert said[2] == "“potato” is not a note. Type a letter A to G with # or b, such as F# or Bb. Not counted."
    assert said[3].startswith("Right: E.")
    assert len(answers(drill.record)) == 1


@pytest.mark.parametrize("word", ["quit", "Q", "exit", " :q "])
def test_who_types_quit_leaves_the_drill_and_no_miss_on_the_record(drill: Drill, word: str) -> None:
    said = drill.in_words("E", "potato", word, "F")
    assert any("1 of 1 right" in line for line in said)
    assert [row.given for row in answers(drill.record)] == ["E"]
    assert drill.in_json(word)[-1]["type"] == "summary"


def test_who_types_help_is_told_how_to_answer_and_how_to_leave_and_loses_no_try(drill: Drill) -> None:
    said = drill.in_words("help", "x", "HELP", "y", "help", "E")
    assert said[2] == said[4] == said[6] == f"{HOW} Not counted."
    assert "type quit" in HOW
    assert said[7].startswith("Right: E.")
    assert [row.given for row in answers(drill.record)] == ["E"]


def test_endless_help_ends_the_drill_and_counts_as_nothing(drill: Drill) -> None:
    assert drill.in_words(*["help"] * 10_000)[-1] == "Nothing was answered, so nothing has changed."
    assert not answers(drill.record)


def test_three_lines_that_cannot_be_read_count_as_a_pass(drill: Drill) -> None:
    said = drill.in_words("x", "y", "z")
    assert sum(line.endswith("Not counted.") for line in said) == 2
    assert any(line.startswith("“z” is not a note.") and line.endswith(UNREADABLE) for line in said)
    (row,) = answers(drill.record)
    assert row.correct is False


def test_endless_empty_lines_end_the_drill_by_themselves(drill: Drill) -> None:
    said = drill._run(drill_in_words, [""] * 10_000).splitlines()
    assert said[-1].startswith("Come back tomorrow")
    assert said.count("The last 10 questions went unanswered, so the drill ends here.") == 1
    assert len(answers(drill.record)) == 10


def test_json_lines_follow_the_contract(drill: Drill) -> None:
    question, verdict, *_ = drill.in_json("E")
    assert {"type", "card", "family", "prompt", "facets"} <= question.keys()
    assert (question["type"], question["card"]) == ("question", "note-at-fret:string=6:fret=0")
    assert question["facets"] == {"string": 6, "fret": 0}
    assert verdict == {
        "type": "verdict",
        "card": "note-at-fret:string=6:fret=0",
        "right": True,
        "given": "E",
        "accepts": ["E"],
        "mixup": None,
        "mixup_sentence": None,
        "mixups": [],
        "because": ["string 6 (low E) sounds E open"],
        "thinking_ms": 2000,
    }


def test_json_says_in_words_what_was_mixed_up_the_likelier_first(drill: Drill) -> None:
    """F is the fret above the open low E string and the letter above E: either may have led to it."""
    _, verdict, *_ = drill.in_json("F")
    assert (verdict["mixup"], verdict["mixup_sentence"]) == ("one fret off", "F is one fret above E.")
    assert verdict["mixups"] == [
        {"mixup": "one fret off", "sentence": "F is one fret above E."},
        {"mixup": "one letter off", "sentence": "F is the letter above E."},
    ]


def test_json_names_the_problem_of_a_line_that_cannot_be_read_and_takes_the_next_one(drill: Drill) -> None:
    question, problem, verdict, *_ = drill.in_json("fret 99", "E")
    assert problem.keys() == {"type", "card", "problem"}
    assert (problem["type"], problem["card"]) == ("problem", question["card"])
    assert problem["problem"].startswith("“fret 99” is not a note.")
    assert (verdict["type"], verdict["card"], verdict["right"]) == ("verdict", question["card"], True)
    assert len(answers(drill.record)) == 1


def test_every_line_gets_one_object_and_the_third_that_cannot_be_read_counts_as_not_known(drill: Drill) -> None:
    said = drill.in_json("x", "y", "z", "F")
    said = [each for each in said if each["type"] != "shown"]  # what follows a miss on a kind that was never right
    assert [each["type"] for each in said[:6]] == ["question", "problem", "problem", "verdict", "question", "verdict"]
    assert (said[3]["right"], said[3]["mixup"]) == (False, None)
    assert said[3].keys() == said[5].keys()
    assert [row.given for row in answers(drill.record)] == ["", "F"]


@pytest.mark.parametrize("line", ["", "?", " ? "])
def test_a_line_can_say_in_json_too_that_the_answer_is_not_known(drill: Drill, line: str) -> None:
    question, verdict, *_ = drill.in_json(line)
    assert (question["type"], verdict["type"], verdict["right"]) == ("question", "verdict", False)
    (row,) = answers(drill.record)
    assert row.given == ""


def test_thinking_lasts_until_the_line_that_can_be_read(drill: Drill) -> None:
    verdict = drill.in_json("potato", "E")[2]
    assert verdict["thinking_ms"] == 4000, "two lines, each after two seconds of thought"


@pytest.mark.long(but=1)
@pytest.mark.parametrize("language", ["english", "german"])
def test_a_script_that_knows_every_answer_gets_every_verdict_right(drill: Drill, language: NoteLanguage) -> None:
    deck = load_deck("naturals", Neck(STANDARD))
    answers = {card.id: card.accepts for card in deck.cards()}

    class Script(_Typed):
        """Answers whatever question was written last."""

        def readline(self, size: int | None = -1, /) -> str:
            self._clock.tick(2.0)
            question = json.loads(out.getvalue().splitlines()[-1])
            return answers[question["card"]][-1] + "\n"

    out = io.StringIO()
    environment = drill.environment._replace(stdin=Script([], drill.clock), stdout=out)
    drill_in_json(
        Session.start(environment, Settings(note_language=language), drill.record, deck, minutes=5), environment
    )
    verdicts = [line for line in map(json.loads, out.getvalue().splitlines()) if line["type"] == "verdict"]
    assert len(verdicts) > 100
    assert all(verdict["right"] for verdict in verdicts)


def test_a_line_of_a_million_characters_is_one_line(drill: Drill) -> None:
    said = drill.in_words("E" * 1_000_000, "E")
    assert max(map(len, said)) < LONGEST_LINE
    assert said[3].startswith("Right: E.")


def test_notes_are_read_and_shown_in_the_learners_language(drill: Drill) -> None:
    drill.settings = Settings(note_language="german")
    said = drill.in_words("H")
    assert said[1].endswith("(a note, such as Es)")
    assert said[2].startswith("Wrong: H. It is E.")
    (row,) = answers(drill.record)
    assert row.given == "B"


def test_a_way_to_answer_with_brackets_in_it_stands_in_square_ones(drill: Drill) -> None:
    heard = io.StringIO()
    environment = drill.environment._replace(stdin=_Typed(["?"] * 4, drill.clock), stdout=heard)
    deck, focus = load_deck("two-shapes", Neck(STANDARD)), Focus(families=("tonic-finger",))
    drill_in_words(Session.start(environment, drill.settings, drill.record, deck, focus=focus), environment)
    assert re.search(r"tonic finger, string \d\? \[a finger, 1 \(index\) to 4 \(little\)\]\n", heard.getvalue())


# -- cards that are shown before any of their kind is asked ------------------------------------------------------------


def test_the_first_card_is_shown_with_idea_answer_and_reason_and_takes_no_line(first_drill: Drill) -> None:
    said = first_drill.in_words("F")
    at = next(number for number, line in enumerate(said) if line.startswith("Idea: "))
    assert said[at].startswith("Idea: Count up from the open string: E to F and B to C are one fret each")
    assert said[at + 1] == "Shown, not asked: Fret 0, string 6 (low E): which note?"
    assert said[at + 2] == "Answer: E."
    assert said[at + 3] == "Why: string 6 (low E) sounds E open."
    assert re.match(r"1\. Fret \d+, string \d .*: which note\?", said[at + 4])
    shown, asked = list(first_drill.record.attempts())[:2]
    assert (shown.kind, shown.correct, shown.given, shown.thinking_ms) == ("shown", None, "", None)
    assert (asked.kind, asked.given) == ("asked", "F")


def test_a_shown_card_is_an_object_of_its_own_in_json_and_counts_as_nothing(first_drill: Drill) -> None:
    shown, question, verdict, *_, summary = first_drill.in_json("F")
    assert shown == {
        "type": "shown",
        "card": "note-at-fret:string=6:fret=0",
        "family": "note-at-fret",
        "deck": "naturals",
        "prompt": "Fret 0, string 6 (low E): which note?",
        "facets": {"string": 6, "fret": 0},
        "target_s": 1.5,
        "why": "It is new, and the next in the deck.",
        "accepts": ["E"],
        "because": ["string 6 (low E) sounds E open"],
        "idea": "Count up from the open string: E to F and B to C are one fret each, all other steps two.",
    }
    assert question.keys() == shown.keys() - {"accepts", "because", "idea"}
    assert (question["type"], verdict["type"]) == ("question", "verdict")
    assert question["card"] == verdict["card"] != shown["card"], "another card of the kind is asked"
    assert summary["answered"] == 1


@pytest.mark.parametrize(("start", "told"), [("notes", 1), ("shapes", 0), ("undecided", 0)])
def test_whoever_knows_no_notes_is_told_the_letters_once_before_the_first_question(
    start: Any, told: int, first_drill: Drill
) -> None:
    letters = "Letters: A B C D E F G, then A again, up every string. One fret or two: B to C and E to F"
    first_drill.settings = first_drill.settings._replace(start=start)
    said = first_drill.in_words("E")
    assert [line.startswith(letters) for line in said[3:5]] == [bool(told), False]
    assert said[3 + told].startswith("Idea: "), "the first card follows, solved"
    assert not any(line.startswith("Letters: ") for line in first_drill.in_words())


def test_a_card_that_was_shown_is_asked_as_a_new_one_later(first_drill: Drill) -> None:
    first_drill.in_json("F")
    (row,) = [row for row in first_drill.record.attempts() if row.card == "note-at-fret:string=6:fret=0"]
    assert row.kind == "shown"
    learner = LearnerStore.of(first_drill.record).learner
    item = load_deck("naturals", Neck(STANDARD)).entries[row.card].item
    assert is_fresh(learner, item)
    assert row.card in learner.cards, "its answer was seen all the same"


def test_the_first_drill_tells_the_idea_and_no_other(first_drill: Drill) -> None:
    assert first_drill.in_words("F")[2].startswith("The idea. One shape: five notes under one hand.")
    assert not any(line.startswith("The idea.") for line in first_drill.in_words("F"))


def test_at_a_terminal_a_shown_card_waits_for_enter(first_drill: Drill) -> None:
    first_drill.environment = first_drill.environment._replace(is_terminal=True)
    said = first_drill.in_words("5", "F")
    first_asked = next(number for number, line in enumerate(said) if line.startswith("1. "))
    assert said[first_asked - 2 : first_asked] == [GO_ON, NO_QUESTION], "nothing typed there is an answer"
    assert [(row.kind, row.given) for row in first_drill.record.attempts()] == [("shown", ""), ("asked", "F")]
    took_ms = next(row.answered_at - row.asked_at for row in first_drill.record.attempts())
    assert took_ms == 2000, "the two seconds that the reader took"


def test_a_miss_on_a_kind_that_was_never_right_is_followed_by_another_solved_card(first_drill: Drill) -> None:
    said = [each["type"] for each in first_drill.in_json("?", "F", "?", "?")]
    assert said[:6] == ["shown", "question", "verdict", "shown", "question", "verdict"]


class _Terminal(_Typed):
    """Lines typed at a terminal."""

    def isatty(self) -> bool:
        return True


def _at_a_terminal(drill: Drill, *lines: str) -> list[str]:
    environment = drill.environment._replace(stdin=_Terminal(list(lines), drill.clock), stdout=io.StringIO())
    deck = load_deck("naturals", Neck(STANDARD))
    session = Session.start(environment, drill.settings, drill.record, deck, minutes=1)
    drill_in_words(session, environment)
    assert isinstance(environment.stdout, io.StringIO)
    return environment.stdout.getvalue().splitlines()


def test_at_a_terminal_the_next_question_waits_after_a_wrong_answer_alone(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    drill = Drill(fake_environment, record, clock)
    heard = _at_a_terminal(drill, "", "C", "too early", "")
    asked = [number for number, line in enumerate(heard) if re.match(r"\d+\. ", line)]
    between = heard[asked[0] : asked[1]]
    assert between.count(NO_QUESTION) == 1
    assert between.index(GO_ON) == between.index(NO_QUESTION) - 1
    assert [(row.given, row.thinking_ms) for row in record.attempts() if row.given] == [("C", 2000)]


def test_at_a_terminal_minutes_that_nobody_thinks_for_are_not_measured_and_not_taken_off(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    left = {}
    for someone in (_Terminal, _Typed):  # at a terminal; through a pipe
        stdin = someone(["C"], clock)
        stdin.takes_s = 600
        environment = fake_environment._replace(stdin=stdin)
        session = Session.start(environment, Settings(), record, load_deck("naturals", Neck(STANDARD)), minutes=1)
        while (question := session.ask()) and question.solved:
            session.shown()
        answered = answer_from_lines(session, environment, lambda error: None)
        assert answered
        left[someone] = answered.verdict.thinking_s, session.seconds_left
    assert left == {_Terminal: (None, 60.0), _Typed: (600.0, 0.0)}


def test_a_pipe_never_waits_and_every_line_of_it_counts(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    heard = Drill(fake_environment, record, clock).in_words("C", "D", "E")
    assert GO_ON not in heard
    assert [row.given for row in record.attempts() if row.given] == ["C", "D", "E"]


def test_who_types_quit_while_it_waits_leaves_the_drill(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    heard = _at_a_terminal(Drill(fake_environment, record, clock), "", "C", "quit", "E")
    assert NO_QUESTION not in heard
    assert any("0 of 1 right" in line for line in heard[heard.index(GO_ON) :])


def test_the_end_of_input_while_it_waits_ends_the_drill_with_its_summary(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    heard = _at_a_terminal(Drill(fake_environment, record, clock), "", "C")
    assert any("0 of 1 right" in line for line in heard[heard.index(GO_ON) :])


# -- an instrument without shapes --------------------------------------------------------------------------------------

NO_SHAPES = (
    "In this tuning (Guitar, drop D) you drill notes and relative keys; shapes are for strings in fourths, as on a "
    "guitar in standard tuning."
)


def in_drop_d(environment: Environment, record: Record, *lines: str) -> list[str]:
    """What a drill of the default deck says to a guitar in drop D."""
    there = environment._replace(stdin=io.StringIO("".join(f"{line}\n" for line in lines)), stdout=io.StringIO())
    settings = Settings(tuning="drop-d")
    session = Session.start(there, settings, record, load_deck("two-shapes", settings.neck))
    drill_in_words(session, there)
    assert isinstance(there.stdout, io.StringIO)
    return there.stdout.getvalue().splitlines()


def test_who_plays_drop_d_is_told_once_what_is_drilled_and_nothing_of_anchors(
    fake_environment: Environment, record: Record
) -> None:
    first = in_drop_d(fake_environment, record, "?")
    assert first.count(NO_SHAPES) == 1
    assert not any("anchors" in line or "low E" in line for line in first)
    assert NO_SHAPES not in in_drop_d(fake_environment, record, "?")


def test_who_comes_to_drop_d_later_is_told_as_well(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    Drill(fake_environment, record, clock).in_words("?", "?")
    assert NO_SHAPES in in_drop_d(fake_environment, record)
