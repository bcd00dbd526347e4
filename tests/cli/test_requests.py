"""What was typed becomes a typed request: every option by its name, every default as the help says."""

from __future__ import annotations

import argparse

import pytest

from drill.cli.commands import MODULES, commands
from drill.cli.commands.classroom import ClassRequest
from drill.cli.commands.decks import CardsRequest, DecksRequest
from drill.cli.commands.drilling import ProgramRequest, TodayRequest
from drill.cli.commands.help import HelpRequest
from drill.cli.commands.looking_up import KeyRequest
from drill.cli.commands.progress import ProgressRequest
from drill.cli.commands.record import ExportRequest, FileRequest, RestoreRequest
from drill.cli.commands.rounds import RoundRequest
from drill.cli.commands.sheet import SheetRequest
from drill.cli.focus import read_focus
from drill.cli.parser import build_parser, parse
from drill.cli.requests import FocusRequest, LoopRequest
from drill.decks import Focus
from drill.decks.strings import find_string
from drill.errors import UnknownName
from drill.settings import Settings
from drill.system.tunings import find_tuning
from drill.theory.keys import parse_key
from drill.theory.names import NoteLanguage

NO_FOCUS = FocusRequest(
    minutes=None, deck=None, plain=False, json=False, string=[], key=[], family=[], shape=[], weakest=False, words=[]
)
PLAIN_LOOP = LoopRequest(chords=["Am", "F"], show=None, play=False, wav=None, midi=None, tempo=None, json=False)
PLAIN_ROUND = RoundRequest(bars=2, tempo=None, key=[], minutes=None, deck=None)
PLAIN_KEY = KeyRequest(key=["Am"], all=False, scale=None, per_string=None, index_fret=None, show=None, json=False)
LINES: dict[str, object] = {
    "": ProgramRequest(),
    "today": TodayRequest(minutes=None, deck=None, plain=False, json=False, words=[]),
    "today --minutes 1 --deck naturals --plain": TodayRequest(
        minutes=1, deck="naturals", plain=True, json=False, words=[]
    ),
    "today --json --minutes 60": TodayRequest(minutes=60, deck=None, plain=False, json=True, words=[]),
    "focus": NO_FOCUS,
    "focus --string 6 --string A --key Bb": NO_FOCUS._replace(string=["6", "A"], key=["Bb"]),
    "focus --family signature --shape string-6": NO_FOCUS._replace(family=["signature"], shape=["string-6"]),
    "focus Eb minor on the A string": NO_FOCUS._replace(words=["Eb", "minor", "on", "the", "A", "string"]),
    "focus --weakest --minutes 3 --plain": NO_FOCUS._replace(weakest=True, minutes=3, plain=True),
    "key Am": PLAIN_KEY,
    "key A minor --all --show notes --json": PLAIN_KEY._replace(key=["A", "minor"], all=True, show="notes", json=True),
    "key Am --scale dorian --per-string 3": PLAIN_KEY._replace(scale="dorian", per_string=3),
    "key Am --index-fret 24": PLAIN_KEY._replace(index_fret=24),
    "loop Am F": PLAIN_LOOP,
    "loop Am --rests Am --count-notes --svg a.svg": PLAIN_LOOP._replace(
        chords=["Am"], rests="Am", count_notes=True, svg="a.svg"
    ),
    "loop Am --show degrees --json": PLAIN_LOOP._replace(chords=["Am"], show="degrees", json=True),
    "loop Am F --play --tempo 90": PLAIN_LOOP._replace(play=True, tempo=90),
    "loop Am F --wav a.wav --midi a.mid": PLAIN_LOOP._replace(wav="a.wav", midi="a.mid"),
    "round": PLAIN_ROUND,
    "round --bars 4 --tempo 90 --key Am --key C --minutes 3 --deck keys": RoundRequest(
        bars=4, tempo=90, key=["Am", "C"], minutes=3, deck="keys"
    ),
    "decks": DecksRequest(action=None, target=None, json=False),
    "decks check my.toml --json": DecksRequest(action="check", target="my.toml", json=True),
    "decks add my.toml --replace": DecksRequest(action="add", target="my.toml", json=False, replace=True),
    "cards": CardsRequest(deck=None, family=[], json=False),
    "cards --deck naturals --family signature --json": CardsRequest(deck="naturals", family=["signature"], json=True),
    "progress": ProgressRequest(deck=None, card=None, json=False),
    "progress --deck naturals --card x --json": ProgressRequest(deck="naturals", card="x", json=True),
    "class there": ClassRequest(folders=["there"], html=None, csv=None, json=False),
    "class a b --html p.html --csv d --json": ClassRequest(folders=["a", "b"], html="p.html", csv="d", json=True),
    "sheet a.html": SheetRequest(file="a.html", deck=None, weakest=False, answers=False),
    "sheet a.html --deck keys --weakest --answers": SheetRequest("a.html", "keys", weakest=True, answers=True),
    "export there": ExportRequest(folder="there", deck=None),
    "export there --deck naturals": ExportRequest(folder="there", deck="naturals"),
    "help": HelpRequest(topic=None),
    "help progress": HelpRequest(topic="progress"),
    "backup copy": FileRequest(file="copy"),
    "restore copy": RestoreRequest(file="copy", mine=False),
    "restore log.jsonl --mine": RestoreRequest(file="log.jsonl", mine=True),
}


@pytest.mark.long(but=16)
@pytest.mark.parametrize("line", LINES)
def test_a_line_becomes_a_request(line: str) -> None:
    found = parse(line.split())
    assert found.request == LINES[line]
    assert type(found.request) is type(LINES[line])
    assert (found.record, found.demo) == (None, False)


def test_every_command_is_tried() -> None:
    assert {line.partition(" ")[0] for line in LINES} == {"", *MODULES}


@pytest.mark.parametrize("line", ["--demo --record r today", "today --demo --record r", "--demo today --record r"])
def test_options_for_all_commands_stand_before_a_command_or_after_it(line: str) -> None:
    found = parse(line.split())
    assert (found.record, found.demo) == ("r", True)


@pytest.mark.parametrize("name", MODULES)
def test_a_parser_of_one_command_reads_it_as_the_parser_of_all_does(name: str) -> None:
    """The others are left out for speed alone."""
    assert _own(build_parser(name), name).format_help() == _own(build_parser(), name).format_help()
    assert [row.name for row in commands(name)] == [name]


def _own(parser: argparse.ArgumentParser, name: str) -> argparse.ArgumentParser:
    [subparsers] = [each for each in parser._actions if isinstance(each, argparse._SubParsersAction)]
    found: argparse.ArgumentParser = subparsers.choices[name]
    return found


def test_help_lists_the_commands_in_the_order_of_their_names() -> None:
    assert [row.name for row in commands()] == list(MODULES)


@pytest.mark.parametrize(
    "line",
    [
        *("today --minutes 0", "today --minutes 61", "today --minutes 00010000", "today --minutes 1.5"),
        *("key Am --index-fret 0", "key Am --index-fret 25", "key Am --per-string 4", "key Am --show dots"),
        *("key Am --per-string 3 --index-fret 5", "key", "loop", "export", "backup", "restore", "backup a b"),
        *("today --min 5", "tomorrow", "--seed 3", f"today --minutes {'9' * 5000}"),
    ],
)
def test_a_line_that_cannot_be_read_is_refused_with_the_code_of_the_contract(
    line: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as left:
        parse(line.split())
    assert left.value.code == 2
    assert "error: " in capsys.readouterr().err


def test_a_focus_is_read_name_by_name() -> None:
    request = NO_FOCUS._replace(string=["A", "6"], key=["Es"], family=["signature"], shape=["string-6"])
    assert read_focus(request, Settings(note_language="german")) == Focus(
        strings=(5, 6), keys=(parse_key("Eb"),), families=("signature",), shapes=("string-6",)
    )


def test_a_string_is_named_as_on_the_instrument_of_the_deck() -> None:
    request = NO_FOCUS._replace(string=["E"], deck="bass")
    assert read_focus(request, Settings(tuning="bass")).strings == (4,)
    assert read_focus(request._replace(deck="naturals"), Settings(tuning="bass-five-string")).strings == (4,)


@pytest.mark.parametrize(
    ("text", "tuning", "language", "string"),
    [
        ("1", "standard", "english", 1),
        ("6", "standard", "english", 6),
        ("A", "standard", "english", 5),
        ("d", "standard", "english", 4),
        ("g", "standard", "english", 3),
        ("B", "standard", "english", 2),
        ("H", "standard", "german", 2),
        ("la", "standard", "italian", 5),
        ("E", "bass", "english", 4),
        ("Eb", "bass-five-string", "english", None),
        ("A♭", "half-step-down", "english", 5),
        ("G#", "half-step-down", "english", 5),
        ("c", "ukulele", "english", 3),
        ("low E", "standard", "english", 6),
        ("High mi", "standard", "italian", 1),
        ("low D", "open-g", "english", 6),
        ("low A", "standard", "english", 5),
    ],
)
def test_a_string_is_found_by_number_or_open_note(
    text: str, tuning: str, language: NoteLanguage, string: int | None
) -> None:
    if string is None:
        with pytest.raises(UnknownName, match="No string is called"):
            find_string(text, find_tuning(tuning), language)
    else:
        assert find_string(text, find_tuning(tuning), language) == string


@pytest.mark.parametrize(
    ("text", "tuning", "language", "both"),
    [
        ("E", "standard", "english", "string 1 (high E) or string 6 (low E)"),
        ("mi", "standard", "italian", "string 1 (high Mi) or string 6 (low Mi)"),
        ("D", "drop-d", "english", "string 4 (high D) or string 6 (low D)"),
    ],
)
def test_a_name_that_several_strings_bear_is_refused_and_names_them(
    text: str, tuning: str, language: NoteLanguage, both: str
) -> None:
    with pytest.raises(UnknownName) as refused:
        find_string(text, find_tuning(tuning), language)
    assert str(refused.value) == f"“{text}” could be {both}. Write the number of the one you mean."


@pytest.mark.parametrize("text", ["low", "", "²", "-1", "0006", "H"])
def test_what_is_no_string_is_refused_with_the_names_there_are(text: str) -> None:
    with pytest.raises(UnknownName) as refused:
        find_string(text, find_tuning("standard"), "english")
    assert str(refused.value).endswith("from 1, the highest, to 6, or a name: low E, A, D, G, B, high E.")
