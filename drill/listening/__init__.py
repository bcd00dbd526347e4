"""Samples in, plucked notes out. Arrays alone: nothing here opens a device or a file, or knows the time.

>>> from drill.sound.pluck import pluck
>>> [(note.midi, note.held) for note in listen(pluck(45, 22_050, 44_100), 44_100, low=40, high=86)]
[(45, False), (45, True)]
"""

from __future__ import annotations

from drill.listening.events import Event, Heard, Missed
from drill.listening.listener import Listener, listen

__all__ = ["Event", "Heard", "Listener", "Missed", "listen"]
