"""Plucks made by the project are heard and named, whatever the blocks they come in and whatever else sounds."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drill.listening import Event, Heard, Listener, Missed, listen
from drill.listening.pitch import Reader
from drill.listening.plucks import hop_size
from drill.listening.verdict import Right, is_sure, verdict
from drill.practice.hearing import reach
from drill.sound.noise import clicks
from drill.sound.pluck import Samples
from drill.system.tunings import tunings
from drill.theory.neck import STANDARD, Neck, Spot, Tuning
from tests.support import playing
from tests.support.playing import after, note_of, played, together

LOW, HIGH = 40, 86
RATE = playing.RATE


def _names(events: list[Event]) -> list[int]:
    return [event.midi for event in events if isinstance(event, Heard) and not event.held]


def _held(events: list[Event]) -> list[int]:
    return [event.midi for event in events if isinstance(event, Heard) and event.held]


def _heard(samples: Samples) -> list[Event]:
    return listen(samples, RATE, LOW, HIGH)


# At 22,050 samples a second the made strings above E5 die within a tenth of a second, as muted ones do.
@pytest.mark.long(but=1)
@pytest.mark.parametrize(("rate", "highest"), [(22_050, 76), (44_100, HIGH), (48_000, HIGH)])
def test_every_note_of_a_guitar_is_named_in_its_octave_and_holds(rate: int, highest: int) -> None:
    for midi in range(LOW, highest + 1):
        first, held = listen(after(0.3, note_of(midi, 0.4, rate), rate), rate, LOW, HIGH)
        assert isinstance(first, Heard) and isinstance(held, Heard)
        assert (first.midi, first.held, held.midi, held.held) == (midi, False, midi, True)
        assert abs(first.onset - 0.3 * rate) < 0.01 * rate
        assert first.decided - first.onset < 0.07 * rate
        assert abs(held.cents) < 8
        assert held.decided - first.decided >= 0.12 * rate


@pytest.mark.long(but=2)
@pytest.mark.parametrize("capo", [0, 3])
@pytest.mark.parametrize("tuning", tunings().values(), ids=lambda tuning: tuning.id)
def test_every_instrument_is_heard_from_its_lowest_note_to_its_highest(tuning: Tuning, capo: int) -> None:
    neck = Neck(tuning, 15, capo)
    low, high = reach(neck)
    notes = {low, high, *(neck.sounding(Spot(string, 0)) for string in tuning.strings)}
    for midi in notes:
        assert _held(listen(after(0.3, note_of(midi, 0.6)), RATE, low, high)) == [midi], midi


def test_the_reach_of_a_neck_goes_from_its_lowest_open_string_to_the_last_fret() -> None:
    assert reach(Neck(STANDARD, 22, 2)) == (42, 86)  # F sharp 2 to D6, whether there is a capo or not
    assert reach(Neck(tunings()["ukulele"], 12)) == (60, 81)  # string 4 is not the lowest


@pytest.mark.long(but=1)
@pytest.mark.parametrize("beat_s", [0.75, 0.375, 0.1875])
def test_a_damped_phrase_is_heard_note_by_note(beat_s: float) -> None:
    phrase = [45, 48, 50, 52, 55, 57, 60, 62, 64, 57, 52, 45]
    assert _names(_heard(played([(0.3 + beat_s * step, midi) for step, midi in enumerate(phrase)], 10))) == phrase


def test_strings_left_ringing_do_not_lend_their_names_to_the_next_note() -> None:
    phrase = [40, 47, 52, 56, 59, 64, 45, 61]
    samples = played([(0.3 + 0.75 * step, midi) for step, midi in enumerate(phrase)], 6.5, ringing=True)
    assert [midi for midi in _held(_heard(samples)) if midi not in phrase] == []
    assert _names(_heard(samples)) == phrase


@pytest.mark.parametrize("cents", [-35, -20, 20, 35])
def test_a_string_out_of_tune_is_told_with_its_cents(cents: int) -> None:
    events = _heard(after(0.3, playing.detuned(note_of(57, 0.6), cents)))
    assert _held(events) == [57]
    assert all(abs(event.cents - cents) < 4 for event in events if isinstance(event, Heard))


@pytest.mark.long(but=2)
@pytest.mark.parametrize(
    "disturbance",
    [
        playing.noise(1.2, db=-20),
        playing.hum(1.2, hertz=50),
        playing.hum(1.2, hertz=60),
        after(0.25, playing.knock()),
        after(0.15, 0.25 * note_of(40, 1.0)),
    ],
    ids=["noise", "hum of 50 Hz", "hum of 60 Hz", "a hand before", "another string"],
)
def test_a_note_is_heard_through_what_disturbs_it(disturbance: Samples) -> None:
    for midi in (45, 52, 60, 69):
        events = _heard(together(after(0.4, note_of(midi, 0.8)), disturbance))
        late = [event for event in events if event.onset > 0.35 * RATE]
        assert (_names(late), _held(late)) == ([midi], [midi])


def test_through_loud_noise_a_note_is_named_and_no_other_holds() -> None:
    for midi in (45, 52, 60, 69):
        events = _heard(together(after(0.4, note_of(midi, 0.8)), playing.noise(1.2, db=-10)))
        assert _names(events) == [midi]
        assert set(_held(events)) <= {midi}


@pytest.mark.long
def test_in_steady_noise_a_note_counts_though_it_is_less_clear() -> None:
    """Steady noise takes from the clarity of the purest tone, and the listener knows how loud it was before."""
    for midi in range(46, 77, 2):
        samples = together(after(1.0, note_of(midi, 0.8)), playing.noise(1.8, db=-8))
        assert isinstance(verdict(_heard(samples), {midi}, round(0.9 * RATE), samples.size, 0), Right), midi


@pytest.mark.parametrize(("first", "second"), [(46, 41), (46, 43), (43, 40), (52, 47)])
def test_a_softer_note_at_once_after_another_is_heard(first: int, second: int) -> None:
    quick = after(0.3, note_of(first, 0.1875))
    assert _names(_heard(together(quick, after(0.4875, 0.7 * note_of(second, 0.6))))) == [first, second]


@pytest.mark.parametrize("grows_s", [0.1, 0.15, 0.2])
def test_a_tone_that_grows_was_not_plucked_and_does_not_count(grows_s: float) -> None:
    sung = playing.sung(110, 0.4, grows_s)
    events = _heard(together(after(0.4, sung), playing.noise(1.0, db=-50)))
    notes = [event for event in events if isinstance(event, Heard)]
    assert notes and not any(is_sure(note) for note in notes)


def test_a_note_that_becomes_clear_only_after_its_attack_counts_then() -> None:
    """Here it is damped before it could hold."""
    note = together(note_of(57, 0.165), playing.noise(0.05, db=-3), np.zeros(RATE, np.float32))
    first, clear = (event for event in _heard(after(0.4, note)) if isinstance(event, Heard))
    assert (is_sure(first), is_sure(clear), clear.held) == (False, True, False)


@pytest.mark.long(but=3)
@pytest.mark.parametrize("range_", [(40, 86), (28, 67), (23, 67)], ids=["guitar", "bass", "five-string bass"])
@pytest.mark.parametrize(
    "sound",
    [np.zeros(5 * RATE, np.float32), playing.noise(5), playing.hum(5, hertz=50), playing.hum(5, hertz=60)],
    ids=["silence", "noise", "hum of 50 Hz", "hum of 60 Hz"],
)
def test_nothing_is_named_where_nobody_plays(sound: Samples, range_: tuple[int, int]) -> None:
    assert _names(listen(sound, RATE, *range_)) == []


def test_a_hand_on_the_strings_is_missed_or_at_least_holds_no_note() -> None:
    for seed in range(20):
        events = _heard(after(0.3, together(playing.knock(seed=seed), np.zeros(RATE, np.float32))))
        assert events and _held(events) == []


@pytest.mark.parametrize("upon", [playing.knock(), clicks(1, 120, RATE)], ids=["a knock", "a click"])
def test_a_note_holds_though_something_without_a_pitch_comes_upon_it(upon: Samples) -> None:
    events = _heard(together(after(0.3, note_of(57, 1.0)), after(0.37, 0.3 * upon)))
    assert _held(events) == [57]
    assert all(abs(event.onset - 0.3 * RATE) < 0.01 * RATE for event in events if isinstance(event, Heard))


def test_a_note_that_is_damped_when_something_comes_upon_it_does_not_hold() -> None:
    assert _held(_heard(together(after(0.3, note_of(57, 0.1)), after(0.37, playing.knock())))) == []


def test_a_muted_string_is_no_note_that_holds() -> None:
    muted = note_of(64, 0.5) * np.exp(-np.arange(round(0.5 * RATE)) / (0.02 * RATE)).astype(np.float32)
    assert _held(_heard(after(0.3, muted))) == []


def test_the_click_of_a_round_is_never_named() -> None:
    assert _names(_heard(0.3 * clicks(16, 120, RATE))) == []


def test_a_pluck_with_which_the_stream_begins_is_heard() -> None:
    assert _held(_heard(note_of(57, 0.8))) == [57]


def test_a_note_beyond_the_range_is_missed() -> None:
    (event,) = listen(after(0.3, note_of(76, 0.8)), RATE, 40, 64)
    assert isinstance(event, Missed)
    assert event.decided - event.onset < 0.5 * RATE


def test_samples_that_are_no_numbers_count_as_silence() -> None:
    samples = after(0.3, note_of(57, 0.8))
    samples[:1000] = np.nan
    assert _held(_heard(samples)) == [57]


SHORT = together(played([(0.1, 45), (0.35, 57), (0.6, 64)], 1.0), playing.noise(1.0, db=-30))
WHOLE = _heard(SHORT)


@pytest.mark.long
@settings(max_examples=25, deadline=None)
@given(lengths=st.lists(st.integers(1, 4096), min_size=1, max_size=8))
def test_blocks_of_any_lengths_give_the_same_events(lengths: list[int]) -> None:
    listener, at, events = Listener(RATE, LOW, HIGH), 0, []
    while at < SHORT.size:
        length = lengths[len(events) % len(lengths)]
        events.append(listener.feed(SHORT[at : at + length]))
        at += length
    assert [event for some in events for event in some] == WHOLE
    assert _names(WHOLE) == [45, 57, 64]


@pytest.mark.long
def test_blocks_of_one_sample_give_the_same_events() -> None:
    listener = Listener(RATE, LOW, HIGH)
    assert [event for sample in SHORT[:, None] for event in listener.feed(sample)] == WHOLE


def test_no_pitch_is_read_while_nothing_sounds_but_the_room(monkeypatch: pytest.MonkeyPatch) -> None:
    """A click is followed by a third of a second of listening, most of it to hiss."""
    windows: list[Samples] = []
    monkeypatch.setattr(Reader, "read", lambda reader, window, before: windows.append(window))
    listener, hiss = Listener(RATE, LOW, HIGH), playing.noise(6, db=-50)
    listener.feed(hiss[: 5 * RATE])  # the room is known by then
    windows.clear()
    (event,) = listener.feed(together(0.3 * clicks(1, 120, RATE), hiss[5 * RATE :]))
    assert isinstance(event, Missed)
    assert len(windows) < 0.1 * RATE / hop_size(RATE)
    listener.feed(together(note_of(57, 0.5), hiss[: RATE // 2]))
    assert len(windows) > 0.3 * RATE / hop_size(RATE)


@pytest.mark.long
def test_the_listener_holds_no_more_however_long_it_listens() -> None:
    listener = Listener(RATE, LOW, HIGH)
    held = []
    for _ in range(12):
        listener.feed(SHORT)
        held.append(_held_bytes(listener))
    part_of_a_hop = SHORT.itemsize * hop_size(RATE)
    assert max(held) - min(held) < part_of_a_hop
    assert max(held) < 1_000_000


def _held_bytes(thing: object) -> int:
    """The bytes of all arrays that a thing holds."""
    if isinstance(thing, np.ndarray):
        return thing.nbytes
    parts = list(vars(thing).values()) if hasattr(thing, "__dict__") else []
    parts += list(thing) if type(thing).__name__ in ("deque", "list", "tuple") else []
    return sum(_held_bytes(part) for part in parts)
