"""Committed figures of other people's programs (figures/README.md): tonal's spellings, chords-db's fingerings."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from pathlib import Path

from drill.theory.keys import Key
from drill.theory.names import parse_note
from drill.theory.neck import STANDARD, Neck, Spot
from drill.theory.scales import SCALES, find_scale, spell
from drill.theory.shapes import Shape, find_shape, five_shapes, raised
from tests.theory.outside.dots import dot_at
from tests.theory.outside.registry import Fact, source

_FIGURES = Path(__file__).parent.parent / "figures"
_NECK = Neck(STANDARD, frets=24)
CHORDS_DB = "chords-db 0.5.1 (npm, MIT), figures/guitar_chords.tsv"
TONAL = "tonal 6.4.3 (npm, MIT), figures/scales.tsv"


def rows(file: str) -> list[dict[str, str]]:
    """The rows of a table of figures by column name."""
    with (_FIGURES / file).open(encoding="utf-8", newline="") as table:
        return list(csv.DictReader(table, delimiter="\t"))


def played(row: dict[str, str]) -> list[tuple[Spot, int]]:
    """The spots of a chord position with the finger printed for each, string 6 first; unplayed strings left out."""
    return [
        (Spot(6 - place, int(fret)), int(finger))
        for place, (fret, finger) in enumerate(zip(row["frets"].split(), row["fingers"].split(), strict=True))
        if fret != "x"
    ]


@source(TONAL, "spelled scales")
def scale_spellings() -> Iterator[Fact]:
    for row in rows("scales.tsv"):
        notes = spell(parse_note(row["tonic"]), SCALES[find_scale(row["scale"])])
        yield Fact(f"{row['tonic']} {row['scale']}", " ".join(note.name for note in notes), row["notes"])


@source(CHORDS_DB, "string and fret to MIDI number")
def chord_midi() -> Iterator[Fact]:
    for row in rows("guitar_chords.tsv"):
        sounding = [_NECK.sounding(spot) for spot, _ in played(row)]
        for (spot, _), ours, theirs in zip(played(row), sounding, row["midi"].split(), strict=True):
            yield Fact(f"{row['root']}{row['suffix']} {spot}", ours, int(theirs))


def _minor_barres(form: str, root_string: int) -> Iterator[tuple[Key, list[tuple[Spot, int]]]]:
    """Fretted minor chords of a form: frets above the root from the root's string up; what lies below is left open."""
    for row in rows("guitar_chords.tsv"):
        frets = row["frets"].split()[6 - root_string :]
        if row["suffix"] != "minor" or frets[0] in ("x", "0") or "x" in frets:
            continue
        if [int(fret) - int(frets[0]) for fret in frets] == [int(offset) for offset in form.split()]:
            yield Key(parse_note(row["root"]), "minor"), played(row)


def _barre_facts(form: str, root_string: int) -> Iterator[Fact]:
    for key, spots in _minor_barres(form, root_string):
        shape = find_shape(key, STANDARD, f"string-{root_string}")
        root = next(spot for spot, _ in spots if spot.string == root_string)
        shape = raised(shape, root.fret - shape.index_fret)
        inside = all(dot_at(shape, spot) is not None for spot, _ in spots)
        dot = dot_at(shape, root)
        yield Fact(
            f"{key} barre chord, root on string {root_string}",
            (inside, dot and (dot.finger, dot.degree)),
            (True, (dict(spots)[root], "1")),
        )


@source(CHORDS_DB, "minor barre chords lie in the shape, index on the root")
def barre_fingers() -> Iterator[Fact]:
    yield from _barre_facts("0 2 2 0 0 0", root_string=6)
    yield from _barre_facts("0 2 2 1 0", root_string=5)


# The open chord of each form and the one shape it lies in: theory worked out from chords-db's frets.
_OPEN_MINOR = {"E": 1, "D": 2, "C": 3, "A": 4, "G": 5}
_OPEN_MAJOR = {"E": 2, "D": 3, "C": 4, "A": 5, "G": 1}


def _open_position(root: str, suffix: str) -> list[Spot]:
    first = next(row for row in rows("guitar_chords.tsv") if (row["root"], row["suffix"]) == (root, suffix))
    return [spot for spot, _ in played(first)]


def _holding(key: Key, spots: list[Spot]) -> list[int]:
    """The shapes of a key that hold all these spots somewhere on the neck, open strings included."""

    def holds(shape: Shape) -> bool:
        places = [raised(shape, 12 * octave) for octave in (-1, 0)]
        return any(all(dot_at(place, spot) for spot in spots) for place in places)

    return [shape.number for shape in five_shapes(key, STANDARD) if holds(shape)]


@source(CHORDS_DB, "open major chords lie in exactly one shape")
def open_major_chords() -> Iterator[Fact]:
    for root, number in _OPEN_MAJOR.items():
        yield Fact(f"open {root}", _holding(Key(parse_note(root), "major"), _open_position(root, "major")), [number])


@source(CHORDS_DB, "open minor chords lie in exactly one shape")
def open_minor_chords() -> Iterator[Fact]:
    for root, number in _OPEN_MINOR.items():
        yield Fact(f"open {root}m", _holding(Key(parse_note(root), "minor"), _open_position(root, "minor")), [number])
