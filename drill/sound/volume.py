"""How loud sound starts, and by what steps it grows. In dBFS: decibels below the loudest a sound card can play."""

from __future__ import annotations

FIRST_DB = -20
"""Sound starts no louder than this, and no louder than the learner left it last time."""
QUIETEST_DB, LOUDEST_DB = -60, -6
STEP_DB = 2


def first_volume(last_db: int) -> int:
    """The volume to start with, after it was `last_db` last time."""
    return max(QUIETEST_DB, min(FIRST_DB, last_db))


def louder(volume_db: int, steps: int = 1) -> int:
    """The volume some steps louder, or quieter where `steps` is negative."""
    return max(QUIETEST_DB, min(LOUDEST_DB, volume_db + steps * STEP_DB))


def factor(volume_db: int) -> float:
    """What to multiply samples by whose loudest is at half of full scale."""
    return float(10 ** ((volume_db - LOUDEST_DB) / 20))
