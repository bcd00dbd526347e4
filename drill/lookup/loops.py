"""Which key or keys a chord loop is in, why, and where to put the finger. As sentences with a neck, or as JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from drill.lookup.keys import KeyView, anchor_object, anchor_sentences, dot_object, legend
from drill.present.neck_drawing import Look, draw, plain
from drill.questions.families.loops import MARKED
from drill.questions.wording import to_ascii, to_screen
from drill.system.text import wrapped
from drill.theory.chords import Chord
from drill.theory.keys import Key
from drill.theory.landing import parted, tones_inside
from drill.theory.loops import Fit, LoopReading, analyse_loop
from drill.theory.names import NoteLanguage, show_note
from drill.theory.neck import Neck
from drill.theory.pitch import Note


class LoopView(NamedTuple):
    """A loop read, and each accepted key laid out on a neck, likeliest first."""

    reading: LoopReading
    views: tuple[KeyView, ...]

    @classmethod
    def of(cls, chords: tuple[Chord, ...], neck: Neck) -> LoopView:
        """Read the loop; raises `UsageProblem` for an empty or an endless one."""
        reading = analyse_loop(chords, say=MARKED)
        return cls(reading, tuple(KeyView.of(key, neck) for key in reading.keys))

    def hands(self) -> tuple[tuple[tuple[Key, ...], KeyView], ...]:
        """The keys in groups that share their shapes, as relatives do, each with one layout."""
        groups: dict[Key, list[KeyView]] = {}
        for view in self.views:
            groups.setdefault(view.key.minor, []).append(view)
        return tuple((tuple(view.key for view in views), views[0]) for views in groups.values())


def loop_lines(view: LoopView, look: Look, *, width: int | None) -> Iterator[str]:
    """A loop as sentences, then for each hand position a neck with both anchor shapes and the chord tones in them."""
    for sentence in reading_sentences(view, look):
        yield from wrapped(sentence, width)
    for keys, layout in view.hands():
        names = " and ".join(key.shown_in(look.language) for key in keys)
        yield ""
        for sentence in (f"{names}:", *anchor_sentences(layout, look)):
            yield from wrapped(sentence, width)
        yield ""
        yield plain(draw(layout.neck, layout.picture, look, width=width, home=layout.home))
        yield ""
        for sentence in landing_sentences(view.reading.chords, layout.key, look.language):
            yield from wrapped(sentence, width)
    yield from wrapped(legend(view.views[0], look), width)


def reading_sentences(view: LoopView, look: Look) -> Iterator[str]:
    """Which key or keys the loop is in, and why."""
    names = " ".join(chord.shown_in(look.language) for chord in view.reading.chords)
    yield f"{names}: {' or '.join(key.shown_in(look.language) for key in view.reading.keys)}"
    yield from (to_screen(sentence, look.language) for sentence in view.reading.because)


def loop_object(view: LoopView) -> dict[str, Any]:
    """A loop as one JSON object; its keys are listed in the README."""
    reading = view.reading
    return {
        "loop": [chord.name for chord in reading.chords],
        "open": reading.is_open,
        "keys": [_fit_object(fit, laid, reading.chords) for fit, laid in zip(reading.fits, view.views, strict=True)],
        "because": [to_ascii(sentence) for sentence in reading.because],
        "profile": [{"key": key.name, "correlation": round(fit, 4)} for key, fit in reading.profile],
    }


def loop_json(view: LoopView) -> str:
    """The object as one line."""
    import json  # not needed to say it in words, which must start quickly

    return json.dumps(loop_object(view))


def landing_sentences(chords: tuple[Chord, ...], key: Key, language: NoteLanguage) -> Iterator[str]:
    """For each chord of the loop, which of its notes the five of the key hold."""

    def told(notes: tuple[Note, ...]) -> str:
        return " ".join(show_note(note, language) for note in notes)

    for chord in dict.fromkeys(chords):
        inside, outside = parted(chord, key)
        rest = f", {told(outside)} {'lies' if len(outside) == 1 else 'lie'} outside" if outside else ""
        holds = f"the five notes hold {told(inside)}" if inside else "the five notes hold none of its own"
        yield f"over {chord.shown_in(language)}: {holds}{rest}"


def _fit_object(fit: Fit, layout: KeyView, chords: tuple[Chord, ...]) -> dict[str, Any]:
    return {
        "key": fit.key.name,
        "numerals": list(fit.numerals),
        "evidence": [{"clause": to_ascii(each.clause), "weight": each.weight} for each in fit.evidence],
        "anchors": [anchor_object(layout, shape) for shape in layout.anchors],
        "chords": [_chord_object(chord, layout) for chord in dict.fromkeys(chords)],
        "no_shapes": layout.no_shapes or None,
    }


def _chord_object(chord: Chord, layout: KeyView) -> dict[str, Any]:
    inside, outside = parted(chord, layout.key)
    return {
        "chord": chord.name,
        "notes": [note.name for note in chord.notes],
        "inside": [note.name for note in inside],
        "outside": [note.name for note in outside],
        "tones": [
            {"shape": shape.id, "of_chord": tone.degree, **dot_object(layout, tone.dot)}
            for shape in layout.laid(layout.anchors)
            for tone in tones_inside(shape, chord)
        ],
    }
