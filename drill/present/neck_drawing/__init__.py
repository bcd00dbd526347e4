"""A neck drawn in characters, the same in a terminal's scroll and on a full screen.

A drawing is lines of segments, each a text with a role; a screen may give a role a colour, but no meaning rests on
colour alone. Every character is one cell wide. A fret takes three cells and a wire, or more where there is room. Where
the width is too small for the neck, the drawing shows a window around the marks, and an arrow on a string points to a
mark beyond it.

>>> from drill.questions.picture import Mark
>>> from drill.theory.neck import STANDARD, Neck, Spot
>>> print(plain(draw(Neck(STANDARD), (Mark(Spot(6, 5), "minor tonic", finger=1),), width=24)))
1 E ─┬───┬───┬───┬───┬─
2 B ─┼───┼───┼───┼───┼─
3 G ─┼───┼───┼───┼───┼─
4 D ━┿━━━┿━━━┿━━━┿━━━┿━
5 A ━┿━━━┿━━━┿━━━┿━━━┿━
6 E ━┷━━━┷━━━┷◆1m┷━━━┷━
      ·3·  4  ·5·  6
"""

from drill.present.neck_drawing.board import DOUBLE_INLAYS, LOWEST_PLAIN_STRING, SINGLE_INLAYS
from drill.present.neck_drawing.look import Drawing, Line, Look, Role, Segment, Show, plain
from drill.present.neck_drawing.picture import MarkedNeck, draw, show_degree
from drill.present.neck_drawing.strength_map import RAMP, SURE, NeckMap, band, block

__all__ = [
    "DOUBLE_INLAYS",
    "LOWEST_PLAIN_STRING",
    "RAMP",
    "SINGLE_INLAYS",
    "SURE",
    "Drawing",
    "Line",
    "Look",
    "MarkedNeck",
    "NeckMap",
    "Role",
    "Segment",
    "Show",
    "band",
    "block",
    "draw",
    "plain",
    "show_degree",
]
