"""Steps of reasoning that several families share, and the mix-ups that go with them."""

from __future__ import annotations

from collections.abc import Iterable

from drill.questions.card import Mixup
from drill.questions.wording import named, string_label
from drill.theory.neck import Neck, Spot, names_of
from drill.theory.pitch import Note

LANDMARKS = (0, 5, 7, 12, 17, 19)
"""Frets players find at a glance by their inlays, from which the others are counted."""


def spot_fact(neck_suffix: str, spot: Spot) -> str:
    """The fact of which note a spot sounds; twelve frets up it is the same one."""
    return f"spot:{spot.string}:{spot.fret % 12}{neck_suffix}"


def natural_at(neck: Neck, string: int, fret: int) -> Note | None:
    """The natural note at a fret, None where a sharp or a flat lies."""
    note = names_of(neck.sounding(Spot(string, fret)) % 12)[0]
    return note if note.accidental == 0 else None


def walk(neck: Neck, spot: Spot, name: Note) -> tuple[str, ...]:
    """How a player finds the note at a spot: from a landmark below, natural by natural, then a sharp or a flat."""
    naturals = [
        (fret, note) for fret in range(spot.fret + 1) if (note := natural_at(neck, spot.string, fret)) is not None
    ]
    if not naturals:
        return (f"fret {spot.fret} on {string_label(neck.tuning, spot.string)} is {named(name)}",)
    start = next(
        (i for i in reversed(range(len(naturals))) if naturals[i][0] in LANDMARKS and naturals[i][0] < spot.fret), 0
    )
    steps = [_landmark(neck, spot.string, *naturals[start])]
    if path := naturals[start + 1 :]:
        steps.append("then " + ", ".join(f"{named(note)} at {fret}" for fret, note in path))
    if naturals[-1][0] != spot.fret:
        steps.append(f"one fret up is {_both_names(name)} at {spot.fret}")
    return tuple(steps)


def _landmark(neck: Neck, string: int, fret: int, note: Note) -> str:
    where = string_label(neck.tuning, string)
    if fret:
        return f"fret {fret} on {where} is {named(note)}"
    return f"{where} sounds {named(note)} open" + (" at the capo" if neck.capo else "")


def _both_names(name: Note) -> str:
    names = [note for note in names_of(name.pitch_class) if note != name]
    return " or ".join(named(note) for note in (name, *names))


def fret_mixups(neck: Neck, spots: Iterable[Spot], note: Note) -> tuple[Mixup, ...]:
    """Wrong frets and what leads to them: the next string's fret, a sharp taken for a flat, one fret too many or few.

    `spots` are the right ones, all on one string.
    """
    found: dict[str, Mixup] = {}
    right = {spot.fret for spot in spots}
    string = next(iter(spots)).string
    for mixup in (*_other_string(neck, string, note), *_other_sign(right, note), *_one_off(right)):
        if int(mixup.answer) not in right and 0 <= int(mixup.answer) <= neck.last_fret:
            found.setdefault(mixup.answer, mixup)
    return tuple(found.values())


def _other_string(neck: Neck, string: int, note: Note) -> Iterable[Mixup]:
    from drill.questions.family import instrument_suffix

    for other in (s for s in (string - 1, string + 1) if s in neck.tuning.strings):
        for spot in neck.spots_of(note.pitch_class, strings=(other,)):
            sentence = f"Fret {spot.fret} sounds {named(note)} on {string_label(neck.tuning, other)}, the string next to it."
            yield Mixup("other string", str(spot.fret), sentence, spot_fact(instrument_suffix(neck), spot))


def _other_sign(right: set[int], note: Note) -> Iterable[Mixup]:
    if note.accidental:
        wrong = Note.of(note.letter, -note.accidental)
        for fret in right:
            answer = str(fret - 2 * note.accidental)
            yield Mixup("sharp for flat", answer, f"That fret sounds {named(wrong)}: a flat lowers, a sharp raises.")


def _one_off(right: set[int]) -> Iterable[Mixup]:
    for fret in right:
        yield Mixup("one fret off", str(fret - 1), "One fret too low.")
        yield Mixup("one fret off", str(fret + 1), "One fret too high.")
