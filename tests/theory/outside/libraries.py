"""Independent programs asked live: music21 10 (BSD), mido 1.3.3 (MIT), musthe 1.0.0 (MIT)."""

from __future__ import annotations

from collections.abc import Iterator

import mido
import musthe
from mido.midifiles.meta import _key_signature_decode as mido_keys
from music21 import interval, key, note, pitch, scale, tablature

from drill.system.tunings import tunings
from drill.theory.keys import KEYS, MAJOR_KEYS, Key
from drill.theory.neck import STANDARD, Neck, Spot
from drill.theory.pitch import LETTERS, Note, Pitch
from drill.theory.scales import SCALES, degree_interval, spell
from drill.theory.shapes import five_shapes
from tests.theory.outside.intervals import INTERVALS, degree_above
from tests.theory.outside.registry import Fact, source

MUSIC21, MIDO, MUSTHE = "music21 10", "mido 1.3.3", "musthe 1.0.0"
NOTES = [Note.of(letter, accidental) for letter in LETTERS for accidental in range(-2, 3)]
PITCHES = [Pitch.of(one.letter, one.accidental, octave) for one in NOTES for octave in range(10)]
TONICS = [Note(fifths) for fifths in range(-8, 11)]  # Fb to A#


def m21_name(one: Note) -> str:
    """A note as music21 writes it: flats are minus signs."""
    return one.name[0] + one.name[1:].replace("b", "-")


def m21_pitch(one: Pitch) -> pitch.Pitch:
    """A pitch of music21's own."""
    return pitch.Pitch(f"{m21_name(one.note)}{one.octave}")


def our_name(theirs: str) -> str:
    """A note name of music21's as fretsure writes it."""
    return theirs.replace("-", "b")


def m21_key(ours: Key) -> key.Key:
    """A key of music21's own."""
    return key.Key(m21_name(ours.tonic), ours.mode)


@source(MUSIC21, "MIDI number of 350 spelled pitches")
def pitches() -> Iterator[Fact]:
    for ours in PITCHES:
        yield Fact(ours.name, ours.midi, m21_pitch(ours).ps)


@source(MUSIC21, "26 intervals up from every note with up to two accidentals")
def notes_above() -> Iterator[Fact]:
    for lower in NOTES:
        for name in (name for names in INTERVALS.values() for name in names.split()):
            theirs = m21_pitch(Pitch.of(lower.letter, lower.accidental, 4)).transpose(name)
            ours = lower + degree_interval(degree_above(name))
            yield Fact(f"{name} above {lower.name}", ours.name, our_name(theirs.name))


@source(MUSIC21, "30 keys: signature, order of accidentals, relative, seven notes")
def keys() -> Iterator[Fact]:
    for ours in KEYS:
        theirs = m21_key(ours)
        yield Fact(f"{ours} signature", ours.signature, theirs.sharps)
        yield Fact(f"{ours} relative", ours.relative.tonic.name, our_name(theirs.relative.tonic.name))
        altered = key.KeySignature(theirs.sharps).alteredPitches
        yield Fact(f"{ours} accidentals", [n.name for n in ours.altered_notes], [our_name(p.name) for p in altered])
        yield Fact(f"{ours} notes", [n.name for n in ours.notes], [our_name(p.name) for p in theirs.pitches[:7]])


@source(MUSIC21, "keys no signature can write")
def theoretical_keys() -> Iterator[Fact]:
    for tonic in NOTES:
        for mode, ours in (("major", tonic.fifths), ("minor", tonic.fifths - 3)):
            theirs = key.Key(m21_name(tonic), mode)
            writable = any(k.tonic == tonic and k.mode == mode for k in KEYS)
            yield Fact(f"{tonic.name} {mode}", (ours, writable), (theirs.sharps, abs(theirs.sharps) <= 7))


_M21_SCALES = {
    "major": scale.MajorScale,
    "natural minor": scale.MinorScale,
    "harmonic minor": scale.HarmonicMinorScale,
    "melodic minor": scale.MelodicMinorScale,
    "dorian": scale.DorianScale,
    "phrygian": scale.PhrygianScale,
    "lydian": scale.LydianScale,
    "mixolydian": scale.MixolydianScale,
    "locrian": scale.LocrianScale,
}


@source(MUSIC21, "spelled scales, 19 tonics")
def scales() -> Iterator[Fact]:
    for name, theirs in _M21_SCALES.items():
        for tonic in TONICS:
            found = theirs(m21_name(tonic)).getPitches()[:7]
            ours = [n.name for n in spell(tonic, SCALES[name])]
            yield Fact(f"{tonic.name} {name}", ours, [our_name(p.name) for p in found])


_M21_BOARDS = {
    "standard": tablature.GuitarFretBoard,
    "bass": tablature.BassGuitarFretBoard,
    "ukulele": tablature.UkeleleFretBoard,
}


@source(MUSIC21, "open strings and every fret up to 24 of its three fretted instruments")
def fretboards() -> Iterator[Fact]:
    for name, board in _M21_BOARDS.items():
        tuning, theirs = tunings()[name], board().tuning
        yield Fact(f"strings of {name}", len(tuning.strings), len(theirs))
        for string in tuning.strings:
            open_pitch = theirs[len(theirs) - string]
            yield Fact(f"{name} string {string}", tuning.open(string).name, our_name(open_pitch.nameWithOctave))
            for fret in range(25):
                sounding = Neck(tuning, frets=24).sounding(Spot(string, fret))
                yield Fact(f"{name} string {string} fret {fret}", sounding, open_pitch.transpose(fret).midi)


@source(MUSIC21, "900 dots of the five shapes: interval from the tonic, scale degree")
def shape_dots() -> Iterator[Fact]:
    for minor in (major.relative for major in MAJOR_KEYS):
        theirs = scale.MinorScale(m21_name(minor.tonic))
        for shape in five_shapes(minor, STANDARD):
            for dot in shape.dots:
                shown = note.Note(m21_name(dot.note))
                step = interval.Interval(pitch.Pitch(f"{m21_name(minor.tonic)}3"), shown.pitch).semiSimpleName
                step = step.replace("P8", "P1")  # music21 leaves an octave whole
                where = f"{minor} shape {shape.number} {dot.spot}"
                yield Fact(f"{where}, interval", dot.degree, degree_above(step))
                found = theirs.getScaleDegreeFromPitch(shown.pitch)
                yield Fact(f"{where}, degree", int(dot.degree[-1]), found)


@source(MIDO, "the 30 keys by signature, MIDI-file key table")
def midi_keys() -> Iterator[Fact]:
    yield Fact("how many keys", len(KEYS), len(mido_keys))
    for ours in KEYS:
        mode = int(ours.mode == "minor")
        yield Fact(f"{ours} in the table", ours.short, mido_keys[ours.signature, mode])
        message = mido.MetaMessage("key_signature", key=ours.short).bytes()
        yield Fact(f"{ours} as bytes", [0xFF, 0x59, 0x02, ours.signature % 256, mode], message)


_MUSTHE_SCALES = {
    "major": "major",
    "natural minor": "natural_minor",
    "harmonic minor": "harmonic_minor",
    "melodic minor": "melodic_minor",
    "dorian": "dorian",
    "phrygian": "phrygian",
    "lydian": "lydian",
    "mixolydian": "mixolydian",
    "locrian": "locrian",
    "major pentatonic": "major_pentatonic",
    "minor pentatonic": "minor_pentatonic",
}


@source(MUSTHE, "spelled scales, pentatonics among them, 19 tonics")
def musthe_scales() -> Iterator[Fact]:
    for name, theirs in _MUSTHE_SCALES.items():
        for tonic in TONICS:
            ours = [n.name for n in spell(tonic, SCALES[name])]
            found = [str(n) for n in musthe.Scale(musthe.Note(tonic.name), theirs).notes]
            yield Fact(f"{tonic.name} {name}", ours, found)


@source(MUSTHE, "MIDI number of 350 spelled pitches")
def musthe_pitches() -> Iterator[Fact]:
    for ours in PITCHES:
        yield Fact(ours.name, ours.midi, musthe.Note(ours.name).midi_note())
