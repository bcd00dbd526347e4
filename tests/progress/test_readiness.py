"""Readiness of the keys. Where a key lies on two strings is checked against figures written out here."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from drill.decks import load_deck
from drill.memory import Learner
from drill.progress import Progress
from drill.progress.readiness import key_readiness
from drill.settings import Settings
from drill.system.tunings import tunings
from drill.theory.bars import bar_seconds
from drill.theory.neck import Neck, Tuning
from tests.support.learners import beginner, taught
from tests.support.worlds import MONDAY_MORNING

# Frets of the tonic of each minor key on the low E and the A string in standard tuning (common practice, no source).
MINOR_TONICS = {
    "A minor": (5, 0), "E minor": (0, 7), "B minor": (7, 2), "F# minor": (2, 9), "C# minor": (9, 4),
    "G# minor": (4, 11), "D# minor": (11, 6), "D minor": (10, 5), "G minor": (3, 10), "C minor": (8, 3),
    "F minor": (1, 8), "Bb minor": (6, 1),
}  # fmt: skip


def test_one_bar_of_four_beats() -> None:
    assert bar_seconds(80) == 3.0
    assert bar_seconds(100) == pytest.approx(2.4)
    assert beginner(settings=Settings(tempo_bpm=120)).bar_s == 2.0


def test_a_key_takes_its_relative_its_finger_and_its_two_places(progress: Progress) -> None:
    for key in progress.keys:
        facts = {fact for needed in key.needed for fact in needed.status.item.facts}
        low, high = MINOR_TONICS[key.key.minor.name]
        places = {fact for fact in facts if fact.startswith("spot:")}
        assert places == {f"spot:6:{low % 12}", f"spot:5:{high % 12}"}
        assert f"relative:{key.key.minor.short}" in facts
        assert f"finger:{key.key.mode}" in facts
        families = sorted(needed.status.item.family for needed in key.needed)
        relative = "relative-minor" if key.key.mode == "major" else "relative-major"
        assert families == sorted([relative, "shape-anchor", "shape-anchor", "tonic-finger"])


def test_readiness_is_the_product_of_the_chances_shown_with_it(progress: Progress) -> None:
    assert len(progress.keys) == 24
    for key in progress.keys:
        assert key.readiness == pytest.approx(math.prod(needed.in_time for needed in key.needed))
        assert [needed.in_time for needed in key.needed] == sorted(needed.in_time for needed in key.needed)
        assert all(needed.in_time <= needed.status.strength for needed in key.needed)
        assert {needed.holds_back for needed in key.held_back_by} <= {True}


def test_a_slower_loop_finds_the_learner_readier(progress: Progress) -> None:
    by_tempo = [
        [key.readiness for key in key_readiness(progress.deck, progress.learner, progress.now_s, bar_seconds(bpm))]
        for bpm in (200, 100, 50)
    ]
    for fast, middling, slow in zip(*by_tempo, strict=True):
        assert fast < middling < slow


def test_readiness_fades_while_nobody_drills(progress: Progress) -> None:
    later = replace(progress, now_s=progress.now_s + 30 * 86_400)
    for now, then in zip(progress.keys, later.keys, strict=True):
        assert then.readiness <= now.readiness
        assert then.readiness < now.readiness or not now.seen


def test_the_drill_of_a_key_holds_what_holds_it_back(progress: Progress) -> None:
    for key in progress.keys:
        drilled = progress.deck.focused(key.focus).entries
        for needed in key.held_back_by:
            card = needed.status.card
            assert needed.asked_by_deck == (card in progress.deck.entries)
            assert card in drilled or not needed.asked_by_deck


@pytest.mark.long(but=3)
@pytest.mark.parametrize("tuning", tunings().values(), ids=lambda tuning: tuning.id)
def test_on_every_instrument_keys_are_ready_or_left_out(tuning: Tuning) -> None:
    neck = Neck(tuning, 15)
    deck = load_deck("two-shapes", neck)
    for key in key_readiness(deck, Learner(), MONDAY_MORNING, 3.0):
        assert 0 < key.readiness < 1
        assert any(needed.status.item.family == "shape-anchor" for needed in key.needed)


def test_a_key_that_was_never_asked_has_no_figure() -> None:
    """The finger rule holds in every key; who knows it has not been asked for E minor itself yet."""
    progress = beginner()
    finger, anchor = "tonic-finger:key=Em:shape=string-6", "shape-anchor:key=Fm:shape=string-6"
    asked = {key.key.name: key for key in beginner(taught(progress, {finger: True, anchor: True})).keys}
    assert asked["F minor"].measured == asked["F minor"].readiness
    assert asked["E minor"].seen, "its finger rule was asked"
    assert asked["E minor"].measured is None
    assert 0 < asked["E minor"].readiness < 1, "the planner guesses all the same"


def test_readiness_is_shown_once_all_it_takes_was_asked() -> None:
    """C major takes its relative, a finger and two index frets: four cards, of which one was asked."""
    progress = beginner()
    asked = taught(progress, {"shape-anchor:key=C:shape=string-6": True})
    [row] = [row for row in beginner(asked).keys if row.key.name == "C major"]
    assert row.asked and row.in_part and row.shown is None
    measured, all_of_them = row.parts
    assert 0 < measured < all_of_them == 4
    everything = taught(progress, {needed.status.card: True for needed in row.needed})
    [row] = [row for row in beginner(everything).keys if row.key.name == "C major"]
    assert not row.in_part and row.shown == row.readiness


def test_the_finger_on_the_tonic_is_known_in_every_key_once_it_was_asked_in_one() -> None:
    """The deck asks for it in C major and G major, not in D major, whose tonic lies under the same finger."""
    progress = beginner()
    asked = {"tonic-finger:key=C:shape=string-6": True, "tonic-finger:key=G:shape=string-6": False}
    keys = {row.key.name: row for row in beginner(taught(progress, asked)).keys}
    [c, g, d] = (
        next(each for each in keys[name].needed if each.status.item.family == "tonic-finger")
        for name in ("C major", "G major", "D major")
    )
    assert not d.asked_by_deck
    assert g.in_time < c.in_time, "a card that was asked speaks for itself"
    assert d.in_time == c.in_time
    assert (d.status.strength, d.status.fluent_chance) == (c.status.strength, c.status.fluent_chance)
    assert d.status.state == "fresh"


def test_a_key_is_held_back_only_by_what_its_deck_asks_or_was_measured() -> None:
    """Index frets and fingers are as unlikely as the relative in a deck of relatives, which asks for none of them."""
    progress = beginner()
    relatives = {card: entry for card, entry in progress.deck.entries.items() if entry.item.family == "relative-minor"}
    [c_major, *_] = replace(progress, deck=progress.deck._replace(entries=relatives)).keys
    assert len([each for each in c_major.needed if each.holds_back]) > 1
    assert [each.status.card for each in c_major.held_back_by] == ["relative-minor:key=C"]
