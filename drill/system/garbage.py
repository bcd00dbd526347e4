"""When Python looks for garbage: not during a start, and often enough afterwards for each pause to be short.

postpone    before a start
resume      once the first screen is there
"""

from __future__ import annotations

import gc

STARTING = 200_000
"""Objects. A start makes half as many and drops few of them; looking through them 700 at a time, as Python does by
default, takes about a tenth of its time."""
RUNNING = 10_000
"""Objects. Looking through so many takes less than a millisecond, through those of `STARTING` a tenth of a second."""


def postpone() -> None:
    """Let a start make its objects without looking for garbage among them."""
    gc.set_threshold(STARTING)


def resume() -> None:
    """Look for garbage in small steps from now on, and never among what the start has made, which stays to the end."""
    gc.freeze()
    gc.set_threshold(RUNNING)
