"""What `fretsure help TOPIC` prints: every page is made from what the program itself goes by.

TOPICS      each topic with its sentence
page_lines  the lines of a topic's page
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

TOPICS: Mapping[str, str] = {
    "keys": "The keys of every screen, and how to change them.",
    "json": "What every command prints with --json, key by key.",
    "progress": "The figures of `fretsure progress --json`, and what they mean.",
    "class": "The figures of `fretsure class --json`, for a teacher.",
    "export": "The files that `fretsure export` writes, column by column.",
    "deck": "The format of deck files.",
    "families": "The kinds of question, and the idea of each.",
    "settings": "Every setting, and what it can be.",
    "words": "The words and signs of the program.",
}


def page_lines(topic: str, width: int) -> Iterator[str]:
    """The lines of a page, at most `width` cells long."""
    from textwrap import wrap

    from drill.cli.reference.pages import PAGES  # here: naming the topics needs none of it

    yield from wrap(TOPICS[topic], width)
    yield from PAGES[topic](width)
