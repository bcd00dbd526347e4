"""The Escape key: pressed shortly before another key, it is a key of its own and no part of the other one.

A terminal sends Esc as the character that all its longer sequences begin with. When the next key arrives in the same
read, Textual takes both for one: for Alt and that key, for a sign that a Mac's keyboard makes so (∞ for 5), or for "^".
Esc is lost then, and the rest may end up in an answer. Textual looks such sequences up in a table first.
"""

from collections.abc import Collection
from string import ascii_letters, digits, punctuation
from typing import NamedTuple, cast

from textual._ansi_sequences import ANSI_SEQUENCES_KEYS
from textual.keys import KEY_NAME_REPLACEMENTS, Keys, _character_to_key

ESC = "\x1b"
INTRODUCERS = frozenset("[OP]X^_\\")
"""What follows Esc in a longer sequence: an arrow, a function key, the mouse, a reply of the terminal (ECMA-48)."""
TABLE = cast("dict[str, object]", ANSI_SEQUENCES_KEYS)
NAMED = {"\r": Keys.Enter.value, " ": Keys.Space.value}


class Pressed(NamedTuple):
    """A key as the table of sequences names it."""

    value: str


def tell_escape_apart(bound: Collection[str] = ()) -> None:
    """Let Esc and a key in one read be both of them, unless Alt and that key are bound ("alt+x")."""
    for character in {*ascii_letters, *digits, *punctuation, *NAMED} - INTRODUCERS:
        key = NAMED.get(character) or _name_of(character)
        if f"alt+{key}" not in bound:
            TABLE[ESC + character] = (Keys.Escape, Pressed(key))


def _name_of(sign: str) -> str:
    name = _character_to_key(sign)
    return KEY_NAME_REPLACEMENTS.get(name, name)
