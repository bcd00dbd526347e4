"""Chords, numerals and keys of loops against music21, chords-db, Krumhansl-Kessler and Open Music Theory."""

from __future__ import annotations

from collections.abc import Iterator

from music21 import chord, harmony, note, pitch, roman, stream

from drill.theory.chords import Chord, parse_chord
from drill.theory.harmony import chord_at, dominant, numeral_of, scale_chords
from drill.theory.keys import KEYS, parse_key
from drill.theory.loops import LoopReading, analyse_loop
from drill.theory.names import parse_note
from drill.theory.neck import STANDARD, Neck
from drill.theory.pitch import Note
from drill.theory.profiles import correlation, note_counts, profile_of, rank_keys
from tests.theory.outside.figures import CHORDS_DB, played, rows
from tests.theory.outside.libraries import MUSIC21, TONICS, m21_key, m21_name, our_name
from tests.theory.outside.registry import Fact, source
from tests.theory.outside.textbooks import OMT

# Suffixes of music21's own for our kinds; its names differ where both are given.
_M21_KINDS = {
    "": "", "m": "m", "dim": "dim", "aug": "+", "5": "power", "sus2": "sus2", "sus4": "sus4", "6": "6", "m6": "m6",
    "7": "7", "maj7": "maj7", "m7": "m7", "m7b5": "m7b5", "dim7": "dim7", "mMaj7": "mM7", "aug7": "+7",
    "maj7#5": "maj7#5", "7b5": "7b5", "7sus4": "7sus4", "add9": "add9", "9": "9", "m9": "m9", "7b9": "7b9",
    "7#9": "7#9", "11": "11", "m11": "m11", "13": "13",
}  # fmt: skip


@source(MUSIC21, "spelled chords, 27 kinds on 19 roots")
def chord_spellings() -> Iterator[Fact]:
    for suffix, theirs in _M21_KINDS.items():
        for root in TONICS:
            found = harmony.ChordSymbol(m21_name(root) + theirs).pitches
            ours = sorted(one.name for one in Chord(root, suffix).notes)
            yield Fact(root.name + suffix, ours, sorted(our_name(p.name) for p in found))


@source(MUSIC21, "numeral to chord: triads and sevenths of 30 keys, and both dominants")
def numerals_to_chords() -> Iterator[Fact]:
    for ours in KEYS:
        numerals = [one.numeral for sevenths in (False, True) for one in scale_chords(ours, sevenths)]
        for numeral in [*numerals, "V", "V7", "viio"]:
            found = roman.RomanNumeral(numeral, m21_key(ours)).pitches
            names = [one.name for one in chord_at(numeral, ours).notes]
            yield Fact(f"{numeral} in {ours}", names, [our_name(p.name) for p in found])


@source(MUSIC21, "chord to numeral: triads of 30 keys, and the dominant of each")
def chords_to_numerals() -> Iterator[Fact]:
    for ours in KEYS:
        for one in [*(one.chord for one in scale_chords(ours)), dominant(ours)]:
            sounding = chord.Chord(_rising([m21_name(tone) for tone in one.notes]))
            figure = roman.romanNumeralFromChord(sounding, m21_key(ours)).figure
            if ours.mode == "minor":
                figure = figure.removeprefix("b")  # music21 writes bVI and bVII there, but III
            yield Fact(f"{one.name} in {ours}", numeral_of(one, ours), figure)


def _rising(names: list[str]) -> list[pitch.Pitch]:
    """The notes in one octave above the first; without octaves music21 would take another note for the bass."""
    pitches = [pitch.Pitch(f"{names[0]}3")]
    for name in names[1:]:
        steps = ("CDEFGAB".index(name[0]) - "CDEFGAB".index(names[0][0])) % 7
        octave = 3 + ("CDEFGAB".index(names[0][0]) + steps) // 7
        pitches.append(pitch.Pitch(f"{name}{octave}"))
    return pitches


# Our suffix for each of chords-db's, where both name the same kind.
_DB_KINDS = {
    "major": "", "minor": "m", "dim": "dim", "dim7": "dim7", "sus2": "sus2", "sus4": "sus4", "aug": "aug", "6": "6",
    "7": "7", "maj7": "maj7", "m6": "m6", "m7": "m7", "m7b5": "m7b5",
}  # fmt: skip


# Five of its 625 voicings are misprinted; the pitch classes in them that do not belong to the chord.
_DB_MISPRINTS = {
    "C#aug x 4 4 4 2 2": [6, 11],
    "C#aug 4 4 6 4 7 4": [6, 8, 11],
    "Adim 5 3 x 4 3 x": [2, 11],
    "Bb6 x 13 11 11 10 x": [1, 6, 9],
    "Baug x 14 13 12 12 0": [4],
}


@source(CHORDS_DB, "voicings hold only notes of the chord they are named for, five misprints listed")
def voicings() -> Iterator[Fact]:
    neck = Neck(STANDARD, frets=24)
    for row in rows("guitar_chords.tsv"):
        if row["suffix"] in _DB_KINDS:
            ours = Chord(parse_note(row["root"]), _DB_KINDS[row["suffix"]])
            tones = {one.pitch_class for one in ours.notes}
            foreign = sorted({neck.sounding(spot) % 12 for spot, _ in played(row)} - tones)
            voicing = f"{ours.name} {row['frets']}"
            yield Fact(voicing, foreign, _DB_MISPRINTS.get(voicing, []))


LOOPS = (
    "Am F C G", "C G Am F", "Em C G D", "Dm Bb F C", "Am G F E", "Am Dm Em", "C F G", "F G Am", "F G C", "Bm G D A",
    "Cm Ab Eb Bb", "F#m D A E", "Bb F Gm Eb", "Dm7 G7 Cmaj7",
)  # fmt: skip


def _chords(loop: str) -> tuple[Chord, ...]:
    return tuple(parse_chord(name) for name in loop.split())


def _read(loop: str) -> LoopReading:
    return analyse_loop(_chords(loop))


@source(MUSIC21, "Krumhansl-Kessler: correlation of 14 loops with all 24 keys")
def key_profiles() -> Iterator[Fact]:
    for loop in LOOPS:
        notes = [note.Note(m21_name(tone)) for one in _chords(loop) for tone in one.notes]
        best = stream.Stream(notes).analyze("key.krumhanslkessler")
        theirs = {(k.tonic.pitchClass, k.mode): k for k in [best, *best.alternateInterpretations]}
        for ours, fit in rank_keys(note_counts(_chords(loop))):
            found = theirs[ours.tonic.pitch_class, ours.mode].correlationCoefficient
            yield Fact(f"{loop} in {ours}", round(fit, 6), round(found, 6))


def _key_of(name: str) -> tuple[float, ...]:
    return profile_of(parse_key(name))


@source("Krumhansl and Kessler 1982, worked examples", "rnhart.net, a lecture, and profile against profile")
def worked_profiles() -> Iterator[Fact]:
    # The page prints the correlation with C major; the ranking was worked out apart from this program.
    durations = (432, 231, 0, 405, 12, 316, 4, 126, 612, 0, 191, 1)  # rnhart.net/articles/key-finding
    yield Fact("rnhart.net, C major", round(correlation(durations, _key_of("C")), 5), -0.00009)
    best = [(found.tonic.pitch_class, found.mode, round(fit, 5)) for found, fit in rank_keys(durations)[:4]]
    names = (("Ab", 0.96971), ("Fm", 0.77453), ("Cm", 0.62234), ("Eb", 0.57883))
    theirs = [(parse_key(name).tonic.pitch_class, parse_key(name).mode, fit) for name, fit in names]
    yield Fact("rnhart.net, ranking", best, theirs)
    counts = (10, 0, 2, 0, 0, 6, 0, 3, 0, 4, 3, 2)  # C10 D2 F6 G3 A4 Bb3 B2
    yield Fact("lecture, first", (rank_keys(counts)[0][0].name, round(rank_keys(counts)[0][1], 4)), ("F major", 0.8583))
    yield Fact("lecture, C major", round(correlation(counts, _key_of("C")), 4), 0.7513)
    # Krumhansl prints .651 .591 .511 -.683 (from memory); to within a thousandth of the rounded profiles.
    for name, theirs_printed in {"Am": 0.651, "G": 0.591, "Cm": 0.511, "F#": -0.683}.items():
        ours = correlation(_key_of("C"), _key_of(name))
        yield Fact(f"C major against {name}", abs(ours - theirs_printed) < 0.0015, True)


# popRockHarmony: the same loop in two keys, with its numerals in each; and two endings, each in the key it ends in.
_OPEN_LOOPS = {"Am F C G": {"C major": "vi IV I V", "A minor": "i VI III VII"}}
_ENDED_LOOPS = {
    "F G Am": ("A minor", "VI VII i"),
    "F G C": ("C major", "IV V I"),
}
# Common practice, no source: a loop on i iv v, and one with the raised seventh, are in the minor key.
_PLAIN_MINOR_LOOPS = {
    "Am Dm Em": ("A minor", "i iv v"),
    "Am G F E": ("A minor", "i VII VI V"),
}


@source(OMT, "loops that are open between relatives, and loops that come home at their end; transposed to twelve roots")
def loops() -> Iterator[Fact]:
    for loop, readings in _OPEN_LOOPS.items():
        for up in range(-6, 6):
            reading = analyse_loop(tuple(_moved(one, up) for one in _chords(loop)))
            ours = {" ".join(fit.numerals) for fit in reading.fits}
            yield Fact(
                f"{loop}, {up} fifths up", (ours, reading.is_open_between_relatives), ({*readings.values()}, True)
            )
        found = {fit.key.name: " ".join(fit.numerals) for fit in _read(loop).fits}
        yield Fact(loop, found, readings)
    for loop, up, reading, theirs in _moved_loops(_ENDED_LOOPS):
        yield Fact(f"{loop}, {up} fifths up, likeliest", _readings(reading)[0], theirs)


@source("Common practice, no source", "loops in minor that no relative explains, on twelve roots")
def minor_loops() -> Iterator[Fact]:
    for loop, up, reading, theirs in _moved_loops(_PLAIN_MINOR_LOOPS):
        yield Fact(f"{loop}, {up} fifths up", _readings(reading), [theirs])


def _readings(reading: LoopReading) -> list[tuple[int, str, str]]:
    return [(fit.key.tonic.pitch_class, fit.key.mode, " ".join(fit.numerals)) for fit in reading.fits]


def _moved_loops(
    loops_and_keys: dict[str, tuple[str, str]],
) -> Iterator[tuple[str, int, LoopReading, tuple[int, str, str]]]:
    """Each loop on twelve roots: how it is read, and tonic, mode and numerals as they should be."""
    for loop, (name, numerals) in loops_and_keys.items():
        key = parse_key(name)
        for up in range(-6, 6):
            reading = analyse_loop(tuple(_moved(one, up) for one in _chords(loop)))
            yield loop, up, reading, (7 * (key.tonic.fifths + up) % 12, key.mode, numerals)


def _moved(one: Chord, fifths: int) -> Chord:
    return Chord(Note(one.root.fifths + fifths), one.suffix)
