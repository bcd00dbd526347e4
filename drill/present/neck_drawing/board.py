"""The neck itself: strings, wires, nut and fret numbers, with texts on its spots."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import chain, pairwise
from typing import NamedTuple

from drill.present.neck_drawing.frame import CELL, FOLD_CELLS, Frame
from drill.present.neck_drawing.look import Drawing, Line, Role, Segment
from drill.theory.neck import Spot

SINGLE_INLAYS, DOUBLE_INLAYS = frozenset({3, 5, 7, 9, 15, 17, 19, 21}), frozenset({12, 24})
"""Frets with one and with two inlay dots, counted from the nut (common practice, no source)."""

LOWEST_PLAIN_STRING = 53
"""Strings that sound lower than F3 are wound, and are drawn heavier (common practice, no source).

The third string of a guitar tuned a whole step down sounds F3.
"""

FOLD = "┄"
"""Stands on a string for frets left out."""

_MIRRORED = str.maketrans("┤┥┐┑┘┙◂▸", "├┝┌┍└┕▸◂")


class _Cell(NamedTuple):
    """What a line shows of one fret; the label and the edges belong to none."""

    fret: int | None
    segments: Line


class Board(NamedTuple):
    """The frets of a neck in a frame, with texts on spots, and fret numbers if it is `numbered`.

    Where `frets` leaves some out, the neck is drawn folded.
    """

    frame: Frame
    frets: Sequence[int]
    texts: Mapping[Spot, Segment]
    numbered: bool = True

    def draw(self) -> Drawing:
        """The strings from top to bottom, and the fret numbers below them."""
        numbers = (self._numbers(),) if self.numbered else ()
        return tuple(self._turned(line) for line in (*self._strings(), *numbers))

    def spot_at(self, column: int, row: int) -> Spot | None:
        """The spot that is drawn in a cell of the drawing, None beside the strings; both count from 0.

        Between two strings it is on the nearer one.
        """
        pitch = self.frame.pitch
        if not 0 <= row <= (len(self.frame.rows) - 1) * pitch or column < 0:
            return None
        string = self.frame.rows[(2 * row + pitch) // (2 * pitch)]
        cells = list(self._string(string))
        for fret, segments in cells if self.frame.look.hand == "right" else reversed(cells):
            column -= sum(len(segment.text) for segment in segments)
            if column < 0:
                return None if fret is None else Spot(string, fret)
        return None

    def _turned(self, segments: Iterable[Segment]) -> Line:
        """A line as the learner's hand sees it; segments come from the nut towards the body."""
        if self.frame.look.hand == "right":
            return tuple(segments)
        return tuple(Segment(each.text.translate(_MIRRORED), each.role) for each in reversed(tuple(segments)))

    def _padded(self, text: str, cells: int) -> str:
        """A text on the side where the nut is."""
        return text.ljust(cells) if self.frame.look.hand == "right" else text.rjust(cells)

    @property
    def _beyond_the_head(self) -> Sequence[int]:
        """Frets that are drawn with a wire; the open string is drawn before the nut."""
        return self.frets[1:] if self.frets[0] == 0 else self.frets

    @property
    def _after_a_fold(self) -> set[int]:
        """Frets before which some are left out."""
        return {fret for before, fret in pairwise(self.frets) if fret > before + 1}

    # -- strings -------------------------------------------------------------------------------------------------------

    def _strings(self) -> Iterator[Iterable[Segment]]:
        """The strings, with the wood that shows between them where they lie more than a row apart."""
        for at, string in enumerate(self.frame.rows):
            for row in range(1, self.frame.pitch) if at else ():
                yield self._wood(at, with_inlays=row == self.frame.pitch // 2)
            yield chain.from_iterable(cell.segments for cell in self._string(string))

    def _wood(self, gap: int, *, with_inlays: bool) -> Iterator[Segment]:
        """A row above the string at `gap`: fret wires, and inlays in the middle of the neck, from nut to body."""
        cell = self.frame.cell
        yield Segment(" " * self.frame.label_cells, "label")
        if self.frets[0] == 0:
            yield Segment(" " * cell, "label")
            yield Segment("║", "nut")
        else:
            yield Segment(" │", "string")
        for fret in self._beyond_the_head:
            yield from (Segment(" " * FOLD_CELLS, "string"),) * (fret in self._after_a_fold)
            dot = "•" if with_inlays and gap in self._inlay_gaps(fret) else " "
            yield Segment(dot.center(cell - 1), "inlay" if dot != " " else "string")
            yield Segment("│", "string")
        if self.frets[-1] < self.frame.neck.last_fret:
            yield Segment(" ", "string")

    def _inlay_gaps(self, fret: int) -> tuple[int, ...]:
        """Between which strings the inlays of a fret lie: one in the middle, two on either side of it."""
        place, middle = fret + self.frame.neck.capo, len(self.frame.rows) // 2
        if place in DOUBLE_INLAYS:
            return (middle - 1, middle + 1)
        return (middle,) if place in SINGLE_INLAYS else ()

    def _string(self, string: int) -> Iterator[_Cell]:
        """The cells of one string, from the nut towards the body."""
        frame, last = self.frame, self.frame.neck.last_fret
        wound = frame.neck.tuning.open(string).midi < LOWEST_PLAIN_STRING
        line = "━" if wound else "─"
        wire, end = self._wires(string, wound)
        yield _Cell(None, (Segment(self._padded(frame.label(string), frame.label_cells), "label"),))
        yield self._head(string, line, wire)
        for fret in self._beyond_the_head:
            if fret in self._after_a_fold:
                yield _Cell(None, (Segment(FOLD * FOLD_CELLS, "beyond"),))
            text = self.texts.get(Spot(string, fret))
            yield _Cell(fret, tuple(_fret(text, line, end if fret == last else wire, frame.cell)))
        if self.frets[-1] < last:
            beyond = any(spot.string == string and spot.fret > self.frets[-1] for spot in self.texts)
            yield _Cell(None, (_edge(beyond, "▸", line),))

    def _head(self, string: int, line: str, wire: str) -> _Cell:
        """The open string and the nut, or the edge of a window further up the neck."""
        if self.frets[0] == 0:
            return _Cell(0, (_filled(self.texts.get(Spot(string, 0)), " ", self.frame.cell), Segment("║", "nut")))
        beyond = any(spot.string == string and spot.fret < self.frets[0] for spot in self.texts)
        return _Cell(None, (_edge(beyond, "◂", line), Segment(wire, "string")))

    def _wires(self, string: int, wound: bool) -> tuple[str, str]:
        """The crossing of a string with a fret wire, and with the last one; the outer strings close the grid."""
        rows = self.frame.rows
        place = 0 if string == rows[0] else 2 if string == rows[-1] else 1
        return ("┯┿┷" if wound else "┬┼┴")[place], ("┑┥┙" if wound else "┐┤┘")[place]

    # -- fret numbers --------------------------------------------------------------------------------------------------

    def _numbers(self) -> Iterator[Segment]:
        """Fret numbers, those with inlays between dots; a capo moves the inlays, for frets are counted from it."""
        cell = self.frame.cell
        yield Segment(" " * self.frame.label_cells, "label")
        if self.frets[0] == 0:
            yield Segment("0".center(cell) if cell >= CELL else "0 ", "number")
            yield Segment(" ", "number")
        else:
            yield Segment("  ", "number")
        for fret in self._beyond_the_head:
            yield from (Segment(" " * FOLD_CELLS, "number"),) * (fret in self._after_a_fold)
            yield self._number(fret)

    def _number(self, fret: int) -> Segment:
        cell, place = self.frame.cell, fret + self.frame.neck.capo
        dot = "·" if place in SINGLE_INLAYS else ":" if place in DOUBLE_INLAYS else ""
        role: Role = "inlay" if dot else "number"
        if cell < CELL:
            return Segment((str(fret) if dot else "").ljust(cell), role)
        text = f"{dot}{fret}{dot}" if dot else f" {fret} "
        middle = (" " * ((cell - 1 - len(text)) // 2) + text).ljust(cell - 1)
        return Segment(self._padded(middle, cell), role)


def _edge(marked_beyond: bool, arrow: str, line: str) -> Segment:
    return Segment(arrow, "beyond") if marked_beyond else Segment(line, "string")


def _fret(text: Segment | None, line: str, wire: str, cell: int) -> Iterator[Segment]:
    """The three cells of a fret and its wire; a long text covers the wire."""
    if text is not None and len(text.text) >= cell:
        yield text
        return
    yield _filled(text, line, cell - 1)
    yield Segment(wire, "string")


def _filled(text: Segment | None, line: str, cells: int) -> Segment:
    if text is None:
        return Segment(line * cells, "string")
    before = (cells - len(text.text)) // 2
    return Segment(line * before + text.text + line * (cells - len(text.text) - before), text.role)
