"""A made-up deck in the manner of "two shapes, every key, then the whole neck".

Cards are strings to the memory, so the deck needs no theory: pitch classes 0..11 stand for notes. In curriculum order:
spots on the two lowest strings, relatives, fingers, anchors, signatures, the other tonic, the way to the next shape,
and at last the spots on the other strings.
"""

from __future__ import annotations

from dataclasses import dataclass

from drill.memory import Item

BAR_S = 3.0
"""One bar of four at 80 beats a minute."""
OPEN = {6: 4, 5: 9, 4: 2, 3: 7, 2: 11, 1: 4}
"""Pitch class of the open string, in standard tuning."""
NATURALS_FIRST = (4, 5, 7, 9, 11, 0, 2, 6, 1, 10, 8, 3)
MODES = ("minor", "major")


@dataclass(frozen=True, slots=True)
class Draft:
    """A card before it has its place in the curriculum."""

    family: str
    facets: tuple[object, ...]
    facts: tuple[str, ...]
    needs: tuple[str, ...] = ()
    groups: tuple[str, ...] = ()


def spot(string: int, pc: int) -> str:
    """The fact that a note lies where it does."""
    return f"spot:{string}:{(pc - OPEN[string]) % 12}"


def relative(pc: int, mode: str) -> str:
    """The fact that two keys are relatives, named after the minor one."""
    return f"relative:{pc if mode == 'minor' else (pc - 3) % 12}"


def spots(strings: tuple[int, ...]) -> list[Draft]:
    drafts = []
    for string in strings:
        for pc in NATURALS_FIRST:
            groups = (f"string-{string}",)
            drafts.append(Draft("note-at-fret", (string, pc), (spot(string, pc),), (), groups))
            drafts.append(Draft("fret-of-note", (string, pc), (spot(string, pc),), ("note-at-fret",), groups))
    return drafts


def keyed() -> list[Draft]:
    """Cards of the 24 keys."""
    drafts = [Draft("tonic-finger", (mode,), (f"finger:{mode}",)) for mode in MODES]
    every = [(pc, mode) for pc in NATURALS_FIRST for mode in MODES]
    for pc, mode in every:
        other = "major" if mode == "minor" else "minor"
        drafts.append(Draft(f"relative-{other}", (pc,), (relative(pc, mode),), (), (f"key-{pc}",)))
    for string in (6, 5):
        for pc, mode in every:
            facts = (spot(string, pc), f"finger:{mode}")
            groups = (f"string-{string}", f"key-{pc}", f"shape-{string}")
            drafts.append(Draft("shape-anchor", (string, pc, mode), facts, ("fret-of-note", "tonic-finger"), groups))
    for pc, mode in every:
        drafts.append(Draft("signature", (pc, mode), (f"signature:{relative(pc, mode)}",), (), (f"key-{pc}",)))
    for string in (6, 5):
        for pc, mode in every:
            groups = (f"string-{string}", f"key-{pc}", f"shape-{string}")
            facts = (spot(string, pc), relative(pc, mode))
            drafts.append(Draft("other-tonic", (string, pc, mode), facts, ("shape-anchor",), groups))
    return drafts


def deck() -> list[Item]:
    """The cards in curriculum order."""
    return [
        Item(
            ":".join(map(str, (draft.family, *draft.facets))),
            draft.family,
            order,
            target(draft.family),
            draft.facts,
            draft.needs,
            frozenset(draft.groups),
        )
        for order, draft in enumerate([*spots((6, 5)), *keyed(), *spots((4, 3, 2, 1))])
    ]


def target(family: str) -> float:
    """Target times in seconds."""
    return {"note-at-fret": 2.5, "tonic-finger": 2.0}.get(family, BAR_S)


def keys(items: list[Item]) -> dict[str, list[Item]]:
    """What must come within one bar to play in each of the 24 keys: both anchors, the relative key, the signature."""
    by_card = {item.card: item for item in items}
    needed = {}
    for pc in range(12):
        for mode in MODES:
            other = "major" if mode == "minor" else "minor"
            cards = [f"shape-anchor:6:{pc}:{mode}", f"shape-anchor:5:{pc}:{mode}"]
            cards += [f"relative-{other}:{pc}", f"signature:{pc}:{mode}"]
            needed[f"{pc} {mode}"] = [by_card[card] for card in cards]
    return needed
