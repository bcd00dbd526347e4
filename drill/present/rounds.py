"""What is said of a round of keys, on the screen and in lines."""

from __future__ import annotations

from drill.present.figures import how_many


def had_it(key: str, so_far: int) -> str:
    """What is said when the guitarist says that they had a key.

    >>> had_it("A minor", 2)
    'Had it: A minor. 2 keys so far, by your own account.'
    """
    return f"Had it: {key}. {how_many(so_far, 'key')} so far, by your own account."


def round_over(called: int, landed: int = 0) -> str:
    """The end of a round: how many keys were called, and how many landed on as the guitarist says.

    >>> round_over(15), round_over(15, 1)
    ('The round is over: 15 keys called.', 'The round is over: 15 keys called, 1 landed by your own account.')
    """
    had = f", {landed} landed by your own account" if landed else ""
    return f"The round is over: {how_many(called, 'key')} called{had}."
