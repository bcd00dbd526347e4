"""Pictures of what was looked up, to print: a key, or a loop with a neck for each hand position. SVG in one file.

Each kind of mark has an outline of its own, so that ink alone tells them apart: a diamond for the minor tonic, a ring
around the major tonic, a plain circle for the other notes.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from drill.export.markup import escape
from drill.export.svg import Dot, Drawn, Outline, drawn_neck, outlined
from drill.lookup.keys import KeyView, key_sentences
from drill.lookup.loops import LoopView, landing_sentences, result_sentences
from drill.present.neck_drawing import Look
from drill.present.neck_drawing.picture import dot_text
from drill.questions.loop_sentences import named_fit
from drill.questions.picture import Mark, Picture, Role
from drill.questions.wording import to_screen
from drill.system.files import refuse_other_ending, write_new
from drill.system.text import wrapped
from drill.theory.neck import Spot

MARGIN, LINE, TITLE, LETTER = 24, 20, 30, 7.6
"""In SVG units: the margin, a line of text, a title, and what a letter takes at most on average."""

COLUMNS = 105
"""Letters in a line of text: as wide as a neck of fifteen frets."""

_MARKS: dict[Role, tuple[str, Outline]] = {
    "minor tonic": ("minor", "diamond"),
    "major tonic": ("major", "ring"),
    "note": ("note", "circle"),
    "asked": ("note", "circle"),
}
_LEGEND: tuple[tuple[Role, str], ...] = (
    ("minor tonic", "minor tonic"), ("major tonic", "major tonic"), ("note", "other notes of the shapes"),
)  # fmt: skip
_STYLE = (
    "text{fill:#000;font-family:sans-serif;font-size:14px;dominant-baseline:central;text-anchor:middle}"
    ".line{text-anchor:start}.title{text-anchor:start;font-size:20px;font-weight:bold}.soft{fill:#333}"
    ".string,.wire{stroke:#666;stroke-width:1}.wound{stroke-width:2}.nut{stroke:#000;stroke-width:5}.inlay{fill:#ddd}"
    ".spot{stroke:#000;stroke-width:1.5}.note{fill:#fff}.minor,.major{fill:#000}"
    ".around{fill:#fff;stroke:#000;stroke-width:1.5}.on-tonic{fill:#fff;font-weight:bold}"
)


def key_picture(view: KeyView, look: Look) -> str:
    """A key on one neck, with what `fretsure key` says of it."""
    return _page(view.key.shown_in(look.language), [_text(key_sentences(view, look)), _neck(view, look), _legend()])


def loop_picture(view: LoopView, look: Look) -> str:
    """A loop on a neck for each hand position, with its keys above and the chord tones below each."""
    title = " ".join(chord.shown_in(look.language) for chord in view.reading.chords)
    blocks = [_text(result_sentences(view, look))]
    for fits, layout in view.by_shapes():
        names = " and ".join(to_screen(named_fit(fit), look.language) for fit in fits)
        landing = landing_sentences(view.reading.chords, layout.key, look.language)
        blocks += [_text([f"{names}:"]), _neck(layout, look), _text(landing)]
    return _page(title, [*blocks, _legend()])


def save_picture(file: str, picture: str) -> str:
    """Save a picture in a new file, and say so. Raises `CannotWrite`; `UsageProblem` for the name of another kind."""
    refuse_other_ending(Path(file), ".svg")
    write_new(Path(file), picture)
    return f"The picture is in {file}."


def _neck(view: KeyView, look: Look) -> Drawn:
    return drawn_neck(view.neck, marked_dots(view.picture, look), look)


def marked_dots(picture: Picture, look: Look) -> dict[Spot, Dot]:
    """The dots of a picture, each kind of mark in its outline."""
    return {mark.spot: _dot(mark, look) for mark in picture}


def _dot(mark: Mark, look: Look) -> Dot:
    name, outline = _MARKS[mark.role]
    return Dot(dot_text(mark, look), name, outline, "" if name == "note" else "on-tonic")


def _legend() -> Drawn:
    """The three marks, each with what it means."""
    parts, x = [], 0.0
    for role, meaning in _LEGEND:
        name, outline = _MARKS[role]
        parts.append(outlined(outline, f"spot {name}", x + 20, LINE, 9))
        parts.append(f'<text class="line" x="{x + 38:g}" y="{LINE}">{escape(meaning)}</text>')
        x += 60 + LETTER * len(meaning)
    return Drawn(x, 2 * LINE, tuple(parts))


def _text(sentences: Iterator[str] | list[str]) -> Drawn:
    """Some sentences, broken into lines that a neck's width holds."""
    lines = [line for sentence in sentences for line in wrapped(sentence, COLUMNS)]
    parts = (f'<text class="line" x="0" y="{LINE * (n + 0.5):g}">{escape(line)}</text>' for n, line in enumerate(lines))
    return Drawn(LETTER * max(map(len, lines), default=0), LINE * (len(lines) + 0.5), tuple(parts))


def _page(title: str, blocks: list[Drawn]) -> str:
    """The blocks one under the other, under a title."""
    height, parts = float(MARGIN + TITLE), [f'<text class="title" x="{MARGIN}" y="{MARGIN + 8}">{escape(title)}</text>']
    for block in blocks:
        parts.append(f'<g transform="translate({MARGIN} {height:g})">{"".join(block.parts)}</g>')
        height += block.height
    width = max(2 * MARGIN + block.width for block in blocks)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:g}" height="{height + MARGIN:g}" '
        f'viewBox="0 0 {width:g} {height + MARGIN:g}" role="img" aria-labelledby="title">'
        f'<title id="title">{escape(title)}</title><style>{_STYLE}</style>'
        f'<rect width="100%" height="100%" fill="#fff"/>{"".join(parts)}</svg>\n'
    )
