"""Lines that are typed while something else goes on: they are taken as they come, and nothing waits for them."""

from __future__ import annotations

import sys
from typing import TextIO


def take_line(stdin: TextIO) -> str | None:
    """The next line typed at a terminal, with its end; None if there is none yet, empty at the end of input.

    On Windows, where lines cannot be looked for, a line is Enter alone; other keys are dropped.
    """
    if sys.platform == "win32":
        from msvcrt import getwch, kbhit  # keys of the console: https://docs.python.org/3/library/msvcrt.html

        while kbhit():
            if getwch() in "\r\n":
                return "\n"
        return None
    from select import select

    # a terminal gives one line at a time, so none can wait unseen in a buffer of Python's
    return stdin.readline() if select([stdin], [], [], 0)[0] else None
