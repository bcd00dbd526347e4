"""The verdict's own view: what was said before never shows through, whatever is painted of it."""

from __future__ import annotations

import pytest
from textual.app import App, ComposeResult
from textual.content import Content

from drill.decks import load_deck
from drill.present.verdicts import Verdict
from drill.settings import Settings
from drill.theory.neck import STANDARD, Neck
from drill.tui.verdict_text import solved_content, verdict_content
from drill.tui.widgets.verdict_view import VerdictView
from tests.support.screens import shown, until

ROOM = 4
LONG = "one two three four five six seven"


class Showing(App[None]):
    """Nothing but the view, in a room of four rows of twenty cells."""

    CSS = f"VerdictView {{ width: 20; height: {ROOM}; }}"

    def compose(self) -> ComposeResult:
        yield VerdictView()


@pytest.mark.parametrize("sequence", [["a\nb\nc", "d"], [LONG, "", "e"], ["", LONG], [LONG, "f\n\ng", LONG]])
async def test_each_verdict_replaces_the_one_before(sequence: list[str]) -> None:
    app = Showing()
    async with app.run_test(size=(30, ROOM)) as pilot:
        for words in sequence:
            app.query_one(VerdictView).put(Content(words), ROOM)
            await until(pilot, lambda words=words: shown(app).split() == words.split())  # type: ignore[misc]
        assert not app.query_one(VerdictView).has_class("long")


class Growing(Showing):
    """The same, but what is long takes the rows that it needs."""

    CSS = "VerdictView { width: 20; height: 1; } VerdictView.long { height: auto; }"


async def test_what_is_longer_still_than_what_was_long_is_shown_whole() -> None:
    app = Growing()
    async with app.run_test(size=(30, 8)) as pilot:
        for words in ("a\nb\nc", "a\nb\nc\nd\ne", "f"):
            app.query_one(VerdictView).put(Content(words), 1)
            await until(pilot, lambda words=words: shown(app).split() == words.split())  # type: ignore[misc]


async def test_what_does_not_fit_is_marked_long() -> None:
    app = Showing()
    async with app.run_test(size=(30, ROOM)):
        view = app.query_one(VerdictView)
        view.put(Content(LONG), 1)
        assert view.has_class("long")
        view.put(Content("short"), 1)
        assert not view.has_class("long")


def test_a_solved_card_is_new_once_and_then_comes_again() -> None:
    card = next(iter(load_deck("naturals", Neck(STANDARD)).cards()))
    assert [solved_content(card, Settings(), new=new).plain.split()[0] for new in (True, False)] == ["New:", "Idea:"]


@pytest.mark.parametrize(
    ("right", "is_new", "next_question", "explained"),
    [
        (True, False, "by itself", False),
        (True, False, "on enter", True),
        (True, True, "by itself", True),
        (False, False, "by itself", True),
    ],
)
def test_a_reason_is_given_where_there_is_time_to_read_it(
    right: bool, is_new: bool, next_question: str, explained: bool
) -> None:
    card = next(iter(load_deck("naturals", Neck(STANDARD)).cards()))
    given = card.accepts[0] if right else None
    verdict = Verdict(card, False, right, given, (), 1.0, 1.5, False, 0.5, is_new=is_new)
    said = verdict_content(verdict, Settings(next_question=next_question)).plain
    assert ("Why:" in said) == explained
