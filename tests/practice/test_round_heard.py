"""A round that is heard: what is played comes to a result, and nothing is charged that was not sure."""

from __future__ import annotations

from pathlib import Path

import pytest

from drill.decks import Focus
from drill.errors import CannotWrite
from drill.listening import Event, Heard, Missed, listen
from drill.listening.verdict import NotSure, Other, Right
from drill.practice.hearing import LOST, RATE, Ears
from drill.practice.round import Landings, Round
from drill.practice.round_heard import HeardRound, ListenedRound, judge
from drill.present.rounds import BUSY, Judged, by_key, heard_over, outcome, table
from drill.record import Record
from drill.system.environment import Environment
from drill.theory.keys import parse_key
from drill.theory.names import parse_note
from drill.theory.neck import names_of
from tests.support.busy_room import talk
from tests.support.microphone import FakeDuplex
from tests.support.worlds import HandClock

A = parse_note("A")
FS, BB = parse_key("F#m"), parse_key("Bb")
TWO = Round((FS, BB, FS), bpm=120, bars=2)
"""A beat of half a second: calls at 2, 6 and 10 s, their bar lines at 4, 8 and 12 s."""
PATH = 2205
"""Fifty milliseconds of samples."""


def plucked(onset: int, midi: int, *, held: bool = True, cents: float = 0) -> list[Event]:
    """A note as the listener tells it."""
    named = Heard(midi, cents, onset, onset + 60, 0.95, False)
    return [named, named._replace(decided=onset + 180, held=True)] if held else [named]


def ruling(*plucks: list[Event], path: int = 0) -> object:
    """What notes from sample 1000 to 5000 at 1000 samples a second come to, where A is wanted."""
    return judge([event for pluck in plucks for event in pluck], A, 1000, 5000, path, 1000)


# -- one call ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("midi", [33, 45, 57, 69, 81])
def test_any_octave_of_the_tonic_is_right_as_soon_as_it_is_named(midi: int) -> None:
    assert ruling(plucked(1700, midi, held=False)) == Right(700)


def test_a_tonic_that_is_not_clear_counts_once_it_has_held() -> None:
    unclear = [event._replace(clarity=0.9) for event in plucked(1700, 45) if isinstance(event, Heard)]
    assert ruling(unclear[:1]) == NotSure()
    assert ruling(unclear) == Right(700)


@pytest.mark.long
def test_a_voice_in_the_room_lands_on_hardly_anything() -> None:
    """Its syllables glide through all notes, so that in one call of three it would name the tonic by chance."""
    names = [names_of(pitch_class)[0] for pitch_class in range(12)]
    heard = [listen(talk(3.0, seed), RATE, 40, 88) for seed in range(10)]
    found = [judge(events, name, 0, 3 * RATE, 0, RATE) for events in heard for name in names]
    assert sum(any(isinstance(event, Heard) for event in events) for events in heard) == 10
    assert sum(result != NotSure() for result in found) <= len(found) * 0.01


def test_another_note_is_charged_only_once_it_has_held() -> None:
    assert ruling(plucked(1700, 46, held=False)) == NotSure()
    assert ruling(plucked(1700, 46)) == Other(46)


def test_the_first_sure_note_decides() -> None:
    assert ruling(plucked(1700, 46), plucked(2700, 45)) == Other(46)
    assert ruling(plucked(1700, 45), plucked(2700, 46)) == Right(700)
    assert ruling(plucked(1700, 46, held=False), plucked(2700, 45)) == Right(1700)
    assert ruling(plucked(2700, 45), plucked(1700, 46)) == Other(46), "in whatever order they are told"


def test_another_note_is_charged_only_after_quiet() -> None:
    """Of notes in quick succession the first may still ring when the second is read."""
    assert ruling([Missed(1500, 1800)], plucked(1700, 46)) == NotSure()
    assert ruling(plucked(800, 43), plucked(1100, 46)) == NotSure(), "a phrase from before the call goes on"
    assert ruling(plucked(800, 43), plucked(1310, 46)) == Other(46)
    assert ruling([Missed(1500, 1800)], plucked(1700, 45)) == Right(700), "the tonic is right after anything"


def test_a_tonic_in_haste_has_to_be_clearer_or_to_hold() -> None:
    """The syllables of a voice follow each other, and now and then one is as clear as a note."""
    named = plucked(1700, 45, held=False)
    clearer = [event._replace(clarity=0.98) for event in named if isinstance(event, Heard)]
    assert ruling([Missed(1500, 1800)], named) == NotSure()
    assert ruling([Missed(1500, 1800)], clearer) == Right(700)
    assert ruling([Missed(1150, 1500)], named) == Right(700), "after quiet"


def test_what_could_not_be_named_and_what_came_outside_is_never_charged() -> None:
    assert ruling() == ruling([Missed(1700, 2050)]) == NotSure()
    assert ruling(plucked(999, 46), plucked(5000, 46)) == NotSure()


def test_the_way_through_the_sound_card_is_taken_off() -> None:
    assert ruling(plucked(1750, 45), path=50) == Right(700)
    assert ruling(plucked(1040, 45), path=50) == NotSure()


# -- call by call ------------------------------------------------------------------------------------------------------


def heard_at(seconds: float, midi: int) -> list[Event]:
    """A note plucked so many seconds after the first click, as it comes in."""
    return plucked(round(seconds * RATE) + PATH, midi)


def results(*notes: list[Event], path: int = PATH) -> list[Judged]:
    heard = HeardRound(TWO, RATE, path)
    for events in notes:
        heard.hear(events, events[0].decided)
    heard.hear([], 20 * RATE)
    assert heard.complete
    return heard.judged


def test_landed_late_other_and_not_heard() -> None:
    landed, other, late = results(heard_at(3.0, 42), heard_at(7.0, 48), heard_at(12.5, 66))
    assert (landed.number, landed.key, landed.landed, landed.in_time, landed.late_ms) == (0, FS, True, True, -1000)
    assert landed.after_call_s == pytest.approx(1.0, abs=1e-3)
    assert (other.landed, other.in_time, other.note, other.late_ms) == (False, False, parse_note("C"), None)
    assert (late.landed, late.in_time, late.late_ms) == (True, False, 500)
    assert [row.path_ms for row in (landed, other, late)] == [50, 50, 50]
    assert [row.landed for row in results()] == [None, None, None]


def test_words_for_each() -> None:
    said = [outcome(row, 120, "english") for row in results(heard_at(3.0, 42), heard_at(7.0, 48), heard_at(12.5, 66))]
    assert said == ["landed after 2.0 beats", "another note: C", "late by 500 ms"]
    assert outcome(results()[0], 120, "english") == "not heard"
    assert outcome(results(heard_at(7.0, 49))[1], 120, "german") == "another note: Cis"


def test_before_the_path_is_measured_no_figure_is_told_that_nobody_knows() -> None:
    notes = heard_at(3.0, 42), heard_at(8.2, 46), heard_at(12.5, 66)
    assert [outcome(row, 120, "english") for row in results(*notes, path=0)] == [
        "landed in time",
        "landed in time",
        "late",
    ]


def test_another_note_is_spelled_as_the_key_spells_it() -> None:
    assert results(heard_at(7.0, 51))[1].note == parse_note("Eb")
    assert results(heard_at(3.0, 44))[0].note == parse_note("G#")


def test_a_note_on_the_bar_line_is_in_time_and_more_is_allowed_before_the_path_is_measured() -> None:
    assert results(heard_at(4.05, 42))[0].in_time
    assert not results(heard_at(4.06, 42))[0].in_time
    unmeasured = HeardRound(TWO, RATE, 0)
    [first] = unmeasured.hear(plucked(round(4.24 * RATE), 42), 5 * RATE)
    assert first.in_time and first.path_ms is None


def test_nobody_answers_a_call_at_once_so_that_is_the_call_before() -> None:
    one_bar = HeardRound(TWO._replace(bars=1), RATE, PATH)
    [judged] = one_bar.hear(heard_at(4.04, 42), 5 * RATE)
    assert (judged.number, judged.key, judged.late_ms) == (0, FS, 40)


def test_a_call_left_out_is_told_only_when_nothing_more_can_come_of_it() -> None:
    heard = HeardRound(TWO, RATE, PATH)
    assert heard.hear([], round(6.84 * RATE)) == []
    assert [row.landed for row in heard.hear([], round(6.91 * RATE))] == [None]


def test_our_own_click_before_a_note_does_not_break_the_quiet() -> None:
    beat = round(6.5 * RATE) + PATH
    click: list[Event] = [Missed(beat + 200, beat + RATE // 3)]
    assert results(click, heard_at(6.7, 48))[1].note == parse_note("C")
    assert results([Missed(beat + 4000, beat + RATE // 3)], heard_at(6.7, 48))[1].note is None


# -- the table ---------------------------------------------------------------------------------------------------------


def test_the_table_tells_key_by_key_the_weakest_first() -> None:
    rows = results(heard_at(3.0, 42), heard_at(7.0, 48), heard_at(12.5, 66))
    assert [line.split() for line in table(rows, "english")] == [
        ["Key", "in", "time", "late", "other", "unsure"],
        ["B♭", "maj", "0", "0", "1", "0"],
        ["F♯", "min", "1", "1", "0", "0"],
    ]
    assert max(map(len, table(rows, "english"))) <= 37
    assert heard_over(rows) == "The round is over: 1 of 3 calls landed in time."
    assert heard_over(results()) == (
        "The round is over: 0 of 0 calls landed in time. 3 calls not heard: that counts neither way."
    )
    assert [row.not_heard for row in by_key(results())] == [2, 1]


def test_lost_samples_are_told_of_only_where_a_call_was_not_heard() -> None:
    assert heard_over(results(), lost_samples=True).endswith(BUSY)
    heard = results(heard_at(3.0, 42), heard_at(7.0, 48), heard_at(12.5, 66))
    assert BUSY not in heard_over(heard, lost_samples=True)


# -- through a microphone ----------------------------------------------------------------------------------------------


class Room:
    """A round heard through a fake microphone, with its click leaking in."""

    def __init__(self, environment: Environment, record: Record, clock: HandClock, leak: float = 0.1) -> None:
        self.clock, self.duplex = clock, FakeDuplex(clock, RATE)
        self.duplex.leak, self.duplex.path = leak, PATH
        self.landings = Landings(environment, record, "two-shapes", 5, Focus())
        self.ears = Ears(self.duplex, 40, 88, PATH)

    def begin(self) -> ListenedRound:
        return ListenedRound(self.ears, TWO, self.landings, 20, self.clock.monotonic)

    def play(self, seconds: float, midi: int) -> None:
        self.duplex.pluck_at(round(seconds * RATE) + PATH, midi)


def refuse(*landing: object) -> None:
    raise CannotWrite("The disk is full.")


def until(listened: ListenedRound, clock: HandClock, seconds: float) -> list[Judged]:
    """The results until so many seconds have passed, looked at thirty times a second."""
    found: list[Judged] = []
    for _ in range(round(seconds * 30)):
        clock.tick(1 / 30)
        found += listened.poll()
    return found


def test_what_is_played_is_judged_and_written_down(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    room = Room(fake_environment, record, clock)
    start_ms = round(1000 * clock.now_s)
    room.play(3.0, 54)
    room.play(7.3, 48)
    listened = room.begin()
    judged = until(listened, clock, 15.0)
    assert [(row.landed, row.in_time) for row in judged] == [(True, True), (False, False), (None, False)]
    assert judged[0].late_ms == pytest.approx(-1000, abs=50)
    assert listened.is_over
    rows = list(record.landings())
    assert [(row.key, row.how, row.landed, row.heard) for row in rows] == [
        ("F# minor", "heard", True, "F#"),
        ("Bb major", "heard", False, "C"),
        ("F# minor", "heard", None, None),
    ]
    assert [row.asked_at - start_ms for row in rows] == pytest.approx([2000, 6000, 10_000], abs=40)
    assert rows[0].late_ms == pytest.approx(-1000, abs=50) and rows[0].path_ms == 50
    assert record.attempt_count() == 0 and record.states() == {}


def test_what_could_not_be_written_is_written_with_the_next_result(
    fake_environment: Environment, record: Record, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    room = Room(fake_environment, record, clock)
    room.play(3.0, 54)
    listened = room.begin()
    with monkeypatch.context() as full:
        full.setattr(Record, "append_landing", refuse)
        with pytest.raises(CannotWrite):
            until(listened, clock, 5.0)
    assert list(record.landings()) == []
    assert [each.number for each in until(listened, clock, 13.0)] == [0, 1, 2]
    assert [row.landed for row in record.landings()] == [True, None, None]


def test_the_last_result_is_written_at_the_end_if_it_could_not_be_before(
    fake_environment: Environment, record: Record, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    listened = Room(fake_environment, record, clock).begin()
    until(listened, clock, 12.0)
    with monkeypatch.context() as full:
        full.setattr(Record, "append_landing", refuse)
        with pytest.raises(CannotWrite):
            until(listened, clock, 5.0)
    assert [each.number for each in listened.write_rest()] == [2]
    assert [row.key for row in record.landings()] == ["F# minor", "Bb major", "F# minor"]
    assert listened.write_rest() == []


def test_clicks_leaking_in_are_never_named(fake_environment: Environment, record: Record, clock: HandClock) -> None:
    judged = until(Room(fake_environment, record, clock, leak=1.0).begin(), clock, 15.0)
    assert [row.landed for row in judged] == [None, None, None]


def test_a_microphone_that_goes_ends_the_listening_and_charges_nothing(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    room = Room(fake_environment, record, clock)
    listened = room.begin()
    until(listened, clock, 5.0)
    room.duplex.unplug()
    assert until(listened, clock, 10.0) == []
    assert listened.is_over and listened.playback.silent_because
    assert not room.duplex.is_open
    assert list(record.landings()) == []
    assert listened.playback.elapsed_s == pytest.approx(15.0, abs=0.1)


def test_a_microphone_that_gives_nothing_but_zeros_is_closed_with_a_reason(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    room = Room(fake_environment, record, clock, leak=0)
    room.duplex._hiss = 0
    listened = room.begin()
    until(listened, clock, 3.0)
    assert "gives nothing at all" in listened.playback.silent_because
    assert not room.duplex.is_open
    assert LOST not in listened.playback.silent_because


@pytest.mark.long
def test_the_benchmark_meets_its_bars_on_a_short_round(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from tests.benchmarks import round_heard

    assert round_heard.main(["--calls", "8", "--seed", "3"]) == 0
    assert "8 of 8" in capsys.readouterr().out
