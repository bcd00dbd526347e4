"""Facts: the atoms of knowledge that answers rest on. Cards that share one help, or give away, each other.

A fact is known by its name, which the learner's state keeps: names never change meaning.
"""

from __future__ import annotations

from typing import NewType

from drill.questions.ids import instrument_suffix
from drill.theory.keys import Key, Mode
from drill.theory.neck import FRETS_PER_OCTAVE, Neck, Spot
from drill.theory.pitch import Note
from drill.theory.shapes import ShapeId

Fact = NewType("Fact", str)
"""The name of a fact, such as 'spot:6:8' or 'relative:Fm'. Only the functions of this module make one."""


def spot_fact(neck: Neck, spot: Spot) -> Fact:
    """Which note a spot sounds; twelve frets up it is the same one."""
    return Fact(f"spot:{spot.string}:{spot.fret % FRETS_PER_OCTAVE}{instrument_suffix(neck)}")


def octave_fact(neck: Neck, low_string: int, high_string: int) -> Fact:
    """How many frets apart an octave lies on two strings."""
    return Fact(f"octave:{low_string}:{high_string}{instrument_suffix(neck)}")


def letters_fact(low: Note, high: Note) -> Fact:
    """Which letters lie a third apart."""
    return Fact(f"letters:{low.letter}:{high.letter}")


def relative_fact(key: Key) -> Fact:
    """The bond between a major key and its relative minor, by which it is named."""
    return Fact(f"relative:{key.minor.short}")


def signature_fact(major: Key) -> Fact:
    """The signature of a major key."""
    return Fact(f"signature:{major.short}")


def finger_fact(mode: Mode) -> Fact:
    """Which finger holds the tonic: the index finger the minor one, the little finger the major one."""
    return Fact(f"finger:{mode}")


def other_tonic_fact(mode: Mode) -> Fact:
    """The way from this mode's tonic to the other one of the shape: three frets."""
    return Fact(f"three-frets:{mode}")


def diagram_fact(neck: Neck, shape: ShapeId) -> Fact:
    """Which dots of a shape are its tonics."""
    return Fact(f"diagram:{shape}{instrument_suffix(neck)}")


def degree_fact(neck: Neck, mode: Mode, shape: ShapeId, string: int, finger: int) -> Fact:
    """Which degree a finger plays on a string of a shape."""
    return Fact(f"degree:{mode}:{shape}:{string}:{finger}{instrument_suffix(neck)}")


def next_shape_fact(neck: Neck, shape: ShapeId) -> Fact:
    """Where the next shape up the neck lies."""
    return Fact(f"next:{shape}{instrument_suffix(neck)}")


def chord_fact(key: Key, numeral: str) -> Fact:
    """Which chord a numeral means in a key."""
    return Fact(f"chord:{key.short}:{numeral}")


def chord_tone_fact(neck: Neck, numeral: str, shape: ShapeId, string: int) -> Fact:
    """Which note of a shape on a string belongs to the chord of a numeral, counted in the minor key."""
    return Fact(f"tone:{numeral}:{shape}:{string}{instrument_suffix(neck)}")


def ear_fact(key: Key) -> Fact:
    """How the five notes of a key sound over its tonic."""
    return Fact(f"ear:{key.short}")


def loop_fact(loop: str) -> Fact:
    """Which key a chord loop is in."""
    return Fact(f"loop:{loop}")
