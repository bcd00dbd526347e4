"""Plucks made by the project are heard and named, whatever the blocks they come in."""

from __future__ import annotations

import pytest

from drill.listening import Heard, Listener, Missed, listen
from tests.support import playing

LOW, HIGH = 40, 86


def _names(events: list[Heard | Missed]) -> list[int]:
    return [event.midi for event in events if isinstance(event, Heard) and not event.held]


@pytest.mark.parametrize("rate", [22_050, 44_100, 48_000])
def test_every_note_of_a_guitar_is_named_and_holds(rate: int) -> None:
    for midi in range(LOW, HIGH + 1):
        first, held = listen(playing.after(0.3, playing.note_of(midi, 0.6, rate), rate), rate, LOW, HIGH)[:2]
        assert isinstance(first, Heard) and isinstance(held, Heard)
        assert (first.midi, held.midi, first.held, held.held) == (midi, midi, False, True)
        assert abs(held.cents) < 10


def test_a_damped_phrase_is_heard_note_by_note() -> None:
    phrase = [45, 48, 50, 52, 55, 57, 60, 62, 64, 57, 52, 45]
    samples = playing.played([(0.3 + 0.375 * step, midi) for step, midi in enumerate(phrase)], 6)
    assert _names(listen(samples, playing.RATE, LOW, HIGH)) == phrase


def test_blocks_of_any_length_give_the_same_events() -> None:
    samples = playing.together(playing.played([(0.2, 45), (0.6, 57), (1.0, 64)], 1.6), playing.noise(1.6, db=-30))
    whole = listen(samples, playing.RATE, LOW, HIGH)
    for length in (1, 7, 128, 441, 512, 1024, 4096):
        listener = Listener(playing.RATE, LOW, HIGH)
        events = [event for at in range(0, samples.size, length) for event in listener.feed(samples[at : at + length])]
        assert events == whole
