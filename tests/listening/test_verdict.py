"""What is right, what may be charged, and what never is."""

from __future__ import annotations

import pytest

from drill.listening import Event, Heard, Missed
from drill.listening.verdict import NotSure, Other, Right, Verdict, Wanted, verdict, verdict_on

A_EVERYWHERE = {9 + 12 * octave for octave in range(11)}
OPENED, CLOSES, PATH = 1000, 5000, 100


def _heard(midi: int, *, cents: float = 0, held: bool = False, onset: int = 2100) -> Heard:
    return Heard(midi, cents, onset, onset + 60, 0.95, held)


def _ruling(*events: Event, wanted: Wanted = A_EVERYWHERE) -> Verdict:
    return verdict(events, wanted, OPENED, CLOSES, PATH)


def test_the_wanted_note_is_right_at_once_and_its_lateness_leaves_the_path_out() -> None:
    assert _ruling(_heard(57)) == Right(1000)
    assert _ruling(_heard(57, onset=1100)) == Right(0)


@pytest.mark.parametrize("wanted", [{57}, [57], lambda midi: midi == 57])
def test_one_pitch_may_be_wanted_and_another_octave_of_it_is_another_note(wanted: Wanted) -> None:
    assert isinstance(_ruling(_heard(57), wanted=wanted), Right)
    assert _ruling(_heard(45, held=True), wanted=wanted) == Other(45)


def test_another_note_is_charged_only_once_it_held() -> None:
    assert isinstance(_ruling(_heard(58)), NotSure)
    assert _ruling(_heard(58), _heard(58, held=True)) == Other(58)


def test_a_wanted_note_that_is_not_clear_is_right_once_it_held_and_another_is_never_charged() -> None:
    """Two strings at once can seem a third note, which is less clear than one string."""
    named, held = (note._replace(clarity=0.92) for note in (_heard(57), _heard(57, held=True)))
    assert isinstance(_ruling(named), NotSure)
    assert _ruling(named, held) == Right(1000)
    assert isinstance(_ruling(held, wanted={58}), NotSure)


def test_in_haste_after_another_pluck_a_wanted_note_has_to_be_clearer_and_another_is_not_charged() -> None:
    before, named, held = Missed(2000, 2050), _heard(57), _heard(57, held=True)

    def ruling(*events: Event) -> Verdict:
        return verdict_on(2100, [before, *events], {57}, 1000)

    assert isinstance(ruling(named), NotSure)
    assert ruling(named._replace(clarity=0.98)) == ruling(named, held) == Right(0)
    assert isinstance(ruling(named, held._replace(clarity=0.92)), NotSure)
    assert isinstance(ruling(_heard(58, held=True)), NotSure)
    assert verdict_on(2100, [_heard(58, held=True)], {57}, 1000) == Other(58)


def test_a_wanted_note_that_was_not_sudden_is_right_only_once_it_held() -> None:
    """What grows is a voice, unless a pick only touched the string first."""
    named, held = (note._replace(clarity=1.0, sudden=False) for note in (_heard(57), _heard(57, held=True)))
    assert isinstance(_ruling(named), NotSure)
    assert isinstance(verdict_on(2100, [Missed(2000, 2050), named], {57}, 1000), NotSure)
    assert _ruling(named, held) == Right(1000)


def test_the_first_note_that_held_is_the_one_charged() -> None:
    assert _ruling(_heard(58, held=True), _heard(60, held=True, onset=3000)) == Other(58)


def test_the_wanted_note_after_another_is_right() -> None:
    assert _ruling(_heard(58, held=True), _heard(57, onset=3000)) == Right(1900)


@pytest.mark.parametrize(
    "events",
    [
        (),
        (Missed(2000, 2400),),
        (_heard(58, held=True, onset=OPENED + PATH - 1),),
        (_heard(58, held=True, onset=CLOSES + PATH),),
        (_heard(57, onset=CLOSES + PATH),),
    ],
    ids=["nothing", "a pluck without a name", "before its time", "after its time", "too late"],
)
def test_nothing_for_sure_is_never_charged(events: tuple[Event, ...]) -> None:
    assert isinstance(_ruling(*events), NotSure)


@pytest.mark.parametrize(
    ("midi", "cents", "is_right"),
    [(58, -41, True), (58, -39, False), (56, 41, True), (56, 39, False), (58, 41, False), (56, -41, False)],
)
def test_within_sixty_cents_a_note_is_right(midi: int, cents: float, is_right: bool) -> None:
    ruling = _ruling(_heard(midi, cents=cents, held=True))
    assert isinstance(ruling, Right) if is_right else ruling == Other(midi)
