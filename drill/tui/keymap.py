"""Other keys for commands, as the table `[keys]` of the settings file gives them: read, and held against the others.

>>> read_keymap((("look-up", "f8"), ("help", "f9")), "settings.toml")
{'look-up': 'f8', 'help': 'f9'}
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator

from textual.keys import Keys, _character_to_key

from drill.errors import BadFile
from drill.theory.names import quoted
from drill.tui.commands import COMMANDS, TYPED_IN, Command, everywhere, of_screen

_MODIFIERS = r"^(?:(?:ctrl|alt|shift)\+)+(?=.)"
_NAMED = frozenset(key.value for key in Keys)

_FORMER = {"half-tone-up": "semitone-up", "half-tone-down": "semitone-down"}
"""Names that commands had in earlier settings files, which are read for ever."""

Keymap = dict[str, str]
"""Keys as Textual writes them, by the id of a command."""


def read_keymap(pairs: tuple[tuple[str, str], ...], file: str) -> Keymap:
    """The keys of commands. Raises BadFile for an unknown command or key, and for a key that is taken."""
    known = {command.id: command for command in COMMANDS}
    keymap: Keymap = {}
    for written, text in pairs:
        name = _FORMER.get(written, written)
        if name not in known:
            near = difflib.get_close_matches(name[:40], known, n=1, cutoff=0.5)
            fix = f"The nearest is “{near[0]}”." if near else f"Commands: {', '.join(known)}."
            raise BadFile(file, f"keys.{name}", "there is no such command.", fix)
        keymap[name] = _read_key(known[name], text, file)
    for name in keymap:
        _refuse_taken(known[name], keymap, file)
    return keymap


def keys_of(command: Command, keymap: Keymap) -> tuple[str, ...]:
    """The keys of a command, the first of which is shown."""
    return tuple(keymap.get(command.id, command.key).split(","))


def _read_key(command: Command, text: str, file: str) -> str:
    key = text.strip()
    bare = re.sub(_MODIFIERS, "", key)
    if len(bare) != 1 and bare not in _NAMED:
        fix = 'Write one key, such as "x", "f8", "ctrl+r" or "pagedown".'
        raise BadFile(file, f"keys.{command.id}", f"{quoted(text)} is not a key.", fix)
    if len(key) == 1 and (typed := next((where for where in command.where if where in TYPED_IN), "")):
        fix = 'Use a function key or Ctrl, such as "f8" or "ctrl+r".'
        raise BadFile(file, f"keys.{command.id}", f"{quoted(text)} is typed into the field of {quoted(typed)}.", fix)
    return _character_to_key(key) if len(key) == 1 else key


def _refuse_taken(command: Command, keymap: Keymap, file: str) -> None:
    """Raise BadFile if another command of a screen has the same key."""
    for other in _beside(command):
        if keymap[command.id] in keys_of(other, keymap):
            raise BadFile(
                file,
                f"keys.{command.id}",
                f"{quoted(keymap[command.id])} is the key of “{other.id}” on the same screen.",
                f'Give one of them another key, such as: {other.id} = "f9"',
            )


def _beside(command: Command) -> Iterator[Command]:
    """The other commands that work where this one does."""
    wheres = command.where or tuple({where for each in COMMANDS for where in each.where})
    for where in wheres:
        yield from (other for other in (*of_screen(where), *everywhere()) if other.id != command.id)
