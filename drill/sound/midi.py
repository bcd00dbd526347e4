"""An arrangement as a MIDI file, for players who like their own sounds better: tempo, key, chords, bass, drums."""

from __future__ import annotations

import io
from collections.abc import Iterable

import mido

from drill.sound.arrangement import PARTS, Arrangement, Part, Stroke
from drill.theory.keys import Key

TICKS_A_BEAT = 480
CHANNELS: dict[Part, int] = {"chords": 0, "bass": 1, "drums": 9}
"""Percussion is on channel 10, counted from 1 (General MIDI Level 1)."""
PROGRAMS: dict[Part, int] = {"chords": 25, "bass": 33}
"""Steel-string guitar and fingered bass, 26 and 34 counted from 1 (General MIDI Level 1, instrument patch map)."""
LOUDEST = 100


def midi_bytes(arrangement: Arrangement, key: Key | None) -> bytes:
    """The bytes of a MIDI file (format 1): once through the loop, a track for each part, the signature of the key."""
    song = mido.MidiFile(type=1, ticks_per_beat=TICKS_A_BEAT)
    song.tracks.append(_conductor(arrangement, key))
    song.tracks.extend(_track(part, arrangement) for part in PARTS)
    file = io.BytesIO()
    song.save(file=file)
    return file.getvalue()


def _conductor(arrangement: Arrangement, key: Key | None) -> mido.MidiTrack:
    """The track of what holds for all: name, tempo, bars of four beats, key."""
    name = " ".join(chord.name for chord in arrangement.chords)
    track = mido.MidiTrack(
        [
            mido.MetaMessage("track_name", name=name),
            mido.MetaMessage("set_tempo", tempo=mido.bpm2tempo(arrangement.bpm)),
            mido.MetaMessage("time_signature", numerator=4, denominator=4),
        ]
    )
    if key is not None:
        track.append(mido.MetaMessage("key_signature", key=key.short))
    return _ended(track, arrangement)


def _track(part: Part, arrangement: Arrangement) -> mido.MidiTrack:
    channel = CHANNELS[part]
    track = mido.MidiTrack([mido.MetaMessage("track_name", name=part)])
    if part in PROGRAMS:
        track.append(mido.Message("program_change", channel=channel, program=PROGRAMS[part]))
    strokes = (stroke for stroke in arrangement.strokes if stroke.part == part)
    now = 0
    for tick, kind, pitch, velocity in sorted(_switches(strokes)):
        track.append(mido.Message(kind, channel=channel, note=pitch, velocity=velocity, time=tick - now))
        now = tick
    return _ended(track, arrangement)


def _switches(strokes: Iterable[Stroke]) -> Iterable[tuple[int, str, int, int]]:
    """When each note begins and ends, in ticks; 'note_off' sorts first, so that a note can be struck anew."""
    for stroke in strokes:
        start, end = (round(beat * TICKS_A_BEAT) for beat in (stroke.beat, stroke.beat + stroke.length))
        for pitch in stroke.pitches:
            yield start, "note_on", pitch, round(stroke.force * LOUDEST)
            yield end, "note_off", pitch, 0


def _ended(track: mido.MidiTrack, arrangement: Arrangement) -> mido.MidiTrack:
    """The track, ending where the loop ends, so that a sequencer repeats it in time."""
    spent = sum(message.time for message in track)
    track.append(mido.MetaMessage("end_of_track", time=arrangement.beats * TICKS_A_BEAT - spent))
    return track
