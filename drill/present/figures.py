"""How figures are written: one rule and one spelling everywhere.

per_cent     a share in whole per cent
hundredths   its number alone
seconds      a time in seconds and tenths
beats        a time in beats, beside the beats it may take
how_many     a count and what is counted
"""

from __future__ import annotations

from drill.theory.bars import beats_begun


def per_cent(share: float) -> str:
    """A share from 0 to 1 in whole per cent. Only a share of exactly 1 is 100%, and only a share of 0 is 0%.

    >>> per_cent(0.834), per_cent(0.997), per_cent(1.0), per_cent(0.001)
    ('83%', '99%', '100%', '1%')
    """
    return f"{hundredths(share)}%"


def hundredths(share: float) -> int:
    """The number of `per_cent` alone, for maps and tables whose heading names the unit."""
    if share <= 0.0:
        return 0
    return 100 if share >= 1.0 else min(max(round(100 * share), 1), 99)


def seconds(time_s: float) -> str:
    """A time in seconds and tenths of a second.

    >>> seconds(0.84), seconds(12.0)
    ('0.8 s', '12.0 s')
    """
    return f"{time_s:.1f} s"


def beats(time_s: float, target_s: float, beat_s: float) -> str:
    """A time in beats begun, beside the target in beats.

    >>> beats(1.2, 3.0, 0.75), beats(3.1, 3.0, 0.75), beats(0.4, 1.5, 0.6)
    ('2 of 4 beats', '5 beats, target 4', '1 of 2.5 beats')
    """
    target = f"{target_s / beat_s:.1f}".removesuffix(".0")
    begun = beats_begun(time_s, beat_s)
    return f"{begun} of {target} beats" if time_s <= target_s else f"{how_many(begun, 'beat')}, target {target}"


def how_many(count: int, one: str, many: str = "") -> str:
    """The count and what is counted; `many` where an s does not make the plural.

    >>> how_many(1, "answer"), how_many(0, "answer"), how_many(2, "was new", "were new")
    ('1 answer', '0 answers', '2 were new')
    """
    return f"{count} {one if count == 1 else many or one + 's'}"
