"""A neck in characters: the face of the program, the same in a terminal's scroll and on a full screen.

    Look        how the learner wants it: hand, string order, what the dots say, note language
    draw        a neck with the marks of a picture
    draw_map    a neck with a strength on every spot
    spot_at     the spot under a cell of that map
    plain       a drawing as text

A drawing is lines of segments, each a text with a role; whoever shows it may give a role a colour, but nothing is told
by colour alone. Every character is one cell wide. A fret takes three cells and a wire, or more where there is room;
where the width is too small for the neck, a window around the marks is drawn, and an arrow on a string says that a mark
lies beyond it.

>>> from drill.theory.neck import STANDARD
>>> print(plain(draw(Neck(STANDARD), (Mark(Spot(6, 1), "minor tonic", finger=1),), highest=4)))
1 E     ║───┬───┬───┬───┬─
2 B     ║───┼───┼───┼───┼─
3 G     ║───┼───┼───┼───┼─
4 D     ║━━━┿━━━┿━━━┿━━━┿━
5 A     ║━━━┿━━━┿━━━┿━━━┿━
6 E     ║◆1m┷━━━┷━━━┷━━━┷━
     0    1   2  ·3·  4
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Literal, NamedTuple

from drill.present.figures import hundredths
from drill.questions.picture import Mark, Picture
from drill.theory.names import NoteLanguage, show_note, show_signs
from drill.theory.neck import Neck, Spot
from drill.theory.pitch import Note

Role = Literal[
    "label", "string", "nut", "number", "inlay", "beyond",
    "asked", "note", "minor tonic", "major tonic",
    "unmet", "weak", "middling", "strong", "picked",
]  # fmt: skip


Show = Literal["fingers", "degrees", "notes"]


class Segment(NamedTuple):
    """A run of characters, one cell each, that plays one role."""

    text: str
    role: Role


Line = tuple[Segment, ...]
Drawing = tuple[Line, ...]


class Look(NamedTuple):
    """How a neck is drawn. A dot that lacks what `show` asks for says what it has: finger, note or degree."""

    hand: Literal["right", "left"] = "right"
    low_string: Literal["bottom", "top"] = "bottom"
    show: Show = "fingers"
    language: NoteLanguage = "english"


USUAL = Look()

SINGLE_INLAYS, DOUBLE_INLAYS = frozenset({3, 5, 7, 9, 15, 17, 19, 21}), frozenset({12, 24})
"""Frets with one and with two inlay dots, counted from the nut (common practice, no source)."""

RAMP = "▁▂▃▄▅▆▇█"
"""Strength from none to all, in eighths."""

LOWEST_PLAIN_STRING = 55
"""Strings that sound lower than G3 are wound, and are drawn heavier (common practice, no source)."""

_CELL = 4  # three characters and the wire
_NARROW_CELL = 2
_WIDEST_CELL = 7
_LONGEST_TEXT = 6
_WEIGHTS: dict[str, int] = {"asked": 100, "minor tonic": 10, "major tonic": 10, "note": 1}
_MIRRORED = str.maketrans("┤┥┐┑┘┙◂▸", "├┝┌┍└┕▸◂")
_WIRES = "┬┼┴┯┿┷┐┤┘┑┥┙├┝┌┍└┕"
_ASCII = str.maketrans(_WIRES + "─━║◂▸◆●○·♭♯" + RAMP, "+" * len(_WIRES) + "-=|<>*@o.b#" + "12345678")


def plain(drawing: Drawing, *, ascii_only: bool = False) -> str:
    """The drawing as lines of text without trailing blanks; `ascii_only` where the other signs cannot be shown."""
    text = "\n".join("".join(segment.text for segment in line).rstrip() for line in drawing)
    return text.translate(_ASCII) if ascii_only else text


def draw(
    neck: Neck,
    picture: Picture,
    look: Look = USUAL,
    lowest: int = 0,
    highest: int | None = None,
    width: int | None = None,
    home: range | None = None,
) -> Drawing:
    """The neck with the marks of a picture, from fret `lowest` to `highest` as far as `width` cells allow.

    Of a neck that does not fit, the stretch is shown that holds most of what the picture is about: what is asked first,
    then tonics, then other notes. Frets of `home` are all in that stretch, where it is wide enough for them. At least
    one fret is drawn, however small the width.
    """
    texts = {mark.spot: _marked(mark, look) for mark in picture}
    cell = max([_CELL, *(len(segment.text) for segment in texts.values())])
    frame = _roomy(_Frame(neck, look, cell), width)
    weights = {mark.spot: _WEIGHTS[mark.role] for mark in picture}
    window = _window(frame, weights, lowest, neck.last_fret if highest is None else highest, width, home)
    return _drawn(frame, window, texts)


def draw_map(
    neck: Neck,
    strengths: Mapping[Spot, float | None],
    look: Look = USUAL,
    width: int | None = None,
    picked: Spot | None = None,
    figures: Mapping[Spot, str] | None = None,
) -> Drawing:
    """The neck with a strength (0 to 1) on each spot: a block that grows and a figure in per cent.

    Spots with None have not been met and are drawn as a dot, spots that are missing as bare string. Where the width is
    too small for figures the blocks stand alone. `picked` is put in brackets and is always inside the window. `figures`
    of at most three characters stand in the place of per cents.
    """
    frame, frets = _map_frame(neck, strengths, look, width, picked)
    wide = frame.cell >= _CELL
    told = figures or {}
    texts = {spot: _rated(strength, told.get(spot), figure=wide) for spot, strength in strengths.items()}
    if picked is not None:
        texts[picked] = _picked(texts.get(picked), figure=wide)
    return _drawn(frame, frets, texts)


def spot_at(
    neck: Neck,
    strengths: Mapping[Spot, float | None],
    look: Look,
    width: int | None,
    picked: Spot | None,
    column: int,
    row: int,
) -> Spot | None:
    """The spot that `draw_map` draws in a cell of the drawing, None beside the strings; both count from 0."""
    frame, frets = _map_frame(neck, strengths, look, width, picked)
    if not 0 <= row < len(frame.rows()):
        return None
    cells = frame.breadth(frets) - (frets[-1] == neck.last_fret)
    place = (column if look.hand == "right" else cells - 1 - column) - frame.label_cells
    if frets.start == 0:
        fret = 0 if place < frame.cell else 1 + (place - frame.cell - 1) // frame.cell
    else:
        fret = frets.start + (place - 2) // frame.cell
    return Spot(frame.rows()[row], fret) if place >= 0 and fret in frets else None


def _map_frame(
    neck: Neck, strengths: Mapping[Spot, float | None], look: Look, width: int | None, picked: Spot | None
) -> tuple[_Frame, range]:
    """Wide cells with figures where they fit, else narrow ones; and the frets in the window."""
    frame = _Frame(neck, look, _CELL)
    if width is not None and frame.breadth(range(neck.last_fret + 1)) > width:
        frame = _Frame(neck, look, _NARROW_CELL)
    frame = _roomy(frame, width)
    weights = dict.fromkeys(strengths, 1)
    if picked is not None:
        weights[picked] = _WEIGHTS["asked"] * (len(weights) + 1)
    return frame, _window(frame, weights, 0, neck.last_fret, width)


def band(strength: float | None) -> Role:
    """The role of a strength: not met, weak (below a half), middling, strong (four fifths and more)."""
    if strength is None:
        return "unmet"
    return "weak" if strength < 0.5 else "middling" if strength < 0.8 else "strong"


def block(strength: float) -> str:
    """The character of the ramp for a strength from 0 to 1."""
    return RAMP[min(int(max(strength, 0.0) * len(RAMP)), len(RAMP) - 1)]


# -- what stands on a spot ---------------------------------------------------------------------------------------------


def _marked(mark: Mark, look: Look) -> Segment:
    says = _says(mark, look)
    if mark.role == "asked":
        return Segment(f"[{says or '?'}]", "asked")
    if mark.role == "note":
        return Segment(f"({says or '○'})", "note")
    sign, letter = ("◆", "m") if mark.role == "minor tonic" else ("●", "M")
    text = f"{sign}{says}{letter}"
    return Segment(text if len(text) <= _CELL else text[:-1], mark.role)


def _says(mark: Mark, look: Look) -> str:
    """What the dot says: what the learner wants to see, or what the picture has."""
    told = {
        "fingers": str(mark.finger) if mark.finger else "",
        "notes": _short(mark.note, look.language) if mark.note else "",
        "degrees": show_degree(mark.degree) if mark.degree else "",
    }
    return told[look.show] or told["fingers"] or told["notes"] or told["degrees"]


def show_degree(degree: str) -> str:
    """A degree with real signs: 'b7' is '♭7'."""
    return degree.replace("b", "♭").replace("#", "♯")


def _short(note: Note, language: NoteLanguage) -> str:
    """The note's name; where a language writes it long, the English one, so that a fret stays a fret."""
    shown = show_note(note, language)
    return shown if len(shown) <= _LONGEST_TEXT - 2 else show_signs(note.name)


def _rated(strength: float | None, told: str | None, *, figure: bool) -> Segment:
    if strength is None:
        return Segment("·", "unmet")
    figures = told or f"{min(hundredths(strength), 99):02d}"  # recall is never certain, and two figures fit
    return Segment(block(strength) + (figures if figure else ""), band(strength))


def _picked(rated: Segment | None, *, figure: bool) -> Segment:
    if not figure:
        return Segment((rated.text if rated else "·") + "]", "picked")
    text = (rated.text[1:] or rated.text) if rated else " "
    return Segment(f"[{text}]" if len(text) < _CELL - 1 else f"[{text}", "picked")


# -- the stretch of neck that is drawn ---------------------------------------------------------------------------------


def _window(
    frame: _Frame,
    weights: Mapping[Spot, int],
    lowest: int,
    highest: int,
    width: int | None,
    home: range | None = None,
) -> range:
    """The frets to draw: all that are wanted, or the run that fits and holds the most weight, with all of `home`."""
    highest = min(highest, frame.neck.last_fret)
    lowest = max(0, min(lowest, highest))
    whole = range(lowest, highest + 1)
    if width is None or frame.breadth(whole) <= width:
        return whole
    runs = [frame.run_from(start, highest, width) for start in whole]
    runs = [run for run in runs if home and home[0] in run and home[-1] in run] or runs

    def held(run: range) -> tuple[int, int, float]:
        weight = sum(value for spot, value in weights.items() if spot.fret in run)
        frets = [spot.fret for spot in weights if spot.fret in run] or [0]
        return weight, len(run) if run.start else len(run) + 1, -abs((min(frets) + max(frets) - run[0] - run[-1]) / 2)

    return max(runs, key=held)


# -- lines -------------------------------------------------------------------------------------------------------------


class _Frame(NamedTuple):
    """The measures of a drawing: cells to a fret, cells to a label."""

    neck: Neck
    look: Look
    cell: int

    @property
    def label_cells(self) -> int:
        """Cells of the longest label and of the gap that parts it from the neck."""
        return max(len(self.label(string)) for string in self.neck.tuning.strings) + 1

    def label(self, string: int) -> str:
        return f"{string} {_short(self.neck.tuning.open(string).note, self.look.language)}"

    def breadth(self, frets: range) -> int:
        """Cells the drawing of these frets takes."""
        from_nut = frets.start == 0
        head = self.label_cells + (self.cell + 1 if from_nut else 2)
        return head + self.cell * (len(frets) - from_nut) + 1

    def run_from(self, start: int, highest: int, width: int) -> range:
        """The longest run of frets from `start` that fits, one fret at least."""
        stop = start + 2 if start == 0 else start + 1
        while stop <= highest and self.breadth(range(start, stop + 1)) <= width:
            stop += 1
        return range(start, min(stop, highest + 1))

    def rows(self) -> list[int]:
        """Strings from the top of the drawing to its bottom."""
        strings = list(self.neck.tuning.strings)
        return strings if self.look.low_string == "bottom" else strings[::-1]

    def turned(self, atoms: Iterable[Segment]) -> Line:
        """A line as the learner's hand sees it; atoms come from the nut towards the body."""
        if self.look.hand == "right":
            return tuple(atoms)
        return tuple(Segment(atom.text.translate(_MIRRORED), atom.role) for atom in reversed(tuple(atoms)))


def _roomy(frame: _Frame, width: int | None) -> _Frame:
    """The same with wider frets, as far as the whole neck still fits."""
    if width is None or frame.cell < _CELL:
        return frame
    wider = _Frame(frame.neck, frame.look, frame.cell + 1)
    if frame.cell >= _WIDEST_CELL or wider.breadth(range(frame.neck.last_fret + 1)) > width:
        return frame
    return _roomy(wider, width)


def _drawn(frame: _Frame, frets: range, texts: Mapping[Spot, Segment]) -> Drawing:
    rows = frame.rows()
    strings = [frame.turned(_string(frame, frets, texts, string, rows)) for string in rows]
    return (*strings, frame.turned(_numbers(frame, frets)))


def _string(
    frame: _Frame, frets: range, texts: Mapping[Spot, Segment], string: int, rows: list[int]
) -> Iterator[Segment]:
    wound = frame.neck.tuning.open(string).midi < LOWEST_PLAIN_STRING
    line = "━" if wound else "─"
    wire, end = _wires(string, rows, wound)
    label = frame.label(string)
    pad = " " * (frame.label_cells - len(label))
    yield Segment(label + pad if frame.look.hand == "right" else pad + label, "label")
    if frets.start == 0:
        yield _filled(texts.get(Spot(string, 0)), " ", frame.cell)
        yield Segment("║", "nut")
    else:
        yield _edge(any(spot.string == string and spot.fret < frets.start for spot in texts), "◂", line)
        yield Segment(wire, "string")
    for fret in frets[1:] if frets.start == 0 else frets:
        last = fret == frame.neck.last_fret
        yield from _fret(texts.get(Spot(string, fret)), line, end if last else wire, frame.cell)
    if frets[-1] < frame.neck.last_fret:
        yield _edge(any(spot.string == string and spot.fret > frets[-1] for spot in texts), "▸", line)


def _wires(string: int, rows: list[int], wound: bool) -> tuple[str, str]:
    """The crossing of a string with a fret wire, and with the last one; the outer strings close the grid."""
    place = 0 if string == rows[0] else 2 if string == rows[-1] else 1
    return ("┯┿┷" if wound else "┬┼┴")[place], ("┑┥┙" if wound else "┐┤┘")[place]


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


def _numbers(frame: _Frame, frets: range) -> Iterator[Segment]:
    """Fret numbers, those with inlays between dots; a capo moves the inlays, for frets are counted from it."""
    yield Segment(" " * frame.label_cells, "label")
    if frets.start == 0:
        yield Segment("0".center(frame.cell) if frame.cell >= _CELL else "0 ", "number")
        yield Segment(" ", "number")
    else:
        yield Segment("  ", "number")
    for fret in frets[1:] if frets.start == 0 else frets:
        yield from _number(fret, fret + frame.neck.capo, frame)


def _number(fret: int, place: int, frame: _Frame) -> Iterator[Segment]:
    dot = "·" if place in SINGLE_INLAYS else ":" if place in DOUBLE_INLAYS else ""
    role: Role = "inlay" if dot else "number"
    if frame.cell < _CELL:
        text = str(fret) if dot else ""
        yield Segment(text.ljust(frame.cell), role)
        return
    shown = f"{dot}{fret}{dot}" if dot else f" {fret} "
    body = (" " * ((frame.cell - 1 - len(shown)) // 2) + shown).ljust(frame.cell - 1)
    wire = " " * (frame.cell - len(body))
    yield Segment(body + wire if frame.look.hand == "right" else wire + body, role)
