"""Screens read as a person reads them: a sentence goes on where its line breaks."""

from __future__ import annotations


def says(screen: str, words: str) -> bool:
    """Whether the screen says these words, wherever its lines break.

    A terminal breaks a line at its last column, within a word as well, so white space counts for nothing: otherwise the
    length of a path before the words would decide.
    """
    return "".join(words.split()) in "".join(screen.split())
