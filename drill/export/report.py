"""The report for a teacher: what grew, what is weak and what to play this week on one page, the details after it.

Figures are rounded; each stands in a <data> element whose value is exact. What nobody measured is not shown.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from drill.export import svg
from drill.export.pages import Drawing, Figure, chance, count, day_in_short, day_in_words, page, time
from drill.export.trends import Trend, can_tell, fell, grew, pause_sentence, trends
from drill.memory import TARGET_STRENGTH
from drill.present.figures import how_many, hundredths, per_cent
from drill.present.neck_drawing import band
from drill.present.tables import Column, Columns, Kind, cell_text
from drill.progress import Grouping, KeyReadiness, MixupRow, Needed, Progress
from drill.progress.columns import ROWS, WEEKS, measured_words
from drill.progress.homework import told, told_sentences
from drill.progress.hows import how_sentence
from drill.progress.lines import answer_text
from drill.progress.next_step import READY
from drill.progress.weakest import by_readiness, how_asked
from drill.questions.catalogue import FAMILIES
from drill.questions.facets import string_of
from drill.questions.wording import capital, named_key, string_label
from drill.theory.neck import Spot

USUAL_TITLE = "Fretboard progress"
LAST_WEEKS = 6
MOST_MIXUPS = 4
MOST_WEAK = 2
ONE_COLUMN = 6
"""More keys than these stand in two columns."""
MOST_ROUND_KEYS = 3
HOMEWORK_OF_KEYS = " Homework counts a key by what its own deck asks, the table of keys by all that it takes."
GROUPS: tuple[tuple[Grouping, str], ...] = (
    ("string", "Strings"),
    ("shape", "Shapes"),
    ("family", "Kinds of question"),
)
SIGNS: tuple[tuple[str, str], ...] = (
    ("strong", "80 and more: it holds"),
    ("middling", "50 to 79"),
    ("weak", "below 50"),
    ("unmet", "in the deck, not asked yet"),
    ("inlay", "fret marker of the guitar"),
)
"""The signs of the neck and what they mean; the bands are those of `neck_drawing.band`."""


def report(progress: Progress) -> str:
    """The whole page."""
    return _Report(progress).page()


class _Report:
    """Fills the page in the learner's note language."""

    def __init__(self, progress: Progress) -> None:
        self._progress, self._settings = progress, progress.settings
        self._words = progress.settings.voice.say
        self._homework = told(progress)

    def page(self) -> str:
        progress, days = self._progress, self._progress.days
        return page(
            "report",
            title=self._title,
            deck=progress.deck.title,
            today=day_in_words(progress.today),
            tempo=self._settings.tempo_bpm,
            last_drill=day_in_words(days[-1].start) if days else "",
            homework=list(told_sentences(progress, self._homework)),
            summary=list(self._summary()),
            grew=grew(progress.weeks),
            nothing_grew=self._nothing_grew(),
            weak=list(self._weak()),
            nothing_weak="Nothing asked so far is weak." if progress.whole.seen else "Nothing has been asked yet.",
            play=list(self._play()),
            neck=self._neck(),
            keys=self._keys(),
            weeks=self._weeks(),
            mixups=self._mixups(),
            groups=self._groups(),
            fading=self._fading(),
            meaning=self._meaning(),
        )

    @property
    def _title(self) -> str:
        title = self._settings.report_title.strip() or USUAL_TITLE
        return " – ".join(filter(None, (title, self._settings.learner.strip())))

    # -- the first page ------------------------------------------------------------------------------------------------

    def _summary(self) -> Iterator[str | Figure]:
        whole = self._progress.whole
        yield f"Of {how_many(whole.cards, 'card')}, {how_many(whole.seen, 'was', 'were')} asked"
        if not whole.seen:
            yield "."
            return
        wrong = f"{whole.never_right} not right yet, " if whole.never_right else ""
        yield f": {wrong}{whole.fading} fading, {whole.slow} known but slow, {whole.fluent} fluent. Mean strength "
        yield chance(whole.strength)
        yield ", mean thinking time "
        yield time(whole.speed_s)
        yield f". {how_sentence(self._progress.hows)}".rstrip()

    def _nothing_grew(self) -> str:
        weeks = self._progress.weeks
        if len(weeks) < 2:
            return "Growth shows from the second week on."
        if not (can_tell(weeks[-1]) and any(map(can_tell, (weeks[-2], weeks[0])))):
            return "There are too few answers in a week yet to tell whether they are better than before."
        return "No figure is better than in earlier weeks."

    def _weak(self) -> Iterator[str]:
        """What is weakest of each kind, the mix-up that stands out, and what fell."""
        progress = self._progress
        if progress.days:
            yield from pause_sentence(progress.days[-1].start, progress.today)
        rows = (row for by, _ in GROUPS if (row := progress.weakest_of(by)) is not None)
        for row in sorted(rows, key=lambda row: row.strength or 0.0)[:MOST_WEAK]:
            yield f"{capital(self._words(row.label))}: {per_cent(row.strength or 0.0)}; {how_asked(row)}"
        least = progress.least_ready if progress.weakest_of("key") else None
        if least and least.shown is not None:
            yield f"{self._words(named_key(least.key))}: the least ready key, {per_cent(least.shown)}."
        if progress.mixups:
            first = progress.mixups[0]
            answers = how_many(first.opportunities, "answer")
            yield f"Mixed up: {first.name}, in {first.times} of {answers} where it can happen."
        yield from fell(progress.weeks)

    def _play(self) -> Iterator[tuple[str, str]]:
        """What to play this week, each with the command that starts it."""
        progress = self._progress
        yield (f"{self._words(progress.weakest.label)}.", progress.command(progress.weakest.focus))
        cure = next((row for row in progress.mixups if row.focus and row.focus != progress.weakest.focus), None)
        if cure is not None and cure.focus is not None:
            yield (f"Against the mix-up “{cure.name}”.", progress.command(cure.focus))
        if keys := by_readiness(progress.keys)[:MOST_ROUND_KEYS]:
            names = ", ".join(self._words(named_key(row.key)) for row in keys)
            options = " ".join(f'--key "{row.key.typed_in(self._settings.note_language)}"' for row in keys)
            yield (f"Guitar in hand: a round of {names}.", f"fretsure round {options}")

    def _neck(self) -> dict[str, Any] | None:
        spots, neck = self._progress.spots, self._progress.deck.neck
        if not spots:
            return None
        strengths = {spot: row.strength for spot, row in spots.items()}
        dots = {s: svg.Dot("" if v is None else str(hundredths(v)), band(v)) for s, v in strengths.items()}
        description = "A ring without a figure has not been asked yet. The table below has the same figures."
        caption = svg.Caption("neck", "Strength by spot, in per cent", description)
        there = {dot.band for dot in dots.values()} | {"inlay"}
        return {
            "picture": Drawing(svg.neck(neck, dots, self._settings.look, caption)),
            "legend": [
                {"picture": Drawing(svg.sign(name)), "meaning": meaning} for name, meaning in SIGNS if name in there
            ],
            "heads": ["String", *(f"fret {fret}" for fret in range(neck.last_fret + 1))],
            "rows": list(self._spot_rows(strengths)),
        }

    def _spot_rows(self, strengths: dict[Spot, float | None]) -> Iterator[list[str | Figure]]:
        """The figures of the neck for a screen reader: a row a string, a column a fret."""
        neck = self._progress.deck.neck
        for string in neck.tuning.strings:
            spots = [Spot(string, fret) for fret in range(neck.last_fret + 1)]
            if any(spot in strengths for spot in spots):
                cells = [chance(strengths[spot]) if spot in strengths else "" for spot in spots]
                yield [self._words(string_label(neck.tuning, string)), *cells]

    def _keys(self) -> dict[str, Any]:
        """A line for each key that was asked; the others of the deck by name."""
        asked = [row for row in self._progress.keys if row.asked]
        waiting = [row for row in self._progress.keys if not row.asked and any(n.asked_by_deck for n in row.needed)]
        return {
            "bar": f"{self._progress.bar_s:.2f} s at {self._settings.tempo_bpm} beats a minute",
            "columns": _columns([self._key(row) for row in asked]),
            "unasked": ", ".join(self._words(named_key(row.key)) for row in waiting),
        }

    def _key(self, row: KeyReadiness) -> dict[str, Any]:
        """A key that was measured only in part has no figure; how much of it was measured stands instead."""
        ready, weakest = row.shown, row.held_back_by[:1]
        return {
            "name": self._words(named_key(row.key)),
            "ready": chance(ready),
            "bar": "" if ready is None else Drawing(svg.bar(ready)),
            "held_back": measured_words(row) if ready is None else "".join(map(self._held_back, weakest)),
        }

    def _held_back(self, needed: Needed) -> str:
        """A card that holds a key back in a few words, and its chance."""
        entry = needed.status.entry
        asks = FAMILIES[entry.item.family].card(entry.facets, self._progress.deck.neck).ask.ask.rstrip("?").lower()
        string = f"string {string_of(entry.facets)}" if string_of(entry.facets) else ""
        where = f", {string}" if string and string not in asks else ""  # some questions name the string themselves
        return self._words(f"{asks}{where}: {per_cent(needed.in_time)}")

    # -- details -------------------------------------------------------------------------------------------------------

    def _weeks(self) -> dict[str, Any]:
        weeks = self._progress.weeks
        last = weeks[-LAST_WEEKS:]
        heads, rows = self._table(WEEKS, last)
        caption = f"The last {len(last)} weeks with a drill" if len(last) > 1 else "The only week with a drill"
        drawn = list(map(_drawn, trends(weeks))) if len(weeks) > 1 else []  # one point is no trend
        return {"trends": drawn, "caption": caption, "heads": heads, "rows": rows}

    def _mixups(self) -> dict[str, Any]:
        found = self._progress.mixups
        shown = found[:MOST_MIXUPS]
        more = len(found) - len(shown)
        return {
            "rows": list(map(self._mixup, shown)),
            "more": f"{how_many(more, 'more kind')}: the table of answers has every one." if more > 0 else "",
        }

    def _mixup(self, row: MixupRow) -> dict[str, Any]:
        given = answer_text(row.card, row.given, self._settings.note_language)
        return {
            "name": capital(row.name),
            "times": count(row.times),
            "answers": count(row.opportunities),
            "rate": chance(row.rate),
            "example": f"{self._words(row.card.prompt)} Answer: {given}. {self._words(row.sentence)}".strip(),
        }

    def _groups(self) -> dict[str, Any] | None:
        """Strings, shapes and kinds of question, as far as they were asked, in one table."""
        heads = [capital(column.heading) for column in ROWS["string"] if column.heading]
        groups = [
            {"title": title, "rows": rows}
            for by, title in GROUPS
            if (rows := self._table(ROWS[by], [row for row in self._progress.table(by) if row.seen])[1])
        ]
        return {"heads": ["Group", *heads[1:]], "groups": groups} if groups else None

    def _table(self, columns: Columns, rows: Iterable[Any]) -> tuple[list[str], list[list[str | Figure]]]:
        """Headings and cells of the columns that have headings."""
        headed = [column for column in columns if column.heading]
        return [capital(column.heading) for column in headed], [[self._cell(c, row) for c in headed] for row in rows]

    def _cell(self, column: Column, row: Any) -> str | Figure:
        """Text as it is, figures with their exact values."""
        value = column.get(row)
        if value is None:
            return "–"
        if column.kind is Kind.DAY:
            return day_in_short(value)
        text = cell_text(column, row, self._words)
        return text if column.kind is Kind.SENTENCE else Figure(repr(value), text)

    def _fading(self) -> str:
        if not self._progress.whole.seen:
            return ""
        coming, now = self._progress.forecast, self._progress.whole.fading
        in_a_week, at_last = now + sum(coming[:7]), now + sum(coming)
        return (
            f"Fading now: {how_many(now, 'card')}. Without a drill, {in_a_week} will be fading in a week, "
            f"and {at_last} in {len(coming)} days."
        )

    def _meaning(self) -> str:
        return (
            "Strength is the chance of a right answer now. A card holds from "
            f"{per_cent(TARGET_STRENGTH)}; it is fluent if its expected thinking time is within its target, too. "
            f"A key counts as ready from {per_cent(READY)}.{HOMEWORK_OF_KEYS if self._counts_keys else ''}"
        )

    @property
    def _counts_keys(self) -> bool:
        goals = [each.homework.goal for each in self._homework]
        return any(goal is not None and goal.of == "keys" for goal in goals)


def _columns(rows: list[dict[str, Any]]) -> list[list[dict[str, Any]]]:
    """The rows in one column, or in two of the same height."""
    if not rows:
        return []
    height = len(rows) if len(rows) <= ONE_COLUMN else (len(rows) + 1) // 2
    return [rows[start : start + height] for start in range(0, len(rows), height)]


def _drawn(trend: Trend) -> dict[str, Any]:
    caption = svg.Caption(trend.name, trend.title, trend.sentence)
    return {"title": f"{trend.title}.", "picture": Drawing(svg.trend(trend.values, trend.scale, caption))}
