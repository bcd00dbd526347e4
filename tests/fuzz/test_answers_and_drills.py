"""Whatever is typed as an answer is read, or refused in a sentence; the drill goes on and the record stays sound."""

from __future__ import annotations

import contextlib
import io
import json
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drill.cli.json_mode import drill_in_json
from drill.cli.line_input import LONGEST_LINE
from drill.cli.line_mode import drill_in_words
from drill.decks import Deck, load_deck, shipped_decks
from drill.errors import UnknownName
from drill.practice.session import Session
from drill.questions import answers, mode_answer
from drill.questions.answers import AnswerKind
from drill.record import Record
from drill.record.check import examine_fully
from drill.settings import Settings
from drill.system.environment import Environment
from drill.system.text import visible
from drill.theory.names import NOTE_LANGUAGES, NoteLanguage
from drill.theory.neck import STANDARD, Neck
from tests.faults.drills import screen_command
from tests.faults.screens import GUARD_S, DrillingTerminal
from tests.fuzz.hostile import NASTY, texts, tried
from tests.support import watch
from tests.support.asking import answers as answered
from tests.support.records import open_at

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
    named = {**vars(answers), **vars(mode_answer)}
    defined = {name for name, each in named.items() if isinstance(each, type) and name.endswith("Answer")}
    assert set(KINDS) == defined


@pytest.mark.long(but=2)
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


@pytest.fixture
def record(tmp_path: Path) -> Iterator[Record]:
    with open_at(tmp_path / "record.sqlite3") as opened:
        yield opened


@pytest.mark.long
def test_a_drill_goes_on_whatever_it_is_fed_and_the_record_stays_sound(
    fake_environment: Environment, record: Record, deck: Deck
) -> None:
    @given(lines=st.lists(texts, max_size=16), as_json=st.booleans(), language=LANGUAGES)
    @tried(25)
    def feed(lines: list[str], as_json: bool, language: NoteLanguage) -> None:
        fed = "\n".join(lines).encode("utf-8", "surrogatepass").decode("utf-8", "replace")
        world = fake_environment._replace(stdin=io.StringIO(fed), stdout=io.StringIO())
        session = Session.start(world, Settings(note_language=language), record, deck, 1)
        before = len(answered(record))
        (drill_in_json if as_json else drill_in_words)(session, world)
        assert isinstance(world.stdout, io.StringIO)
        assert len(answered(record)) - before == len(session.verdicts)
        assert_harmless(world.stdout.getvalue(), as_json=as_json)

    feed()
    assert examine_fully(record.path) == record.attempt_count() > 30


def assert_harmless(said: str, *, as_json: bool) -> None:
    """Nothing that was typed acts on the terminal, and a drill by lines of JSON ends with its summary."""
    if as_json:
        assert [json.loads(line) for line in said.splitlines()][-1]["type"] == "summary"
    else:
        assert visible(said) == said
        assert max(map(len, said.splitlines())) < LONGEST_LINE


def refuse(terminal: DrillingTerminal, text: str) -> None:
    """Paste a text until it is refused: its Enter may have left the verdict of a text before it, or come too soon."""
    for _ in range(5):
        time.sleep(GUARD_S)
        terminal.type(f"\x1b[200~{text}\x1b[201~\r\x15")
        with contextlib.suppress(AssertionError):
            terminal.wait("is counted yet", patience_s=4.0)
            return
    terminal.wait("is counted yet")


@pytest.mark.long
def test_nasty_text_on_the_screen_is_refused_and_touches_nothing(tmp_path: Path) -> None:
    """Pasted into the answer field, as a terminal pastes: in brackets. The whole run is watched."""
    home, log = tmp_path / "home", tmp_path / "watched"
    home.mkdir()
    program = (
        "import pathlib, sys\n"
        "from tests.support import watch\n"
        f"watch.install(pathlib.Path({str(log)!r}))\n"
        "from drill.cli.main import main\n"
        "sys.exit(main())\n"
    )
    python, _, _, *arguments = screen_command(home / "record.sqlite3")
    with DrillingTerminal(home / "record.sqlite3", command=[python, "-c", program, *arguments]).started() as terminal:
        for text in (text for text in NASTY if len(text) < 10_000 and "\ud800" not in text and "\x1b" not in text):
            terminal.type(f"\x1b[200~{text}\x1b[201~\r")
            terminal.type("\x15")
        terminal.type("\x1b[200~" + "B" * 200_000 + "\x1b[201~\x15")  # more than the field takes
        refuse(terminal, "[no note]")
        terminal.answer()
        terminal.interrupt()
        assert terminal.wait_end() == 130
        terminal.assert_given_back()
    assert watch.noted(log, "forbidden") == []
    assert watch.written_outside(log, home) == set()
