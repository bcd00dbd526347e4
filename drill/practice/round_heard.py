"""A round that is heard: what the guitarist has played comes to a result for every call.

judge            what the notes plucked after a call come to
HeardRound       judges call by call as the round goes on
ListenedRound    all of it together: clicks, ears, results, and the record of them

Everything is counted in samples of one stream: that of the clicks is that of the microphone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from drill.listening import Event, Missed
from drill.listening.verdict import QUIET_S, NotSure, Other, Right, Verdict, verdict_on
from drill.practice.hearing import Ears
from drill.practice.playback import Playback
from drill.practice.round import Landings, Round
from drill.present.rounds import Judged
from drill.record.rows import in_time
from drill.sound.mix import ClickMix
from drill.sound.noise import CLICK_S
from drill.sound.volume import first_volume
from drill.system.audio import Source
from drill.theory.bars import bar_seconds, beat_seconds
from drill.theory.keys import Key
from drill.theory.neck import names_of
from drill.theory.pitch import Note

Clock = Callable[[], float]
ANSWERING_S = 0.15
"""Nobody answers a call so soon: what is plucked then belongs to the call before."""
SETTLED_S = 0.7
"""So long after a pluck the listener has told all it ever will of it."""


def judge(events: Iterable[Event], tonic: Note, opened: int, closes: int, path: int, rate: int) -> Verdict:
    """What the notes plucked from `opened` until before `closes` come to: the first that is sure decides.

    The tonic is right in any octave. Times are samples at `rate` a second, `path` how many pass from a click sent to
    the click heard.
    """
    heard = list(events)
    for onset in sorted({event.onset for event in heard if opened <= event.onset - path < closes}):
        found = verdict_on(onset, heard, lambda midi: midi % 12 == tonic.pitch_class, rate)
        if not isinstance(found, NotSure):
            return Right(onset - path - opened) if isinstance(found, Right) else found
    return NotSure()


class HeardRound:
    """Judges the calls of a round that began at sample `began` of the ears; notes may come in any portions."""

    def __init__(self, called: Round, rate: int, path: int, began: int = 0) -> None:
        self.round = called
        self.judged: list[Judged] = []
        self._rate, self._path, self._began = rate, path, began
        self._events: list[Event] = []
        self._next = 0
        """The first call that has no result yet."""

    def hear(self, events: Iterable[Event], position: int) -> list[Judged]:
        """Take what was heard up to a sample of the stream; gives the results that are new."""
        self._events += [event for event in events if not self._is_click(event)]
        new = list(self._new(position))
        self.judged += new
        return new

    def _new(self, position: int) -> Iterator[Judged]:
        while self._next < len(self.round.keys):
            opened, closes = self._opens(self._next), self._opens(self._next + 1)
            found = judge(self._events, self.round.keys[self._next].tonic, opened, closes, self._path, self._rate)
            is_over = position - self._path >= closes + SETTLED_S * self._rate
            if isinstance(found, NotSure) and not is_over:
                return
            yield self._result(found)
            self._next += 1
            past = closes + self._path - QUIET_S * self._rate
            self._events = [event for event in self._events if event.onset >= past]

    def _result(self, found: Verdict) -> Judged:
        key = self.round.keys[self._next]
        path_ms = round(1000 * self._path / self._rate) or None
        result = Judged(self._next, key, path_ms=path_ms)
        if isinstance(found, Other):
            return result._replace(note=_named(found.midi, key))
        if not isinstance(found, Right):
            return result
        after_call_s = found.late / self._rate + ANSWERING_S
        late_ms = round(1000 * (after_call_s - bar_seconds(self.round.bpm)))
        before_the_line = in_time(late_ms, path_ms)
        return result._replace(note=key.tonic, after_call_s=after_call_s, late_ms=late_ms, in_time=before_the_line)

    @property
    def complete(self) -> bool:
        """Whether every call has its result."""
        return self._next == len(self.round.keys)

    def _is_click(self, event: Event) -> bool:
        """Whether it is our own click that came in: it has no pitch, and we know when."""
        beats = (event.onset - self._path - self._began) / self._rate / beat_seconds(self.round.bpm)
        off_s = abs(beats - round(beats)) * beat_seconds(self.round.bpm)
        return isinstance(event, Missed) and off_s <= CLICK_S

    def _opens(self, number: int) -> int:
        """The sample from which plucks belong to a call."""
        return self._began + round((self.round.call_s(number) + ANSWERING_S) * self._rate)


def _named(midi: int, key: Key) -> Note:
    """The note as the key spells it; one from outside by its everyday name."""
    pitch_class = midi % 12
    return next((note for note in key.notes if note.pitch_class == pitch_class), names_of(pitch_class)[0])


# -- the stream --------------------------------------------------------------------------------------------------------


class Stream:
    """The ears as a speaker: what is played through them is timed by what comes in."""

    def __init__(self, ears: Ears) -> None:
        self.ears, self.began = ears, 0
        self._events: list[Event] = []

    def start(self, source: Source) -> None:
        """Play, and listen. Raises NoSound."""
        self.ears.start(source)
        self.began = self.ears.began

    def stop(self) -> None:
        """Fall silent, and close the microphone."""
        self.ears.stop()

    @property
    def position_s(self) -> float:
        """How much of the source has been heard, in seconds."""
        self._events += self.ears.poll()
        return (self.ears.position - self.began) / self.ears.rate

    @property
    def lost(self) -> bool:
        """Whether the microphone or the sound card is gone."""
        return self.ears.lost

    def take(self) -> list[Event]:
        """What was heard since the last call."""
        events, self._events = self._events, []
        return events


class ListenedRound:
    """A round that clicks, listens, and writes down what it heard. Making one begins it. Raises NoSound."""

    def __init__(self, ears: Ears, called: Round, landings: Landings, decibels_down: int, clock: Clock) -> None:
        self.mix = ClickMix(called.bpm, ears.rate, first_volume(-decibels_down))
        self._stream, self._overruns = Stream(ears), ears.overruns
        self._stream.start(self.mix)
        self.playback = Playback(clock, self._stream)
        self.heard = HeardRound(called, ears.rate, ears.path, self._stream.began)
        self._landings = landings
        self._unwritten: list[Judged] = []
        """Results that are not in the record yet, because writing failed."""

    @property
    def is_over(self) -> bool:
        """Whether it listens no more: every call has its result, or the microphone is gone or gives nothing."""
        return self.heard.complete or bool(self.playback.silent_because)

    @property
    def lost_samples(self) -> bool:
        """Whether the machine was too busy to take in all that was played."""
        return self._stream.ears.overruns > self._overruns

    def poll(self) -> list[Judged]:
        """The results since the last call; each is written. Raises CannotWrite, RecordDamaged.

        What could not be written is kept, and tried again with the next result.
        """
        _ = self.playback.elapsed_s  # which takes in what was heard
        ears = self._stream.ears
        if ears.trouble:
            self.playback.stop(ears.trouble)
        if self.playback.silent_because:
            return []
        new = self.heard.hear(self._stream.take(), ears.position)
        self._unwritten += new
        return self.write_rest() if new else []

    def write_rest(self) -> list[Judged]:
        """Write the results that are not in the record yet, and give them. Raises CannotWrite, RecordDamaged."""
        written: list[Judged] = []
        while self._unwritten:
            self._landings.heard(self.heard.round, self._unwritten[0], self.playback.elapsed_s)
            written.append(self._unwritten.pop(0))
        return written
