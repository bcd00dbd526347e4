"""When what the drill shows came, and when a key was last pressed: by that a key is known to be meant for it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from drill.tui.drill_times import KEY_REPEAT_S, TOO_SOON_S, UNREAD_S


@dataclass(slots=True)
class KeyTimes:
    """All times are seconds of `now_s`, a clock that only grows."""

    now_s: Callable[[], float]
    asked_s: float = 0.0
    """When the question came."""
    judged_s: float = 0.0
    """When its verdict came."""
    pressed_s: float = 0.0
    """When a key was last pressed, or one of these came."""
    _read_from_s: float = 0.0
    """From when on a question that came by itself may have been read."""
    _warned_s: float | None = None
    """When an empty Enter last brought a warning."""

    def ask(self) -> None:
        """A question has come."""
        self.asked_s = self.pressed_s = self.now_s()
        self._warned_s = None

    def leave_unread(self) -> None:
        """The question came by itself: nobody can have read it yet."""
        self._read_from_s = self.now_s() + UNREAD_S

    def judge(self) -> None:
        """A verdict has come."""
        self.judged_s = self.pressed_s = self.now_s()

    def begin_anew(self) -> None:
        """What was covered is seen again."""
        self.asked_s = self.judged_s = self.pressed_s = self.now_s()

    def press(self) -> float:
        """A key is pressed; gives the seconds since the one before it."""
        before_s, self.pressed_s = self.pressed_s, self.now_s()
        return self.pressed_s - before_s

    @property
    def since_asked_s(self) -> float:
        return self.now_s() - self.asked_s

    @property
    def since_key_s(self) -> float:
        return self.now_s() - self.pressed_s

    def is_stray(self, *, judged: bool) -> bool:
        """Whether a key belongs to what was there before: an answer typed in full, or a verdict that has just gone."""
        return self.since_key_s < TOO_SOON_S if judged else self.now_s() < self._read_from_s

    def leaves_verdict(self, gap_s: float) -> bool:
        """Whether a key, so long after the one before it, goes on from a verdict: it has not only just come."""
        return self.now_s() - self.judged_s >= TOO_SOON_S and gap_s >= KEY_REPEAT_S

    def warn(self) -> None:
        """An empty Enter brings a warning."""
        self._warned_s = self.now_s()

    def heed_no_warning(self) -> None:
        """Something was typed after all."""
        self._warned_s = None

    @property
    def was_warned(self) -> bool:
        """Whether this Enter follows a warning, and is no key that is held down."""
        return self._warned_s is not None and self.now_s() - self._warned_s >= KEY_REPEAT_S
