"""When the screens of a test are painted: as soon as it looks at them, or whenever anything on them changes.

No terminal is there to show what a program in a test paints; each look at a screen paints it as it is then.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from textual._compositor import Compositor
from textual._context import visible_screen_stack

EVERY_FRAME: Callable[..., Any] = Compositor.render_update


def at_a_look(patch: pytest.MonkeyPatch) -> None:
    """Paint no frame that nobody sees."""

    def unseen(compositor: Compositor, full: bool = False, screen_stack: Any = None, simplify: bool = False) -> Any:
        if full:  # somebody wants a picture of it
            return EVERY_FRAME(compositor, full, screen_stack, simplify)
        visible_screen_stack.set(screen_stack or [])
        compositor._dirty_regions.clear()
        return None

    patch.setattr(Compositor, "render_update", unseen)


def every_frame(patch: pytest.MonkeyPatch) -> None:
    """Paint as the program does."""
    patch.setattr(Compositor, "render_update", EVERY_FRAME)
