"""The tuning check tells each open string's cents, for the tuning and the capo that are set."""

from __future__ import annotations

import pytest

from drill.listening import Heard, Missed
from drill.practice.tuning_check import MISJUDGED, TuningCheck
from drill.settings import Settings

GUITAR = (40, 45, 50, 55, 59, 64)
"""E2 A2 D3 G3 B3 E4 as MIDI numbers (MIDI 1.0: 60 is middle C)."""


def check_of(**settings: object) -> TuningCheck:
    chosen = Settings(**settings)  # type: ignore[arg-type]
    return TuningCheck(chosen.neck, chosen.voice)


def rung(midi: int, cents: float = 0.0) -> Heard:
    return Heard(midi, cents, 0, 0, 1.0, held=True)


def test_every_string_in_tune() -> None:
    check = check_of()
    assert [state.words for state in check.strings] == ["not heard yet"] * 6
    assert all(check.hear(rung(midi)) for midi in GUITAR)
    assert check.in_tune
    assert [state.label for state in check.strings][:2] == ["string 6 (low E)", "string 5 (A)"]
    assert check.outcome == "Every string is in tune."


@pytest.mark.parametrize(
    ("midi", "cents", "words"),
    [
        (45, 0.2, "in tune"),
        (45, 9.9, "in tune (10 sharp)"),
        (45, -12.0, "12 cents flat"),
        (45, 22.4, "22 cents sharp"),
        (45, -MISJUDGED, "30 cents flat: tune it, or its notes would be misjudged"),
        (44, 40.0, "60 cents flat: tune it, or its notes would be misjudged"),
        (47, 0.0, "200 cents sharp: tune it, or its notes would be misjudged"),
    ],
)
def test_how_far_a_string_is_off(midi: int, cents: float, words: str) -> None:
    check = check_of()
    assert check.hear(rung(midi, cents))
    assert check.strings[1].words == words
    assert check.strings[1].label == "string 5 (A)"
    assert not check.in_tune
    assert check.outcome == "1 of 6 strings heard."


def test_a_string_that_was_tuned_is_measured_again() -> None:
    check = check_of()
    for midi in GUITAR:
        check.hear(rung(midi, 20.0))
    assert check.complete
    assert not check.in_tune
    assert check.outcome.startswith("Tune what is off")
    for midi in GUITAR:
        check.hear(rung(midi, -3.0))
    assert check.in_tune


def test_what_did_not_ring_and_what_is_no_open_string_measures_nothing() -> None:
    check = check_of()
    assert not check.hear(Missed(0, 0))
    assert not check.hear(rung(45)._replace(held=False))
    assert not check.hear(rung(70))
    assert not any(state.cents is not None for state in check.strings)


def test_a_capo_raises_what_is_expected() -> None:
    check = check_of(capo=2)
    for midi in GUITAR:
        check.hear(rung(midi + 2))
    assert check.in_tune


@pytest.mark.parametrize(
    ("tuning", "pitches"),
    [
        ("drop-d", (38, 45, 50, 55, 59, 64)),
        ("bass", (28, 33, 38, 43)),
        ("ukulele", (67, 60, 64, 69)),
    ],
)
def test_other_tunings(tuning: str, pitches: tuple[int, ...]) -> None:
    check = check_of(tuning=tuning)
    for midi in pitches:
        check.hear(rung(midi, 4))
    assert check.in_tune
