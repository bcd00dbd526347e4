"""A sentence on a screen is found wherever a path before it makes its lines break."""

from __future__ import annotations

import pyte
import pytest

from tests.support.reading import says

WORDS = "The last good backup holds 1 answer"


@pytest.mark.long(but=24)
@pytest.mark.parametrize("length", range(81))
def test_a_sentence_is_found_whatever_the_length_of_the_path_before_it(length: int) -> None:
    screen = pyte.Screen(80, 24)
    pyte.Stream(screen).feed("/" * length + f" {WORDS}: ...")
    text = "\n".join(screen.display)
    assert says(text, WORDS)
    assert not says(text, WORDS.replace("1", "2"))
