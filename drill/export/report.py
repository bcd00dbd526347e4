"""The report for a teacher: one HTML file that needs no other, readable on screen, on paper and aloud.

Figures are rounded; each stands in a <data> element whose value is exact. Every text is escaped, and the page's own
policy forbids scripts and the network.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any

from drill.export import svg
from drill.export.markup import escape
from drill.memory import TARGET_STRENGTH
from drill.present.dates import iso_utc
from drill.present.figures import how_many, hundredths, per_cent, seconds
from drill.present.neck_drawing import band
from drill.present.tables import Column, Columns, Kind, cell_text
from drill.progress import GROUPINGS, Grouping, KeyReadiness, Progress, SpotRow
from drill.progress.columns import ROWS, WEEKS, brief
from drill.progress.lines import answer_text
from drill.questions.wording import capital, named_key, string_label
from drill.theory.neck import Spot

STYLE = Path(__file__).with_name("report.css")
TREND_WEEKS = 26
MOST_REASONS = 3
_FIGURE = ' class="figure"'
_NO_VALUE, _NO_BREAK = "–", "\N{NO-BREAK SPACE}"
_HEADINGS: dict[Grouping, tuple[str, str]] = {
    "string": ("Strings", "Strength and speed by string"),
    "key": ("Keys", "Strength and speed by key"),
    "shape": ("Shapes", "Strength and speed by shape"),
    "family": ("Kinds of question", "Strength and speed by kind of question"),
}


def report(progress: Progress) -> str:
    """The whole page."""
    return "".join(f"{part}\n" for part in _Page(progress).parts())


class _Page:
    """Writes the page in the learner's note language."""

    def __init__(self, progress: Progress) -> None:
        self._progress, self._settings = progress, progress.settings

    def parts(self) -> Iterator[str]:
        yield from self._head()
        yield "<body><main>"
        yield from self._top()
        yield from self._neck()
        yield from self._readiness()
        yield from self._trend()
        yield from self._mixups()
        for by in GROUPINGS:
            yield from self._table(by)
        yield from self._forecast()
        yield "</main></body></html>"

    def _words(self, sentence: str) -> str:
        """A sentence with marked notes, ready to stand in the page."""
        return escape(self._settings.voice.say(sentence))

    def _head(self) -> Iterator[str]:
        yield '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        yield "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">"
        yield '<meta name="viewport" content="width=device-width, initial-scale=1">'
        yield f"<title>{self._title}</title><style>{STYLE.read_text(encoding='utf-8')}</style></head>"

    @property
    def _title(self) -> str:
        title = self._settings.report_title.strip() or "Fretboard progress"
        return escape(" – ".join(filter(None, (title, self._settings.learner.strip()))))

    def _top(self) -> Iterator[str]:
        progress, whole, weakest = self._progress, self._progress.whole, self._progress.weakest
        yield f"<h1>{self._title}</h1>"
        yield f'<p class="soft">{escape(progress.deck.title)}. As of {(iso_utc(progress.now_s) or "")[:10]}, '
        yield f"at {self._settings.tempo_bpm} beats a minute.</p>"
        yield f"<p>Of {how_many(whole.cards, 'card')}, {how_many(whole.seen, 'was', 'were')} asked: "
        yield f"{whole.fading} fading, "
        yield f"{whole.slow} known but slow, {whole.fluent} fluent."
        if whole.seen:
            yield f" Mean strength {_chance(whole.strength)}, mean thinking time {_seconds(whole.speed_s)}."
        yield "</p>"
        yield f"<p><strong>What to drill next: {self._words(weakest.label)}.</strong> {self._words(weakest.why)} "
        yield f"<code>{escape(self._progress.command(weakest.focus))}</code></p>"
        yield '<p class="soft">Strength is the chance of a right answer now. '
        yield f"A card holds from {per_cent(TARGET_STRENGTH)}; it is fluent "
        yield "if its expected thinking time is within its target, too.</p>"

    def _neck(self) -> Iterator[str]:
        spots = self._progress.spots
        yield "<section><h2>The neck</h2>"
        if not spots:
            yield "<p>This deck does not ask about single spots of the neck.</p></section>"
            return
        strengths = {spot: row.strength for spot, row in spots.items()}
        yield self._neck_figure("strength", "Strength by spot, in per cent", strengths, lambda s: str(hundredths(s)))
        yield from self._spot_table("Strength by spot", lambda row: row.strength, _chance)
        speeds = {spot: row.speed_s for spot, row in spots.items()}
        yield self._neck_figure("speed", "Thinking time by spot, in seconds", speeds, lambda s: f"{s:.1f}")
        yield from self._spot_table("Thinking time by spot", lambda row: row.speed_s, _seconds)
        yield "</section>"

    def _neck_figure(
        self, name: str, title: str, values: dict[Spot, float | None], write: Callable[[float], str]
    ) -> str:
        dots = {
            spot: svg.Dot("" if value is None else write(value), band(self._progress.spots[spot].strength))
            for spot, value in values.items()
        }
        description = "A dot without a figure was not asked yet. The table that follows holds the same figures."
        caption = svg.Caption(f"neck-{name}", title, description)
        drawn = svg.neck(self._progress.deck.neck, dots, self._settings.look, caption)
        return f"<figure><figcaption>{title}. Small dots were not asked yet.</figcaption>{drawn}</figure>"

    def _spot_table(
        self, caption: str, value: Callable[[SpotRow], float | None], write: Callable[[float | None], str]
    ) -> Iterator[str]:
        """The figures of a neck map for a screen reader: a row a string, a column a fret."""
        rows = self._progress.spots
        frets = range(self._progress.deck.neck.last_fret + 1)
        strings = [s for s in self._progress.deck.neck.tuning.strings if any(spot.string == s for spot in rows)]
        body = []
        for string in strings:
            found = (rows.get(Spot(string, fret)) for fret in frets)
            cells = ["" if row is None else write(value(row)) for row in found]
            body.append([self._words(string_label(self._progress.deck.neck.tuning, string)), *cells])
        yield '<div class="unseen">'
        yield from _table(caption, ["String", *(f"fret {fret}" for fret in frets)], body)
        yield "</div>"

    def _readiness(self) -> Iterator[str]:
        if not self._progress.keys:
            return
        bar = f"{self._progress.bar_s:.2f} s at {self._settings.tempo_bpm} beats a minute"
        yield "<section><h2>Readiness of the keys</h2><p>The chance that every fact it takes to play in the key in "
        yield f"both shapes comes right, each within one bar: {bar}.</p>"
        heads = ["Key", "Readiness", "Held back by"]
        yield from _table("Readiness of the everyday keys", heads, map(self._key_cells, self._progress.keys))
        yield "</section>"

    def _key_cells(self, key: KeyReadiness) -> list[str]:
        name = self._words(named_key(key.key)).replace(" ", "&nbsp;")
        if not key.asked:
            return [name, "", "not asked yet"]
        reasons = [f"{escape(brief(n.status.entry))}: {_chance(n.in_time)}" for n in key.held_back_by]
        figure = _chance(key.readiness) + svg.bar(key.readiness)
        return [name, figure, "; ".join(reasons[:MOST_REASONS])]

    def _trend(self) -> Iterator[str]:
        weeks = self._progress.weeks[-TREND_WEEKS:]
        yield "<section><h2>Week by week</h2>"
        if not weeks:
            yield "<p>Nothing was asked yet.</p></section>"
            return
        known = [(w.start.isoformat(), w.first_right_share) for w in weeks if w.first_right_share is not None]
        title = "Share of each day's first answers that came right, by week"
        yield from _trend_figure("trend-known", title, known, svg.Scale(1.0, per_cent))
        fast = [(w.start.isoformat(), w.median_s) for w in weeks if w.median_s is not None]
        if fast:
            title = "Median thinking time of right answers, by week"
            top = float(max(2, round(max(value for _, value in fast) + 0.5)))
            yield from _trend_figure("trend-time", title, fast, svg.Scale(top, seconds))
        yield from self._written(f"The last {how_many(len(weeks), 'week')} with a drill", WEEKS, weeks)
        yield "</section>"

    def _mixups(self) -> Iterator[str]:
        yield "<section><h2>Mix-ups</h2>"
        if not self._progress.mixups:
            yield "<p>No recognised mix-ups.</p></section>"
            return
        rows = []
        for row in self._progress.mixups:
            given = answer_text(row.card, row.given, self._settings.note_language)
            example = f"{self._words(row.card.prompt)} Answer: {escape(given)}. {self._words(row.sentence)}"
            cure = f"<code>{escape(self._progress.command(row.focus))}</code>" if row.focus else ""
            rows.append(
                [escape(row.name), _count(row.times), _count(row.opportunities), per_cent(row.rate), example, cure]
            )
        heads = ["Mix-up", "Times", "Answers where it can happen", "Rate", "The newest example", "Drill"]
        yield from _table("What was confused with what", heads, rows)
        yield "</section>"

    def _table(self, by: Grouping) -> Iterator[str]:
        rows = self._progress.table(by)
        if not rows:
            return
        heading, caption = _HEADINGS[by]
        yield f"<section><h2>{heading}</h2>"
        yield from self._written(caption, ROWS[by], rows)
        weakest = self._progress.weakest_of(by)
        if weakest is not None:
            yield f"<p>What to drill next: {self._words(weakest.label)}. "
            yield f"<code>{escape(self._progress.command(weakest.focus))}</code></p>"
        yield "</section>"

    def _written(self, caption: str, columns: Columns, rows: Iterable[Any]) -> Iterator[str]:
        """A table made of the columns that have headings."""
        headed = [column for column in columns if column.heading]
        body = [[self._cell(column, row) for column in headed] for row in rows]
        yield from _table(caption, [capital(column.heading) for column in headed], body)

    def _cell(self, column: Column, row: Any) -> str:
        """Text as it is, figures with their exact values."""
        if column.kind is Kind.SENTENCE:
            return self._words(column.get(row))
        text = cell_text(column, row)
        return text if column.kind is Kind.DAY else _data(column.get(row), text)

    def _forecast(self) -> Iterator[str]:
        counts = self._progress.forecast
        yield "<section><h2>What fades</h2>"
        yield f"<p>Fading now: {self._progress.whole.fading}. Cards expected to fade if they are not asked:</p>"
        heads = ["Day from now", *(str(day) for day in range(1, len(counts) + 1))]
        yield from _table("Cards that fade in each coming day", heads, [["Cards", *map(_count, counts)]])
        yield "</section>"


def _table(caption: str, heads: Sequence[str], rows: Iterable[Sequence[str]]) -> Iterator[str]:
    """A table whose cells are HTML already; the first cell of a row is its head."""
    yield f'<div class="wide" tabindex="0" role="region" aria-label="{escape(caption)}">'
    yield f"<table><caption>{escape(caption)}</caption>"
    yield "<thead><tr>" + "".join(f'<th scope="col">{escape(head)}</th>' for head in heads) + "</tr></thead><tbody>"
    for first, *others in rows:
        cells = "".join(f"<td{_FIGURE if cell.startswith('<data') else ''}>{cell}</td>" for cell in others)
        yield f'<tr><th scope="row">{first}</th>{cells}</tr>'
    yield "</tbody></table></div>"


def _data(value: float | None, text: str) -> str:
    """A figure with its exact value, on one line whatever the room."""
    return _NO_VALUE if value is None else f'<data value="{value!r}">{text.replace(" ", _NO_BREAK)}</data>'


def _chance(chance: float | None) -> str:
    return _data(chance, per_cent(chance or 0.0))


def _seconds(time_s: float | None) -> str:
    return _data(time_s, seconds(time_s or 0.0))


def _count(count: int) -> str:
    return _data(count, str(count))


def _trend_figure(name: str, title: str, weeks: Sequence[tuple[str, float]], scale: svg.Scale) -> Iterator[str]:
    """A trend with its title, and in a sentence for a screen reader."""
    (first, start), (last, end) = weeks[0], weeks[-1]
    sentence = f"From {scale.write(start)} in the week of {first} to {scale.write(end)} in the week of {last}."
    yield f"<figure><figcaption>{title}.</figcaption>"
    yield f"{svg.trend(weeks, scale, svg.Caption(name, title, sentence))}</figure>"
