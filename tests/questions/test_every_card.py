"""What holds of every card: one reading, a reason that leads to the answer, mix-ups that are wrong, true pictures."""

from __future__ import annotations

from collections import defaultdict
from functools import cache
from typing import get_args

import pytest

from drill.decks import Deck, shipped_decks
from drill.memory import Attempt, Learner
from drill.questions.answers import KeyAnswer
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.questions.facets import string_of
from drill.questions.mixups.mixup import MixupName
from drill.questions.picture import Mark
from drill.questions.wording import to_ascii, to_screen
from drill.system.tunings import find_tuning
from drill.theory.chords import chord_of
from drill.theory.names import NOTE_LANGUAGES
from drill.theory.neck import Neck
from tests.questions.planted import settled
from tests.support.arithmetic import everyday
from tests.support.asking import judged

NECKS = [("standard", 15, 0), ("half-step-down", 22, 3), ("dadgad", 12, 0)]


@cache
def decks(tuning: str, frets: int, capo: int) -> tuple[Deck, ...]:
    return shipped_decks(Neck(find_tuning(tuning), frets, capo))


@cache
def cards(tuning: str, frets: int, capo: int) -> tuple[tuple[Card, Neck], ...]:
    """Every card with its neck, once, however many decks ask it."""
    found = {(card.id, deck.neck): card for deck in decks(tuning, frets, capo) for card in deck.cards()}
    return tuple((settled(card), neck) for (_, neck), card in found.items())


on_necks = pytest.mark.parametrize(("tuning", "frets", "capo"), NECKS)


@on_necks
def test_a_prompt_has_one_reading(tuning: str, frets: int, capo: int) -> None:
    """No two cards ask in the same words for different answers."""
    meant: dict[tuple[str, str], set[tuple[str, ...]]] = defaultdict(set)
    for card, neck in cards(tuning, frets, capo):
        meant[neck.tuning.id, to_ascii(card.prompt)].add(card.accepts)
        assert card.prompt.count("?") == 1
    assert not [prompt for prompt, answers in meant.items() if len(answers) > 1]


@on_necks
def test_a_reason_leads_to_an_accepted_answer(tuning: str, frets: int, capo: int) -> None:
    for card, _ in cards(tuning, frets, capo):
        reason = " ; ".join(map(to_ascii, card.because))
        wanted = [answer if answer != "0" or card.family != "signature" else "no sharps" for answer in card.accepts]
        assert any(answer in reason for answer in wanted), (card.id, reason)
        assert all(step and not step.endswith(".") for step in card.because)


@pytest.mark.long(but=1)
@on_necks
def test_no_mixup_is_a_right_answer_and_each_can_be_typed(tuning: str, frets: int, capo: int) -> None:
    for card, _ in cards(tuning, frets, capo):
        answers = [mixup.answer for mixup in card.mixups]
        assert not set(answers) & set(card.accepts), card.id
        assert len(answers) == len(set(answers)), card.id
        for mixup in card.mixups:
            assert mixup.name in get_args(MixupName)
            assert mixup.sentence.endswith(".")
            assert card.kind.read(mixup.answer) == mixup.answer, (card.id, mixup)
            judgement = judged(card, mixup.answer)
            assert not judgement.right
            assert judgement.mixup == mixup


@pytest.mark.long(but=1)
@on_necks
def test_a_mixup_with_a_fact_moves_that_fact_alone(tuning: str, frets: int, capo: int) -> None:
    """An answer can only move what its card rests on; the fact blamed falls, and the card's other facts do not."""
    items = {entry.item.card: entry.item for deck in decks(tuning, frets, capo) for entry in deck.entries.values()}
    blamed = set()
    for card, item in ((card, items[card.id]) for card, _ in cards(tuning, frets, capo)):
        for fact in {mixup.fact for mixup in card.mixups if mixup.fact}:
            learner = Learner()
            learner.observe(item, Attempt(card.id, 0.0, True))
            before = {name: state.offset.mean for name, state in learner.facts.items()}
            learner.observe(item, Attempt(card.id, 100.0, False, mixed_fact=fact))
            fallen = {name for name, state in learner.facts.items() if state.offset.mean < before[name]}
            assert fallen == {fact}, (card.id, fact)
            blamed.add(fact.partition(":")[0])
    assert {"spot", "finger", "relative"} <= blamed


@on_necks
def test_pictures_lie_on_the_neck_and_sound_as_they_say(tuning: str, frets: int, capo: int) -> None:
    for card, neck in cards(tuning, frets, capo):
        for mark in (*card.question_picture, *card.answer_picture):
            assert neck.holds(mark.spot), card.id
            assert mark.note is None or mark.note.pitch_class == neck.sounding(mark.spot) % 12, card.id
        for picture in (card.question_picture, card.answer_picture):
            assert len({mark.spot for mark in picture}) == len(picture), card.id


@on_necks
def test_the_answer_picture_shows_exactly_the_answer(tuning: str, frets: int, capo: int) -> None:
    seen = set()
    for card, _ in cards(tuning, frets, capo):
        wanted = set(card.accepts[:1] if card.family in TWO_NAMES else card.accepts)
        assert SHOWN[card.family](card) == wanted, card.id
        seen.add(card.family)
    assert SHOWN.keys() == FAMILIES.keys()
    assert seen == FAMILIES.keys() or tuning == "dadgad"


def _names(card: Card) -> set[str]:
    """Every name of what sounds at the marked spot, if it is the one that was asked about."""
    (mark,) = card.answer_picture
    sound = mark.note.pitch_class if mark.note and mark.spot.fret == card.facets.fret else None
    return everyday(sound) if sound is not None else set()


def _frets(card: Card) -> set[str]:
    return {str(mark.spot.fret) for mark in card.answer_picture}


def _index_frets(card: Card) -> set[str]:
    """Frets of the minor tonic under the index finger, on the string that names the shape."""
    string = string_of(card.facets)
    held = [mark for mark in card.answer_picture if mark.role == "minor tonic" and mark.finger == 1]
    return {str(mark.spot.fret) for mark in held if mark.spot.string == string}


def _new_frets(card: Card) -> set[str]:
    return {str(mark.spot.fret) for mark in card.answer_picture if mark not in card.question_picture}


def _degrees(card: Card) -> set[str]:
    asked = {mark.spot for mark in card.question_picture}
    return {str(mark.degree) for mark in card.answer_picture if mark.spot in asked}


def _tonics(card: Card) -> set[str]:
    """The keys whose tonics are marked, of the mode that is asked for."""
    marks = (mark for mark in card.answer_picture if mark.note and mark.role.endswith("tonic"))
    keys = {f"{mark.note.name} {mark.role.removesuffix(' tonic')}" for mark in marks if mark.note}
    mode = card.kind.mode if isinstance(card.kind, KeyAnswer) else ""
    return {key for key in keys if key.endswith(mode)}


def _signature(card: Card) -> set[str]:
    signs = [mark.note.accidental for mark in card.answer_picture if mark.note and mark.note.accidental]
    sort = "sharp" if sum(signs) > 0 else "flat"
    return {f"{len(signs)} {sort}{'s' if len(signs) > 1 else ''}" if signs else "0"}


def _chord(card: Card) -> set[str]:
    return {chord_of(mark.note for mark in card.answer_picture if mark.note).name}


def _numeral(card: Card) -> set[str]:
    return set(card.accepts) if _chord(card) == {card.facets.chord.name} else set()


def _next_fret(card: Card) -> set[str]:
    """Of the dots that are new: the minor tonic under the index, or what begins the next shape on the lowest string."""
    new = [mark for mark in card.answer_picture if mark not in card.question_picture]
    if card.facets.shape.isdecimal():
        lowest = max(mark.spot.string for mark in card.answer_picture)
        shared = sorted(mark.spot.fret for mark in card.answer_picture if mark.spot.string == lowest)
        return {str(shared[1])}  # three notes on that string: the middle one belongs to both shapes
    here = string_of(card.facets)
    held = [
        mark for mark in new if mark.role == "minor tonic" and mark.finger == 1 and abs(mark.spot.string - here) == 1
    ]
    return {str(mark.spot.fret) for mark in held}


TWO_NAMES = ("finger-key", "neck-diagram")
"""Families that accept both names of a sound and draw the everyday one."""

SHOWN = {
    "letter-skip": lambda card: {card.answer_picture[-1].note.name},
    "relative-minor": _tonics,
    "relative-major": _tonics,
    "signature": _signature,
    "signature-key": _tonics,
    "finger-key": _tonics,
    "neck-diagram": _tonics,
    "next-shape": _next_fret,
    "chord-of-key": _chord,
    "numeral-of-chord": _numeral,
    "loop-tonic": _tonics,
    "ear-tonic": lambda card: {mark.role.removesuffix(" tonic") for mark in card.answer_picture},
    "note-at-fret": _names,
    "fret-of-note": _frets,
    "tonic-fret": _frets,
    "shape-anchor": _index_frets,
    "tonic-octave": _new_frets,
    "other-tonic": _new_frets,
    "tonic-finger": lambda card: {str(mark.finger) for mark in card.answer_picture},
    "chord-tone": lambda card: {str(mark.finger) for mark in card.answer_picture},
    "degree-at": _degrees,
}


@on_necks
def test_a_question_gives_nothing_away(tuning: str, frets: int, capo: int) -> None:
    """A mark that is asked about carries no note and no degree; an unlabelled shape carries none at all."""
    for card, _ in cards(tuning, frets, capo):
        assert all(_bare(mark) for mark in card.question_picture if mark.role == "asked"), card.id
        if card.family == "neck-diagram":
            assert all(_bare(mark) for mark in card.question_picture)
        if card.family in ("fret-of-note", "tonic-fret", "shape-anchor", "tonic-finger", "loop-tonic", "chord-of-key"):
            assert card.question_picture == ()


def _bare(mark: Mark) -> bool:
    return mark.note is None and mark.degree is None


@on_necks
def test_no_finger_is_asked_where_the_fingering_is_a_tie(tuning: str, frets: int, capo: int) -> None:
    for card, _ in cards(tuning, frets, capo):
        if card.family in ("tonic-finger", "finger-key", "shape-anchor", "other-tonic", "degree-at", "chord-tone"):
            assert card.facets.shape.startswith("string-"), card.id
            assert all(mark.finger for mark in card.answer_picture), card.id


@on_necks
def test_no_finger_holds_an_open_string(tuning: str, frets: int, capo: int) -> None:
    for card, _ in cards(tuning, frets, capo):
        assert all(mark.spot.fret > 0 for mark in card.answer_picture if mark.finger), card.id
        if card.family in ("shape-anchor", "next-shape"):
            assert "0" not in card.accepts


def test_an_answer_can_be_typed_as_it_is_shown() -> None:
    for card, _ in cards("standard", 15, 0):
        for language in NOTE_LANGUAGES:
            shown = [card.kind.show(answer, language) for answer in card.accepts]
            assert [card.kind.read(text, language) for text in shown] == list(card.accepts), (card.id, language)


@pytest.mark.long
def test_sentences_can_be_said_in_every_note_language() -> None:
    for card, _ in cards("standard", 15, 0):
        for sentence in (card.prompt, *card.because, *(mixup.sentence for mixup in card.mixups)):
            for text in (to_ascii(sentence), *(to_screen(sentence, language, True) for language in NOTE_LANGUAGES)):
                assert "⟦" not in text
                assert "⟧" not in text


def test_no_hint_gives_an_example_that_is_right() -> None:
    seen = 0
    for card, _ in cards(*NECKS[0]):
        for example in to_ascii(card.hint).partition("such as ")[2].partition(";")[0].split(" or "):
            if example:
                seen += 1
                assert not judged(card, example).right, f"{card.prompt} {card.hint}"
    assert seen > 1000
