"""What is played before a question that is heard, read back by a reader that knows nothing of how it is made."""

from __future__ import annotations

import numpy as np
import pytest

from drill.questions.families.ear import heard
from drill.sound.phrase import CHORD_S, LAST_NOTE_S, NOTE_S, REST_S, OnceMix, phrase
from drill.sound.render import PEAK, RATE
from drill.theory.keys import PRACTICAL_KEYS, Key
from tests.sound.reader import energies, lowest_note, triad

CHORDS_S = 2 * CHORD_S + REST_S


def piece(samples: np.ndarray, start_s: float, end_s: float) -> np.ndarray:
    return samples[round(start_s * RATE) : round(end_s * RATE)]


@pytest.mark.parametrize("key", PRACTICAL_KEYS, ids=lambda key: key.name)
def test_the_chords_come_to_rest_on_the_tonic_and_the_five_notes_follow_in_their_order(key: Key) -> None:
    chords, notes = heard(key)
    order = (notes[2], notes[0], notes[4], notes[1], notes[3])
    samples = phrase(chords, order)
    assert samples.size / RATE == pytest.approx(CHORDS_S + 4 * NOTE_S + LAST_NOTE_S, abs=0.001)
    assert float(np.abs(samples).max()) <= PEAK
    last = piece(samples, 2 * CHORD_S + 0.1, CHORDS_S)
    assert triad(last, RATE) == (key.tonic.pitch_class, "m" if key.mode == "minor" else "")
    assert lowest_note(last, RATE) % 12 == key.tonic.pitch_class
    first = triad(piece(samples, 0.06, CHORD_S), RATE)
    assert first == ((key.tonic.pitch_class + 5) % 12, "m" if key.mode == "minor" else "")
    for number, note in enumerate(order):
        start_s = CHORDS_S + number * NOTE_S
        found = energies(piece(samples, start_s + 0.04, start_s + NOTE_S), RATE, 300, 660)
        assert max(found, key=lambda midi: found[midi]) % 12 == note.pitch_class


def test_it_is_played_once_and_then_there_is_silence() -> None:
    samples = phrase(*heard(PRACTICAL_KEYS[0]))
    mix = OnceMix(samples, RATE, 0)
    played = np.frombuffer(b"".join(mix(1000) for _ in range(samples.size // 1000 + 50)), dtype="<i2")
    assert np.corrcoef(played[: samples.size], samples)[0, 1] > 0.9999
    assert not played[samples.size :].any()
