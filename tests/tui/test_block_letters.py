"""Block letters: every subject of a deck can be drawn, stands in the same rows, and is never wider than it may be."""

from __future__ import annotations

import pytest

from drill.decks import load_deck
from drill.questions.wording import to_screen
from drill.system import resources
from drill.theory.names import NOTE_LANGUAGES
from drill.theory.neck import STANDARD, Neck
from drill.tui.widgets.block_letters import ROWS, block_letters

CHARACTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789♭♯#°+-/.,()"


def test_no_two_characters_look_alike() -> None:
    """A sharp is drawn as the sign on the keyboard is: they mean the same."""
    drawn = {character: block_letters(character, 80) for character in CHARACTERS if character != "#"}
    assert len(set(drawn.values())) == len(drawn)
    assert all(len(rows) == ROWS for rows in drawn.values())
    assert {cell for rows in drawn.values() for row in rows for cell in row} <= set(" ▀▄█")


@pytest.mark.long(but=1)
@pytest.mark.parametrize("language", NOTE_LANGUAGES)
def test_every_subject_has_its_letters_in_every_language(language: str) -> None:
    subjects = {
        to_screen(card.ask.subject, language)  # type: ignore[arg-type]
        for name in resources.deck_files()
        for card in load_deck(name, Neck(STANDARD)).cards()
    }
    assert [subject for subject in sorted(subjects) if not block_letters(subject, 1000)] == []


@pytest.mark.parametrize("scale", [1, 2, 3, 4])
@pytest.mark.parametrize("text", ["F minor", "E♭ major", "C♯ minor", "Fret 12"])
def test_letters_grow_with_their_scale(text: str, scale: int) -> None:
    rows = block_letters(text, 1000, scale)
    assert len(rows) == scale * ROWS
    assert max(map(len, rows)) == scale * max(map(len, block_letters(text, 1000)))


def test_what_is_too_wide_gets_smaller_then_thinner_and_is_then_left_to_plain_text() -> None:
    widths = [max(map(len, block_letters("E♭ minor", width, 2)), default=0) for width in (120, 76, 46, 20)]
    assert widths == sorted(widths, reverse=True)
    assert all(drawn <= room for drawn, room in zip(widths, (120, 76, 46, 20), strict=True))
    assert len(set(widths)) == 4
    assert widths[-1] == 0


def test_a_character_without_a_glyph_is_left_to_plain_text() -> None:
    assert block_letters("Ж minor", 200) == ()
