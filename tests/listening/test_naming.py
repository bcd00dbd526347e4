"""From readings to a name, step by step; a step is a hundredth of a second at a thousand samples a second."""

from __future__ import annotations

from collections.abc import Iterable

from drill.listening import Event, Heard, Missed
from drill.listening.naming import Naming
from drill.listening.pitch import Reading

RATE, STEP, FIRST = 1000, 10, 150


def _told(
    pitches: Iterable[float | None],
    levels: Iterable[float] | None = None,
    onset: int = 100,
    clarity: float = 0.98,
) -> list[Event]:
    """What comes of one reading a step, until the naming is done."""
    line = list(pitches)
    naming, events = Naming(onset, onset + 50, RATE), []
    for number, (pitch, level) in enumerate(zip(line, levels or [-20.0] * len(line), strict=True)):
        reading = None if pitch is None else Reading(pitch, clarity)
        events += naming.take(reading, level, FIRST + STEP * number)
        if naming.done:
            break
    return events


def _names(events: list[Event]) -> list[tuple[int, bool]]:
    return [(event.midi, event.held) for event in events if isinstance(event, Heard)]


def test_two_readings_that_agree_name_a_note_and_twelve_more_hold_it() -> None:
    first, held = _told([45.1] * 20)
    assert first == Heard(45, first.cents, 100, FIRST + STEP, 0.98, False)
    assert held == Heard(45, held.cents, 100, FIRST + 13 * STEP, 0.98, True)


def test_one_reading_names_nothing() -> None:
    assert _told([45, 57, 45, 57, None, 45, None]) == []


def test_a_name_that_is_gainsaid_does_not_hold_and_the_next_one_may() -> None:
    assert _names(_told([57, 57, 57, *[45] * 20])) == [(57, False), (45, False), (45, True)]


def test_a_name_that_breaks_off_and_comes_again_is_told_once() -> None:
    assert _names(_told([45] * 5 + [None] + [45] * 20)) == [(45, False), (45, True)]


def test_a_hard_pluck_settles_at_its_own_pitch() -> None:
    sinking = [45.55 - 0.005 * step for step in range(20)]
    assert _names(_told(sinking)) == [(46, False), (45, True)]


def test_a_note_that_is_gone_at_once_does_not_hold() -> None:
    assert _names(_told([64] * 20, [-20 - 1.5 * step for step in range(20)])) == [(64, False)]


def test_a_string_left_alone_holds_while_it_fades() -> None:
    assert _names(_told([64] * 20, [-20 - 0.9 * step for step in range(20)])) == [(64, False), (64, True)]


def test_a_note_that_is_not_quite_clear_is_named_and_holds_only_if_it_keeps_its_pitch() -> None:
    """A string in a noisy room keeps it, and a voice glides."""
    gliding = [57 - 0.025 * step for step in range(20)]
    assert _names(_told([57] * 20, clarity=0.94)) == [(57, False), (57, True)]
    assert _names(_told(gliding, clarity=0.94)) == [(57, False)]
    assert _names(_told(gliding, clarity=0.96)) == [(57, False), (57, True)]
    assert _names(_told([57] * 20, clarity=0.89)) == [(57, False)]


def test_a_hum_from_the_beginning_of_the_stream_is_not_named_but_a_string_is() -> None:
    assert _names(_told([31.35] * 60, onset=0)) == []
    assert _names(_told([31.35] * 20, [-20 - 0.1 * step for step in range(20)], onset=0))[0] == (31, False)


def test_patience_ends_with_a_miss() -> None:
    (missed,) = _told([None] * 60)
    assert isinstance(missed, Missed)
    assert 350 <= missed.decided - missed.onset <= 370
