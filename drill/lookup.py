"""Where a key lives: relative, signature, both anchors, the five shapes. As sentences with a neck, or as JSON.

Starts light: neither the record nor any screen is needed to look a key up.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from drill.drawing import Look, draw, plain
from drill.questions.picture import shape_picture
from drill.questions.wording import FINGERS, shape_label, string_label, to_screen
from drill.theory.keys import Key
from drill.theory.names import show_note
from drill.theory.neck import Neck
from drill.theory.shapes import Dot, Shape, five_shapes, placements, shapes_anchored


@dataclass(frozen=True, slots=True)
class KeyView:
    """A key laid out on a neck: the shapes anchored on the instrument's anchor strings, and all five."""

    key: Key
    neck: Neck
    anchors: tuple[Shape, ...]
    shapes: tuple[Shape, ...]

    @classmethod
    def of(cls, key: Key, neck: Neck) -> KeyView:
        """Lay the key out; raises `UsageProblem` on an instrument that has no box shapes."""
        tuning = neck.tuning
        return cls(
            key,
            neck,
            shapes_anchored(key, tuning, tuning.anchor_strings, neck.capo),
            five_shapes(key, tuning, neck.capo),
        )

    def laid(self, shapes: tuple[Shape, ...]) -> tuple[Shape, ...]:
        """Every place of these shapes on the neck."""
        return tuple(place for shape in shapes for place in placements(self.key, self.neck, shape.number))


def key_sentences(view: KeyView, look: Look) -> Iterator[str]:
    """A key in sentences: relative, signature, and where both anchor shapes lie."""
    key, language = view.key, look.language
    relative = f"{show_note(key.relative.tonic, language)} {key.relative.mode}"
    yield f"{show_note(key.tonic, language)} {key.mode}, relative {relative}, {_signature(key, look)}"
    for shape in view.anchors:
        yield to_screen(_anchor_sentence(view, shape), language)


def key_lines(view: KeyView, look: Look, *, all_shapes: bool, width: int | None) -> Iterator[str]:
    """A key as sentences, then a neck with both anchor shapes, or with all five one by one."""
    yield from key_sentences(view, look)
    for shapes in [(shape,) for shape in view.shapes] if all_shapes else [view.anchors]:
        yield ""
        if all_shapes:
            label = to_screen(shape_label(shapes[0], view.neck.tuning), look.language)
            yield _capital(label) + _tie(shapes[0])
        yield plain(draw(view.neck, shape_picture(view.laid(shapes)), look, width=width))
    yield ""
    yield "◆ m minor tonic   ● M major tonic   by the position rule: one finger a fret, from the index fret"


def key_object(view: KeyView) -> dict[str, Any]:
    """A key as one JSON object; its keys are listed in the README."""
    key = view.key
    return {
        "key": key.name,
        "relative": key.relative.name,
        "signature": key.signature,
        "altered": [note.name for note in key.altered_notes],
        "notes": [note.name for note in key.notes],
        "tuning": view.neck.tuning.id,
        "frets": view.neck.frets,
        "capo": view.neck.capo,
        "anchors": [_anchor_object(view, shape) for shape in view.anchors],
        "shapes": [_shape_object(shape) for shape in view.laid(view.shapes)],
    }


def key_json(view: KeyView) -> str:
    """The object as one line."""
    return json.dumps(key_object(view))


def _signature(key: Key, look: Look) -> str:
    count = abs(key.signature)
    if not count:
        return "no sharps or flats"
    sort = "sharp" if key.signature > 0 else "flat"
    names = " ".join(show_note(note, look.language) for note in key.altered_notes)
    return f"{count} {sort}{'s' if count > 1 else ''}: {names}"


def _anchor_sentence(view: KeyView, shape: Shape) -> str:
    tuning = view.neck.tuning
    places = " or ".join(str(place.index_fret) for place in view.laid((shape,)))
    if not places:
        return f"{_capital(shape_label(shape, tuning))}: needs more frets than this neck has"
    parts = [
        f"{mode} tonic {FINGERS[dot.finger or 1]} finger fret {dot.spot.fret}"
        for mode, dot in (("minor", _anchor(shape, "minor")), ("major", _anchor(shape, "major")))
    ]
    string = string_label(tuning, shape.anchor_string or 0)
    return f"{_capital(shape_label(shape, tuning))}: index fret {places}; on {string} {', '.join(parts)}"


def _anchor(shape: Shape, mode: Any) -> Dot:
    return next(dot for dot in shape.tonic_dots(mode) if dot.spot.string == shape.anchor_string)


def _anchor_object(view: KeyView, shape: Shape) -> dict[str, Any]:
    return {
        "shape": shape.id,
        "string": shape.anchor_string,
        "index_frets": [place.index_fret for place in view.laid((shape,))],
        "minor_tonic": _spot_object(_anchor(shape, "minor")),
        "major_tonic": _spot_object(_anchor(shape, "major")),
    }


def _shape_object(shape: Shape) -> dict[str, Any]:
    return {
        "shape": shape.id,
        "number": shape.number,
        "index_frets": list(shape.index_frets),
        "tied": shape.tied,
        "dots": [_spot_object(dot) for dot in shape.dots],
    }


def _spot_object(dot: Dot) -> dict[str, Any]:
    return {
        "string": dot.spot.string,
        "fret": dot.spot.fret,
        "note": dot.note.name,
        "degree": dot.degree,
        "finger": dot.finger,
    }


def _tie(shape: Shape) -> str:
    if not shape.tied:
        return ""
    return f" (two fingerings serve equally well: index at {' or '.join(map(str, shape.index_frets))})"


def _capital(sentence: str) -> str:
    return sentence[0].upper() + sentence[1:]
