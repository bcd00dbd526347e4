"""Progress as JSON-able values, complete and exact. `MEANING` says what every key holds.

A key's path is written with dots; `[]` stands for the elements of a list.
"""

from __future__ import annotations

from typing import Any

from drill.decks import Focus
from drill.memory import TARGET_STRENGTH, Bin, calibration_error
from drill.present.dates import iso_utc
from drill.progress.card_history import CardHistory
from drill.progress.card_status import CardStatus, Group, Row, SpotRow
from drill.progress.history import MixupRow, Period
from drill.progress.readiness import KeyReadiness, Needed
from drill.progress.tables import Progress
from drill.questions.wording import to_ascii
from drill.record import AttemptRow

_GROUP = {
    "cards": "how many cards of the deck belong to it",
    "met": "how many of them were ever asked; the means below are over these, and null while there are none",
    "fading": "cards met whose strength has dropped below the target",
    "slow": "cards that hold but take longer than their target time",
    "fluent": "cards that hold and come within their target time",
    "strength": "mean chance of recall now, 0 to 1",
    "speed_s": "mean expected thinking time in seconds",
    "target_s": "mean target time in seconds",
    "fluent_chance": "mean chance of a right answer within the target time, 0 to 1",
}
_FOCUS = {
    "focus": "what to drill, as the options of `fretsure focus`: strings, keys, families, shapes",
    "command": "the command that drills it",
}
_CARD = {
    "card": "the card's id",
    "family": "its family's id",
    "prompt": "its question",
    "state": "fresh, fading, slow or fluent",
    "strength": "chance of recall now, 0 to 1; of a fresh card, the chance at first sight",
    "speed_s": "expected thinking time of a right answer, seconds",
    "target_s": "its target time, seconds",
    "fluent_chance": "chance of a right answer within the target time, 0 to 1",
    "asked": "how often it was answered",
    "right": "how many of those answers were right",
    "last_asked": "when it was last met, UTC; null if never",
}
_PERIOD = {
    "answers": "answers given",
    "right": "right answers",
    "first_answers": "answers that were a card's first of its day",
    "first_right": "how many of those were right",
    "median_ms": "median thinking time of right answers in milliseconds; null if none was measured",
    "drills": "drills with an answer in it",
}


def _under(path: str, keys: dict[str, str]) -> dict[str, str]:
    return {f"{path}.{key}": meaning for key, meaning in keys.items()}


MEANING: dict[str, str] = {
    "as_of": "the moment the figures hold for, UTC",
    "deck": "the deck's id",
    "title": "the deck's title",
    "tuning": "the tuning's id",
    "capo": "the fret the capo sits on; 0 for none",
    "tempo_bpm": "the learner's tempo in beats a minute",
    "bar_s": "one bar of four beats at that tempo, seconds",
    "target_strength": "the strength from which a card holds",
    "whole": "all cards of the deck together",
    **_under("whole", _GROUP),
    "weakest": "the one thing to drill next",
    "weakest.label": "what it is",
    "weakest.why": "why it comes first",
    **_under("weakest", _FOCUS),
    **{
        key: meaning
        for name, what in (
            ("strings", "strings, lowest first"),
            ("keys", "keys, in teaching order"),
            ("shapes", "shapes"),
            ("families", "families, in the order of the curriculum"),
        )
        for key, meaning in {
            name: f"one row for each of the deck's {what}",
            f"{name}[].name": "as `fretsure focus` takes it",
            f"{name}[].label": "as people say it",
            **_under(f"{name}[]", _GROUP | _FOCUS),
        }.items()
    },
    "spots": "the neck map: every spot the deck asks about",
    "spots[].string": "string, 1 is the highest",
    "spots[].fret": "fret, counted from the capo",
    **_under("spots[]", _GROUP | _FOCUS),
    "readiness": "the everyday keys in teaching order, each major key followed by its relative minor",
    "readiness[].key": "the key",
    "readiness[].readiness": "chance that all it takes to play in it comes right, each within one bar, 0 to 1",
    "readiness[].met": "how many of the needed cards were ever asked",
    **_under("readiness[]", _FOCUS),
    "readiness[].needed": "the cards it takes, weakest first",
    **_under("readiness[].needed[]", _CARD),
    "readiness[].needed[].in_time": "chance of a right answer within one bar, 0 to 1",
    "readiness[].needed[].asked_by_deck": "whether the deck asks this card",
    "readiness[].needed[].holds_back": "whether it is what holds the key back",
    "forecast": "how many cards that hold now fade in each of the coming days; the first is the next 24 hours",
    "weeks": "every week with an answer, oldest first",
    "weeks[].start": "its Monday, on the learner's calendar",
    **_under("weeks[]", _PERIOD),
    "mixups": "what was confused with what, the most frequent first",
    "mixups[].mixup": "its name",
    "mixups[].count": "how often",
    "mixups[].last": "when it last happened, UTC",
    "mixups[].card": "the card of the newest example, where it happens most",
    "mixups[].prompt": "that card's question",
    "mixups[].given": "what was answered",
    "mixups[].sentence": "what was confused, in words",
    "mixups[].focus": "the drill that cures it, null when the deck has none",
    "mixups[].command": "the command that drills it, null when the deck has none",
    "calibration": "how honest the predictions were",
    "calibration.answers": "answers that were predicted",
    "calibration.error": "mean distance between chance told and share right, 0 to 1; null with no answers",
    "calibration.bins": "answers gathered by the chance told, in twentieths",
    "calibration.bins[].answers": "how many",
    "calibration.bins[].told": "mean chance told before the answer",
    "calibration.bins[].came_right": "share that came right",
    "cards": "every card of the deck, in teaching order",
    **_under("cards[]", _CARD),
}
"""What every key of `fretsure progress --json` holds."""

STORY_MEANING: dict[str, str] = {
    **_CARD,
    "why": "why it is or is not what a drill asks next",
    "waits_for": "cards that must hold before it is asked for the first time",
    "first_asked": "when it was first met, UTC; null if never",
    "fades": "when its strength drops below the target, UTC; in the past or now if it has; null while it is fresh",
    "weakest_fact": "of several facts it rests on, the one remembered worst; null with fewer",
    "history": "its answers, oldest first",
    "history[].answered": "when, UTC",
    "history[].given": "what was answered, empty for none",
    "history[].right": "whether it was right; null where the answer was only shown",
    "history[].mixup": "the named mix-up, or null",
    "history[].thinking_ms": "thinking time in milliseconds, or null",
}
"""What every key of `fretsure progress --card ID --json` holds."""


def progress_object(progress: Progress) -> dict[str, Any]:
    """Everything, with the keys of `MEANING`."""
    return {
        "as_of": iso_utc(progress.now_s),
        "deck": progress.deck.id,
        "title": progress.deck.title,
        "tuning": progress.deck.neck.tuning.id,
        "capo": progress.deck.neck.capo,
        "tempo_bpm": progress.settings.tempo_bpm,
        "bar_s": progress.bar_s,
        "target_strength": TARGET_STRENGTH,
        "whole": group_object(progress.whole),
        "weakest": {
            "label": to_ascii(progress.weakest.label),
            "why": to_ascii(progress.weakest.why),
            **_focus_object(progress.weakest.focus, progress),
        },
        "strings": [_row_object(row, progress) for row in progress.table("string")],
        "keys": [_row_object(row, progress) for row in progress.table("key")],
        "shapes": [_row_object(row, progress) for row in progress.table("shape")],
        "families": [_row_object(row, progress) for row in progress.table("family")],
        "spots": [_spot_object(row, progress) for row in progress.spots.values()],
        "readiness": [_readiness_object(key, progress) for key in progress.keys],
        "forecast": list(progress.forecast),
        "weeks": [period_object(week) for week in progress.weeks],
        "mixups": [_mixup_object(row, progress) for row in progress.mixups],
        "calibration": _calibration_object(progress.calibration),
        "cards": [card_object(standing, progress) for standing in progress.standings],
    }


def story_object(story: CardHistory, progress: Progress) -> dict[str, Any]:
    """One card, with the keys of `STORY_MEANING`."""
    return {
        **card_object(story.standing, progress),
        "why": story.why,
        "waits_for": list(story.waits_for),
        "first_asked": iso_utc(story.standing.first_s),
        "fades": iso_utc(story.fades_at_s),
        "weakest_fact": story.weakest_fact,
        "history": [_attempt_object(row) for row in story.history],
    }


def group_object(group: Group) -> dict[str, Any]:
    return {
        "cards": group.cards,
        "met": group.met,
        "fading": group.count("fading"),
        "slow": group.count("slow"),
        "fluent": group.count("fluent"),
        "strength": group.strength,
        "speed_s": group.speed_s,
        "target_s": group.target_s,
        "fluent_chance": group.fluent_chance,
    }


def card_object(standing: CardStatus, progress: Progress) -> dict[str, Any]:
    return {
        "card": standing.card,
        "family": standing.item.family,
        "prompt": to_ascii(progress.prompt(standing.entry)),
        "state": standing.state,
        "strength": standing.strength,
        "speed_s": standing.speed_s,
        "target_s": standing.item.target_s,
        "fluent_chance": standing.fluent_chance,
        "asked": standing.asked,
        "right": standing.right,
        "last_asked": iso_utc(standing.last_s),
    }


def period_object(period: Period) -> dict[str, Any]:
    return {
        "start": period.start.isoformat(),
        "answers": period.answers,
        "right": period.right,
        "first_answers": period.first_answers,
        "first_right": period.first_right,
        "median_ms": period.median_ms,
        "drills": period.drills,
    }


def _focus_object(focus: Focus | None, progress: Progress) -> dict[str, Any]:
    if focus is None:
        return {"focus": None, "command": None}
    return {"focus": focus.as_names(), "command": progress.command(focus)}


def _row_object(row: Row, progress: Progress) -> dict[str, Any]:
    return {"name": row.name, "label": to_ascii(row.label), **group_object(row), **_focus_object(row.focus, progress)}


def _spot_object(row: SpotRow, progress: Progress) -> dict[str, Any]:
    return {
        "string": row.spot.string,
        "fret": row.spot.fret,
        **group_object(row),
        **_focus_object(row.focus, progress),
    }


def _readiness_object(key: KeyReadiness, progress: Progress) -> dict[str, Any]:
    return {
        "key": key.key.name,
        "readiness": key.readiness,
        "met": key.met,
        **_focus_object(key.focus, progress),
        "needed": [_needed_object(needed, progress) for needed in key.needed],
    }


def _needed_object(needed: Needed, progress: Progress) -> dict[str, Any]:
    return {
        **card_object(needed.standing, progress),
        "in_time": needed.in_time,
        "asked_by_deck": needed.asked_by_deck,
        "holds_back": needed.holds_back,
    }


def _mixup_object(row: MixupRow, progress: Progress) -> dict[str, Any]:
    return {
        "mixup": row.name,
        "count": row.times,
        "last": iso_utc(row.last_at_ms / 1000),
        "card": row.card.id,
        "prompt": to_ascii(row.card.prompt),
        "given": row.given,
        "sentence": to_ascii(row.sentence),
        **_focus_object(row.focus, progress),
    }


def _calibration_object(bins: tuple[Bin, ...]) -> dict[str, Any]:
    return {
        "answers": sum(each.answers for each in bins),
        "error": calibration_error(bins) if bins else None,
        "bins": [{"answers": b.answers, "told": b.predicted, "came_right": b.observed} for b in bins],
    }


def _attempt_object(row: AttemptRow) -> dict[str, Any]:
    return {
        "answered": iso_utc(row.answered_at / 1000),
        "given": row.given,
        "right": row.correct,
        "mixup": row.mixup,
        "thinking_ms": row.thinking_ms,
    }
