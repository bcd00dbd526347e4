"""Every family, in the order of the curriculum; and card ids read back to what they mean."""

from __future__ import annotations

import difflib
from typing import Any

from drill.errors import UnknownName
from drill.questions import facets, ids
from drill.questions.families.anchors import OtherTonic, ShapeAnchor, TonicFret
from drill.questions.families.chord_tones import ChordToneFinger
from drill.questions.families.degrees import DegreeAt
from drill.questions.families.diagrams import NeckDiagram
from drill.questions.families.ear import EarTonic
from drill.questions.families.fingers import FingerKey, TonicFinger
from drill.questions.families.letters import LetterSkip
from drill.questions.families.links import NextShape
from drill.questions.families.loops import LoopTonic
from drill.questions.families.numerals import ChordOfKey, NumeralOfChord
from drill.questions.families.octaves import TonicOctave
from drill.questions.families.relatives import RelativeMajor, RelativeMinor
from drill.questions.families.signatures import Signature, SignatureKey
from drill.questions.families.spots import FretOfNote, NoteAtFret
from drill.questions.family import Family
from drill.questions.ids import CardName
from drill.theory.names import LONGEST_NAME, quoted

FAMILIES: dict[str, Family[Any]] = {
    family.id: family
    for family in (
        NoteAtFret(),
        FretOfNote(),
        TonicOctave(),
        LetterSkip(),
        RelativeMinor(),
        RelativeMajor(),
        Signature(),
        SignatureKey(),
        TonicFinger(),
        FingerKey(),
        TonicFret(),
        ShapeAnchor(),
        OtherTonic(),
        NeckDiagram(),
        NextShape(),
        DegreeAt(),
        ChordOfKey(),
        NumeralOfChord(),
        LoopTonic(),
        ChordToneFinger(),
        EarTonic(),
    )
}
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
