"""Samples in, plucked notes out. Arrays alone: nothing here opens a device or a file, or knows the time."""

from __future__ import annotations

from drill.listening.events import Event, Heard, Missed
from drill.listening.listener import Listener, listen

__all__ = ["Event", "Heard", "Listener", "Missed", "listen"]
