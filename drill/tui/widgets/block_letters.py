"""Block letters: a few words drawn so large that they are read from where a guitar is held.

Every glyph is eight half rows high: seven for capitals and figures, five for small letters, the last for what hangs
below the line. Two half rows make one row of characters. Strokes are doubled sideways, since a cell is half as wide as
it is high; a subject that is too long for that is drawn with single strokes.

>>> print(*block_letters("Am", 40), sep="\\n")
▄█▀▀█▄
██▄▄██ ██▀██▀█▄
██  ██ ██ ██ ██
▀▀  ▀▀ ▀▀ ▀▀ ▀▀
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

HALF_ROWS = 8
"""Half rows of a glyph."""
ROWS = HALF_ROWS // 2
"""Rows of letters of scale 1; those of scale 2 take twice as many."""
GAP, BLANK = 1, 3
"""Columns between two glyphs, and of a blank, at scale 1."""

_CHARACTERS = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}
BLOCKS = "".join(_CHARACTERS.values())
"""What letters are made of."""

_BANDS = (
    """
A    |B    |C    |D    |E    |F    |G    |H    |I  |J    |K    |L    |M      |N     |O
 ### |#### | ####|#### |#####|#####| ####|#   #|###|    #|#   #|#    |#     #|#    #| ###
#   #|#   #|#    |#   #|#    |#    |#    |#   #| # |    #|#  # |#    |##   ##|##   #|#   #
#   #|#   #|#    |#   #|#    |#    |#    |#   #| # |    #|# #  |#    |#  #  #|# #  #|#   #
#####|#### |#    |#   #|#### |#### |#  ##|#####| # |    #|##   |#    |#  #  #|#  # #|#   #
#   #|#   #|#    |#   #|#    |#    |#   #|#   #| # |    #|# #  |#    |#     #|#   ##|#   #
#   #|#   #|#    |#   #|#    |#    |#   #|#   #| # |#   #|#  # |#    |#     #|#    #|#   #
#   #|#### | ####|#### |#####|#    | ####|#   #|###| ### |#   #|#####|#     #|#    #| ###
""",
    """
P    |Q     |R    |S    |T      |U    |V    |W      |X    |Y      |Z    |-   |+    |/    |.|,
#### | ###  |#### | ####|#######|#   #|#   #|#     #|#   #|#     #|#####|    |     |    #| |
#   #|#   # |#   #|#    |   #   |#   #|#   #|#     #|#   #|#     #|    #|    |  #  |    #| |
#   #|#   # |#   #|#    |   #   |#   #|#   #|#     #| # # | #   # |   # |    |  #  |   # | |
#### |#   # |#### | ### |   #   |#   #|#   #|#  #  #|  #  |  # #  |  #  |####|#####|  #  | |
#    |#   # |# #  |    #|   #   |#   #| # # |#  #  #| # # |   #   | #   |    |  #  | #   | |
#    |#  #  |#  # |    #|   #   |#   #| # # |#  #  #|#   #|   #   |#    |    |  #  |#    | |
#    | ## ##|#   #|#### |   #   | ### |  #  | ## ## |#   #|   #   |#####|    |     |#    |#|#
     |      |     |     |       |     |     |       |     |       |     |    |     |     | |#
""",
    """
a    |b    |c    |d    |e    |f   |g    |h    |i|j  |k    |l |m      |n    |o    |p    |q
     |#    |     |    #|     |  ##|     |#    |#|  #|#    |# |       |     |     |     |
     |#    |     |    #|     | #  |     |#    | |   |#    |# |       |     |     |     |
 ### |#### | ####| ####| ### |####| ####|#### |#|  #|#  # |# |###### |#### | ### |#### | ####
    #|#   #|#    |#   #|#   #| #  |#   #|#   #|#|  #|# #  |# |#  #  #|#   #|#   #|#   #|#   #
 ####|#   #|#    |#   #|#####| #  |#   #|#   #|#|  #|##   |# |#  #  #|#   #|#   #|#   #|#   #
#   #|#   #|#    |#   #|#    | #  | ####|#   #|#|  #|# #  |# |#  #  #|#   #|#   #|#   #|#   #
 ####|#### | ####| ####| ####| #  |    #|#   #|#|  #|#  # | #|#  #  #|#   #| ### |#### | ####
     |     |     |     |     |    |#### |     | |## |     |  |       |     |     |#    |    #
""",
    """
r   |s    |t   |u    |v    |w      |x    |y    |z    |♭   |♯     |#     |°   |(  |)
    |     | #  |     |     |       |     |     |     |#   | #  # | #  # | ## |  #|#
    |     | #  |     |     |       |     |     |     |#   | #  # | #  # |#  #| # | #
# ##| ####|####|#   #|#   #|#     #|#   #|#   #|#####|#   |######|######| ## |#  |  #
##  |#    | #  |#   #|#   #|#  #  #| # # |#   #|   # |####| #  # | #  # |    |#  |  #
#   | ### | #  |#   #| # # |#  #  #|  #  |#   #|  #  |#  #| #  # | #  # |    |#  |  #
#   |    #| #  |#   #| # # |#  #  #| # # | ####| #   |# # |######|######|    | # | #
#   |#### |  ##| ####|  #  | ## ## |#   #|    #|#####|##  | #  # | #  # |    |  #|#
    |     |    |     |     |       |     |#### |     |    | #  # | #  # |    |   |
""",
    """
0    |1  |2    |3    |4     |5    |6    |7    |8    |9
 ### | # | ### |#### |   ## |#####| ####|#####| ### | ###
#   #|## |#   #|    #|  # # |#    |#    |    #|#   #|#   #
#  ##| # |    #|    #| #  # |#### |#    |   # |#   #|#   #
# # #| # |   # | ### |#   # |    #|#### |   # | ### | ####
##  #| # |  #  |    #|######|    #|#   #|  #  |#   #|    #
#   #| # | #   |    #|    # |#   #|#   #|  #  |#   #|    #
 ### |###|#####|#### |    # | ### | ### |  #  | ### |####
""",
)
"""The glyphs, side by side; the first line of a band names them, and dots stand for nothing."""

Glyph = tuple[str, ...]
"""Half rows from the top, a blank for what is not drawn."""


def block_letters(text: str, width: int, scale: int = 1) -> tuple[str, ...]:
    """The text in rows of block characters, at most `width` cells wide and at most as large as `scale` says.

    Nothing, if it does not fit in single strokes at scale 1 or holds a character without a glyph: show it plainly then.
    """
    if any(character != " " and character not in _glyphs() for character in text):
        return ()
    for size, strokes in (*((size, 2) for size in range(scale, 0, -1)), (1, 1)):
        if size * _columns(text, strokes) <= width:
            return tuple(_drawn(text, size, strokes))
    return ()


def _columns(text: str, strokes: int) -> int:
    """How many columns the text takes at scale 1."""
    return sum(BLANK if each == " " else len(_glyphs()[each][0]) + strokes - 1 for each in text) + GAP * (len(text) - 1)


def _drawn(text: str, scale: int, strokes: int) -> Iterator[str]:
    halves = [_widened(half, scale) for half in _half_rows(text, strokes) for _ in range(scale)]
    for upper, lower in zip(halves[::2], halves[1::2], strict=True):
        yield "".join(
            _CHARACTERS[above != " ", below != " "] for above, below in zip(upper, lower, strict=True)
        ).rstrip()


def _half_rows(text: str, strokes: int) -> Iterator[str]:
    for at in range(HALF_ROWS):
        cells = [" " * BLANK if each == " " else _thick(_glyphs()[each][at], strokes) for each in text]
        yield (" " * GAP).join(cells)


def _thick(half: str, strokes: int) -> str:
    """A half row with its strokes so many columns wide."""
    if strokes == 1:
        return half
    return "".join("#" if "#" in pair else " " for pair in zip(f" {half}", f"{half} ", strict=True))


def _widened(half: str, scale: int) -> str:
    return "".join(cell * scale for cell in half)


@cache
def _glyphs() -> dict[str, Glyph]:
    """Every glyph by its character."""
    return dict(glyph for band in _BANDS for glyph in _read(band))


def _read(band: str) -> Iterator[tuple[str, Glyph]]:
    """The glyphs of a band, each of its lines filled up to the same width."""
    names, *lines = [line.split("|") for line in band.strip("\n").split("\n")]
    for at, name in enumerate(names):
        halves = [line[at] if at < len(line) else "" for line in lines]
        cells = max(map(len, [half.rstrip() for half in halves]))
        yield name.strip(), tuple(half.ljust(cells)[:cells] for half in [*halves, *[""] * (HALF_ROWS - len(halves))])
