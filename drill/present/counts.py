"""How many of something, in words."""

from __future__ import annotations


def how_many(count: int, one: str, many: str = "") -> str:
    """The count and what is counted; `many` where an s does not make the plural.

    >>> how_many(1, "answer"), how_many(0, "answer"), how_many(2, "was new", "were new")
    ('1 answer', '0 answers', '2 were new')
    """
    return f"{count} {one if count == 1 else many or one + 's'}"
