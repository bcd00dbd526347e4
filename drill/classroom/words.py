"""How groups of cards, weaknesses and the drills that mend them are put into words and commands."""

from __future__ import annotations

from collections.abc import Callable

from drill.classroom.answers import Group
from drill.classroom.weaknesses import Weakness
from drill.errors import FretsureError
from drill.present.figures import per_cent
from drill.questions.catalogue import FAMILIES
from drill.questions.wording import named_key, shape_label, string_label
from drill.system.platforms import shell_quoted
from drill.system.tunings import find_tuning
from drill.theory.keys import PRACTICAL_KEYS, Key, parse_key
from drill.theory.shapes import ShapeId, find_shape

Say = Callable[[str], str]
"""Writes a sentence with marked notes as somebody reads it (see `questions.wording`)."""
_FIXED: dict[Group, str] = {
    ("side", "flat"): "flat keys",
    ("side", "sharp"): "sharp keys",
    ("side", "natural"): "keys without sharps or flats",
    ("mode", "minor"): "minor keys",
    ("mode", "major"): "major keys",
    ("rest", "rested"): "cards not asked for two days or more",
    ("whole", "everything"): "cards of every kind",
}


def label(group: Group, say: Say, tuning: str = "standard") -> str:
    """A group of cards as people say it: 'flat keys', 'string 6 (low E)'. What is unknown here keeps its name."""
    facet, value = group
    if group in _FIXED:
        return _FIXED[group]
    try:
        return say(_label(facet, value, tuning))
    except (FretsureError, KeyError, ValueError, StopIteration):
        return value


def _label(facet: str, value: str, tuning: str) -> str:
    if facet == "string":
        return string_label(find_tuning(tuning), int(value))
    if facet == "shape":
        instrument = find_tuning(tuning)
        return shape_label(find_shape(PRACTICAL_KEYS[0], instrument, ShapeId(value), 0), instrument)
    if facet == "key":
        return named_key(parse_key(value))
    return FAMILIES[value].title.lower() if facet == "family" else value


def sentence(weakness: Weakness, say: Say, tuning: str = "standard") -> str:
    """What somebody is stuck on, with its figures, and what the class and their own other answers lead to expect."""
    what = label(weakness.group, say, tuning)
    if weakness.sort == "slow":
        return f"slow at {what}: {weakness.found:.1f} times the target (expected: {weakness.usual:.1f})"
    share, expected = per_cent(weakness.found), per_cent(weakness.usual)
    if weakness.sort == "mix-up":
        return f"mix-up “{what}”: {share} of {weakness.answers} answers where it can happen (expected: {expected})"
    return f"misses {what}: {share} of {weakness.answers} answers wrong (expected: {expected})"


def command(weakness: Weakness) -> str:
    """The command that drills what somebody is stuck on."""
    if weakness.place:
        return place_command(weakness.place)
    facet, value = weakness.group
    options = [f"--{facet} {value}"] if facet in ("string", "shape", "family") else []
    options += [f"--key {shell_quoted(key.short)}" for key in _keys(facet, value)]
    return f"fretsure focus {' '.join(options)}" if options else "fretsure today"


def place_command(place: tuple[str, int | None]) -> str:
    """The command that drills a family on a string."""
    family, string = place
    return f"fretsure focus --family {family}" + (f" --string {string}" if string else "")


def _keys(facet: str, value: str) -> list[Key]:
    if facet == "key":
        return [parse_key(value)]
    if facet == "mode":
        return [key for key in PRACTICAL_KEYS if key.mode == value]
    signs = {"flat": -1, "sharp": 1, "natural": 0}
    if facet != "side":
        return []
    return [key for key in PRACTICAL_KEYS if (key.signature > 0) - (key.signature < 0) == signs[value]]
