"""Progress as JSON and as lines: complete, documented, and the same figures."""

from __future__ import annotations

import json
import re
import shlex
import sys
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

import pytest

from drill.cli.focus import read_focus
from drill.cli.parser import parse
from drill.cli.requests import FocusRequest
from drill.decks import Focus, load_deck
from drill.memory import State
from drill.present.figures import per_cent, seconds
from drill.progress import GROUPINGS, Progress
from drill.progress.card_history import card_history
from drill.progress.columns import CARD_HISTORY, PROGRESS, card_history_object, progress_object
from drill.progress.lines import Lines, answer_text
from drill.questions.wording import named_key, to_ascii, to_screen
from drill.settings import Settings
from drill.theory.keys import KEYS, parse_key
from drill.theory.names import NOTE_LANGUAGES, NoteLanguage
from drill.theory.neck import STANDARD, Neck
from tests.support.learners import beginner
from tests.support.meanings import meanings

DEEP = ("focus",)
"""Keys whose inside is explained in one sentence."""


def utc_time(at_s: float) -> datetime:
    return datetime.fromtimestamp(at_s, UTC)


def paths(value: Any, path: str = "") -> Iterator[str]:
    """The path of every key in a JSON value, as `meanings` writes them."""
    if isinstance(value, dict):
        for key, inner in value.items():
            own = f"{path}.{key}" if path else key
            yield own
            if key not in DEEP:
                yield from paths(inner, own)
    elif isinstance(value, list):
        for inner in value:
            yield from paths(inner, f"{path}[]")


@pytest.fixture(scope="module")
def told(progress: Progress) -> dict[str, Any]:
    """Progress as a program reads it."""
    value = json.loads(
        json.dumps(progress_object(progress)), parse_constant=lambda name: pytest.fail(f"{name} is no JSON")
    )
    assert isinstance(value, dict)
    return value


def test_every_key_is_documented_and_every_documented_key_is_there(told: dict[str, Any]) -> None:
    promised = meanings(PROGRESS)
    assert set(paths(told)) == set(promised)
    assert all(meaning and not meaning.endswith(".") for meaning in promised.values())
    assert set(State) == set(re.findall(r"\w+", promised["cards[].state"])) - {"or"}


def test_a_cards_keys_are_documented_too(progress: Progress) -> None:
    often = max(progress.statuses, key=lambda status: status.asked)
    told = card_history_object(card_history(often.card, progress), progress)
    assert set(paths(json.loads(json.dumps(told)))) == set(meanings(CARD_HISTORY))


def test_json_promises_no_date_that_the_screens_do_not_promise(progress: Progress) -> None:
    history = card_history(progress.statuses[0].card, progress)
    for days, told in ((27, True), (29, False)):
        ahead = history._replace(fades_at_s=progress.now_s + days * 86_400)
        assert bool(card_history_object(ahead, progress)["fades"]) is told


def test_json_holds_the_tables_to_the_last_digit(progress: Progress, told: dict[str, Any]) -> None:
    names = {"string": "strings", "key": "keys", "shape": "shapes", "family": "families"}
    for kind in GROUPINGS:
        for row, value in zip(progress.table(kind), told[names[kind]], strict=True):
            assert (value["name"], value["cards"], value["seen"]) == (row.name, row.cards, row.seen)
            assert (value["strength"], value["speed_s"]) == (row.strength, row.speed_s)
    assert [key["readiness"] for key in told["readiness"]] == [key.readiness for key in progress.keys]
    assert [card["strength"] for card in told["cards"]] == [s.strength for s in progress.statuses]
    assert told["forecast"] == list(progress.forecast)
    assert told["as_of"] == "2026-01-05T08:00:00.000Z"


def test_a_beginners_json_is_complete_as_well() -> None:
    fresh = beginner()
    fresh.__dict__["_counts"] = type("NoLog", (), {"weeks": (), "hows": (), "mixups": lambda self, deck: ()})()
    told = progress_object(fresh)
    assert told["whole"]["strength"] is None
    assert told["calibration"] == told["calibration_in_time"] == {"answers": 0, "error": None, "bins": []}
    assert told["weakest"]["command"] == f"fretsure focus --family {fresh.statuses[0].item.family}"


def test_lines_say_what_json_says(progress: Progress, told: dict[str, Any]) -> None:
    text = "\n".join(Lines(progress, utc_time).all())
    weakest = progress.settings.voice.say(f"{progress.weakest.label}. {progress.weakest.why}")
    assert to_ascii(f"{progress.weakest.label}. {progress.weakest.why}") == (
        f"{told['weakest']['label']}. {told['weakest']['why']}"
    )
    assert f"Drill next: {weakest}" in text
    for string in told["strings"]:
        [line] = [line for line in text.splitlines() if line.startswith(string["label"])]
        assert f" {string['cards']} " in line
        assert f" {per_cent(string['strength'])} " in line
    unmet = [named_key(parse_key(key["key"])) for key in told["readiness"] if not key["seen"]]
    asked_later = [line for line in text.splitlines() if line.endswith("not measured yet")]
    assert [line.split("  ")[0] for line in asked_later] == [to_screen(key, "english") for key in unmet]
    for honesty in (told["calibration"], told["calibration_in_time"]):
        assert f"they were off by {100 * honesty['error']:.1f} percentage points" in text
    for mixup in told["mixups"]:
        times = {1: "once", 2: "twice"}.get(mixup["count"], f"{mixup['count']} times")
        assert f"Mixed up {times}: {mixup['mixup']}, {per_cent(mixup['rate'])} of " in text


def typed_focus(command: str, language: NoteLanguage = "english") -> Focus:
    """What `fretsure` makes of a command that begins with the word focus."""
    request = parse(shlex.split(command)).request
    assert isinstance(request, FocusRequest)
    return read_focus(request, Settings(note_language=language))


def test_every_command_that_is_offered_can_be_given_as_it_stands(progress: Progress) -> None:
    text = "\n".join(Lines(progress, utc_time).all())
    offered = re.findall(r"fretsure (focus .*)", text)
    assert len(offered) > 10
    for each in offered:
        assert progress.deck.focused(typed_focus(each)).entries


@pytest.mark.parametrize("language", NOTE_LANGUAGES)
def test_a_key_is_offered_and_taken_in_the_note_language_of_the_learner(language: NoteLanguage) -> None:
    told = beginner(settings=Settings(note_language=language))
    for key in KEYS:
        offered = told.command(Focus(keys=(key,)))
        assert offered.isascii()
        assert typed_focus(offered.removeprefix("fretsure "), language) == Focus(keys=(key,))


@pytest.mark.parametrize("width", [40, 80])
def test_nothing_runs_over_the_edge_of_the_terminal(progress: Progress, width: int) -> None:
    assert max(map(len, Lines(progress, utc_time, width).all())) <= width


def test_the_learners_own_words_and_signs(progress: Progress) -> None:
    german = progress.settings._replace(note_language="german")
    shown = replace(progress, settings=german)
    text = "\n".join(Lines(shown, utc_time).keys())
    assert "B minor" in text  # the German B is B♭, the H is B
    assert "H minor" in text
    assert "⟦" not in "\n".join(Lines(shown, utc_time).all())


def test_a_beginner_is_told_where_to_begin_and_nothing_else() -> None:
    fresh = beginner(settings=Settings())
    lines = list(Lines(fresh, utc_time).all())
    assert lines[0].endswith(": 0 of 112 cards asked so far.")
    assert lines[-1] == f"    fretsure focus --family {fresh.statuses[0].item.family}"
    assert len(lines) == 3


def test_a_card_in_lines(progress: Progress) -> None:
    often = max(progress.statuses, key=lambda status: status.asked)
    text = "\n".join(Lines(progress, utc_time).card_history(card_history(often.card, progress)))
    asked = f"Asked {often.asked} times, right {often.right} times."
    assert f"{asked} These times include reading and the key press." in text
    assert f"Strength {per_cent(often.strength)}" in text
    low, high = progress.learner.usual_speed(often.item, progress.now_s)
    assert low < often.speed_s < high
    assert f"two right answers in three take {seconds(low)} to {seconds(high)}" in text
    slower = progress.learner.slower_when_cold
    assert slower is not None
    assert f"has not brought up yet takes you about {per_cent(slower)} longer." in text
    assert text.count("\n    20") == 10  # the last ten answers, each with its date


def test_a_day_of_the_month_has_no_leading_zero(progress: Progress) -> None:
    history = card_history(progress.statuses[0].card, progress)
    third = datetime(2026, 2, 3, 9, 5, tzinfo=UTC).timestamp()
    soon = history._replace(fades_at_s=third)
    lines = Lines(replace(progress, now_s=third - 1), utc_time).card_history(soon)
    assert "It fades on Tuesday, 3 February 2026, 09:05." in lines


def test_answers_that_are_none_of_the_card_are_shown_as_they_are(progress: Progress) -> None:
    card = load_deck("naturals", Neck(STANDARD)).card("note-at-fret:string=6:fret=3")
    assert answer_text(card, "Bb", "english") == "B♭"
    assert answer_text(card, "", "english") == "no answer"
    assert answer_text(card, "fretboard?", "english") == "fretboard?"


def test_a_focus_as_a_command(progress: Progress, monkeypatch: pytest.MonkeyPatch) -> None:
    [row] = [row for row in progress.table("key") if row.name == "F# minor"]
    assert progress.command(row.focus) == 'fretsure focus --key "F# minor"'
    mine = replace(progress, deck_option="my own.toml")
    monkeypatch.setattr(sys, "platform", "linux")
    assert mine.command(row.focus) == "fretsure focus --key \"F# minor\" --deck 'my own.toml'"
    monkeypatch.setattr(sys, "platform", "win32")
    assert mine.command(row.focus) == 'fretsure focus --key "F# minor" --deck "my own.toml"'
