"""The tables of progress, each column declared once: JSON key, meaning, kind of cell, heading.

`PROGRESS` is everything that `fretsure progress --json` prints, `CARD_HISTORY` what it prints with `--card`; the tables
for people (`ROWS`, `KEYS`, `WEEKS`) are made of the same columns.
"""

from __future__ import annotations

from typing import Any

from drill.decks import Entry
from drill.memory import TARGET_STRENGTH, State
from drill.present.dates import in_sight
from drill.present.figures import per_cent
from drill.present.tables import EXACT, Column, Columns, Kind, Writers, as_object, inside, pick
from drill.progress.card_history import CardHistory
from drill.progress.card_status import Grouping
from drill.progress.overview import Progress
from drill.progress.readiness import KeyReadiness
from drill.questions.catalogue import FAMILIES
from drill.questions.facets import string_of
from drill.questions.wording import named_key, to_ascii

MOST_HELD_BACK = 2
"""How many of the cards that hold a key back tables for people name, weakest first."""

PLAIN, SENTENCE, INTEGER, YES_NO = Kind.PLAIN, Kind.SENTENCE, Kind.INTEGER, Kind.YES_NO
SHARE, SECONDS, MILLISECONDS, DAY, MOMENT = Kind.SHARE, Kind.SECONDS, Kind.MILLISECONDS, Kind.DAY, Kind.MOMENT


def brief(entry: Entry) -> str:
    """A card of a key in a few words: what is asked, and on which string."""
    string = string_of(entry.facets)
    return FAMILIES[entry.item.family].title.lower() + (f", string {string}" if string else "")


def _focus_names(row: Any) -> dict[str, list[str | int]] | None:
    return None if row.focus is None else row.focus.as_names()


def _held_back_by(row: KeyReadiness) -> str:
    if not row.asked:
        return "not measured yet"
    if row.in_part:
        return measured_words(row)
    weakest = row.held_back_by[:MOST_HELD_BACK]
    return "; ".join(f"{brief(needed.status.entry)}: {per_cent(needed.in_time)}" for needed in weakest)


def measured_words(row: KeyReadiness) -> str:
    """How much of what a key takes is measured: '2 of 4 measured'."""
    return "{} of {} measured".format(*row.parts)


def _as_played(row: KeyReadiness) -> str | None:
    return f"{row.played.in_time} of {row.played.calls}" if row.played else None


FOCUS: Columns = (
    Column("focus", "what to drill, as the options of `fretsure focus`: strings, keys, families, shapes", PLAIN,
           _focus_names),
    Column("command", "the command that drills it", Kind.COMMAND, "focus"),
)  # fmt: skip
GROUP: Columns = (
    Column("cards", "how many cards of the deck belong to it", INTEGER, heading="cards"),
    Column("seen", "how many of them were ever asked; the means below are over these, and null while there are none",
           INTEGER, heading="asked"),
    Column("never_right", "cards seen that have not come right yet", INTEGER),
    Column("fading", "cards seen that came right, and whose strength has dropped below the target", INTEGER,
           heading="fading"),
    Column("slow", "cards that hold but take longer than their target time", INTEGER, heading="slow"),
    Column("fluent", "cards that hold and come within their target time", INTEGER),
    Column("strength", "mean chance of recall now, 0 to 1; a card that never came right counts 0", SHARE,
           heading="strength"),
    Column("speed_s", "mean expected thinking time in seconds", SECONDS, heading="time"),
    Column("target_s", "mean target time in seconds", SECONDS, heading="target"),
    Column("fluent_chance", "mean chance of a right answer within the target time, 0 to 1", SHARE),
)  # fmt: skip


def _row(heading: str) -> Columns:
    return (
        Column("name", "as `fretsure focus` takes it"),
        Column("label", "as people say it", SENTENCE, heading=heading),
        *GROUP,
        *FOCUS,
    )


ROWS: dict[Grouping, Columns] = {
    "string": _row("String"),
    "key": _row("Key"),
    "shape": _row("Shape"),
    "family": _row("Family"),
}
SPOT: Columns = (
    Column("string", "string, 1 is the highest", INTEGER, "spot.string"),
    Column("fret", "fret, counted from the capo", INTEGER, "spot.fret"),
    *GROUP,
    *FOCUS,
)
CARD: Columns = (
    Column("card", "the card's id"),
    Column("family", "its family's id", PLAIN, "item.family"),
    Column("prompt", "its question", Kind.PROMPT, "entry"),
    Column("state", "fresh, fading, slow or fluent", choices=tuple(State)),
    Column(
        "strength",
        "chance of recall now, 0 to 1: 0 while it was asked and never came right; of a fresh card, the "
        "chance at first sight",
        SHARE,
    ),
    Column("speed_s", "expected thinking time of a right answer, seconds", SECONDS),
    Column("target_s", "its target time, seconds", SECONDS, "item.target_s"),
    Column("fluent_chance", "chance of a right answer within the target time, 0 to 1", SHARE),
    Column("asked", "how often it was answered", INTEGER),
    Column(
        "right",
        "how many of those answers were right; with none, groups count it as never_right, not as fading",
        INTEGER,
    ),
    Column("last_asked", "when it was last asked, UTC; null if never", MOMENT, "last_s", nullable=True),
)
NEEDED: Columns = (
    *inside("status", CARD),
    Column("in_time", "chance of a right answer within one bar, 0 to 1", SHARE),
    Column("asked_by_deck", "whether the deck asks this card", YES_NO),
    Column("holds_back", "whether it holds the key back", YES_NO),
)
READINESS: Columns = (
    Column("key", "the key", PLAIN, "key.name"),
    Column("readiness", "chance that all it takes to play in it comes right, each within one bar, 0 to 1", SHARE),
    Column("seen", "how many of the needed cards were ever asked", INTEGER),
    Column("asked", "whether a card about this very key was ever asked; without, readiness is a guess", YES_NO),
    Column("heard_calls", "how many of its latest calls in rounds were heard, ten at most; null if none was", INTEGER,
           lambda row: row.played and row.played.calls, nullable=True),
    Column("heard_in_time", "how many of those calls were landed on in time: readiness as played", INTEGER,
           lambda row: row.played and row.played.in_time, nullable=True),
    *FOCUS,
    Column("needed", "the cards it takes, weakest first", Kind.ROWS, columns=NEEDED),
)  # fmt: skip
KEYS: Columns = (
    Column("key", "the key", SENTENCE, lambda row: named_key(row.key), "Key"),
    Column("readiness", "as in READINESS, none before all it takes was measured", SHARE,
           "shown", "ready"),
    Column("as_played", "how many of its latest heard calls in rounds were landed on in time", PLAIN,
           _as_played, "as played"),
    Column("held_back_by", "the weakest of the cards it takes", SENTENCE, _held_back_by, "held back by"),
)  # fmt: skip
"""Readiness for people."""
PERIOD: Columns = (
    Column("start", "its Monday, on the learner's calendar", DAY, heading="Week of"),
    Column("answers", "answers given", INTEGER, heading="answers"),
    Column("right", "right answers", INTEGER),
    Column("first_answers", "typed answers that were a card's first of its day", INTEGER),
    Column("first_right", "how many of those were right", INTEGER),
    Column("median_ms", "median thinking time of right answers in milliseconds; null if none was measured",
           MILLISECONDS, nullable=True),
    Column("drills", "drills with an answer in it", INTEGER, heading="drills"),
)  # fmt: skip
WEEKS: Columns = (
    *pick(PERIOD, "start", "drills", "answers"),
    Column(
        "first_right_share",
        "share of typed first answers of a day that were right",
        SHARE,
        heading="typed, right at first",
    ),
    Column("median_s", "median thinking time of right answers in seconds", SECONDS, heading="time"),
)
"""Weeks for people."""
MIXUP: Columns = (
    Column("mixup", "its name", PLAIN, "name"),
    Column("count", "how often", INTEGER, "times"),
    Column("opportunities", "how many answers were given to cards where it can happen", INTEGER),
    Column("rate", "the share of those answers that were this mix-up, 0 to 1", SHARE),
    Column("last", "when it last happened, UTC", MOMENT, lambda row: row.last_at_ms / 1000),
    Column("card", "the card of the newest example, where it happens most", PLAIN, "card.id"),
    Column("prompt", "that card's question", SENTENCE, "card.prompt"),
    Column("given", "what was answered"),
    Column("sentence", "what was confused, in words", SENTENCE),
    Column("focus", "the drill that cures it, null when the deck has none", PLAIN, _focus_names),
    Column("command", "the command that drills it, null when the deck has none", Kind.COMMAND, "focus"),
)
BIN: Columns = (
    Column("answers", "how many", INTEGER),
    Column("predicted", "mean chance predicted before the answer", SHARE),
    Column("observed", "share of answers that came out so", SHARE),
)
CALIBRATION: Columns = (
    Column("answers", "answers that were predicted", INTEGER),
    Column("error", "mean distance between chance predicted and share observed, 0 to 1; null with no answers", SHARE),
    Column("bins", "answers grouped by the chance predicted, in twentieths", Kind.ROWS, columns=BIN),
)  # fmt: skip
HOW: Columns = (
    Column("how", "typed, played on the guitar, or self-checked"),
    Column("answers", "how many", INTEGER),
    Column("right", "how many of them were right", INTEGER),
    Column("median_s", "median thinking time of the right ones in seconds; null if none was measured", SECONDS,
           nullable=True),
)  # fmt: skip
LANDED: Columns = (
    Column("key", "the key whose tonic was landed on", PLAIN, "key.name"),
    Column("how", "heard, or self-checked: by the learner's own account"),
    Column("times", "how often it was landed on in rounds", INTEGER),
    Column("last", "when it was last landed on, UTC", MOMENT, lambda row: row.last_at_ms / 1000),
)
ROUNDS: Columns = (
    Column("key", "the key", SENTENCE, lambda row: named_key(row.key), "Key in rounds"),
    Column("times", "how often it was landed on", INTEGER, heading="landed on"),
    Column("how", "how that is known", heading="how known"),
)
"""Landings for people."""
WEAKEST: Columns = (
    Column("label", "what it is", SENTENCE),
    Column("why", "why it comes first", SENTENCE),
    *FOCUS,
)
ATTEMPT: Columns = (
    Column("answered", "when, UTC", MOMENT, lambda row: row.answered_at / 1000),
    Column("given", "what was answered, empty for none"),
    Column("right", "whether it was right; null where the answer was only shown", YES_NO, "correct"),
    Column("mixup", "the named mix-up, or null"),
    Column("how", "typed, or played on the guitar"),
    Column("thinking_ms", "thinking time in milliseconds, or null", MILLISECONDS),
)


def _grouped(key: str, of: str, by: Grouping) -> Column:
    meaning = f"one row for each of the deck's {of}"
    return Column(key, meaning, Kind.ROWS, lambda progress: progress.table(by), columns=ROWS[by])


PROGRESS: Columns = (
    Column("as_of", "the moment the figures hold for, UTC", MOMENT, "now_s"),
    Column("deck", "the deck's id", PLAIN, "deck.id"),
    Column("title", "the deck's title", PLAIN, "deck.title"),
    Column("tuning", "the tuning's id", PLAIN, "deck.neck.tuning.id"),
    Column("capo", "the fret the capo sits on; 0 for none", INTEGER, "deck.neck.capo"),
    Column("tempo_bpm", "the learner's tempo in beats a minute", INTEGER, "settings.tempo_bpm"),
    Column("bar_s", "one bar of four beats at that tempo, seconds", SECONDS),
    Column("target_strength", "the strength from which a card holds", SHARE, lambda progress: TARGET_STRENGTH),
    Column("whole", "all cards of the deck together", Kind.OBJECT, columns=GROUP),
    Column("weakest", "the one thing to drill next", Kind.OBJECT, columns=WEAKEST),
    _grouped("strings", "strings, lowest first", "string"),
    _grouped("keys", "keys, in teaching order", "key"),
    _grouped("shapes", "shapes", "shape"),
    _grouped("families", "families, in the order of the curriculum", "family"),
    Column("spots", "the neck map: every spot the deck asks about", Kind.ROWS,
           lambda progress: progress.spots.values(), columns=SPOT),
    Column("readiness", "the everyday keys in teaching order, each major key followed by its relative minor",
           Kind.ROWS, "keys_as_played", columns=READINESS),
    Column("forecast", "how many cards that hold now fade in each of the coming days; the first is the next 24 hours"),
    Column("weeks", "every week with an answer, oldest first", Kind.ROWS, columns=PERIOD),
    Column("mixups", "what was confused with what, what stands out most among slips first", Kind.ROWS, columns=MIXUP),
    Column("hows", "how the answers came, the most frequent way first; thinking times and mix-ups elsewhere are of "
           "typed ones", Kind.ROWS, columns=HOW),
    Column("landings", "the keys landed on in rounds, the most frequent first; they move no strength", Kind.ROWS,
           columns=LANDED),
    Column("calibration", "how far the predicted strengths can be trusted", Kind.OBJECT, "calibration.recall",
           columns=CALIBRATION),
    Column("calibration_in_time", "how far the predicted chances of a right answer within its target time can be "
           "trusted; of answers whose time was measured", Kind.OBJECT, "calibration.in_time", columns=CALIBRATION),
    Column("cards", "every card of the deck, in teaching order", Kind.ROWS, "statuses", columns=CARD),
)  # fmt: skip
CARD_HISTORY: Columns = (
    *inside("status", CARD),
    Column("why", "why it is or is not what a drill asks next"),
    Column("waits_for", "cards, never asked yet, that come before it the first time"),
    Column("first_asked", "when it was first asked, UTC; null if never", MOMENT, "status.first_s"),
    Column("fades", "when its strength drops below the target, UTC; in the past or now if it has; null while it is "
           "fresh, or holds for more than four weeks", MOMENT, "fades_at_s"),
    Column("weakest_fact", "of several facts it rests on, the one remembered worst; null with fewer", PLAIN,
           "weakest_fact"),
    Column("history", "its answers, oldest first", Kind.ROWS, "attempts", columns=ATTEMPT),
)  # fmt: skip


def exact_writers(progress: Progress) -> Writers:
    """How cells are written for programs, with the questions and commands of this learner."""
    return {
        **EXACT,
        Kind.PROMPT: lambda entry: to_ascii(progress.prompt(entry)),
        Kind.COMMAND: progress.command,
    }


def progress_object(progress: Progress) -> dict[str, Any]:
    """Everything, with the keys of `PROGRESS`."""
    return as_object(PROGRESS, progress, exact_writers(progress))


def card_history_object(history: CardHistory, progress: Progress) -> dict[str, Any]:
    """One card, with the keys of `CARD_HISTORY`."""
    fades_at_s = history.fades_at_s
    if fades_at_s is not None and not in_sight(fades_at_s, progress.now_s):
        history = history._replace(fades_at_s=None)
    return as_object(CARD_HISTORY, history, exact_writers(progress))
