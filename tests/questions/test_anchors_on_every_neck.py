"""Index frets on every tuning and every length of neck, against the laid-out shape moved fret by fret."""

from __future__ import annotations

import re
from functools import cache

import pytest

from drill.errors import FretsureError
from drill.questions.card import Card
from drill.questions.families.anchors import ShapeAnchor
from drill.questions.in_shapes import KeyAndShape
from drill.questions.wording import to_ascii
from drill.system.tunings import tunings
from drill.theory.keys import KEYS, parse_key
from drill.theory.neck import FRETS_PER_OCTAVE, Neck
from drill.theory.shapes import Shape, ShapeId, shapes_anchored
from tests.support.asking import judged

FAMILY = ShapeAnchor()
WHOLE = ", whole"


@cache
def anchored(tuning: str) -> tuple[Shape, ...]:
    """Every shape of every key that has an index finger on its minor tonic; none where the tuning has no shapes."""
    tuned = tunings()[tuning]
    try:
        return tuple(shape for key in KEYS for shape in shapes_anchored(key, tuned, tuple(tuned.strings)))
    except FretsureError:
        return ()


def cards(tuning: str, last_fret: int) -> list[tuple[Card, Shape]]:
    neck = Neck(tunings()[tuning], last_fret)
    return [
        (FAMILY.card(KeyAndShape(shape.key, shape.id), neck), shape)
        for shape in anchored(tuning)
        if shape.highest_fret <= last_fret
    ]


def fits(shape: Shape, index: int, last_fret: int) -> bool:
    """Whether every note of the shape has a fretted place when its anchor lies at `index`."""
    moved = index - shape.anchor_dot("minor").spot.fret
    return all(1 <= dot.spot.fret + moved <= last_fret for dot in shape.dots)


def tonic_frets(shape: Shape, last_fret: int) -> list[int]:
    home = shape.anchor_dot("minor").spot.fret % FRETS_PER_OCTAVE
    return list(range(home, last_fret + 1, FRETS_PER_OCTAVE))


def test_some_tunings_have_shapes_and_those_without_are_few() -> None:
    assert sum(bool(anchored(tuning)) for tuning in tunings()) >= 8


@pytest.mark.long(but=2)
@pytest.mark.parametrize("tuning", tunings())
def test_every_place_where_the_whole_shape_fits_is_accepted_and_no_other(tuning: str) -> None:
    for last_fret in range(12, 25):
        for card, shape in cards(tuning, last_fret):
            right = [str(fret) for fret in tonic_frets(shape, last_fret) if fits(shape, fret, last_fret)]
            assert list(card.accepts) == right, (card.id, last_fret)


@pytest.mark.long(but=2)
@pytest.mark.parametrize("tuning", tunings())
def test_a_question_says_whole_where_the_tonic_has_another_fret_that_will_not_do(tuning: str) -> None:
    for last_fret in range(12, 25):
        for card, shape in cards(tuning, last_fret):
            left_out = [fret for fret in tonic_frets(shape, last_fret) if fret and not fits(shape, fret, last_fret)]
            assert (WHOLE in card.prompt) == bool(left_out), (card.id, last_fret)
            without_open = ", no open strings: index fret?" in to_ascii(card.prompt)
            assert without_open == any(fret < int(card.accepts[0]) for fret in left_out), (card.id, last_fret)


@pytest.mark.long(but=1)
@pytest.mark.parametrize("tuning", tunings())
def test_the_reason_why_another_fret_of_the_tonic_will_not_do_is_true(tuning: str) -> None:
    for last_fret in range(12, 25):
        for card, shape in cards(tuning, last_fret):
            told = {mixup.answer: mixup for mixup in card.mixups}
            for fret in tonic_frets(shape, last_fret):
                if str(fret) in card.accepts:
                    continue
                assert told[str(fret)].name == "right note, wrong octave"
                why = to_ascii(told[str(fret)].sentence).partition(", but ")[2]
                lowest = shape.lowest_fret + fret - shape.anchor_dot("minor").spot.fret
                if fret == 0:
                    assert why == "no finger holds an open string.", (card.id, last_fret)
                elif lowest < 1:
                    true = "on an open string" if lowest == 0 else "below the nut"
                    assert why == f"from there the lowest note of the shape would lie {true}.", (card.id, last_fret)
                else:
                    highest = shape.highest_fret + fret - shape.anchor_dot("minor").spot.fret
                    assert highest > last_fret
                    assert why == "from there the shape runs off this neck.", (card.id, last_fret)


@pytest.mark.parametrize("key", ["C minor", "Eb major"])
def test_low_b_of_seven_strings(key: str) -> None:
    """Laid from fret 1 the shape has its fifth, G, on the open G string, worked out by hand."""
    neck = Neck(tunings()["seven-string"], 24)
    card = FAMILY.card(KeyAndShape(parse_key(key), ShapeId.on(7)), neck)
    assert card.accepts == ("13",)
    assert to_ascii(card.prompt) == f"{key}, low-B-string shape{WHOLE}, no open strings: index fret?"
    mixup = next(mixup for mixup in card.mixups if mixup.answer == "1")
    why = "from there the lowest note of the shape would lie on an open string."
    assert to_ascii(mixup.sentence) == f"Fret 1 sounds C, but {why}"


@pytest.mark.long(but=2)
@pytest.mark.parametrize("tuning", tunings())
def test_where_the_question_says_whole_the_reason_names_a_fret_from_which_the_shape_does_not_fit(tuning: str) -> None:
    for last_fret in range(12, 25):
        for card, shape in cards(tuning, last_fret):
            told = [step for step in card.because if "would not be whole" in step]
            assert len(told) == (WHOLE in card.prompt)
            for step in told:
                fret = int(re.findall(r"\d+", step)[0])
                assert fret in tonic_frets(shape, last_fret)
                assert not fits(shape, fret, last_fret)
                assert ("open string" in step) == (shape_reaches(shape, fret)[0] < 1)
                assert (f"the neck ends at {last_fret}" in step) == (shape_reaches(shape, fret)[1] > last_fret)


def shape_reaches(shape: Shape, index: int) -> tuple[int, int]:
    """The lowest and the highest fret of the shape when its anchor lies at `index`."""
    moved = index - shape.anchor_dot("minor").spot.fret
    frets = [dot.spot.fret + moved for dot in shape.dots]
    return min(frets), max(frets)


@pytest.mark.parametrize("tuning", sorted(tunings()))
def test_no_index_fret_is_an_open_string_and_the_hint_offers_none(tuning: str) -> None:
    for card, _ in cards(tuning, 15):
        assert "0" not in card.accepts
        assert card.kind.hint == "a fret, 1 to 15"
        assert not judged(card, "0").right, "it can be typed, and is wrong"


def test_where_the_open_string_is_the_tonic_the_reason_says_that_no_finger_holds_it() -> None:
    neck, shape = Neck(tunings()["standard"], 15), ShapeId.on(5)

    def said(key: str) -> str:
        return " ".join(FAMILY.card(KeyAndShape(parse_key(key), shape), neck).because)

    assert "the open string will not do: no finger holds it" in said("A minor")
    assert "no finger holds it" in said("C major")
    assert "no finger holds it" not in said("E minor")
