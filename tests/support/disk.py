"""Whether what a test writes is forced onto the disk, which takes longer than most tests."""

from __future__ import annotations

import os

import pytest

from drill.record import connection

FORCED, FORCING = connection._SETTINGS, os.fsync


def unforced(patch: pytest.MonkeyPatch) -> None:
    """Leave it to the system when files and records reach the disk: no test can tell unless the power fails."""
    patch.setattr(connection, "_SETTINGS", (*FORCED, "synchronous = OFF"))
    patch.setattr(os, "fsync", lambda descriptor: None)


def forced(patch: pytest.MonkeyPatch) -> None:
    """Write as the program does: each answer is on the disk before its verdict is shown."""
    patch.setattr(connection, "_SETTINGS", FORCED)
    patch.setattr(os, "fsync", FORCING)
