"""Which notes the chords of a loop are played with: chords, bass and drums, one bar of four beats for each chord.

>>> from drill.theory.chords import parse_chords
>>> loop = arrange(parse_chords("Am C/E"), bpm=80)
>>> loop.beats, loop.seconds
(8, 6.0)
>>> [stroke.pitches for stroke in loop.strokes if stroke.part == "bass"]
[(33,), (33,), (40,), (40,)]
>>> [stroke.pitches for stroke in loop.strokes if stroke.part == "chords"][0]
(57, 60, 64)
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple, get_args

from drill.errors import UsageProblem
from drill.theory.bars import BEATS_IN_A_BAR, FASTEST_BPM, SLOWEST_BPM, beat_seconds
from drill.theory.chords import Chord

Part = Literal["chords", "bass", "drums"]
PARTS: tuple[Part, ...] = get_args(Part)
MOST_CHORDS = 64
LOWEST_BASS = 33
"""A1: the bass plays from here up to G#2, which small loudspeakers still give."""
LOWEST_CHORD = 53
"""F3: chords lie from here up to E4, and leave what is above to whoever plays over them."""
MOST_TONES = 4
"""Of a chord with more notes the fifth is left out first, then what the name adds last."""
KICK, SNARE, HAT = 36, 38, 42
"""Bass drum, snare and closed hi-hat as General MIDI numbers them (General MIDI Level 1, percussion key map)."""


class Stroke(NamedTuple):
    """Notes struck together. Beats count from the beginning of the loop; `force` runs from 0 to 1."""

    part: Part
    beat: float
    length: float
    """In beats; drums ring as long as they do."""
    pitches: tuple[int, ...]
    """MIDI numbers, lowest first; C4 is 60."""
    force: float


class Arrangement(NamedTuple):
    """The strokes of one time through a loop, in the order of their beats."""

    strokes: tuple[Stroke, ...]
    chords: tuple[Chord, ...]
    bpm: int

    @property
    def beats(self) -> int:
        """How long the loop is, in beats."""
        return BEATS_IN_A_BAR * len(self.chords)

    @property
    def seconds(self) -> float:
        """How long the loop is, in seconds."""
        return self.beats * beat_seconds(self.bpm)


def arrange(chords: tuple[Chord, ...], bpm: int) -> Arrangement:
    """Arrange a loop. Raises UsageProblem for no chords, for more than 64, and for a tempo outside 40 to 240."""
    if not 0 < len(chords) <= MOST_CHORDS:
        raise UsageProblem(f"{len(chords)} chords cannot be played as a loop.", f"Give 1 to {MOST_CHORDS} chords.")
    if not SLOWEST_BPM <= bpm <= FASTEST_BPM:
        raise UsageProblem(
            f"{bpm} beats per minute cannot be played.", f"Give a tempo from {SLOWEST_BPM} to {FASTEST_BPM}."
        )
    strokes = [stroke for number, chord in enumerate(chords) for stroke in _bar(chord, number * BEATS_IN_A_BAR)]
    return Arrangement(tuple(sorted(strokes, key=lambda stroke: stroke.beat)), chords, bpm)


def _bar(chord: Chord, start: int) -> Iterator[Stroke]:
    for beat, force in ((0, 1.0), (2, 0.75)):
        yield Stroke("chords", start + beat, 2, voicing(chord), force)
        yield Stroke("bass", start + beat, 2, (bass_note(chord),), force)
    for beat in range(BEATS_IN_A_BAR):
        yield Stroke("drums", start + beat, 1, (KICK if beat % 2 == 0 else SNARE,), 0.9)
    for eighth in range(2 * BEATS_IN_A_BAR):
        yield Stroke("drums", start + eighth / 2, 0.5, (HAT,), 0.35 if eighth % 2 else 0.5)


def voicing(chord: Chord) -> tuple[int, ...]:
    """The notes of a chord within one octave, at most four of them."""
    notes = dict(zip(chord.formula, chord.notes, strict=True))
    if len(notes) > MOST_TONES:
        notes.pop("5", None)
    tones = list(notes.values())[:MOST_TONES]
    return tuple(sorted(_from(LOWEST_CHORD, note.pitch_class) for note in tones))


def bass_note(chord: Chord) -> int:
    """The note in the bass: the root, or the one behind the slash."""
    return _from(LOWEST_BASS, (chord.bass or chord.root).pitch_class)


def _from(lowest: int, pitch_class: int) -> int:
    return lowest + (pitch_class - lowest) % 12
