"""Practice sheets: what is on one, that its answers are right, and that nothing on it can act."""

from __future__ import annotations

import io
import random
import re
import shlex
from html import unescape
from pathlib import Path

import pytest

from drill.cli.parser import parse
from drill.decks import Focus, load_deck
from drill.errors import CannotWrite, UsageProblem
from drill.export.sheet import MOST_NECKS, MOST_QUESTIONS, Exercise, is_drawn, mixed, sheet, weakest
from drill.progress import Progress
from drill.questions.facets import shape_of
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.neck import STANDARD, Neck
from tests.progress.worked import LOW_A, LOW_G, C, worked_progress
from tests.support.learners import beginner

TWO_SHAPES = load_deck("two-shapes", Neck(STANDARD))
HOSTILE = """title = "<script>alert(1)</script>{{ 7 * 7 }}"
about = "</p><img src=x onerror=alert(1)>"
by = "</title><b>Ms Adler"
note = "{% raw %}=1+1"
until = 2026-12-03
[[part]]
families = ["note-at-fret"]
"""


def plain(markup: str) -> str:
    return " ".join(unescape(re.sub(r"<style>.*?</style>|<[^>]*>", " ", markup, flags=re.DOTALL)).split())


def exercise(number: int = 7) -> Exercise:
    return Exercise.of(mixed(TWO_SHAPES, random.Random(number)))


def test_a_sheet_is_full_and_asks_nothing_twice_and_every_family() -> None:
    found = exercise()
    cards = [*found.on_necks, *found.written]
    assert (len(found.on_necks), len(found.written)) == (MOST_NECKS, MOST_QUESTIONS)
    assert len({card.id for card in cards}) == len(cards)
    assert {card.family for card in cards} == {entry.item.family for entry in TWO_SHAPES.entries.values()}
    assert exercise(8) != found, "another sheet asks other cards"


@pytest.mark.parametrize("deck", ["two-shapes", "five-shapes", "inside-the-shapes", "whole-neck"])
def test_where_in_a_shape_a_fret_lies_is_drawn_and_never_written(deck: str) -> None:
    loaded = load_deck(deck, Neck(STANDARD))
    found = Exercise.of(mixed(loaded, random.Random(3)))
    assert len(found.on_necks) == MOST_NECKS
    assert not [card.prompt for card in found.written if is_drawn(card) and shape_of(card.facets)]


def test_what_else_is_about_a_shape_has_a_neck_and_a_line_where_no_fret_is_asked() -> None:
    degrees = load_deck("five-shapes", Neck(STANDARD)).focused(Focus(families=("degree-at",)))
    found = Exercise.of(mixed(degrees, random.Random(3)))
    page = sheet(degrees, found, Settings(), weak=False, answers=False)
    assert {card.family for card in found.on_necks} == {"degree-at"}
    assert page.count('class="line"') == MOST_NECKS + MOST_QUESTIONS


def test_a_page_with_few_questions_has_room_for_one_neck_more() -> None:
    anchors = TWO_SHAPES.focused(Focus(families=("shape-anchor",)))
    found = Exercise.of(anchors.cards())
    assert (len(found.on_necks), found.written) == (MOST_NECKS + 1, ())


def test_every_neck_is_blank_and_asks_for_a_fret() -> None:
    found = exercise()
    page = sheet(TWO_SHAPES, found, Settings(), weak=False, answers=False)
    assert page.count('class="neck"') == MOST_NECKS
    assert 'class="spot' not in page
    assert all(card.accepts[0].isdecimal() for card in found.on_necks)
    assert page.count('class="line"') == MOST_QUESTIONS


def test_the_questions_stand_alone_and_the_answers_only_if_wanted() -> None:
    found, settings = exercise(), Settings()
    without = plain(sheet(TWO_SHAPES, found, settings, weak=False, answers=False))
    with_answers = plain(sheet(TWO_SHAPES, found, settings, weak=False, answers=True))
    assert "Answers" not in without
    questions, _, answers = with_answers.partition("Answers")
    for card in (*found.on_necks, *found.written):
        prompt = settings.voice.say(card.prompt)
        assert prompt in without
        assert prompt in questions
        shown = " or ".join(card.kind.show(answer, "english") for answer in card.accepts)
        assert f"{prompt} {shown}." in answers


def test_the_solved_neck_shows_the_dots_of_the_answer() -> None:
    found = exercise()
    page = sheet(TWO_SHAPES, found, Settings(), weak=False, answers=True).partition("<h2>Answers</h2>")[2]
    assert page.count('class="spot') == sum(len(card.answer_picture) for card in found.on_necks)


def test_the_weakest_come_first() -> None:
    progress = worked_progress()
    # chances of the worked progress: half of 0.9, 0.3 and 0.997
    assert [card.id for card in weakest(progress)] == [LOW_A, LOW_G, C]


def test_where_nothing_was_asked_nothing_is_weak() -> None:
    with pytest.raises(UsageProblem, match=r"nothing is weak\. Leave out --weakest\."):
        weakest(beginner())


def test_a_hostile_deck_can_do_nothing(tmp_path: Path) -> None:
    path = tmp_path / "hostile.toml"
    path.write_text(HOSTILE, encoding="utf-8")
    deck = load_deck(str(path), Neck(STANDARD))
    page = sheet(deck, Exercise.of(deck.cards()), Settings(), weak=False, answers=True)
    assert not {"script", "img", "b", "link", "iframe"} & set(re.findall(r"<(\w+)", page))
    assert "&lt;script&gt;alert(1)&lt;/script&gt;{{ 7 * 7 }}" in page, "a text is neither markup nor a template"
    assert "{% raw %}=1+1" in page
    assert page.count("</title>") == 1 + page.count("<title id=")


def written(environment: Environment, *line: str) -> str:
    out = io.StringIO()
    parse(line).run(environment._replace(stdout=out))
    return out.getvalue()


def test_the_command_writes_a_new_file_and_replaces_none(tmp_path: Path, fake_environment: Environment) -> None:
    path = tmp_path / "sheet.html"
    said = written(fake_environment, "sheet", str(path), "--deck", "naturals")
    assert said == f"The sheet is in {path}. Open it in a browser and print it.\n"
    first = path.read_text(encoding="utf-8")
    assert first.startswith('<!doctype html>\n<html lang="en">')
    with pytest.raises(CannotWrite, match="already exists and was left alone") as caught:
        written(fake_environment, "sheet", str(path), "--deck", "keys")
    assert caught.value.exit_code == 73
    assert path.read_text(encoding="utf-8") == first


@pytest.mark.parametrize(
    ("name", "fix"),
    [
        ("sheet.pdf", "The browser can print it into a PDF. Write: fretsure sheet "),
        ("thursday", "Write: fretsure sheet "),
        ("", "Write: fretsure sheet sheet.html"),
    ],
)
def test_a_page_under_the_name_of_something_else_is_refused(
    name: str, fix: str, tmp_path: Path, fake_environment: Environment
) -> None:
    with pytest.raises(UsageProblem, match=r"does not end in \.html") as refused:
        written(fake_environment, "sheet", name and str(tmp_path / name))
    assert refused.value.fix.startswith(fix)
    assert shlex.split(refused.value.fix)[-1].endswith(".html")
    assert not list(tmp_path.glob(f"{name or 'sheet'}*"))


def test_the_command_takes_the_weakest_of_the_record(tmp_path: Path, fake_environment: Environment) -> None:
    with pytest.raises(UsageProblem, match="has been asked yet"):
        written(fake_environment, "sheet", str(tmp_path / "none.html"), "--weakest")
    assert not (tmp_path / "none.html").exists()


def test_a_progress_of_a_deck_is_enough_for_a_sheet() -> None:
    progress: Progress = worked_progress()
    found = Exercise.of(weakest(progress))
    page = plain(sheet(progress.deck, found, Settings(), weak=True, answers=False))
    assert "what is weakest now" in page
    assert "Fret 5, string 6 (low E): which note?" in page
    assert "On the neck" not in page, "no card here asks for a fret"
