"""What the field of the look-up screen takes, and what it says of the rest."""

from __future__ import annotations

import pytest

from drill.errors import FretsureError
from drill.lookup.query import TAKES, look_up
from drill.questions.wording import to_typed
from drill.settings import Settings
from tests.support.screens import look_up_at_home, press, sees
from tests.tui.conftest import MakeApp

REFUSED = {
    "C-G-Am-F": "“C-G-Am-F” needs spaces between its chords: C G Am F.",
    "C → G→Am": "“C → G→Am” needs spaces between its chords: C G Am.",
    "C/G/Am/F": "“C/G/Am/F” needs spaces between its chords: C G Am F.",
    "C/E-F-G": "“C/E-F-G” needs spaces between its chords: C/E F G.",
    "Bdim": "“Bdim” is a single chord, neither a key nor a loop.",
    "C5": "“C5” is a single chord, neither a key nor a loop.",
    "Am/C": "“Am/C” is a single chord, neither a key nor a loop.",
    "Am X G": "“X” is not a chord.",
    "Am-X-G": "“X” is not a chord.",
    "quinze": "“quinze” is not a key or a chord.",
    " ": "Nothing has been typed yet.",
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


async def test_a_refusal_takes_the_place_of_what_was_found_before(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await look_up_at_home(pilot, "Bb minor")
        assert "◆1m" in await sees(pilot, "relative D♭ major")
        await press(pilot, *"Bdim", "enter")
        screen = await sees(pilot, "“Bdim” is a single chord")
        assert "relative D♭ major" not in screen
        assert "◆" not in screen
        await press(pilot, "f2", *"Em", "enter")
        screen = await sees(pilot, "relative G major")
        assert "is a single chord" not in screen
        assert "◆" in screen
