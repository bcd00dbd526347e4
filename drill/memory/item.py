"""What the memory learns from: cards as strings, and attempts at them."""

from typing import NamedTuple


class Item(NamedTuple):
    """What the memory needs to know of a card."""

    card: str
    family: str = ""
    order: int = 0
    """Place in the curriculum: fresh cards enter in this order."""
    target_s: float = 3.0
    """Thinking time, in seconds, within which an answer counts as fluent."""
    facts: tuple[str, ...] = ()
    """The atomic facts the card rests on, such as "spot:6:8" or "relative:Fm"."""
    needs: tuple[str, ...] = ()
    """Families that it builds on: their cards about some of its facts are its parts."""
    groups: frozenset[str] = frozenset()
    """Strings, keys and shapes, such as "string-6" or "key-Fm": questions in a row should differ in them."""


class Attempt(NamedTuple):
    """One attempt at a card.

    `right` is True or False for an answer, None if the card was only shown. `thinking_s` runs from the
    question to the learner's first response, without pauses, and is None if it was not measured. `mixed_fact` is the
    fact that a named mix-up points at; `parts_right` says that by the mix-up no part failed, as with the right note in
    the wrong octave. `present_wording` says whether the question was asked in the words of today, so that its time
    tells how long they take to read. `played` says that the answer was played: see `learnable`.
    """

    card: str
    at_s: float
    right: bool | None
    thinking_s: float | None = None
    mixed_fact: str | None = None
    present_wording: bool = False
    played: bool = False
    parts_right: bool = False

    @property
    def learnable(self) -> "Attempt":
        """What the memory may learn of it. A typed answer stays as it is.

        A played one may raise strength and never lowers it: a microphone can mishear, so a miss is no more than a look
        at the answer, and the typed answer that follows counts. Its time says nothing of typing.
        """
        if not self.played:
            return self
        return self._replace(right=self.right or None, thinking_s=None, mixed_fact=None)
