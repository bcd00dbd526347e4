"""What is rendered is what was asked for: read back by others, exact in length, without a seam, and never loud."""

from __future__ import annotations

import io
import itertools
import wave

import mido
import music21
import numpy as np
import pytest

from drill.errors import UsageProblem
from drill.sound.arrangement import MOST_CHORDS, PARTS, arrange, bass_note, voicing
from drill.sound.midi import midi_bytes
from drill.sound.mix import ClickMix, LoopMix
from drill.sound.noise import ACCENT, CLICK, burst, clicks
from drill.sound.pluck import frequency, pluck
from drill.sound.render import RATE, Rendered, render
from drill.sound.volume import FIRST_DB, LOUDEST_DB, QUIETEST_DB, first_volume, louder
from drill.sound.wav import wav_bytes
from drill.theory.chords import CHORD_KINDS, Chord, parse_chord, parse_chords
from drill.theory.keys import PRACTICAL_KEYS, Key, parse_key
from drill.theory.pitch import Note
from tests.sound.reader import energies, flatness, lowest_note, onsets, triad

AXIS = {"minor": ((0, "m"), (-4, ""), (-3, ""), (-2, "")), "major": ((0, ""), (1, ""), (3, "m"), (-1, ""))}
"""i VI III VII and I V vi IV, as fifths above the tonic and the kind of triad."""
LOOP = arrange(parse_chords("Am F C G"), 80)


def loop_in(key: Key) -> tuple[Chord, ...]:
    return tuple(Chord(Note(key.tonic.fifths + fifths), kind) for fifths, kind in AXIS[key.mode])


@pytest.fixture(scope="module")
def rendered() -> Rendered:
    return render(LOOP)


@pytest.mark.long
def test_another_reader_hears_every_chord_and_every_bass_note_of_24_keys() -> None:
    asked, heard, low = [], [], []
    for key in PRACTICAL_KEYS:
        chords = loop_in(key)
        samples = render(arrange(chords, 100)).mixed()
        bars = np.split(samples, len(chords))
        asked += [(chord.root.pitch_class, chord.suffix) for chord in chords]
        heard += [triad(bar, RATE) for bar in bars]
        low += [lowest_note(bar, RATE) % 12 for bar in bars]
    assert len(asked) == 96
    assert sum(found == wanted for found, wanted in zip(heard, asked, strict=True)) >= 95
    assert low == [root for root, _ in asked]


@pytest.mark.parametrize(("bpm", "rate"), [(40, 44_100), (80, 48_000), (97, 44_100), (133, 22_050), (240, 44_100)])
def test_a_loop_is_as_long_as_its_beats_to_the_sample(bpm: int, rate: int) -> None:
    loop = render(arrange(parse_chords("Am F C"), bpm), rate)
    assert {samples.size for samples in loop.parts.values()} == {round(12 * 60 / bpm * rate)}


@pytest.mark.parametrize("chords", ["Am F C G", "Em", "Dm7 G7 Cmaj7 A7", "E5 G5"])
@pytest.mark.parametrize("bpm", [60, 120])
def test_the_step_where_the_loop_begins_anew_is_no_larger_than_those_inside(chords: str, bpm: int) -> None:
    samples = render(arrange(parse_chords(chords), bpm)).mixed()
    steps = np.abs(np.diff(samples))
    assert abs(samples[0] - samples[-1]) < np.quantile(steps, 0.999)


def test_no_choice_of_parts_is_louder_than_half_and_all_together_are_quiet(rendered: Rendered) -> None:
    for count in range(1, len(PARTS) + 1):
        for playing in itertools.combinations(PARTS, count):
            assert 0.01 < np.abs(rendered.mixed(playing)).max() <= 0.5
    loudness = 20 * np.log10(np.sqrt(np.mean(rendered.mixed() ** 2)))
    assert -24 < loudness < -22


def test_the_range_of_the_lead_is_left_thin(rendered: Rendered) -> None:
    samples = rendered.mixed(("chords", "bass"))
    found = energies(samples, RATE, 40, 8000)
    above = sum(energy for number, energy in found.items() if number > 64)  # E4
    assert above < 0.15 * sum(found.values())


def test_switching_a_part_off_leaves_the_others_as_they_are(rendered: Rendered) -> None:
    without = rendered.mixed(("chords", "bass"))
    assert np.allclose(without + rendered.parts["drums"], rendered.mixed(), atol=1e-6)
    assert not rendered.mixed(()).any()


def test_the_same_loop_gives_the_same_samples() -> None:
    assert np.array_equal(render(LOOP).mixed(), render(LOOP).mixed())


@pytest.mark.parametrize("pitch", [33, 45, 53, 60, 64])
def test_a_plucked_string_is_in_tune(pitch: int) -> None:
    """By the strongest line of its spectrum, refined by a parabola through its neighbours (Smith & Serra 1987)."""
    samples = pluck(pitch, 2 * RATE, RATE)
    power = np.log(np.abs(np.fft.rfft(samples * np.hanning(samples.size))) + 1e-12)
    top = int(np.argmax(power))
    left, middle, right = power[top - 1 : top + 2]
    hertz = (top + (left - right) / (2 * (left - 2 * middle + right))) / 2
    assert abs(1200 * np.log2(hertz / frequency(pitch))) < 3


def test_clicks_are_noise_and_the_first_of_a_bar_is_louder() -> None:
    for kind in (CLICK, ACCENT):
        samples = burst(kind, RATE)
        assert samples.size == round(0.03 * RATE)
        assert flatness(samples, RATE, 1500, 7000) > 0.3
    tone = np.sin(2 * np.pi * 2000 * np.arange(samples.size) / RATE) * np.hanning(samples.size)
    assert flatness(tone, RATE, 1500, 7000) < 0.01  # what has a pitch is far from it
    assert np.abs(burst(ACCENT, RATE)).max() > np.abs(burst(CLICK, RATE)).max()


def test_clicks_begin_on_their_beats() -> None:
    found = onsets(clicks(8, 93, RATE), RATE)
    assert len(found) == 8
    for beat, onset in enumerate(found):
        assert abs(onset / RATE - beat * 60 / 93) < 0.002


# -- what the sound card is given --------------------------------------------------------------------------------------


def played(mix: ClickMix | LoopMix, blocks: list[int]) -> np.ndarray:
    return np.frombuffer(b"".join(mix(frames) for frames in blocks), dtype="<i2") / 32767


def test_a_loop_comes_after_a_bar_of_clicks_and_then_again_and_again(rendered: Rendered) -> None:
    mix = LoopMix(rendered, 80, LOUDEST_DB)
    bar = round(240 / 80 * RATE)
    given = played(mix, [4096] * ((bar + 2 * rendered.frames) // 4096 + 1))
    assert np.allclose(given[:bar], clicks(4, 80, RATE) * 0.5, atol=1e-4)
    for start in (bar, bar + rendered.frames):
        assert np.allclose(given[start : start + rendered.frames], rendered.mixed(), atol=1e-4)


@pytest.mark.parametrize("frames", [128, 441, 1024, 4096])
def test_the_size_of_the_blocks_makes_no_difference(frames: int) -> None:
    whole = played(ClickMix(97, RATE, LOUDEST_DB), [10 * RATE])
    parts = played(ClickMix(97, RATE, LOUDEST_DB), [frames] * (10 * RATE // frames))
    assert np.allclose(parts, whole[: parts.size], atol=1e-4)


@pytest.mark.long
@pytest.mark.parametrize("bpm", [40, 97, 133, 240])
def test_clicks_keep_time_for_ten_minutes(bpm: int) -> None:
    mix = ClickMix(bpm, 8000, LOUDEST_DB)
    given = played(mix, [480] * (600 * 8000 // 480))
    found = np.array(onsets(given, 8000, quiet_s=0.1)) / 8000
    wanted = np.arange(len(found)) * 60 / bpm
    assert abs(len(found) - 10 * bpm) <= 1
    assert np.abs(found - wanted).max() < 0.005


def test_a_part_is_switched_while_the_loop_plays(rendered: Rendered) -> None:
    mix = LoopMix(rendered, 80, LOUDEST_DB)
    bar = round(240 / 80 * RATE)
    mix(bar)
    mix.playing ^= {"drums"}
    mix(1000)  # within these the drums fade
    given = played(mix, [4000])
    assert np.allclose(given, rendered.mixed(("chords", "bass"))[1000:5000], atol=1e-4)
    mix.playing ^= {"drums"}
    mix(1000)
    assert np.allclose(played(mix, [4000]), rendered.mixed()[6000:10000], atol=1e-4)


def test_volume_changes_without_a_step_in_the_samples(rendered: Rendered) -> None:
    mix = LoopMix(rendered, 80, FIRST_DB)
    mix(round(240 / 80 * RATE))
    mix.volume_db = LOUDEST_DB
    block = played(mix, [2000])
    assert abs(block[0] - rendered.mixed()[0] * 10 ** (-14 / 20)) < 1e-3
    assert abs(block[-1] - rendered.mixed()[1999]) < 1e-3


def test_sound_starts_low_and_never_louder_than_it_was_left() -> None:
    assert first_volume(-6) == first_volume(-20) == FIRST_DB == -20
    assert first_volume(-34) == -34
    assert louder(LOUDEST_DB) == LOUDEST_DB
    assert louder(QUIETEST_DB, -1) == QUIETEST_DB
    loudest_of_first = np.abs(played(ClickMix(80, RATE), [RATE])).max()
    assert 20 * np.log10(loudest_of_first) == pytest.approx(FIRST_DB, abs=0.5)


# -- files -------------------------------------------------------------------------------------------------------------


def test_a_wav_file_holds_the_loop(rendered: Rendered) -> None:
    with wave.open(io.BytesIO(wav_bytes(rendered.mixed(), RATE))) as file:
        assert (file.getnchannels(), file.getsampwidth(), file.getframerate()) == (1, 2, RATE)
        assert file.getnframes() == rendered.frames == 12 * RATE
        found = np.frombuffer(file.readframes(file.getnframes()), dtype="<i2") / 32767
    assert np.allclose(found, rendered.mixed(), atol=1e-4)


def part_named(score: music21.stream.Score, name: str) -> music21.stream.Part:
    return next(part for part in score.parts if part.partName == name)


@pytest.mark.parametrize("chords", ["Am F C G", "F#m7b5 B7 Em6 Em", "Bb5 Dsus4 Gadd9/B"])
def test_music21_reads_the_same_chords_from_the_midi_file(chords: str) -> None:
    wanted = parse_chords(chords)
    score = music21.converter.parseData(midi_bytes(arrange(wanted, 90), parse_key("Am")), format="midi")
    assert {tempo.number for tempo in score.recurse().getElementsByClass(music21.tempo.MetronomeMark)} == {90}
    struck = part_named(score, "chords").flatten().getElementsByClass(["Chord", "Note"])
    found = [(each.offset, {pitch.midi % 12 for pitch in each.pitches}) for each in struck]
    assert found == [
        (4 * bar + half, {note.pitch_class for note in chord.notes})
        for bar, chord in enumerate(wanted)
        for half in (0, 2)
    ]
    low = [note.pitch.midi for note in part_named(score, "bass").flatten().getElementsByClass("Note")]
    assert [pitch % 12 for pitch in low[::2]] == [(chord.bass or chord.root).pitch_class for chord in wanted]


@pytest.mark.parametrize("key", ["Am", "Eb", "C#m", "Cb"])
def test_the_midi_file_has_key_tempo_length_and_drums(key: str) -> None:
    file = mido.MidiFile(file=io.BytesIO(midi_bytes(LOOP, parse_key(key))))
    assert file.length == pytest.approx(12.0)
    assert {sum(message.time for message in track) for track in file.tracks} == {16 * file.ticks_per_beat}
    metas = {message.type: message for message in file.tracks[0]}
    assert metas["key_signature"].key == key
    assert metas["track_name"].name == "Am F C G"
    drums = {message.note for track in file.tracks for message in track if getattr(message, "channel", 0) == 9}
    assert drums == {36, 38, 42}  # General MIDI Level 1: bass drum 1, acoustic snare, closed hi-hat


# -- the arrangement ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("root", range(-5, 7))
def test_every_chord_keeps_its_root_third_and_seventh_within_an_octave(root: int) -> None:
    for chord in (Chord(Note(root), suffix) for suffix in CHORD_KINDS):
        pitches = voicing(chord)
        assert 53 <= pitches[0] <= pitches[-1] <= 64, chord
        assert 2 <= len(pitches) == len(set(pitches)) <= 4, chord
        needed = [note for degree, note in zip(chord.formula, chord.notes, strict=True) if degree[-1] in "137"]
        assert {note.pitch_class for note in needed} <= {pitch % 12 for pitch in pitches}, chord
        assert bass_note(chord) % 12 == chord.root.pitch_class, chord


def test_the_bass_plays_the_note_behind_the_slash() -> None:
    assert bass_note(parse_chord("C/E")) == 40


def test_the_limits_of_a_loop_are_said() -> None:
    am = parse_chord("Am")
    assert arrange((am,) * MOST_CHORDS, 240).beats == 256
    for chords, bpm in (((), 80), ((am,) * 65, 80), ((am,), 39), ((am,), 241)):
        with pytest.raises(UsageProblem, match="cannot be played"):
            arrange(chords, bpm)
