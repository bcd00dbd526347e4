"""What is said of a round of keys, on the screen and in lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from drill.present.figures import how_many
from drill.present.tables import Column, Columns, Kind, text_table
from drill.theory.bars import beat_seconds
from drill.theory.keys import Key
from drill.theory.names import NoteLanguage, show_note
from drill.theory.pitch import Note

BUSY = "The machine was too busy to hear everything; close other programs before the next round."
HEADPHONES = "Wear headphones, the volume low, so that the microphone hears the guitar alone."
UNMEASURED = (
    "The delay of your sound has not been measured in Set-up, so up to a quarter of a second late counts as in time."
)


class Judged(NamedTuple):
    """What was heard at a call of a round; calls count from 0."""

    number: int
    key: Key
    note: Note | None = None
    """The note that decided: the tonic, or another that came first and held; None if nothing was heard for sure."""
    after_call_s: float | None = None
    """Seconds from the call to the tonic; None without it."""
    late_ms: int | None = None
    """Milliseconds from the bar line after the call to the tonic, negative before it; None without it."""
    path_ms: int | None = None
    """The way of a click out and back in, which was taken off; None if nobody has measured it."""
    in_time: bool = False
    """Whether the tonic came before the bar was over."""

    @property
    def landed(self) -> bool | None:
        """Whether it was the tonic; None if nothing was heard for sure, which is never a miss."""
        return None if self.note is None else self.late_ms is not None


def brief(key: Key, language: NoteLanguage) -> str:
    """The key where there is little room: 'F♯ min'."""
    return f"{show_note(key.tonic, language)} {key.mode[:3]}"


def had_it(key: str, so_far: int) -> str:
    """What is said when the guitarist says that they had a key.

    >>> had_it("A minor", 2)
    'Had it: A minor. 2 keys so far, by your own account.'
    """
    return f"Had it: {key}. {how_many(so_far, 'key')} so far, by your own account."


def round_over(called: int, landed: int = 0) -> str:
    """The end of a round: how many keys were called, and how many landed on as the guitarist says.

    >>> round_over(15), round_over(15, 1)
    ('The round is over: 15 keys called.', 'The round is over: 15 keys called, 1 landed by your own account.')
    """
    had = f", {landed} landed by your own account" if landed else ""
    return f"The round is over: {how_many(called, 'key')} called{had}."


def outcome(judged: Judged, bpm: int, language: NoteLanguage) -> str:
    """What came of a call: 'landed after 2.5 beats', 'late by 340 ms', 'another note: B', 'not heard'.

    Until the way out and back in is measured, nobody knows how late a note was: 'landed in time', 'late'.
    """
    if judged.note is None:
        return "not heard"
    if judged.after_call_s is None:
        return f"another note: {show_note(judged.note, language)}"
    if judged.path_ms is None:
        return "landed in time" if judged.in_time else "late"
    if judged.in_time:
        return f"landed after {judged.after_call_s / beat_seconds(bpm):.1f} beats"
    return f"late by {judged.late_ms} ms"


class KeyResults(NamedTuple):
    """The results of all calls of a key."""

    key: Key
    results: tuple[Judged, ...]

    @property
    def in_time(self) -> int:
        return sum(result.in_time for result in self.results)

    @property
    def late(self) -> int:
        return sum(result.late_ms is not None and not result.in_time for result in self.results)

    @property
    def other(self) -> int:
        return sum(result.note is not None and result.late_ms is None for result in self.results)

    @property
    def not_heard(self) -> int:
        return sum(result.note is None for result in self.results)


def by_key(results: Iterable[Judged]) -> list[KeyResults]:
    """The results key by key, those landed on in time least often first."""
    keys: dict[Key, tuple[Judged, ...]] = {}
    for result in results:
        keys[result.key] = (*keys.get(result.key, ()), result)
    rows = [KeyResults(key, found) for key, found in keys.items()]
    return sorted(rows, key=lambda row: (row.in_time / max(1, len(row.results) - row.not_heard), -row.other))


def _columns(language: NoteLanguage) -> Columns:
    return (
        Column("key", "", Kind.PLAIN, lambda row: brief(row.key, language), "Key"),
        Column("in_time", "", Kind.INTEGER, heading="in time"),
        Column("late", "", Kind.INTEGER, heading="late"),
        Column("other", "", Kind.INTEGER, heading="other"),
        Column("not_heard", "", Kind.INTEGER, heading="unsure"),
    )


def table(results: Iterable[Judged], language: NoteLanguage) -> Iterator[str]:
    """The results key by key, as lines of text under their headings."""
    return text_table(_columns(language), by_key(results))


def heard_over(results: Iterable[Judged], *, lost_samples: bool = False) -> str:
    """The end of a round that was heard. What was not heard counts neither way; lost samples may be why."""
    rows = by_key(results)
    in_time, calls, missing = (
        sum(row.in_time for row in rows),
        sum(len(row.results) for row in rows),
        sum(row.not_heard for row in rows),
    )
    busy = f" {BUSY}" if lost_samples else ""
    unheard = f" {how_many(missing, 'call')} not heard: that counts neither way.{busy}" if missing else ""
    return f"The round is over: {in_time} of {how_many(calls - missing, 'call')} landed in time.{unheard}"
