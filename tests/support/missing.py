"""A plain install: numpy, which the extra for sound brings, is not there."""

from __future__ import annotations

import sys

import pytest

NEED_NUMPY = (
    "drill.listening",
    "drill.practice.played",
    "drill.practice.round_heard",
    "drill.practice.sound_check",
    "drill.practice.sound_steps",
    "drill.practice.tuning_check",
    "drill.cli.played_lines",
    "drill.cli.sound_check_lines",
    "drill.cli.tuning_lines",
    "drill.tui.screens.drill_listening",
    "drill.tui.screens.sound_check",
    "drill.tui.screens.tuning_check",
)
"""The beginnings of the names of modules that use numpy, or did so without need; each is imported anew."""


def hide_numpy(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let numpy be missing, also for modules that were imported while it was there."""
    for name in [name for name in sys.modules if name.startswith(NEED_NUMPY)]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "numpy", None)
