"""Samples in, plucked notes out. Arrays alone: nothing here opens a device or a file, or knows the time.

events    what the listener tells: a note named, a note that held, a pluck missed
plucks    when a string is plucked
noise     how loud the room is
pitch     which note sounds in a window of samples
naming    from the readings of one pluck to its name
listener  all of it, block by block or for a whole recording
verdict   whether what was heard is what was asked

>>> from drill.sound.pluck import pluck
>>> [(note.midi, note.held) for note in listen(pluck(45, 22_050, 44_100), 44_100, low=40, high=86)]
[(45, False), (45, True)]
"""

from __future__ import annotations

from drill.listening.events import Event, Heard, Missed
from drill.listening.listener import Listener, listen

__all__ = ["Event", "Heard", "Listener", "Missed", "listen"]
