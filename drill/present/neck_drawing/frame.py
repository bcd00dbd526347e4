"""The measures of a drawing, and the stretch of the neck that it shows."""

from collections.abc import Mapping, Sequence
from functools import partial
from typing import NamedTuple

from drill.present.neck_drawing.look import Look, short_name
from drill.theory.neck import Neck, Spot

CELL = 4
"""Cells that a fret takes: three characters and the wire."""
NARROW_CELL = 2
WIDEST_CELL = 12
FOLD_CELLS = 1
"""Cells that stand for frets left out."""


class Frame(NamedTuple):
    """The measures of a drawing: a fret takes `cell` cells, strings lie `pitch` rows apart; no `strings` means all."""

    neck: Neck
    look: Look
    cell: int
    pitch: int = 1
    strings: tuple[int, ...] = ()

    @property
    def whole(self) -> range:
        """All frets of the neck."""
        return range(self.neck.last_fret + 1)

    @property
    def rows(self) -> list[int]:
        """Strings from the top of the drawing to its bottom."""
        strings = [string for string in self.neck.tuning.strings if not self.strings or string in self.strings]
        return strings if self.look.low_string == "bottom" else strings[::-1]

    @property
    def label_cells(self) -> int:
        """Cells of the longest label and of the gap between it and the neck."""
        return max(len(self.label(string)) for string in self.neck.tuning.strings) + 1

    def label(self, string: int) -> str:
        """The number of a string and the note it is tuned to."""
        return f"{string} {short_name(self.neck.tuning.open(string).note, self.look.language)}"

    def breadth(self, frets: Sequence[int]) -> int:
        """Cells that a drawing of these frets takes."""
        from_nut = frets[0] == 0
        head = self.label_cells + (self.cell + 1 if from_nut else 2)
        return head + self.cell * (len(frets) - from_nut) + 1

    def fits(self, width: int | None) -> bool:
        """Whether the whole neck fits into a width; None is a width without limit."""
        return width is None or self.breadth(self.whole) <= width

    def roomy(self, width: int | None) -> "Frame":
        """The frame with the widest frets with which the whole neck still fits."""
        wider = self._replace(cell=self.cell + 1)
        if width is None or not CELL <= self.cell < WIDEST_CELL or not wider.fits(width):
            return self
        return wider.roomy(width)

    def window(self, weights: Mapping[Spot, int], width: int | None, home: range | None = None) -> range:
        """The frets to draw: the whole neck, or the run that fits and weighs most among those with all of `home`."""
        if width is None or self.fits(width):
            return self.whole
        runs = [self._run_from(start, width) for start in self.whole]
        homely = [run for run in runs if home and home[0] in run and home[-1] in run]
        return max(homely or runs, key=partial(_worth, weights))

    def folded(self, weights: Mapping[Spot, int], width: int, home: range | None, far: int) -> Sequence[int]:
        """The run for a width, and a fret far from it where there is room for both; those between are left out."""
        beside = {spot: weight for spot, weight in weights.items() if spot.fret != far}
        run = self.window(beside, width - self.cell - FOLD_CELLS, home)
        if far in run:
            return run
        frets = (far, *run) if far < run[0] else (*run, far)
        return frets if self.breadth(frets) + FOLD_CELLS <= width else self.window(weights, width, home)

    def _run_from(self, start: int, width: int) -> range:
        """The longest run of frets from `start` that fits, one fret at least."""
        stop = start + 2 if start == 0 else start + 1
        while stop <= self.neck.last_fret and self.breadth(range(start, stop + 1)) <= width:
            stop += 1
        return range(start, min(stop, self.neck.last_fret + 1))


def _worth(weights: Mapping[Spot, int], run: range) -> tuple[int, int, float]:
    """The weight of the spots in a run; among equals the longer run wins, then the one with its spots in the middle."""
    weight = sum(value for spot, value in weights.items() if spot.fret in run)
    frets = [spot.fret for spot in weights if spot.fret in run] or [0]
    return weight, len(run) if run.start else len(run) + 1, -abs((min(frets) + max(frets) - run[0] - run[-1]) / 2)
