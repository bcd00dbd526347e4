"""Where a key lies on the neck: relative, signature, both anchor shapes, all five. As text with a neck, or as JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from drill.errors import UsageProblem
from drill.present.neck_drawing import Look, draw, plain
from drill.questions.picture import Mark, Picture, shape_picture, tonic_role
from drill.questions.wording import FINGERS, capital, named, shape_label, signature_in_words, string_label, to_screen
from drill.system.text import wrapped
from drill.theory.keys import Key
from drill.theory.names import show_note
from drill.theory.neck import Neck
from drill.theory.shapes import Dot, Shape, degree_in, five_shapes, placements, shapes_anchored

TOO_FEW_FRETS = "needs more frets than this neck has"


class KeyView(NamedTuple):
    """A key laid out on a neck: the shapes anchored on the instrument's anchor strings, and all five.

    On an instrument without box shapes both are empty, and `no_shapes` says why.
    """

    key: Key
    neck: Neck
    anchors: tuple[Shape, ...] = ()
    shapes: tuple[Shape, ...] = ()
    no_shapes: str = ""

    @classmethod
    def of(cls, key: Key, neck: Neck) -> KeyView:
        """Lay the key out."""
        tuning = neck.tuning
        try:
            shapes = five_shapes(key, tuning, neck.capo)
        except UsageProblem as error:
            return cls(key, neck, no_shapes=error.message)
        return cls(key, neck, shapes_anchored(key, tuning, tuning.anchor_strings, neck.capo), shapes)

    def placements_of(self, *shapes: Shape) -> tuple[Shape, ...]:
        """Every place of these shapes on the neck."""
        return tuple(place for shape in shapes for place in placements(self.key, self.neck, shape.number))

    @property
    def picture(self) -> Picture:
        """Both anchor shapes; without shapes, every tonic of the key and of its relative."""
        if self.shapes:
            return self.picture_of(self.anchors)
        return tuple(
            Mark(spot, tonic_role(key.mode), key.tonic)
            for key in (self.key.minor, self.key.major)
            for spot in self.neck.spots_of(key.tonic.pitch_class)
        )

    @property
    def home(self) -> range | None:
        """The frets of the anchor shape nearest to the nut; None where none fits on the neck."""
        return self.home_of(self.anchors)

    def home_of(self, shapes: tuple[Shape, ...]) -> range | None:
        """The frets of these shapes where they lie nearest to the nut; None where none fits on the neck."""
        reaches = ([dot.spot.fret for dot in place.dots] for place in self.placements_of(*shapes))
        return min((range(min(frets), max(frets) + 1) for frets in reaches), key=lambda reach: reach[0], default=None)

    def picture_of(self, shapes: tuple[Shape, ...]) -> Picture:
        """Every place of these shapes, with degrees as the key itself counts them."""
        return shape_picture(self.placements_of(*shapes), self.key.mode)


def key_sentences(view: KeyView, look: Look) -> Iterator[str]:
    """A key in sentences: relative, signature, and where both anchor shapes lie."""
    key, relative = (each.shown_in(look.language) for each in (view.key, view.key.relative))
    yield f"{key}, relative {relative}, {_signature(view.key, look)}"
    if view.neck.capo:
        yield f"capo at fret {view.neck.capo}: frets are counted from the capo"
    yield from anchor_sentences(view, look)


def anchor_sentences(view: KeyView, look: Look) -> Iterator[str]:
    """Where both anchor shapes lie, or why the instrument has none."""
    for shape in view.anchors:
        yield to_screen(_anchor_sentence(view, shape), look.language)
    if view.no_shapes:
        yield view.no_shapes


def headline(view: KeyView, look: Look) -> Iterator[str]:
    """What is wanted first: the relative, the signature, and last where the index finger goes."""
    yield f"relative {view.key.relative.shown_in(look.language)}"
    yield _signature(view.key, look)
    if view.anchors:
        yield to_screen(f"index fret {' · '.join(_index_frets(view))}", look.language)


def _index_frets(view: KeyView) -> Iterator[str]:
    for shape in view.anchors:
        places = " or ".join(str(place.index_fret) for place in view.placements_of(shape)) or "none"
        yield f"{places} on {string_label(view.neck.tuning, shape.anchor_dot('minor').spot.string)}"


def key_lines(view: KeyView, look: Look, *, all_shapes: bool, width: int | None) -> Iterator[str]:
    """A key as sentences, then a neck with both anchor shapes, or with all five one by one."""
    for sentence in key_sentences(view, look):
        yield from wrapped(sentence, width)
    if all_shapes and view.shapes:
        for shape in view.shapes:
            yield ""
            label = capital(to_screen(shape_label(shape, view.neck.tuning), look.language))
            yield from wrapped(label + _places(view, shape), width)
            yield plain(draw(view.neck, view.picture_of((shape,)), look, width=width, home=view.home_of((shape,))))
    else:
        yield ""
        yield plain(draw(view.neck, view.picture, look, width=width, home=view.home))
    yield ""
    yield from wrapped(legend(view, look), width)


def legend(view: KeyView, look: Look) -> str:
    """What the signs on the neck mean."""
    dots = f"   the dots show {look.show}" if look.show != "fingers" else ""
    rule = "   position rule: one finger per fret from the index fret" if view.shapes and not dots else ""
    return f"◆ m minor tonic   ● M major tonic{dots}{rule}"


def key_object(view: KeyView) -> dict[str, Any]:
    """A key as one JSON object; its keys are told in `cli.reference.objects`."""
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
        "tonics": [{"string": spot.string, "fret": spot.fret} for spot in view.neck.spots_of(key.tonic.pitch_class)],
        "anchors": [anchor_object(view, shape) for shape in view.anchors],
        "shapes": [_shape_object(view, shape) for shape in view.placements_of(*view.shapes)],
        "no_shapes": view.no_shapes or None,
    }


def _signature(key: Key, look: Look) -> str:
    names = " ".join(show_note(note, look.language) for note in key.altered_notes)
    return signature_in_words(key.signature) + (f": {names}" if names else "")


def _anchor_sentence(view: KeyView, shape: Shape) -> str:
    tuning = view.neck.tuning
    places = " or ".join(str(place.index_fret) for place in view.placements_of(shape))
    if not places:
        return f"{capital(shape_label(shape, tuning))}: {TOO_FEW_FRETS}"
    minor, major = shape.anchor_dot("minor"), shape.anchor_dot("major")
    parts = [
        f"{FINGERS[dot.finger or 1]} finger on {named(dot.note)}, the {mode} tonic, fret {dot.spot.fret}"
        for mode, dot in (("minor", minor), ("major", major))
    ]
    string = string_label(tuning, minor.spot.string)
    return f"{capital(shape_label(shape, tuning))}: index fret {places}; on {string} {'; '.join(parts)}"


def anchor_object(view: KeyView, shape: Shape) -> dict[str, Any]:
    return {
        "shape": shape.id,
        "string": shape.anchor_string,
        "index_frets": [place.index_fret for place in view.placements_of(shape)],
        "minor_tonic": dot_object(view, shape.anchor_dot("minor")),
        "major_tonic": dot_object(view, shape.anchor_dot("major")),
    }


def _shape_object(view: KeyView, shape: Shape) -> dict[str, Any]:
    return {
        "shape": shape.id,
        "number": shape.number,
        "index_frets": list(shape.index_frets),
        "tied": shape.tied,
        "dots": [dot_object(view, dot) for dot in shape.dots],
    }


def dot_object(view: KeyView, dot: Dot) -> dict[str, Any]:
    """A dot of a shape, its degree as the key looked up counts it."""
    return bare_dot_object(dot) | {"degree": degree_in(view.key.mode, dot.degree)}


def bare_dot_object(dot: Dot) -> dict[str, Any]:
    return {
        "string": dot.spot.string,
        "fret": dot.spot.fret,
        "note": dot.note.name,
        "degree": dot.degree,
        "finger": dot.finger,
    }


def _places(view: KeyView, shape: Shape) -> str:
    """Where the hand goes, or that two fingerings are equally good."""
    places = view.placements_of(shape)
    if not places:
        return f": {TOO_FEW_FRETS}"
    if shape.tied:
        return f": two fingerings work equally well, index fret {' or '.join(map(str, shape.index_frets))}"
    return f": index fret {' or '.join(str(place.index_fret) for place in places)}"
