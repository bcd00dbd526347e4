"""What was typed to be looked up: a key, a loop, or what neither is; and what is found."""

from __future__ import annotations

import pytest

from drill.errors import FretsureError
from drill.lookup.query import TAKES, look_up
from drill.questions.wording import to_typed
from drill.settings import Settings
from drill.theory.neck import Spot

REFUSED = {
    "C-G-Am-F": "“C-G-Am-F” needs spaces between its chords: C G Am F.",
    "C → G→Am": "“C → G→Am” needs spaces between its chords: C G Am.",
    "C/G/Am/F": "“C/G/Am/F” needs spaces between its chords: C G Am F.",
    "C/E-F-G": "“C/E-F-G” needs spaces between its chords: C/E F G.",
    "Bdim": "“Bdim” is one chord: no key, and no loop yet.",
    "C5": "“C5” is one chord: no key, and no loop yet.",
    "Am/C": "“Am/C” is one chord: no key, and no loop yet.",
    "Am X G": "“X” is not a chord.",
    "Am-X-G": "“X” is not a chord.",
    "X-Y": "“X-Y” is not a key or a chord.",
    "quinze": "“quinze” is not a key or a chord.",
    " ": "Nothing is written yet.",
}


@pytest.mark.parametrize(("text", "trouble"), REFUSED.items())
def test_what_is_neither_key_nor_loop_is_told_its_trouble_and_what_is_taken(text: str, trouble: str) -> None:
    with pytest.raises(FretsureError) as refused:
        look_up(text, Settings())
    assert str(refused.value) == f"{trouble} {to_typed(TAKES)}"


def test_what_is_taken_is_told_in_the_learners_note_language() -> None:
    with pytest.raises(FretsureError) as refused:
        look_up("quinze", Settings(note_language="french"))
    assert refused.value.fix == (
        "Write a key, such as Mib or Fa#m, or the chords of a loop with spaces between them: Lam Fa Do Sol."
    )


@pytest.mark.parametrize("loop", ["C G Am F", "C/E F G", "Am | F - C"])
def test_what_is_proposed_and_what_has_bars_is_taken(loop: str) -> None:
    assert look_up(loop, Settings()).keys


def test_a_key_no_signature_can_write_is_still_answered_with_the_one_that_can() -> None:
    with pytest.raises(FretsureError, match="The same sound is written Ab major"):
        look_up("G#", Settings())


def test_a_loop_is_found_with_its_keys_and_where_its_likeliest_key_lies() -> None:
    """A minor lies from fret 5 of string 6 on. Its five notes are A C D E G, and the chord of G is G B D."""
    found = look_up("Am F C G", Settings())
    assert [key.name for key in found.keys] == ["A minor", "C major"]
    assert "over G: the five notes hold G D, B lies outside" in found.sentences
    assert (found.neck, found.home) == (Settings().neck, range(5, 9))
    assert {mark.spot for mark in found.picture} >= {Spot(6, 5), Spot(6, 8)}
