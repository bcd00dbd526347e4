"""Facets: what a card is about. Each family has a named tuple of its own for them, with typed fields.

Their text is made and read here and nowhere else: the plain value of JSON and tables, the compact one of card ids.

>>> plain("key", parse_key("F#m")), compact("key", parse_key("F#m"))
('F# minor', 'F#m')
>>> read("signature", "3-flats")
-3
"""

from collections.abc import Callable, Iterator
from functools import cache
from typing import Any, NamedTuple, Protocol

from drill.questions.answers import signature_name
from drill.theory.chords import Chord, parse_chord
from drill.theory.keys import KEYS, Key, Mode, parse_key
from drill.theory.names import parse_note
from drill.theory.pitch import Note
from drill.theory.shapes import ShapeId


class Facets(Protocol):
    """The named tuple of a family, such as `KeyAndString(Key('F minor'), 6)`; ids write its fields in this order."""

    @property
    def _fields(self) -> tuple[str, ...]: ...

    def __iter__(self) -> Iterator[Any]: ...


class Group(NamedTuple):
    """Cards that share a string, a key or another facet: for a focus, for interleaving, for progress."""

    facet: str
    value: Key | ShapeId | Note | Chord | str | int

    @cache  # noqa: B019 - there are as many groups as strings, keys and so on, and every deck needs them
    def __str__(self) -> str:
        """As programs read it: 'string-6', 'key-Fm'."""
        return f"{self.facet}-{compact(self.facet, self.value)}"


@cache
def group_of(facet: str, value: Any) -> Group:
    """The group of a facet. A shape named by its string counts as that string."""
    if isinstance(value, ShapeId) and value.string:
        return Group("string", value.string)
    return Group(facet, value)


def by_name(facets: Facets) -> Iterator[tuple[str, Any]]:
    """Every facet with its name, in the order of the family."""
    return zip(facets._fields, facets, strict=True)


def as_plain(facets: Facets) -> dict[str, str | int]:
    """Every facet by its name, as JSON and tables write it."""
    return {name: plain(name, value) for name, value in by_name(facets)}


def shape_of(facets: Facets) -> ShapeId | None:
    """The shape a card is about, None if it is about none."""
    shape: ShapeId | None = getattr(facets, "shape", None)
    return shape


def string_of(facets: Facets) -> int | None:
    """The string a card is about, or the one that anchors its shape; None if there is no such string."""
    shape = shape_of(facets)
    string: int | None = getattr(facets, "string", None)
    return string or (shape.string if shape else None)


def plain(name: str, value: Any) -> str | int:
    """A facet's value as JSON and tables write it: 'F minor', 6, '3 flats'."""
    if isinstance(value, Key | Note | Chord):
        return value.name
    text: str | int = signature_name(value) if name == "signature" else value
    return text


def compact(name: str, value: Any) -> str:
    """A facet's value as card ids and groups write it: keys short, blanks as hyphens."""
    return value.short if isinstance(value, Key) else str(plain(name, value)).replace(" ", "-")


def read(name: str, text: str) -> Any:
    """A facet's value from its compact text. Raises `ValueError` or `UnknownName` for text that is no such value."""
    return _READERS[name](text)


def _mode(text: str) -> Mode:
    if text in ("major", "minor"):
        return "minor" if text == "minor" else "major"
    raise ValueError(text)


def _signature(text: str) -> int:
    if text not in _SIGNATURES:
        raise ValueError(text)
    return _SIGNATURES[text]


def _words(text: str) -> str:
    """Words that the id joins with hyphens; none of them has a hyphen of its own."""
    return text.replace("-", " ")


_SIGNATURES = {compact("signature", key.signature): key.signature for key in KEYS}
_READERS: dict[str, Callable[[str], Any]] = {
    "chord": parse_chord,
    "finger": int,
    "fret": int,
    "interval": _words,
    "key": parse_key,
    "loop": _words,
    "mode": _mode,
    "note": parse_note,
    "numeral": str,
    "shape": ShapeId,
    "signature": _signature,
    "string": int,
}
