"""Pictures of the report as inline SVG: the neck, a bar, a trend. No script, no font, no network.

Colour never carries meaning alone: every spot, and the first and last point of a trend, carry their figures.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date, timedelta
from itertools import pairwise
from typing import Literal, NamedTuple

from drill.export.markup import escape
from drill.present.neck_drawing import DOUBLE_INLAYS, LOWEST_PLAIN_STRING, SINGLE_INLAYS, Look
from drill.theory.names import show_signs
from drill.theory.neck import Neck, Spot

FRET, STRING, LEFT, TOP = 46, 36, 84, 20
"""Width of a fret, distance of strings, room to the left of the nut and above the first string, in SVG units."""
RADIUS = 15
SMALL_RADIUS = 5
"""Of a ring that holds no figure."""
WIDTH, HEIGHT, LEFT_OF_TREND, SIDE = 420, 170, 52, 34
"""Of a trend, the room for the figures of its axis, and that between its frame and its first and last point."""
WEEK = timedelta(weeks=1)


class Caption(NamedTuple):
    """The texts of a picture for a screen reader; `name` makes its ids unique on the page."""

    name: str
    title: str
    description: str


class Scale(NamedTuple):
    """The vertical axis of a trend: from 0 to `top`, its figures written by `write`."""

    top: float
    write: Callable[[float], str]


Outline = Literal["circle", "diamond", "ring"]


class Dot(NamedTuple):
    """A dot on a spot: a short text, and the band of strength it is in (see `neck_drawing.band`).

    Other pictures than that of strengths have their own bands; `ink` is then a class of the text. Each text says by its
    class `on-BAND` what it stands on, for programs that measure contrasts.
    """

    text: str
    band: str
    outline: Outline = "circle"
    ink: str = ""


class Drawn(NamedTuple):
    """A drawing without its frame: width and height in SVG units, and its elements."""

    width: float
    height: float
    parts: tuple[str, ...]


def neck(neck: Neck, dots: Mapping[Spot, Dot], look: Look, caption: Caption) -> str:
    """The neck with a dot on each spot."""
    width, height, parts = drawn_neck(neck, dots, look)
    return _picture(width, height, caption, parts, "neck")


def drawn_neck(neck: Neck, dots: Mapping[Spot, Dot], look: Look) -> Drawn:
    """The elements of a neck with a dot on each spot, for a picture that holds more than it."""
    frame = _Frame(neck, look)
    parts = (*frame.inlays(), *frame.wires(), *frame.strings(), *frame.numbers(), *frame.dots(dots))
    return Drawn(frame.width, frame.height, parts)


def outlined(outline: Outline, name: str, x: float, y: float, radius: float) -> str:
    """A dot in its outline, so that it is told from others without colour; `name` is its class."""
    if outline == "diamond":
        reach = radius * 1.25
        corners = ((x, y - reach), (x + reach, y), (x, y + reach), (x - reach, y))
        return f'<polygon class="{name}" points="{" ".join(f"{cx:g},{cy:g}" for cx, cy in corners)}"/>'
    around = f'<circle class="around" cx="{x:g}" cy="{y:g}" r="{radius + 2.5:g}"/>' if outline == "ring" else ""
    return f'{around}<circle class="{name}" cx="{x:g}" cy="{y:g}" r="{radius:g}"/>'


def bar(chance: float) -> str:
    """A bar for a chance from 0 to 1, hidden from screen readers: its figure stands beside it."""
    return (
        '<svg class="bar" viewBox="0 0 100 12" preserveAspectRatio="none" aria-hidden="true">'
        f'<rect class="fill" width="{100 * chance:.1f}" height="12"/>'
        '<rect class="room" x="0.5" y="0.5" width="99" height="11"/></svg>'
    )


def sign(band: str) -> str:
    """A sign of the neck for its legend, hidden from screen readers: its meaning stands beside it."""
    radius = {"unmet": SMALL_RADIUS, "inlay": 6}.get(band, 10)
    name = band if band == "inlay" else f"spot {band}"
    dot = f'<circle class="{name}" cx="12" cy="12" r="{radius}"/>'
    return f'<svg class="sign" viewBox="0 0 24 24" aria-hidden="true">{dot}</svg>'


def trend(values: Sequence[tuple[date, float]], scale: Scale, caption: Caption) -> str:
    """A line through the values of weeks, oldest first, each at its day; a week without a value is a gap in the line.

    The first and the last carry their figures and days.
    """
    return _picture(WIDTH, HEIGHT, caption, tuple(_trend(values, scale)), "chart")


def _text(name: str, x: float, y: float, text: str) -> str:
    """A short text around a point; `name` holds its classes.

    It stands in a span of its own, which can say what it stands on: programs that measure contrast look there.
    """
    return f'<text class="{name}" x="{x:g}" y="{y:g}"><tspan>{escape(text)}</tspan></text>'


def _picture(width: float, height: float, caption: Caption, parts: Sequence[str], kind: str) -> str:
    """A picture with its texts for a screen reader, which then need not read what is drawn."""
    name, title, description = caption
    texts = f"{name}-title {name}-description"
    return (
        f'<svg class="{kind}" viewBox="0 0 {width:g} {height:g}" role="img" aria-labelledby="{texts}">'
        f'<title id="{name}-title">{escape(title)}</title>'
        f'<desc id="{name}-description">{escape(description)}</desc>'
        f'<g aria-hidden="true">{"".join(parts)}</g></svg>'
    )


class _Frame:
    """Coordinates on the drawn neck, for either hand and either order of strings."""

    def __init__(self, neck: Neck, look: Look) -> None:
        self._neck, self._look = neck, look
        self._rows = tuple(neck.tuning.strings if look.low_string == "bottom" else reversed(neck.tuning.strings))
        self.width = LEFT + FRET * neck.last_fret + 20
        self.height = TOP + STRING * (len(self._rows) - 1) + 48

    def x(self, along: float) -> float:
        """The place of a fret, counted from the nut; mirrored for a left-handed guitarist."""
        place = LEFT + FRET * along
        return place if self._look.hand == "right" else self.width - place

    def y(self, string: int) -> float:
        return TOP + STRING * self._rows.index(string)

    @property
    def bottom(self) -> float:
        return TOP + STRING * (len(self._rows) - 1)

    def wires(self) -> Iterator[str]:
        for fret in range(self._neck.last_fret + 1):
            name = "nut" if fret == 0 else "wire"
            yield f'<line class="{name}" x1="{self.x(fret):g}" y1="{TOP}" x2="{self.x(fret):g}" y2="{self.bottom:g}"/>'

    def strings(self) -> Iterator[str]:
        for string in self._rows:
            wound = " wound" if self._neck.tuning.open(string).midi < LOWEST_PLAIN_STRING else ""
            y, start, end = self.y(string), self.x(0), self.x(self._neck.last_fret)
            yield f'<line class="string{wound}" x1="{start:g}" y1="{y:g}" x2="{end:g}" y2="{y:g}"/>'
            label = show_signs(f"{string} {self._neck.tuning.open(string).note.name}")
            yield _text("soft", self.x(-1.35), y, label)

    def numbers(self) -> Iterator[str]:
        for fret in range(self._neck.last_fret + 1):
            yield _text("soft", self._middle(fret), self.bottom + 34, str(fret))

    def inlays(self) -> Iterator[str]:
        centre = (TOP + self.bottom) / 2
        for fret in range(1, self._neck.last_fret + 1):
            place = fret + self._neck.capo
            offsets = (0.0,) if place in SINGLE_INLAYS else (-STRING, STRING) if place in DOUBLE_INLAYS else ()
            for offset in offsets:
                yield f'<circle class="inlay" cx="{self._middle(fret):g}" cy="{centre + offset:g}" r="6"/>'

    def dots(self, dots: Mapping[Spot, Dot]) -> Iterator[str]:
        for spot, dot in dots.items():
            x, y = self._middle(spot.fret), self.y(spot.string)
            radius = RADIUS if dot.text else SMALL_RADIUS
            yield outlined(dot.outline, f"spot {dot.band}", x, y, radius)
            if dot.text:
                ink = f"on-{dot.band} {dot.ink}".rstrip()
                yield _text(ink, x, y, dot.text)

    def _middle(self, fret: int) -> float:
        """Where a finger goes: before the wire; an open string sounds before the nut."""
        return self.x(fret - 0.5)


def _trend(values: Sequence[tuple[date, float]], scale: Scale) -> Iterator[str]:
    top, write = scale
    left, right, floor, ceiling = LEFT_OF_TREND, WIDTH - 8, HEIGHT - 30, 24
    begin, span = values[0][0], (values[-1][0] - values[0][0]).days

    def place(day: date, value: float) -> tuple[float, float]:
        run = right - left - 2 * SIDE
        x = left + SIDE + run * ((day - begin).days / span if span else 0.5)
        return x, floor - (floor - ceiling) * min(value / top, 1.0)

    for value in (0.0, top / 2, top):
        _, y = place(begin, value)
        yield f'<line class="axis" x1="{left}" y1="{y:g}" x2="{right}" y2="{y:g}"/>'
        yield _text("soft end", left - 8, y, write(value))
    for run_of_weeks in _runs(values):
        points = (place(day, value) for day, value in run_of_weeks)
        yield f'<polyline class="trend" points="{" ".join(f"{x:.1f},{y:.1f}" for x, y in points)}"/>'
    for x, y in (place(day, value) for day, value in values):
        yield f'<circle class="point" cx="{x:.1f}" cy="{y:.1f}" r="3.5"/>'
    for day, value in dict.fromkeys((values[0], values[-1])):
        x, y = place(day, value)
        yield _text("soft", round(x, 1), floor + 18, f"{day.day} {day:%b %Y}")
        yield _text("ink", round(x, 1), round(max(y - 12, 8), 1), write(value))


def _runs(values: Sequence[tuple[date, float]]) -> Iterator[list[tuple[date, float]]]:
    """Stretches of weeks that follow one another."""
    run = [values[0]]
    for earlier, later in pairwise(values):
        if later[0] - earlier[0] > WEEK:
            yield run
            run = []
        run.append(later)
    yield run
