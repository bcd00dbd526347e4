"""Progress as lines of text for a terminal or a screen reader: tables of eighty columns, each with the next drill."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import datetime
from typing import Any

from drill.decks import Focus
from drill.errors import FretsureError
from drill.memory.constants import DAY_S
from drill.present.dates import in_sight
from drill.present.figures import how_many, per_cent, seconds
from drill.present.neck_drawing import NeckMap, plain
from drill.present.tables import Columns, text_table
from drill.progress.card_history import CardHistory
from drill.progress.card_status import GROUPINGS, CardStatus, Grouping
from drill.progress.columns import KEYS, ROUNDS, ROWS, WEEKS
from drill.progress.history import FROM_QUESTION_TO_KEY, trend_sentence, with_gaps
from drill.progress.hows import how_sentence
from drill.progress.overview import Progress
from drill.questions.card import Card
from drill.questions.wording import named_key, times_in_words
from drill.record import AttemptRow
from drill.system.text import visible, wrapped
from drill.theory.names import NoteLanguage

LAST_WEEKS = 12
LAST_ANSWERS = 10
UNUSUAL = 0.2
"""Log-odds for each ln(1 + misses) from which a learner is said to learn more, or less, from a corrected miss."""
NOTICED = 0.05
"""The share of its time, longer than which the first answer of a drill is said to take."""
_VERDICTS = {True: "right", False: "wrong", None: "shown"}


class Lines:
    """Writes progress in the learner's note language; `local` gives a moment (epoch seconds) on their calendar."""

    def __init__(self, progress: Progress, local: Callable[[float], datetime], width: int | None = None) -> None:
        self._progress, self._local, self._width = progress, local, width
        self._look = progress.settings.look

    def all(self) -> Iterator[str]:
        """Every table, the advice first."""
        parts = [self.summary()]
        if self._progress.whole.seen:
            tables = [self.table(by) for by in GROUPINGS]
            parts += [self.neck(), *tables, self.keys(), self.forecast(), self.weeks()]
            parts += [self.mixups(), self.calibration()]
        if self._progress.landings:
            parts.append(self.rounds())
        for number, part in enumerate(parts):
            if number:
                yield ""
            for line in part:
                yield from wrapped(line, self._width)

    def summary(self) -> Iterator[str]:
        """The deck in one line, and the one thing to drill next."""
        whole, weakest = self._progress.whole, self._progress.weakest
        yield f"{self._progress.deck.title}: {whole.seen} of {how_many(whole.cards, 'card')} asked so far."
        yield f"Drill next: {self._words(weakest.label)}. {self._words(weakest.why)}"
        yield f"    {self._progress.command(weakest.focus)}"

    def neck(self) -> Iterator[str]:
        """The map of strength."""
        strengths = {spot: row.recall for spot, row in self._progress.spots.items()}
        yield "Strength by spot, in per cent; a dot has not been asked yet."
        yield from plain(NeckMap(self._progress.deck.neck, strengths, self._look, self._width).draw()).splitlines()

    def table(self, by: Grouping) -> Iterator[str]:
        """Strength and speed by string, key, shape or family, and the row to drill next."""
        rows = self._progress.table(by)
        if not rows:
            return
        yield from self._table(ROWS[by], rows)
        weakest = self._progress.weakest_of(by)
        if weakest is not None and by != "key":  # the least ready key stands below what shows how ready it is
            yield self._drill_next(weakest.label, weakest.focus)

    def keys(self) -> Iterator[str]:
        """Readiness of the everyday keys and what holds each back."""
        progress = self._progress
        yield (
            "Readiness: the chance that all it takes to play in a key in both shapes comes right a day after your "
            f"latest drill, each within one bar ({seconds(progress.bar_s)} at {progress.settings.tempo_bpm} bpm)."
        )
        heard = any(row.played for row in progress.keys_as_played)
        columns = KEYS if heard else tuple(column for column in KEYS if column.key != "as_played")
        yield from self._table(columns, progress.keys_as_played)
        if heard:
            yield "As played: of the last calls in rounds in which a note was heard, those landed on in time."
        if progress.keys:
            least = progress.least_ready or progress.keys[0]
            yield self._drill_next(named_key(least.key), least.focus)

    def forecast(self) -> Iterator[str]:
        """How many cards fade on each coming day."""
        counts, whole = self._progress.forecast, self._progress.whole
        ahead = [f"{self._day(days)} {count}" for days, count in enumerate(counts, start=1) if count]
        if ahead:
            yield f"Without a drill, this many more cards will have faded by: {', '.join(ahead)}."
        else:
            yield nothing_more_fades(self._progress)
        if whole.fading or whole.never_right or ahead:
            yield "Drill next: fretsure today"

    def _day(self, days: int) -> str:
        """The day after so many days: 'Tue 6 Jan'."""
        day = self._local(self._progress.now_s + days * DAY_S)
        return f"{day:%a} {day.day} {day:%b}"

    def weeks(self) -> Iterator[str]:
        """The trend: how much was still known, and how fast."""
        if grown := trend_sentence(self._progress.weeks):
            yield grown
        if how := how_sentence(self._progress.hows):
            yield how
        weeks = with_gaps(self._progress.weeks, self._local(self._progress.now_s).date())
        yield from self._table(WEEKS, weeks[-LAST_WEEKS:])

    def mixups(self) -> Iterator[str]:
        """What was confused with what, and the drill that cures it."""
        if not self._progress.mixups:
            yield "No recognised mix-ups."
        for row in self._progress.mixups:
            answer = answer_text(row.card, row.given, self._look.language)
            of = f"{per_cent(row.rate)} of {how_many(row.opportunities, 'answer')} where it can happen"
            yield f"Mixed up {times_in_words(row.times)}: {row.name}, {of}."
            yield f"    {self._words(row.card.prompt)} You said {answer}. {self._words(row.sentence)}".rstrip()
            if row.focus is not None:
                yield f"    {self._progress.command(row.focus)}"

    def calibration(self) -> Iterator[str]:
        """How far the predictions can be trusted."""
        recall, in_time = self._progress.calibration.recall, self._progress.calibration.in_time
        if recall.error is not None:
            yield (
                f"How far to trust these chances: over {how_many(recall.answers, 'answer')}, they were off by "
                f"{100 * recall.error:.1f} percentage points on average."
            )
        if in_time.error is not None:
            yield (
                f"Of a right answer in time, over {how_many(in_time.answers, 'answer')} whose time was measured, "
                f"they were off by {100 * in_time.error:.1f} percentage points on average."
            )

    def rounds(self) -> Iterator[str]:
        """What was landed on in rounds."""
        yield "Landed on in rounds of keys; this stands apart and moves no strength."
        yield from self._table(ROUNDS, self._progress.landings)

    def card_history(self, history: CardHistory) -> Iterator[str]:
        """One card: how well it is known, why it is or is not asked, and its last answers."""
        status = history.status
        yield self._words(history.card.prompt)
        yield f"{history.card.id}: {'not right yet' if status.never_right else status.state}."
        yield history.why
        yield from (f"    It waits for {card}" for card in history.waits_for)
        speed, target = seconds(status.speed_s), seconds(status.item.target_s)
        chance = per_cent(status.fluent_chance)
        yield f"Strength {per_cent(status.strength)}; about {speed}, target {target}; right and in time: {chance}."
        yield from self._of_the_learner(status) if status.seen else ()
        if history.fades_at_s is not None and not status.never_right:
            faded = history.fades_at_s <= self._progress.now_s
            yield "It has faded." if faded else self._fades(history.fades_at_s)
        timed = any(row.thinking_ms is not None for row in history.attempts[-LAST_ANSWERS:])
        asked = f"Asked {times_in_words(status.asked)}, right {times_in_words(status.right)}."
        yield f"{asked} {FROM_QUESTION_TO_KEY}" if timed else asked
        yield from (self._attempt(history.card, row) for row in history.attempts[-LAST_ANSWERS:])

    def _fades(self, at_s: float) -> str:
        """When a card fades, as far as a date may be promised."""
        if not in_sight(at_s, self._progress.now_s):
            return "It holds for more than four weeks."
        at = self._local(at_s)
        return f"It fades on {at:%A}, {at.day} {at:%B %Y, %H:%M}."

    def _of_the_learner(self, status: CardStatus) -> Iterator[str]:
        """What in these figures is the learner's own."""
        learner = self._progress.learner
        low, high = map(seconds, learner.usual_speed(status.item, self._progress.now_s))
        yield f"Judging by how your times vary, two right answers in three take {low} to {high}."
        slower = learner.slower_when_cold
        if slower is not None and slower >= NOTICED:
            yield f"What a drill has not brought up yet takes you about {per_cent(slower)} longer."
        if status.asked > status.right and abs(learner.taught_by_misses) > UNUSUAL:
            more = "more" if learner.taught_by_misses > 0 else "less"
            yield f"It was missed before, and a corrected miss teaches you {more} than it teaches most people."

    def _attempt(self, card: Card, row: AttemptRow) -> str:
        answer = answer_text(card, row.given, self._look.language)
        time = "" if row.thinking_ms is None else f", {seconds(row.thinking_ms / 1000)}"
        mixup = f" ({row.mixup})" if row.mixup else "" if row.how == "typed" else f" ({row.how})"
        return (
            f"    {self._local(row.answered_at / 1000):%Y-%m-%d %H:%M} {_VERDICTS[row.correct]}: {answer}{time}{mixup}"
        )

    def _drill_next(self, label: str, focus: Focus) -> str:
        return f"Drill next: {self._words(label)}: {self._progress.command(focus)}"

    def _table(self, columns: Columns, rows: Iterable[Any]) -> Iterator[str]:
        return text_table(columns, rows, self._words)

    def _words(self, sentence: str) -> str:
        return self._progress.settings.voice.say(sentence)


def nothing_more_fades(progress: Progress) -> str:
    """What is said where the forecast is empty: of the cards that hold; others may have faded already."""
    days, whole = len(progress.forecast), progress.whole
    wrong = f"{how_many(whole.never_right, 'card is', 'cards are')} not right yet. " if whole.never_right else ""
    if not whole.fading:
        return f"{wrong}Nothing is expected to fade in the next {days} days."
    now = f"{how_many(whole.fading, 'card is', 'cards are')} fading now"
    return f"{wrong}{now}; no other will in the next {days} days."


def answer_text(card: Card, given: str, language: NoteLanguage) -> str:
    """A recorded answer as a person reads it; one from a merged log may be no answer of this kind."""
    if not given:
        return "no answer"
    try:
        return visible(card.kind.show(given, language))
    except (FretsureError, ValueError, KeyError):
        return visible(given)
