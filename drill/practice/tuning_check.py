"""The open strings before a drill or a round is heard: what is out of tune would be misjudged.

TuningCheck   takes the notes that are heard, and tells how far each string is off
StringState   one string of it
"""

from __future__ import annotations

from typing import NamedTuple

from drill.listening import Event, Heard
from drill.present.voice import Voice
from drill.questions.wording import string_label
from drill.theory.neck import Neck, Spot

IN_TUNE = 10
"""Cents within which a string counts as in tune."""
MISJUDGED = 30
"""Cents from which notes may be taken for their neighbours: half a semitone is 50, and a hard pluck begins sharp."""
STRAY = 250
"""Cents from the nearest open string beyond which a note is none of them."""
WHY = "Play each open string once and let it ring. What is out of tune would be misjudged."
ALL_IN_TUNE = "Every string is in tune."


class StringState(NamedTuple):
    """A string, and by how many cents it was off when it was last heard; None before that."""

    label: str
    cents: float | None

    @property
    def words(self) -> str:
        """What there is to say of it."""
        if self.cents is None:
            return "not heard yet"
        off = round(abs(self.cents))
        side = "sharp" if self.cents > 0 else "flat"
        if off <= IN_TUNE:
            return f"in tune ({off} {side})" if off else "in tune"
        more = ": tune it, or its notes would be misjudged" if off >= MISJUDGED else ""
        return f"{off} cents {side}{more}"


class TuningCheck:
    """Takes notes in any order; a string that is played again is measured again."""

    def __init__(self, neck: Neck, voice: Voice) -> None:
        lowest_first = tuple(reversed(neck.tuning.strings))
        self._labels = {string: voice.say(string_label(neck.tuning, string)) for string in lowest_first}
        self._open = {string: neck.sounding(Spot(string, 0)) for string in lowest_first}
        self._cents: dict[int, float] = {}

    def hear(self, event: Event) -> bool:
        """Take what the ears heard; says whether it was an open string that rang long enough to be measured."""
        if not isinstance(event, Heard) or not event.held:
            return False
        sounded = event.midi + event.cents / 100
        string = min(self._open, key=lambda each: (abs(sounded - self._open[each]), each in self._cents))
        cents = 100 * (sounded - self._open[string])
        if abs(cents) > STRAY:
            return False
        self._cents[string] = cents
        return True

    @property
    def strings(self) -> tuple[StringState, ...]:
        """Every string, the lowest first."""
        return tuple(StringState(label, self._cents.get(string)) for string, label in self._labels.items())

    @property
    def complete(self) -> bool:
        """Whether every string has been heard."""
        return len(self._cents) == len(self._open)

    @property
    def in_tune(self) -> bool:
        """Whether every string has been heard, and is in tune."""
        return self.complete and not self.out_of_tune

    @property
    def out_of_tune(self) -> tuple[StringState, ...]:
        """The strings that were heard and are not in tune, the lowest first."""
        return tuple(each for each in self.strings if each.cents is not None and round(abs(each.cents)) > IN_TUNE)

    @property
    def outcome(self) -> str:
        """Where it stands, in a sentence."""
        if self.in_tune:
            return ALL_IN_TUNE
        missing = len(self._open) - len(self._cents)
        if missing:
            return f"{len(self._cents)} of {len(self._open)} strings heard."
        return "Tune what is off and play it again, or go on: what is far off would be misjudged."
