"""Verdicts and summaries are said in the same words everywhere."""

from __future__ import annotations

import re
from typing import Any

import pytest

from drill.decks import load_deck
from drill.memory.reasons import Reason, ReasonKind
from drill.present.reasons import reason_afterwards, reason_sentence
from drill.present.summaries import (
    MixupCount,
    Move,
    NextStep,
    Return,
    Slow,
    Summary,
    come_back,
    duration,
    mixup,
    next_step_sentence,
    result,
    slowest,
)
from drill.present.verdicts import Verdict, idea_of, solved_lines, verdict_lines
from drill.present.voice import Voice
from drill.questions.facets import Group
from drill.questions.mixups.claims import LetterBeside, OneFretApart, SameSound
from drill.questions.mixups.mixup import Mixup
from drill.questions.wording import named
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.keys import parse_key
from drill.theory.neck import STANDARD, Neck
from drill.theory.pitch import Note
from drill.tui.verdict_text import verdict_content
from tests.support.asking import judged

LOW_E = "note-at-fret:string=6:fret=6"
"""Fret 6 of the low E string is A#, or Bb by its other name."""


def verdict(given: str | None, **more: Any) -> Verdict:
    card = load_deck("whole-neck", Neck(STANDARD)).card(LOW_E)
    judgement = judged(card, given or "E")
    mixups = more.pop("mixups", judgement.mixups if given else ())
    right = judgement.right and given is not None
    facts = {"thinking_s": 2.04, "target_s": 1.5, "comes_back": False, "strength_before": 0.5}
    return Verdict(card=card, fresh=True, right=right, given=given, mixups=mixups, **{**facts, **more})


@pytest.mark.parametrize(
    ("given", "more", "first"),
    [
        ("Bb", {}, "Right: B♭. 2.0 s of thinking."),
        ("Bb", {"net_thinking_s": 1.4}, "Right: B♭. 1.4 s of thinking; 2 of 2 beats."),
        ("Bb", {"last_thinking_s": 3.42}, "Right: B♭. 2.0 s of thinking, last time 3.4 s."),
        ("Bb", {"last_thinking_s": 1.2}, "Right: B♭. 2.0 s of thinking, last time 1.2 s; 3 beats, target 2."),
        ("Bb", {"target_s": 2.4, "beat_s": 0.6}, "Right: B♭. 2.0 s of thinking; 4 of 4 beats."),
        ("Bb", {"thinking_s": None}, "Right: B♭."),
        ("D", {"comes_back": True}, "Wrong: D. It is A♯ or B♭. It comes back."),
        (None, {}, "Not known. It is A♯ or B♭."),
    ],
)
def test_the_ruling_tells_ones_own_last_time_first(given: str | None, more: dict[str, Any], first: str) -> None:
    assert str(next(iter(verdict_lines(verdict(given, **more), Voice())))) == first


def test_notes_are_named_in_the_learners_language() -> None:
    """In German B flat is called B and A sharp Ais (common practice)."""
    said = [str(line) for line in verdict_lines(verdict("A"), Voice("german"))]
    assert said[0].startswith("Wrong: A. It is Ais or B.")
    assert said[1].startswith("Mixed up: ")
    assert said[-1] == "Why: string 6 (low E) has A at 5; one fret up, at 6: Ais or B."


@pytest.mark.parametrize("given", ["Bb", "A", "D", None])
def test_a_screen_adds_a_sign_and_no_words(given: str | None) -> None:
    shown = verdict_content(verdict(given), Settings(next_question="on enter")).plain.replace(" → ", "; ")
    assert shown[2:].split("\n") == [str(line) for line in verdict_lines(verdict(given), Voice())]


def test_a_summary_counts_and_names_what_was_slow() -> None:
    summary = Summary(
        21, 19, 1, 253.2, (), (), (Slow(Group("string", 6), 2.31), Slow(Group("key", parse_key("Bbm")), 2.0)), None
    )
    assert str(result(summary)) == "19 of 21 right in 4 min 13 s. 1 new card."
    assert slowest(summary, Voice()) == "string 6 2.3 s · B♭ minor 2.0 s"


def test_a_summary_without_new_cards_says_nothing_of_them() -> None:
    assert str(result(Summary(1, 0, 0, 59.4, (), (), (), None))) == "0 of 1 right in 59 s."
    assert [duration(seconds) for seconds in (59.6, 61.0, 3600.0)] == ["1 min", "1 min 1 s", "60 min"]


def test_a_mixup_is_counted_with_its_example_in_the_learners_language() -> None:
    count = MixupCount("a fret too high", 2, f"You gave {named(Note.of('B', 0))}.", "Fret 3?")
    assert str(mixup(count, Voice("german"))) == "Mixed up twice: a fret too high. Fret 3? You gave H."


def test_a_move_starts_from_what_was_measured() -> None:
    assert [Move("", "", fresh, 0.25, 0.5).start for fresh in (True, False)] == ["new", "25%"]


@pytest.mark.parametrize(("days", "day"), [(1, "tomorrow"), (2, "Wednesday"), (28, "in 28 days, on 2 February")])
@pytest.mark.parametrize(
    ("returns_for", "why"),
    [
        (Return.FADES, "that is when the first of these begins to fade."),
        (Return.TEST, "nothing should fade before then, and a drill makes sure of it."),
        (Return.MISSED, "what does not come surely yet is asked again."),
    ],
)
def test_one_comes_back_on_a_day_for_a_reason(
    days: float, day: str, returns_for: Return, why: str, fake_environment: Environment
) -> None:
    returns_at_s = fake_environment.now() + days * 86_400  # from Monday, 5 January
    done = Summary(1, 1, 0, 60.0, (), (), (), returns_at_s, returns_for=returns_for)
    assert come_back(done, fake_environment) == f"Come back {day}: {why}"


@pytest.mark.parametrize("returns_for", Return)
def test_nothing_fades_where_nothing_came_right(returns_for: Return, fake_environment: Environment) -> None:
    returns_at_s = fake_environment.now() + 86_400
    done = Summary(5, 0, 5, 60.0, (), (), (), returns_at_s, returns_for=returns_for)
    assert come_back(done, fake_environment) == (
        "Come back tomorrow: you have seen these answers now, and they are asked again."
    )


def test_one_comes_back_for_what_was_never_asked(fake_environment: Environment) -> None:
    done = Summary(1, 1, 1, 60.0, (), (), (), fake_environment.now() + 86_400, returns_for=Return.NEW)
    assert come_back(done, fake_environment) == "Come back tomorrow: more of the deck is still new to you."
    assert come_back(done._replace(returns_at_s=None), fake_environment) == ""


def test_a_known_deck_leads_on_in_a_sentence() -> None:
    both = NextStep("Two shapes", 80, 90, "chords", "Chords of a key")
    assert next_step_sentence(both) == (
        "“Two shapes” is ready at 80 beats a minute. Next: 90 beats a minute or the deck “Chords of a key”. "
        "Choose it in Set-up."
    )
    alone = both._replace(faster_bpm=None)
    assert next_step_sentence(alone) == "“Two shapes” is known. Next: the deck “Chords of a key”. Choose it in Set-up."


def test_a_solved_card_has_its_idea_its_answer_and_its_reason() -> None:
    card = load_deck("whole-neck", Neck(STANDARD)).card(LOW_E)
    assert idea_of(card, Voice()).endswith(".")
    answer, why = map(str, solved_lines(card, Voice()))
    assert answer == "Answer: A♯ or B♭."
    assert why.startswith("Why: ")


@pytest.mark.parametrize(
    ("kind", "said"),
    [
        (ReasonKind.FADING, "about 99%."),
        (ReasonKind.SLOW, "in about 2.3 s; the target is 1.5 s."),
        (ReasonKind.UNTRIED, "for 11 days;"),  # 950,000 s are 10 days, 23 hours and 53 minutes
        (ReasonKind.REFRESH, "at about 99%;"),
        (ReasonKind.HOLDING, "(99%)"),
    ],
)
def test_a_reason_tells_the_figures_it_rests_on(kind: ReasonKind, said: str) -> None:
    assert said in reason_sentence(Reason(kind, 0.997, 2.34, 1.5, 950_000.0))


@pytest.mark.parametrize("speed_s", [1.5001, 1.52, 1.549])
def test_a_speed_that_looks_like_the_target_is_not_told_beside_it(speed_s: float) -> None:
    said = reason_sentence(Reason(ReasonKind.SLOW, 0.9, speed_s, 1.5, 0.0))
    assert said.count("1.5 s") == 1
    assert "longer" in said


@pytest.mark.parametrize("kind", ReasonKind)
def test_beside_a_wrong_answer_nobody_is_told_that_they_know_it(kind: ReasonKind) -> None:
    said = reason_afterwards(Reason(kind, 0.5, 2.0, 3.0, 950_000.0))
    assert not re.search(r"\b(you know|still know|now|It)\b", said)
    assert not said or re.match(r"Why it was asked: .*\b(had|was|were|seemed)\b.*\.$", said)


def test_beside_a_wrong_answer_a_card_that_was_new_has_no_reason() -> None:
    assert reason_afterwards(Reason(ReasonKind.FRESH, 0.5, 2.0, 3.0, 0.0)) == ""


def test_two_confusions_behind_one_answer_are_both_told() -> None:
    """A for A sharp is a fret too low, or its sharp was left out."""
    _, first, second, _ = map(str, verdict_lines(verdict("A"), Voice()))
    assert first == "Mixed up: one fret off. A is one fret below A♯."
    assert second == "Or: sign left out. A leaves out the sharp of A♯."


def test_a_guess_that_fits_two_unlikely_confusions_is_told_one_and_as_a_guess() -> None:
    """G is the letter beside F; fret 3 of the low E string sounds it by chance."""
    lucky = Mixup("one letter off", "G", (LetterBeside(Note.of("G"), Note.of("F"), True),))
    other = Mixup("sharp for flat", "G", (SameSound(Note.of("G"), Note.of("A", -2)),))
    guessed = verdict("G", mixups=(lucky, other))
    told = [str(line) for line in verdict_lines(guessed, Voice())][1:-1]
    assert told == ["Perhaps: one letter off. G is the letter above F."]


def test_what_was_mixed_up_before_in_a_drill_is_natural_and_no_guess() -> None:
    lucky = Mixup("one letter off", "G", (LetterBeside(Note.of("G"), Note.of("F"), True),))
    natural = Mixup("one fret off", "G", (OneFretApart(Note.of("G"), Note.of("F", 1), True),))
    again = verdict("G", mixups=(lucky, natural), mixed_up_before=frozenset({"one letter off"}))
    leads = [line.lead for line in verdict_lines(again, Voice())][1:-1]
    assert leads == ["Mixed up:", "Or:"]
