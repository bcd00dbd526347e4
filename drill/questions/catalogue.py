"""Every family, in the order of the curriculum; and card ids read back to what they mean."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping
from importlib import import_module
from typing import Any

from drill.errors import UnknownName
from drill.questions import facets, ids
from drill.questions.family import Family
from drill.questions.ids import CardName
from drill.theory.names import LONGEST_NAME, quoted


class Catalogue(Mapping[str, Family[Any]]):
    """Families by id; each is imported when it is first looked up.

    A drill of the daily deck asks six families of twenty-one; it need not wait for the theory of all others.
    """

    def __init__(self, classes: Mapping[str, str]) -> None:
        self._classes = classes
        """The module and the class of each family."""
        self._families: dict[str, Family[Any]] = {}

    def __getitem__(self, family_id: str) -> Family[Any]:
        if family_id not in self._families:
            module, name = self._classes[family_id].split(".")
            self._families[family_id] = getattr(import_module(f"drill.questions.families.{module}"), name)()
        return self._families[family_id]

    def __contains__(self, family_id: object) -> bool:
        return family_id in self._classes

    def __iter__(self) -> Iterator[str]:
        return iter(self._classes)

    def __len__(self) -> int:
        return len(self._classes)


FAMILIES = Catalogue(
    {
        "note-at-fret": "spots.NoteAtFret",
        "fret-of-note": "spots.FretOfNote",
        "tonic-octave": "octaves.TonicOctave",
        "letter-skip": "letters.LetterSkip",
        "relative-minor": "relatives.RelativeMinor",
        "relative-major": "relatives.RelativeMajor",
        "signature": "signatures.Signature",
        "signature-key": "signatures.SignatureKey",
        "tonic-finger": "fingers.TonicFinger",
        "finger-key": "fingers.FingerKey",
        "tonic-fret": "anchors.TonicFret",
        "shape-anchor": "anchors.ShapeAnchor",
        "other-tonic": "anchors.OtherTonic",
        "neck-diagram": "diagrams.NeckDiagram",
        "next-shape": "links.NextShape",
        "degree-at": "degrees.DegreeAt",
        "chord-of-key": "numerals.ChordOfKey",
        "numeral-of-chord": "numerals.NumeralOfChord",
        "loop-tonic": "loops.LoopTonic",
        "chord-tone": "chord_tones.ChordToneFinger",
        "ear-tonic": "ear.EarTonic",
    }
)
"""Every family by id, in the order in which they are taught: what a family needs comes before it."""


def find_family(name: str) -> Family[Any]:
    """The family of an id; raises `UnknownName` with the nearest id, or with all of them where none is near."""
    if name not in FAMILIES:
        near = difflib.get_close_matches(name[:LONGEST_NAME], FAMILIES, n=1)
        fix = f"The nearest is “{near[0]}”." if near else f"Families: {', '.join(FAMILIES)}."
        raise UnknownName(f"There is no family {quoted(name)}.", fix)
    return FAMILIES[name]


def read_card_id(card_id: str) -> CardName:
    """The name that an id writes, the inverse of `CardName.id`; raises `UnknownName` if no family writes such an id."""
    family_id, texts, tuning, capo = ids.split(card_id)
    family = FAMILIES.get(family_id)
    if family is None or tuple(texts) != family.facet_type._fields:
        raise ids.no_card(card_id)
    try:
        values = [facets.read(name, text) for name, text in texts.items()]
    except ValueError:
        raise ids.no_card(card_id) from None
    return CardName(family_id, family.facet_type(*values), tuning, capo)
