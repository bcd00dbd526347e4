"""Instruments whose cards are worked out anew: tuning, last fret, capo."""

from __future__ import annotations

NECKS = [
    ("standard", 15, 0),
    ("standard", 24, 0),
    ("half-step-down", 22, 3),
    ("seven-string", 24, 0),
    ("bass", 20, 0),
    ("ukulele-low-g", 15, 0),
    ("dadgad", 12, 0),
]
