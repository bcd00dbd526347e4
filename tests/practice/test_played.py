"""What notes that are heard come to: right at once, wrong only when sure, and never for what is unclear."""

from __future__ import annotations

from functools import lru_cache

import pytest

from drill.listening import Event, Missed, listen
from drill.listening import Heard as Note
from drill.practice import hearing
from drill.practice.played import Heard, Take, take
from drill.questions.catalogue import FAMILIES, read_card_id
from drill.theory.neck import STANDARD, Neck
from tests.support.busy_room import talk

RATE = 1000
OPENED = 5000
PATH = 40
LOW_E_SHAPE, A_SHAPE = "shape-anchor:key=Am:shape=string-6", "shape-anchor:key=Am:shape=string-5"
RELATIVE = "relative-minor:key=C"
OCTAVE = "tonic-octave:string=6:fret=3"
A, B, C, E, G, G_UP, FSHARP = 45, 47, 48, 40, 43, 55, 42


def take_of(card_id: str, opened: int = OPENED, rate: int = RATE, path: int = PATH) -> Take:
    name = read_card_id(card_id)
    found = take(FAMILIES[name.family].card(name.facets, Neck(STANDARD)), opened, rate, path)
    assert found
    return found


def plucked(midi: int, at_s: float, cents: float = 0.0, *, holds: bool = True) -> list[Event]:
    """A note as the listener tells it: named, and once more if it holds."""
    onset = OPENED + PATH + round(at_s * RATE)
    named = Note(midi, cents, onset, onset + 70, 0.95, False)
    return [named, named._replace(decided=onset + 190, held=True)] if holds else [named]


def heard(taken: Take, *notes: list[Event]) -> list[Heard]:
    return [told for note in notes for event in note if (told := taken.hear(event))]


def kinds(found: list[Heard]) -> list[str]:
    return [told.kind for told in found]


def test_the_right_note_is_right_before_it_has_held_and_in_any_octave() -> None:
    for midi in (A, A + 12, A + 24):
        (told,) = heard(take_of(RELATIVE), plucked(midi, 1.5, holds=False))
        assert (told.kind, told.answer) == ("right", "A minor")


def test_a_right_note_that_is_not_clear_is_right_once_it_has_held() -> None:
    unclear = [note._replace(clarity=0.9) for note in plucked(A, 1.5) if isinstance(note, Note)]
    assert heard(take_of(RELATIVE), [unclear[0]]) == []
    assert kinds(heard(take_of(RELATIVE), [*unclear])) == ["right"]


def test_another_note_in_haste_after_a_pluck_is_not_even_told() -> None:
    """Of notes in quick succession the first may still ring when the second is read."""
    assert kinds(heard(take_of(RELATIVE), plucked(G, 1.0), plucked(B, 1.4))) == ["again"], "the first of them is"
    onset = OPENED + PATH + 1000
    assert kinds(heard(take_of(RELATIVE), [Missed(onset, onset + 350)], plucked(B, 1.2))) == ["unclear"]
    assert kinds(heard(take_of(RELATIVE), plucked(G, 1.0), plucked(A, 1.3))) == ["again", "right"]


@pytest.mark.long
@pytest.mark.parametrize("card_id", [RELATIVE, "relative-minor:key=Eb", "relative-minor:key=D", OCTAVE])
def test_somebody_who_talks_in_the_room_answers_hardly_anything(card_id: str) -> None:
    """A voice glides through all notes: what it names by chance is not clear, or does not come after quiet."""
    ended = [ends_in_talk(card_id, seed) for seed in range(10)]
    assert ended.count("right") <= 1
    assert ended.count("wrong") == 0


@lru_cache
def talked(seed: int) -> list[Event]:
    return listen(talk(8.0, seed), hearing.RATE, 40, 86)


def ends_in_talk(card_id: str, seed: int) -> str:
    """What ends a question while somebody talks for eight seconds; nothing if nothing does."""
    taken = take_of(card_id, 0, hearing.RATE, 0)
    told = (taken.hear(event) for event in talked(seed))
    return next((each.kind for each in told if each and each.kind in ("right", "wrong")), "")


def test_thinking_runs_to_the_pluck_and_the_way_through_the_machine_is_taken_off() -> None:
    taken = take_of(RELATIVE)
    (told,) = heard(taken, plucked(A, 1.5, holds=False))
    assert taken.thinking_s(told.onset) == 1.5


def test_of_two_notes_thinking_runs_to_the_first() -> None:
    taken = take_of(A_SHAPE)
    first, second = heard(taken, plucked(A, 1.2), plucked(E, 2.0))
    assert (first.kind, second.kind, second.answer) == ("half", "right", "12")
    assert taken.thinking_s(second.onset) == 1.2


def test_another_note_is_only_told_and_the_same_again_is_wrong() -> None:
    first, second = heard(take_of(RELATIVE), plucked(B, 1.0), plucked(B + 12, 3.0))
    assert (first.kind, first.midi) == ("again", B)
    assert (second.kind, second.answer) == ("wrong", "B minor")


def test_another_note_that_does_not_hold_is_not_even_told() -> None:
    notes = [plucked(B, 1.0 + n, holds=False) for n in range(9)]
    assert heard(take_of(RELATIVE), *notes) == []


def test_right_after_a_misheard_note_is_right_and_timed_to_its_own_pluck() -> None:
    taken = take_of(RELATIVE)
    found = heard(taken, plucked(B, 1.0), plucked(A, 4.0))
    assert kinds(found) == ["again", "right"]
    assert taken.thinking_s(found[-1].onset) == 4.0


def test_who_tries_note_after_note_is_wrong_at_the_third() -> None:
    assert kinds(heard(take_of(RELATIVE), plucked(B, 1), plucked(C, 2), plucked(G, 3))) == ["again", "again", "wrong"]


def test_what_could_not_be_named_is_never_counted() -> None:
    missed = [Missed(OPENED + PATH + 1000 * n, OPENED + PATH + 1000 * n + 350) for n in range(1, 20)]
    assert kinds(heard(take_of(RELATIVE), missed)) == ["unclear"] * 19  # type: ignore[arg-type]


def test_what_was_plucked_for_the_question_before_is_nothing() -> None:
    assert heard(take_of(RELATIVE), plucked(B, -0.5), plucked(B, 0.1), plucked(A, 0.19)) == []


def test_a_hard_pluck_that_begins_sharp_is_still_right() -> None:
    """Named as A sharp, 45 cents flat, it lies nearer than 60 cents to A."""
    assert kinds(heard(take_of(RELATIVE), plucked(A + 1, 1.0, -45.0, holds=False))) == ["right"]


def test_the_low_e_shape_is_its_index_note_twice() -> None:
    assert kinds(heard(take_of(LOW_E_SHAPE), plucked(A, 1.0), plucked(A, 1.8))) == ["half", "right"]
    assert kinds(heard(take_of(LOW_E_SHAPE), plucked(A, 1.0), plucked(A, 1.1))) == ["half"], "one pluck, heard twice"


def test_the_pair_of_the_other_shape_is_wrong_if_it_comes_again() -> None:
    """Who lies in the A-string shape plays E below A; who lies in the low-E-string shape plays A again."""
    for card, last in ((LOW_E_SHAPE, E), (A_SHAPE, A)):
        once = plucked(A, 1.0), plucked(last, 1.8)
        again = plucked(A, 4.0), plucked(last, 4.8)
        assert kinds(heard(take_of(card), *once, *again)) == ["half", "again", "half", "wrong"]
        right = plucked(A, 4.0), plucked(A if card == LOW_E_SHAPE else E, 4.8)
        assert kinds(heard(take_of(card), *once, *right)) == ["half", "again", "half", "right"]


def test_the_second_of_two_notes_is_never_held_against_who_plays_it_first() -> None:
    found = heard(take_of(OCTAVE), *(plucked(G_UP, n) for n in range(1, 9)), plucked(G, 9), plucked(G_UP, 10))
    assert kinds(found) == ["order"] * 8 + ["half", "right"]


def test_where_an_octave_is_asked_the_note_alone_is_not_enough() -> None:
    taken = take_of("tonic-fret:key=G:string=6")
    assert kinds(heard(taken, plucked(G_UP + 12, 1.0), plucked(G, 3.0))) == ["again", "right"]


def test_a_wrong_fret_of_the_asked_string_is_the_answer_it_comes_to() -> None:
    found = heard(take_of("tonic-fret:key=G:string=6"), plucked(FSHARP, 1.0), plucked(FSHARP, 3.0))
    assert found[-1].answer == "2"


def test_a_card_that_cannot_be_heard_has_no_take() -> None:
    name = read_card_id("tonic-finger:key=C:shape=string-6")
    assert take(FAMILIES[name.family].card(name.facets, Neck(STANDARD)), OPENED, RATE) is None
