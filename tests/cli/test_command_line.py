"""The command line is a contract: what each command prints, where, and the code it leaves with."""

from __future__ import annotations

import csv
import io
import itertools
import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from drill import __version__
from drill.cli.main import main
from drill.cli.parser import parse
from drill.export import FILES
from drill.system.environment import Environment
from tests.support.terminal import Terminal

ROOT = Path(__file__).parents[2]


@dataclass(frozen=True, slots=True)
class Said:
    """What a command left: its code, its results, its messages."""

    code: int
    out: str
    err: str


Fretsure = Callable[..., Said]


@pytest.fixture
def fretsure(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Fretsure:
    """Runs a command in this process, at home in `tmp_path`."""
    monkeypatch.setenv("FRETSURE_RECORD", str(tmp_path / "record.sqlite3"))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.chdir(tmp_path)

    def run(*arguments: str, answers: str = "") -> Said:
        (tmp_path / "answers").write_text(answers)
        with (tmp_path / "answers").open() as lines:
            monkeypatch.setattr(sys, "stdin", lines)
            try:
                code = main(arguments)
            except SystemExit as left:  # argparse leaves by itself
                code = int(left.code or 0)
        caught = capsys.readouterr()
        return Said(code, caught.out, caught.err)

    return run


def in_a_process(*arguments: str, home: Path) -> subprocess.CompletedProcess[str]:
    """Runs the program as a learner does."""
    variables = {"FRETSURE_RECORD": str(home / "record.sqlite3"), "XDG_CONFIG_HOME": str(home / "config"), "PATH": ""}
    return subprocess.run(
        [sys.executable, "-m", "drill", *arguments],
        cwd=ROOT,
        env=variables,
        capture_output=True,
        text=True,
        timeout=60,
    )


COMMANDS = (
    "today",
    "focus",
    "round",
    "key",
    "loop",
    "decks",
    "cards",
    "progress",
    "class",
    "export",
    "backup",
    "restore",
)


def test_help_has_an_example_for_every_command(fretsure: Fretsure) -> None:
    said = fretsure("--help")
    assert said.code == 0
    assert "Example: fretsure today --minutes 5" in said.out
    for command in COMMANDS:
        assert f"\n    {command} " in said.out
        own = fretsure(command, "--help")
        assert own.code == 0
        assert f"Example: fretsure {command}" in own.out
        assert "--record" in own.out
        assert "--demo" in own.out


def test_the_version(fretsure: Fretsure) -> None:
    said = fretsure("--version").out
    assert said == f"fretsure {__version__}\n"
    assert re.fullmatch(r"fretsure \d+(\.\d+)+\n", said)


def test_a_key_in_focus_is_read_in_the_learners_note_language(fretsure: Fretsure, tmp_path: Path) -> None:
    settings = tmp_path / "config" / "fretsure" / "settings.toml"
    settings.parent.mkdir(parents=True)
    settings.write_text('note_language = "german"\n')
    drilled = fretsure("focus", "--key", "b-Moll", "--family", "relative-minor", "--plain", "--json", answers="Bb\n")
    shown, question, verdict, *_ = map(json.loads, drilled.out.splitlines())
    assert shown["card"] == question["card"] == "relative-minor:key=Db"
    assert verdict["right"]


@pytest.mark.parametrize("command", [("today",), ("focus", "--string", "6")])
def test_json_implies_plain(command: tuple[str, ...], fretsure: Fretsure) -> None:
    plainly = fretsure(*command, "--plain", "--json", "--record", "one.sqlite3")
    alone = fretsure(*command, "--json", "--record", "another.sqlite3")
    assert (alone.code, alone.err) == (0, "")
    types = [json.loads(line)["type"] for line in alone.out.splitlines()]
    assert list(dict.fromkeys(types)) == ["shown", "question", "summary"]
    assert types[-2:] == ["question", "summary"]
    assert alone.out.splitlines()[0] == plainly.out.splitlines()[0]


@pytest.mark.parametrize(
    ("arguments", "fix"),
    [
        (["key", "Ais"], "The same sound is written B major."),
        (
            ["key", "Xb"],
            "Write a note and a mode, as in Es minor, Fism or E. For a scale: fretsure key A --scale dorian",
        ),
        (["loop", "Am", "Xb"], "Write a root and a kind, as in Am, Fism7b5, Hdim, G7 or C/E."),
        (["loop", "Am", "Bb"], "names, but yours are German. To change them, open Set-up: “Note names”."),
        (["focus", "--plain"], "Example: fretsure focus B minor on string 5"),
    ],
)
def test_names_are_offered_in_the_learners_note_language(
    arguments: list[str], fix: str, fretsure: Fretsure, tmp_path: Path
) -> None:
    settings = tmp_path / "config" / "fretsure" / "settings.toml"
    settings.parent.mkdir(parents=True)
    settings.write_text('note_language = "german"\n')
    said = fretsure(*arguments)
    assert said.code == 2
    assert said.err.endswith(f"{fix}\n")


def test_a_focus_is_given_in_words_as_on_the_screen(fretsure: Fretsure) -> None:
    drilled = fretsure("focus", "Am", "A-string", "shape", "--json", answers="?\n")
    assert drilled.code == 0
    asked = [json.loads(line) for line in drilled.out.splitlines()]
    cards = [each["card"] for each in asked if "card" in each]
    assert cards and all(card.endswith(":key=Am:shape=string-5") for card in cards)


def test_a_drill_an_export_and_a_move_to_another_machine(fretsure: Fretsure, tmp_path: Path) -> None:
    drilled = fretsure("focus", "--string", "6", "--deck", "naturals", "--plain", "--json", answers="F\n?\nA\n")
    assert drilled.code == 0
    verdicts = [json.loads(line) for line in drilled.out.splitlines()]
    assert [each["type"] for each in verdicts[:3]] == ["shown", "question", "verdict"]
    progress = json.loads(fretsure("progress", "--deck", "naturals", "--json").out)
    assert progress["whole"]["seen"] == len({each["card"] for each in verdicts if each["type"] == "verdict"})

    said = fretsure("export", "out", "--deck", "naturals")
    assert (said.code, said.err) == (0, "")
    assert said.out.splitlines() == ["Exported to out:", *(f"    {name}" for name in FILES)]
    with Path("out/attempts.csv").open(encoding="utf-8", newline="") as file:
        assert [row["kind"] for row in csv.DictReader(file)] == ["shown", "asked", "asked", "asked"]

    moved = fretsure("restore", "out/attempts.jsonl", "--record", "moved.sqlite3")
    told, whose = moved.out.splitlines()
    assert told == "Of 3 answers in out/attempts.jsonl, 3 were new and were added; 0 were already here."
    assert "moved.sqlite3 is now the record of a learner without a name (" in whose
    again = fretsure("restore", "out/attempts.jsonl", "--record", "moved.sqlite3")
    assert again.out == "Of 3 answers in out/attempts.jsonl, 0 were new and were added; 3 were already here.\n"
    assert (tmp_path / "moved.sqlite3").exists()


def test_a_backup_and_the_way_back(fretsure: Fretsure, tmp_path: Path) -> None:
    fretsure("today", "--plain", answers="E\n")
    assert fretsure("backup", "copy.sqlite3").out == f"The record was copied to {tmp_path / 'copy.sqlite3'}.\n"
    again = fretsure("backup", "copy.sqlite3")
    assert again.code == 73
    assert "already exists and was left alone" in again.err
    back = fretsure("restore", "copy.sqlite3")
    assert back.code == 0
    assert back.out.startswith("Restored from copy.sqlite3.\nYour previous record is saved in ")


@pytest.mark.long
def test_the_demonstration_touches_nothing_of_the_learners(
    fretsure: Fretsure, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("time.monotonic", lambda: 1000.0)  # the whole log is read, however slow the machine
    before = fretsure("--demo", "progress", "--json")
    assert before.err == "fretsure: Sample data; nothing is saved.\n"
    weakest = json.loads(before.out)["weakest"]
    drilled = fretsure("focus", "--weakest", "--plain", "--json", "--demo", "--minutes", "1", answers="nothing\n")
    assert before.code == drilled.code == 0
    # the weakest is named, with its reason, before it is drilled
    assert f"fretsure: {weakest['label']}. {weakest['why'].split(';')[0]}" in drilled.err.replace("♭", "b").replace(
        "♯", "#"
    )
    question = json.loads(drilled.out.splitlines()[0])
    assert not weakest["focus"]["families"] or question["family"] in weakest["focus"]["families"]
    assert not (tmp_path / "record.sqlite3").exists()
    assert not (tmp_path / "config").exists()


def test_one_card(fretsure: Fretsure) -> None:
    said = fretsure("progress", "--card", "note-at-fret:string=6:fret=3")
    assert said.code == 0
    assert said.out.splitlines()[0] == "Fret 3, string 6 (low E): which note?"
    told = json.loads(fretsure("progress", "--card", "note-at-fret:string=6:fret=3", "--json").out)
    assert (told["state"], told["history"]) == ("fresh", [])


WRONG = {
    "no such command": (["tomorrow"], 2, "invalid choice"),
    "no such option": (["progress", "--yaml"], 2, "unrecognized arguments"),
    "minutes that are none": (["today", "--minutes", "none"], 2, "whole minutes from 1 to 60"),
    "a seed, which no drill has": (["today", "--plain", "--seed", "3"], 2, "unrecognized arguments"),
    "a part of today's drill": (["today", "Eb", "minor"], 2, "For a part of it: fretsure focus Eb minor"),
    "a number of minutes": (["today", "3"], 2, "Write: fretsure today --minutes 3"),
    "a key without quotes": (["focus", "--key", "Eb", "minor"], 2, 'needs quotes, as in --key "Eb minor".'),
    "a word that a command does not take": (["round", "Eb"], 2, "unrecognized arguments: Eb. Example: fretsure round"),
    "a focus in words that name nothing": (["focus", "Eb", "minr"], 2, "“Eb minr” is neither a key nor a string"),
    "a focus on nothing": (["focus"], 2, "needs a string, a key, a family or a shape"),
    "the weakest and something else": (["focus", "--weakest", "--string", "5"], 2, "chooses the focus itself"),
    "no such string": (["focus", "--string", "low"], 2, "is not a string"),
    "a string the guitar lacks": (["focus", "--string", "9"], 2, "has no string 9. Strings: 1, the highest, to 6."),
    "a string the deck does not ask": (["focus", "--string", "1"], 2, "has no card for this focus"),
    "no such key": (["focus", "--key", "X minor"], 2, "is not a key"),
    "a key no signature can write": (["key", "G#"], 2, "no key signature holds more than seven"),
    "more notes a string than fit": (["key", "E", "--per-string", "3"], 2, "Use --per-string 2 or"),
    "no such family": (["focus", "--family", "note"], 2, "There is no family"),
    "no such deck": (["progress", "--deck", "two-shape"], 2, "Did you mean two-shapes"),
    "no such card": (["progress", "--card", "note-at-fret:string=6"], 2, "See: fretsure cards --json"),
    "no such card at all": (["progress", "--card", "A on string 6"], 2, "is not a card. See: fretsure cards --json"),
    "a demonstration on a record": (["progress", "--demo", "--record", "r"], 2, "uses sample data, not a record"),
    "a deck file that is not there": (["progress", "--deck", "nowhere.toml"], 65, "nowhere.toml"),
    "a deck file with a mistake": (["decks", "check", "bad.toml"], 65, "bad.toml, title"),
    "a log that is not there": (["restore", "nowhere.jsonl"], 65, "nowhere.jsonl"),
    "a log with a mistake": (["restore", "bad.jsonl"], 65, "bad.jsonl, line 2, uid: is missing."),
    "a backup that is another database": (["restore", "other.sqlite3"], 65, "not a record of drills"),
    "an export over a file": (["export", "bad.toml"], 73, "could not be written"),
    "an export over someone's files": (["export", "."], 73, "There are other files in ."),
    "a backup into nowhere": (["backup", "bad.toml/copy"], 73, "cannot"),
    "a record that is damaged": (["progress", "--record", "damaged.sqlite3"], 74, "fretsure: The record "),
    "a record that is a folder": (["progress", "--record", "."], 65, "is a folder"),
}


@pytest.mark.parametrize(("arguments", "code", "sentence"), WRONG.values(), ids=WRONG)
def test_what_cannot_be_done_is_told_in_a_sentence(
    arguments: list[str], code: int, sentence: str, fretsure: Fretsure, tmp_path: Path
) -> None:
    (tmp_path / "bad.toml").write_text("title = 1\n")
    (tmp_path / "fretsure-export").mkdir()
    (tmp_path / "fretsure-export" / "keys.csv").write_text("mine")
    (tmp_path / "bad.jsonl").write_text(DRILL + DRILL.replace('"drill"', '"attempt"', 1))
    (tmp_path / "damaged.sqlite3").write_bytes(b"SQLite format 3\x00" + bytes(4096))
    make_database(tmp_path / "other.sqlite3")
    said = fretsure(*arguments)
    assert said.code == code, said.err
    assert sentence in said.err
    assert said.out == ""
    assert "Traceback" not in said.err
    assert not (tmp_path / "fretsure-fault.txt").exists()


DRILL = (
    '{"type": "drill", "id": "d", "started_at": 1, "ended_at": null, "deck": "naturals", "minutes": 5,'
    ' "focus": "{}", "tuning": "standard", "seed": null}\n'
)


def make_database(path: Path) -> None:
    """A database that is no record."""
    import sqlite3

    with sqlite3.connect(path) as other:
        other.execute("CREATE TABLE recipe (name TEXT)")
    other.close()


def test_codes_reach_the_shell(tmp_path: Path) -> None:
    usage = in_a_process("focus", home=tmp_path)
    assert (usage.returncode, usage.stdout) == (2, "")
    assert usage.stderr == (
        "fretsure: A focus needs a string, a key, a family or a shape. Example: fretsure focus Bb minor on string 5\n"
    )


def test_a_look_up_breaks_no_word_at_the_edge_of_a_terminal_and_stays_whole_in_a_pipe(tmp_path: Path) -> None:
    home = {"XDG_CONFIG_HOME": str(tmp_path), "FRETSURE_RECORD": str(tmp_path / "record.sqlite3")}
    sentence = "index finger on B♭, the minor tonic, fret 6; little finger on D♭, the major tonic, fret 9\n"
    assert sentence in in_a_process("key", "Bbm", home=tmp_path).stdout
    with Terminal([sys.executable, "-m", "drill", "key", "Bbm"], home, columns=80) as terminal:
        assert terminal.wait_end() == 0
        assert " index finger on B♭, the\nminor tonic, fret 6; little finger on D♭" in terminal.text()


def test_a_reader_that_leaves_early_is_no_error(tmp_path: Path) -> None:
    shell = shutil.which("sh") or os.defpath
    done = subprocess.run(
        [shell, "-c", f'"{sys.executable}" -m drill cards --deck whole-neck --json | :'],
        cwd=ROOT,
        env={"XDG_CONFIG_HOME": str(tmp_path)},
        capture_output=True,
        text=True,
    )
    assert done.stderr == ""


def test_a_clock_that_runs_fast_drives_json_mode(fake_environment: Environment) -> None:
    """Scripts speed the clocks up; every look at it four seconds later is no stop of the program."""
    looks = itertools.count(start=1000, step=4)
    last_s = 1000.0

    def monotonic() -> float:
        nonlocal last_s
        last_s = float(next(looks))
        return last_s

    said = io.StringIO()
    world = fake_environment._replace(
        monotonic=monotonic, now=lambda: last_s, stdin=io.StringIO("?\n" * 5), stdout=said
    )
    parse(["today", "--json"]).run(world)
    told = [json.loads(line) for line in said.getvalue().splitlines()]
    times_ms = [each["thinking_ms"] for each in told if each["type"] == "verdict"]
    assert len(times_ms) == 5
    assert all(time_ms is not None and time_ms >= 4000 for time_ms in times_ms)


def test_interrupted_while_it_waits_for_an_answer(fretsure: Fretsure, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupt(*arguments: object) -> str:
        raise KeyboardInterrupt

    monkeypatch.setattr("drill.cli.line_input.read_line", interrupt)
    said = fretsure("today", "--plain")
    assert said.code == 130
    assert said.err == "\nfretsure: interrupted. Every answer given so far is saved.\n"


def test_an_internal_error_is_one_sentence_and_its_details_are_in_a_file(
    fretsure: Fretsure, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*arguments: object) -> str:
        raise LookupError("a mistake of ours")

    monkeypatch.setattr("drill.cli.line_input.read_line", fail)
    said = fretsure("today", "--plain")
    details = tmp_path / "fretsure-fault.txt"
    assert said.code == 70
    assert said.err == (
        "fretsure: fretsure hit an internal error and had to stop (LookupError). Every answer given so far is saved. "
        f"Start it again. The details are in {details}; please send them if you report this.\n"
    )
    assert "LookupError: a mistake of ours" in details.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("check", "fretsure: decks check takes FILE. Write: fretsure decks check FILE\n"),
        ("remove", "fretsure: decks remove takes NAME. Write: fretsure decks remove NAME\n"),
        ("schema x", "fretsure: decks schema takes nothing more. Write: fretsure decks schema\n"),
        ("test my.toml", "invalid choice: 'test'"),
        ("check my.toml other.toml", "unrecognized arguments: other.toml"),
    ],
)
def test_words_after_decks_that_do_not_fit_are_refused(words: str, told: str, fretsure: Fretsure) -> None:
    said = fretsure("decks", *words.split())
    assert (said.code, said.out) == (2, "")
    assert said.err.endswith(told) or told in said.err


def test_cards_of_one_family_alone(fretsure: Fretsure) -> None:
    found = [json.loads(line) for line in fretsure("cards", "--family", "relative-minor", "--json").out.splitlines()]
    assert {card["family"] for card in found} == {"relative-minor"}
    assert "relative minor" in fretsure("cards", "--family", "relative-minor").out
    every = fretsure("cards", "--json").out.splitlines()
    assert len(every) > len(found) > 8


def test_a_key_is_shown_in_both_anchors_or_in_all_five_shapes(fretsure: Fretsure) -> None:
    anchors, every = fretsure("key", "Am").out, fretsure("key", "Am", "--all").out
    necks = [out.count("1 E ") for out in (anchors, every)]
    assert necks == [1, 5], every


@pytest.mark.parametrize(
    ("arguments", "scale"),
    [
        (["A", "--per-string", "2"], "major pentatonic"),
        (["Am", "--per-string", "2"], "minor pentatonic"),
        (["A", "--index-fret", "5"], "major pentatonic"),
        (["A", "--scale", "dorian"], "dorian"),
    ],
)
def test_an_option_of_a_scale_asks_for_a_scale(arguments: list[str], scale: str, fretsure: Fretsure) -> None:
    said = fretsure("key", *arguments, "--json")
    assert json.loads(said.out)["scale"] == scale


def test_ctrl_c_while_the_command_line_is_read_ends_without_a_traceback(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def interrupted(arguments: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("drill.cli.main.parse", interrupted)
    assert main(["decks"]) == 130
    assert capsys.readouterr().err == "\nfretsure: interrupted. Every answer given so far is saved.\n"
