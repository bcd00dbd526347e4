"""Whoever is at Home is at most four keys from what is most often wished for; a newcomer, a minute from a question."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.benchmarks.wishes import LONGEST_S, MOST_KEYS, WISHES, Wish, first_start, granted


@pytest.mark.long(but=1)
@pytest.mark.parametrize("wish", WISHES, ids=lambda wish: wish.name)
async def test_a_wish_is_granted_by_four_keys_from_home(wish: Wish, tmp_path: Path) -> None:
    assert len(wish.keys) <= MOST_KEYS
    await granted(wish, tmp_path)


@pytest.mark.long
@pytest.mark.parametrize("answers", LONGEST_S)
async def test_a_newcomer_reads_and_presses_for_less_than_a_minute(answers: str, tmp_path: Path) -> None:
    """Counted, not timed: all words on the way to the first question, and the keys that lead there."""
    start = await first_start(answers, tmp_path)
    assert start.words > 80
    assert start.seconds <= LONGEST_S[answers]
