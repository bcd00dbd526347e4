"""Samples as a WAV file."""

from __future__ import annotations

import io
import wave

import numpy as np

from drill.sound.pluck import Samples

FULL = 32_767


def wav_bytes(samples: Samples, rate: int) -> bytes:
    """The bytes of a WAV file: one channel of 16 bits."""
    file = io.BytesIO()
    with wave.open(file, "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(rate)
        out.writeframes(pcm(samples))
    return file.getvalue()


def pcm(samples: Samples) -> bytes:
    """Samples as 16-bit numbers, lowest byte first."""
    return np.rint(np.clip(samples, -1, 1) * FULL).astype("<i2").tobytes()
