"""What a verdict marks on the neck: the answer, the wrong one beside it, and the way a player counts to it."""

from __future__ import annotations

import pytest

from drill.decks import load_deck
from drill.decks.entry import entry_of
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.questions.marks import asked_strings, verdict_picture
from drill.system import resources
from drill.theory.names import parse_note
from drill.theory.neck import STANDARD, Neck, Spot

NECK = Neck(STANDARD)


def card_of(card_id: str) -> Card:
    entry, _ = entry_of(card_id)
    return FAMILIES[entry.item.family].card(entry.facets, NECK)


@pytest.mark.parametrize(
    ("card_id", "given", "wrong", "steps"),
    [
        ("note-at-fret:string=6:fret=8", "B", [(6, 7)], [(6, 7)]),
        ("note-at-fret:string=5:fret=7", "F", [(5, 8)], [(5, 5)]),
        ("fret-of-note:string=5:note=C", "5", [(5, 5)], [(5, 0), (5, 2)]),
        ("tonic-fret:key=Fm:string=5", "1", [(5, 1)], [(5, 7)]),
        ("shape-anchor:key=Fm:shape=string-5", "1", [(5, 1)], [(5, 7)]),
        ("tonic-finger:key=Am:shape=string-6", "4", [(6, 8)], []),
        ("finger-key:shape=string-6:finger=1:fret=5:mode=minor", "C minor", [(6, 8)], [(6, 0), (6, 1), (6, 3)]),
        ("relative-minor:key=C", "E minor", [(6, 0)], []),
        ("chord-of-key:key=C:numeral=IV", "G", [(6, 3)], []),
        ("numeral-of-chord:key=C:chord=G", "IV", [], []),
        ("signature:key=G", "2 sharps", [], []),
        ("relative-minor:key=C", "G## minor", [], []),
    ],
)
def test_a_wrong_answer_and_the_steps_lie_where_they_sound(
    card_id: str, given: str, wrong: list[tuple[int, int]], steps: list[tuple[int, int]]
) -> None:
    """E A D G B E from the lowest string (common practice); the frets are counted out by hand from the open strings."""
    picture = verdict_picture(card_of(card_id), given)
    assert [mark.spot for mark in picture if mark.role == "given"] == [Spot(*place) for place in wrong]
    assert [mark.spot for mark in picture if mark.role == "step"] == [
        Spot(*place) for place in steps if place not in wrong
    ]


def test_no_place_is_a_step_of_the_way_twice() -> None:
    for card in load_deck("whole-neck", NECK).cards():
        steps = [mark.spot for mark in card.steps_picture]
        assert len(set(steps)) == len(steps), card.id


def test_a_wrong_fret_is_named_with_a_flat_beside_an_answer_with_one() -> None:
    wrong = {mark.role: mark.note for mark in verdict_picture(card_of("tonic-fret:key=Bbm:string=6"), "9")}["given"]
    assert wrong == parse_note("Db")
    wrong = {mark.role: mark.note for mark in verdict_picture(card_of("tonic-fret:key=F#m:string=6"), "9")}["given"]
    assert wrong == parse_note("C#")


def test_a_right_answer_is_drawn_alone_and_who_passed_sees_the_way() -> None:
    card = card_of("note-at-fret:string=6:fret=8")
    assert [mark.role for mark in verdict_picture(card, "C")] == ["note"]
    assert [mark.role for mark in verdict_picture(card, None)] == ["step", "note"]


@pytest.mark.long(but=1)
@pytest.mark.parametrize("name", sorted(resources.deck_files()))
def test_nothing_covers_the_right_answer(name: str) -> None:
    """What is marked wrong sounds otherwise than every place that is right, over all mix-ups of all cards."""
    for card in load_deck(name, NECK).cards():
        right = {mark.spot for mark in card.answer_picture}
        for given in {mixup.answer for mixup in card.mixups}:
            picture = verdict_picture(card, given)
            assert len({mark.spot for mark in picture}) == len(picture)
            assert right <= {mark.spot for mark in picture}
            assert all(NECK.holds(mark.spot) for mark in picture)


@pytest.mark.parametrize("name", sorted(resources.deck_files()))
def test_the_strings_a_question_names_are_on_view(name: str) -> None:
    for card in load_deck(name, NECK).cards():
        strings = asked_strings(card)
        assert strings, card.id
        if hasattr(card.kind, "string"):
            answers = {(mark.spot.string, mark.spot.fret) for mark in card.answer_picture}
            assert any((string, int(card.accepts[0])) in answers for string in strings), card.id
            assert card.kind.string in strings
