"""Standard streams that are full, closed, left, or of an encoding that knows no ♭, as a learner's shell sets them."""

from __future__ import annotations

import io
import os
import sys
from pathlib import Path

import pytest

from drill.system.streams import PLAINEST, readable, settle, writable
from drill.system.text import plainest, visible
from tests.faults.program import DECK, ROOT, alone, run

FULL = "fretsure: The output cannot be written (No space left on device). Every answer given so far is saved.\n"
DRILL = ("today", "--plain", "--deck", DECK)


@pytest.mark.long(but=1)
@pytest.mark.parametrize(
    ("arguments", "shell", "code", "complained"),
    [
        (("key", "Am"), "> /dev/full", 73, FULL),
        (DRILL, "> /dev/full", 73, FULL),
        (("key", "Am"), ">&-", 0, ""),
        (DRILL, "<&-", 0, ""),
        (("key", "H"), "2>&-", 2, ""),
        (("key", "H"), "2> /dev/full", 2, ""),
        (("cards", "--deck", "one-bar", "--json"), "| head -1", 141, ""),
    ],
)
def test_streams_that_are_full_closed_or_left(
    arguments: tuple[str, ...], shell: str, code: int, complained: str, tmp_path: Path
) -> None:
    if "/dev/full" in shell and not Path("/dev/full").exists():
        pytest.skip("macOS has no device that is always full")
    if "|" in shell:
        shell = f'{shell}; exit "${{PIPESTATUS[0]}}"'
    ended = alone(*arguments, home=tmp_path, reads=b"E\n", shell=shell)
    assert (ended.code, ended.complained) == (code, complained)


@pytest.mark.parametrize(
    ("arguments", "code", "told"),
    [
        (("--record", "r.sqlite3", "progress"), 2, "The current directory no longer exists."),
        (("backup", "copy.sqlite3"), 2, "The current directory no longer exists."),
        (("export", "out"), 73, "could not be written"),
        (("key", "Am"), 0, ""),
    ],
)
def test_a_folder_that_is_gone_under_the_program(
    arguments: tuple[str, ...], code: int, told: str, tmp_path: Path
) -> None:
    gone = tmp_path / "gone"
    gone.mkdir()

    def leave() -> None:
        os.chdir(gone)
        gone.rmdir()

    ended = run(*arguments, home=tmp_path, before=leave)
    assert (ended.code, told in ended.complained) == (code, True), ended.complained


@pytest.mark.parametrize("place", ["fretsure/settings.toml", "record.sqlite3", "deck.toml", "log.jsonl"])
def test_a_pipe_in_the_place_of_a_file_is_not_waited_for(place: str, tmp_path: Path) -> None:
    (tmp_path / "fretsure").mkdir()
    os.mkfifo(tmp_path / place)
    arguments = {"deck.toml": ("cards", "--deck"), "log.jsonl": ("restore",)}.get(place, ("progress", "--record"))
    ended = run(*arguments, str(tmp_path / (place if "fretsure" not in place else "record.sqlite3")), home=tmp_path)
    assert ended.code in (65, 74)
    assert place in ended.complained


@pytest.mark.parametrize("variables", [{"PYTHONIOENCODING": "ascii"}, {"LC_ALL": "C", "PYTHONUTF8": "0"}])
def test_a_terminal_that_knows_only_ascii(variables: dict[str, str], tmp_path: Path) -> None:
    """Libraries are found by PYTHONPATH: in this locale Python 3.11 itself cannot read the path of an editable install
    that is not plain ASCII (https://docs.python.org/3/library/site.html, .pth files)."""
    libraries = {"PYTHONPATH": os.pathsep.join([str(ROOT), *filter(None, sys.path)])}
    python = (sys.executable, "-S")
    ended = alone("key", "Bb", home=tmp_path, variables=variables | libraries, python=python)
    assert (ended.code, ended.complained) == (0, "")
    lines = ended.said.splitlines()
    assert lines[0] == "Bb major, relative G minor, 2 flats: Bb Eb"
    assert ended.said.isascii()
    neck = [line for line in lines if line[:1].isdigit()]
    assert len(neck) == 6
    assert len({len(line) for line in neck}) == 1, "the strings keep their places under one another"


def test_what_an_encoding_lacks_becomes_the_nearest_plain_character() -> None:
    raw = io.BytesIO()
    stream = writable(io.TextIOWrapper(raw, encoding="latin-1"))
    stream.write("é B♭ F♯ ◆1m \udcff")
    stream.flush()
    assert raw.getvalue() == b"\xe9 Bb F# *1m ?"


def test_bytes_that_are_no_text_are_read_as_such() -> None:
    assert readable(io.TextIOWrapper(io.BytesIO(b"\xff\xfe\n"), encoding="utf-8")).readline() == "��\n"


def test_a_decoder_has_nothing_to_do_with_plain_writing() -> None:
    with pytest.raises(UnicodeDecodeError):
        b"\xff".decode("utf-8", PLAINEST)


def test_missing_streams_are_empty_and_endless() -> None:
    assert readable(None).readline() == ""
    with writable(None) as nowhere:
        assert nowhere.write("♭") == 1


def test_a_stream_that_is_no_file_is_let_be() -> None:
    stream = io.StringIO()
    stream.close()
    settle(stream)
    assert stream.closed


@pytest.mark.parametrize("text", ["\x1b[2J", "\x9b31m", "\u202e", "\udcff", "\x07", "\u200b"])
def test_nothing_acts_on_the_terminal_that_should_be_seen(text: str) -> None:
    assert visible(f"a{text}♭\nb").isprintable() is False, "the end of the line stays"
    assert visible(text).isprintable()
    assert visible("♭ é\n") == "♭ é\n"
    assert plainest(text).isascii()
