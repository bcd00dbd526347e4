"""Progress as lines of text for a terminal or a screen reader: tables that fit eighty columns, each with what to do."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import datetime

from drill.decks import Entry
from drill.errors import FretsureError
from drill.memory import calibration_error
from drill.present.figures import how_many, per_cent
from drill.present.neck_drawing import Look, NeckMap, plain
from drill.progress.card_history import CardHistory
from drill.progress.card_status import Group, Kind, Row
from drill.progress.history import Period
from drill.progress.readiness import KeyReadiness
from drill.progress.tables import Progress
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.questions.facets import string_of
from drill.questions.wording import named_key, times_in_words, to_screen
from drill.system.text import visible, wrapped
from drill.theory.names import NoteLanguage

LAST_WEEKS = 12
LAST_ANSWERS = 10
_HEADINGS: dict[Kind, str] = {"string": "String", "key": "Key", "shape": "Shape", "family": "Family"}


class Lines:
    """Writes progress in the learner's note language; `local` gives a moment (epoch seconds) on their calendar."""

    def __init__(self, progress: Progress, local: Callable[[float], datetime], width: int | None = None) -> None:
        self._progress, self._local, self._width = progress, local, width
        settings = progress.settings
        self._look: Look = settings.look
        self._numbers = settings.shape_names == "numbers"

    def all(self) -> Iterator[str]:
        """Every table, the advice first."""
        parts = [self.standing()]
        if self._progress.whole.met:
            tables = [self.table(kind) for kind in _HEADINGS]
            parts += [
                self.neck(),
                *tables,
                self.keys(),
                self.forecast(),
                self.weeks(),
                self.mixups(),
                self.calibration(),
            ]
        for number, part in enumerate(parts):
            yield from ("",) * bool(number)
            for line in part:
                yield from wrapped(line, self._width)

    def standing(self) -> Iterator[str]:
        """The deck in two lines, and the one thing to drill next."""
        whole, weakest = self._progress.whole, self._progress.weakest
        yield f"{self._progress.deck.title}: {_states(whole)}."
        yield f"Drill next: {self._words(weakest.label)}. {self._words(weakest.why)}"
        yield f"    {self._progress.command(weakest.focus)}"

    def neck(self) -> Iterator[str]:
        """The map of strength."""
        strengths = {spot: row.strength for spot, row in self._progress.spots.items()}
        yield "Strength by spot, in per cent; a dot has not been asked yet."
        yield from plain(NeckMap(self._progress.deck.neck, strengths, self._look, self._width).draw()).splitlines()

    def table(self, kind: Kind) -> Iterator[str]:
        """Strength and speed by string, key, shape or family, and the row to drill next."""
        rows = self._progress.table(kind)
        if not rows:
            return
        heads = (_HEADINGS[kind], "cards", "met", "fading", "slow", "strength", "speed", "target")
        yield from aligned(heads, [self._cells(row) for row in rows])
        weakest = self._progress.weakest_of(kind)
        if weakest is not None:
            yield f"Drill next: {self._words(weakest.label)}: {self._progress.command(weakest.focus)}"

    def keys(self) -> Iterator[str]:
        """Readiness of the everyday keys and what holds each back."""
        progress = self._progress
        yield (
            f"Readiness: the chance that all it takes to play in a key in both shapes comes right, each within one bar "
            f"({progress.bar_s:.1f} s at {progress.settings.tempo_bpm} bpm)."
        )
        yield from aligned(("Key", "ready", "held back by"), [self._key_cells(key) for key in progress.keys])
        if progress.keys:
            least = min(progress.keys, key=lambda key: (not key.met, key.readiness))
            yield f"Drill next: {self._words(named_key(least.key))}: {self._progress.command(least.focus)}"

    def forecast(self) -> Iterator[str]:
        """What fades when."""
        counts = self._progress.forecast
        fading = self._progress.whole.count("fading")
        yield f"Fading now: {fading}. Of those that hold now, so many fade in each of the next {len(counts)} days:"
        yield " ".join(str(count) for count in counts)
        if fading or any(counts):
            yield "Drill next: fretsure today"

    def weeks(self) -> Iterator[str]:
        """The trend of what was still known, and how fast."""
        heads = ("Week of", "drills", "answers", "known at first", "median time")
        yield from aligned(heads, [_period_cells(week) for week in self._progress.weeks[-LAST_WEEKS:]])

    def mixups(self) -> Iterator[str]:
        """What was confused with what, and the drill that cures it."""
        if not self._progress.mixups:
            yield "No mix-ups so far."
        for row in self._progress.mixups:
            shown = shown_answer(row.card, row.given, self._look.language)
            yield f"Mixed up {times_in_words(row.times)}: {row.name}."
            yield f"    {self._words(row.card.prompt)} You said {shown}. {self._words(row.sentence)}".rstrip()
            if row.focus is not None:
                yield f"    {self._progress.command(row.focus)}"

    def calibration(self) -> Iterator[str]:
        """Whether the predictions can be believed."""
        bins = self._progress.calibration
        if not bins:
            return
        answers = how_many(sum(each.answers for each in bins), "answer")
        yield (
            f"How far to trust these chances: over {answers}, they were off by "
            f"{100 * calibration_error(bins):.1f} points of a hundred on average."
        )

    def story(self, story: CardHistory) -> Iterator[str]:
        """One card: where it stands, why it is or is not asked, and its last answers."""
        known = story.standing
        yield self._words(story.card.prompt)
        yield f"{story.card.id}: {known.state}."
        yield story.why
        yield from (f"    It waits for {card}" for card in story.waits_for)
        yield (
            f"Strength {_chance(known.strength)}, about {known.speed_s:.1f} s of {known.item.target_s:.1f} s; "
            f"right and in time {_chance(known.fluent_chance)}."
        )
        if story.fades_at_s is not None:
            faded = story.fades_at_s <= self._progress.now_s
            yield "It has faded." if faded else f"It fades on {self._local(story.fades_at_s):%A, %d %B %Y, %H:%M}."
        yield f"Asked {times_in_words(known.asked)}, right {times_in_words(known.right)}."
        for row in story.history[-LAST_ANSWERS:]:
            shown = shown_answer(story.card, row.given, self._look.language)
            time = "" if row.thinking_ms is None else f", {row.thinking_ms / 1000:.1f} s"
            verdict = {True: "right", False: "wrong", None: "shown"}[row.correct]
            mixup = f" ({row.mixup})" if row.mixup else ""
            yield f"    {self._local(row.answered_at / 1000):%Y-%m-%d %H:%M} {verdict}: {shown}{time}{mixup}"

    def _words(self, sentence: str) -> str:
        return to_screen(sentence, self._look.language, self._numbers)

    def _cells(self, row: Row) -> tuple[str, ...]:
        counts = (row.cards, row.met, row.count("fading"), row.count("slow"))
        return (
            self._words(row.label),
            *map(str, counts),
            _chance(row.strength),
            _seconds(row.speed_s),
            _seconds(row.target_s),
        )

    def _key_cells(self, key: KeyReadiness) -> tuple[str, ...]:
        if not key.met:
            return self._words(named_key(key.key)), "-", "not asked yet"
        held_back = "; ".join(f"{brief(n.standing.entry)}: {_chance(n.in_time)}" for n in key.held_back_by[:2])
        return self._words(named_key(key.key)), _chance(key.readiness), held_back


def brief(entry: Entry) -> str:
    """A card of a key in a few words: what is asked, and on which string."""
    string = string_of(entry.facets)
    return FAMILIES[entry.item.family].title.lower() + (f", string {string}" if string else "")


def shown_answer(card: Card, given: str, language: NoteLanguage) -> str:
    """A recorded answer as a person reads it; one from a merged log may be no answer of this kind."""
    if not given:
        return "no answer"
    try:
        return visible(card.kind.show(given, language))
    except (FretsureError, ValueError, KeyError):
        return visible(given)


def aligned(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> Iterator[str]:
    """Columns under their heads: the first and the last flush left when it is words, numbers flush right."""
    columns = [[head, *cells] for head, *cells in zip(heads, *rows, strict=True)]
    widths = [max(map(len, column)) for column in columns]
    numeric = [all(cell[:1].isdecimal() or cell in ("", "-") for cell in column[1:]) for column in columns]
    for line in (heads, *rows):
        cells = (
            cell.rjust(width) if number else cell.ljust(width)
            for cell, width, number in zip(line, widths, numeric, strict=True)
        )
        yield "  ".join(cells).rstrip()


def _states(group: Group) -> str:
    met = f"{how_many(group.cards, 'card')}, {group.met} met"
    return f"{met}: {group.count('fading')} fading, {group.count('slow')} slow, {group.count('fluent')} fluent"


def _chance(chance: float | None) -> str:
    return "-" if chance is None else per_cent(chance)


def _seconds(seconds: float | None) -> str:
    return "-" if seconds is None else f"{seconds:.1f} s"


def _period_cells(period: Period) -> tuple[str, ...]:
    median = "-" if period.median_ms is None else f"{period.median_ms / 1000:.1f} s"
    return (
        period.start.isoformat(),
        str(period.drills),
        str(period.answers),
        _chance(period.first_right_share),
        median,
    )
