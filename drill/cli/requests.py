"""What commands were asked for, where more than the command itself reads it."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from drill.present.neck_drawing import Show


class FocusRequest(NamedTuple):
    """What `fretsure focus` was asked for; strings, keys, families and shapes as they were typed.

    `words` name them in one line, as on the screen: "Eb minor on the A string".
    """

    minutes: int | None
    deck: str | None
    plain: bool
    json: bool
    string: Sequence[str]
    key: Sequence[str]
    family: Sequence[str]
    shape: Sequence[str]
    weakest: bool
    listen: bool = False
    words: Sequence[str] = ()


class LoopRequest(NamedTuple):
    """What `fretsure loop` was asked for; the chords as they were typed."""

    chords: Sequence[str]
    show: "Show | None"
    play: bool
    wav: str | None
    midi: str | None
    tempo: int | None
    json: bool
    rests: str | None = None
    count_notes: bool = False
    svg: str | None = None
