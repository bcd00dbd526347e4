"""Whatever is typed as an answer is read, or refused in a sentence; the drill goes on and the record stays sound."""

from __future__ import annotations

import io
import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drill.decks import Deck, load_deck, shipped_decks
from drill.environment import Environment
from drill.errors import UnknownName
from drill.plain import LONGEST_LINE, drill_in_json, drill_in_words
from drill.questions import answers
from drill.questions.answers import AnswerKind
from drill.record import Record
from drill.session import Session
from drill.settings import Settings
from drill.streams import visible
from drill.theory.names import NOTE_LANGUAGES, NoteLanguage
from drill.theory.neck import STANDARD, Neck
from tests.faults import watch
from tests.faults.drills import screen_command
from tests.faults.screens import DrillingTerminal
from tests.fuzz.hostile import NASTY, texts, tried
from tests.record.samples import open_at

LANGUAGES = st.sampled_from(NOTE_LANGUAGES)


def kinds() -> dict[str, AnswerKind]:
    """Each sort of answer that a card of some deck takes."""
    found: dict[str, AnswerKind] = {}
    for deck in shipped_decks(Neck(STANDARD)):
        for card in {entry.item.family: card for card, entry in deck.entries.items()}.values():
            kind = deck.card(card).kind
            found[type(kind).__name__] = kind
    return found


KINDS = kinds()


def test_every_sort_of_answer_is_tried() -> None:
    defined = {name for name, each in vars(answers).items() if isinstance(each, type) and name.endswith("Answer")}
    assert set(KINDS) == defined


@pytest.mark.parametrize("name", KINDS)
@given(text=texts, language=LANGUAGES)
@tried(60)
def test_an_answer_is_read_or_refused_in_a_sentence(name: str, text: str, language: NoteLanguage) -> None:
    kind = KINDS[name]
    try:
        answer = kind.read(text, language)
    except UnknownName as refusal:
        assert visible(str(refusal)) == str(refusal)
        assert len(str(refusal)) < 400
    else:
        assert answer.isascii() and answer.isprintable() and len(answer) < 40
        assert kind.read(answer) == answer, "what is canonical reads as itself"
        shown = kind.show(answer, language)
        assert visible(shown) == shown


@pytest.fixture(scope="module")
def deck() -> Deck:
    return load_deck("one-bar", Neck(STANDARD))


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Record]:
    with open_at(tmp_path_factory.mktemp("fuzz") / "record.sqlite3") as opened:
        yield opened


@given(lines=st.lists(texts, max_size=8), as_json=st.booleans(), language=LANGUAGES)
@tried(25)
def test_a_drill_goes_on_whatever_it_is_fed(
    fake_environment: Environment, record: Record, deck: Deck, lines: list[str], as_json: bool, language: NoteLanguage
) -> None:
    fed = "\n".join([*lines, "?", "?"]).encode("utf-8", "surrogatepass").decode("utf-8", "replace")
    world = fake_environment._replace(stdin=io.StringIO(fed), stdout=io.StringIO())
    session = Session.start(world, Settings(note_language=language), record, deck, 1)
    before = record.attempt_count()
    (drill_in_json if as_json else drill_in_words)(session, world)
    assert isinstance(world.stdout, io.StringIO)
    said = world.stdout.getvalue()
    assert record.attempt_count() - before == len(session.verdicts)
    if as_json:
        assert [json.loads(line) for line in said.splitlines()][-1]["type"] == "summary"
    else:
        assert visible(said) == said, "nothing that was typed acts on the terminal"
        assert max(map(len, said.splitlines())) < LONGEST_LINE


def test_what_a_drill_was_fed_has_not_harmed_the_record(record: Record) -> None:
    assert record.check() == record.attempt_count() > 30


def test_nasty_text_on_the_screen_is_refused_and_touches_nothing(tmp_path: Path) -> None:
    """Pasted into the answer field, as a terminal pastes: in brackets. The whole run is watched."""
    home, log = tmp_path / "home", tmp_path / "watched"
    home.mkdir()
    program = (
        "import pathlib, sys\n"
        "from tests.faults import watch\n"
        f"watch.install(pathlib.Path({str(log)!r}))\n"
        "from drill import cli\n"
        "sys.exit(cli.main())\n"
    )
    python, _, _, *arguments = screen_command(home / "record.sqlite3")
    with DrillingTerminal(home / "record.sqlite3", command=[python, "-c", program, *arguments]).started() as terminal:
        for text in (text for text in NASTY if len(text) < 10_000 and "\ud800" not in text and "\x1b" not in text):
            terminal.type(f"\x1b[200~{text}\x1b[201~\r")
            terminal.type("\x15")
        terminal.type("\x1b[200~" + "B" * 200_000 + "\x1b[201~\r\x15")
        terminal.wait("is counted yet")
        terminal.answer()
        terminal.type("\x03")
        assert terminal.wait_end() == 130
        terminal.assert_given_back()
    assert watch.noted(log, "forbidden") == []
    assert watch.written_outside(log, home) == set()
