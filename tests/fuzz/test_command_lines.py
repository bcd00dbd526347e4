"""Whatever stands on the command line: results, or a sentence, and an exit code of the contract; never a traceback."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from drill.cli import main
from drill.questions.catalogue import FAMILIES
from drill.system.crash_report import NAME
from drill.system.text import visible
from tests.faults.program import CODES
from tests.fuzz.hostile import texts, tried

pytestmark = pytest.mark.long

COMMANDS = ("today", "focus", "key", "loop", "decks", "cards", "progress", "export", "backup", "restore")
OPTIONS = (
    *("--plain", "--json", "--minutes", "--deck", "--string", "--key", "--family", "--shape", "--weakest"),
    *("--all", "--card", "--record", "--help", "--version", "check", "-", "--", "--no-such-option", "-x"),
)
SOUND = (
    *("1", "5", "60", "naturals", "two-shapes", "Am", "Bb minor", "F#", "string-6", "C", "G7", "Dm", "bVII"),
    *("note-at-fret:string=6:fret=8", "shape-anchor:key=F#m:shape=string-5", "out", "out/copy.sqlite3", "/dev/null"),
    *("~nobody-at-all/x", "/proc/self/mem", ".", "/", ""),
)
ERRORS = ("strict", "backslashreplace")
"""What Python's own standard output and standard error do with characters they cannot write."""

words = st.one_of(
    st.sampled_from(OPTIONS),
    st.sampled_from(SOUND),
    st.sampled_from([*FAMILIES]),
    texts.filter(lambda text: "\0" not in text and len(text) < 10_000),  # no system passes these on
)
lines = st.tuples(st.sampled_from(COMMANDS), st.lists(words, max_size=5)).map(lambda line: [line[0], *line[1]])


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("home")


@given(line=st.one_of(lines, lines, lines, st.lists(words, max_size=3)), fed=st.lists(texts, max_size=3))
@example(line=["key", "Am", "--record", "~nobody/record"], fed=[])
@example(line=["today", "--plain", "--record", ""], fed=["E"])
@example(line=["today", "--plain", "--minutes", "²"], fed=[])
@example(line=["focus", "--string", "٣", "--plain"], fed=[])
@example(line=["today", "--plain", "--deck", "\udcff/x.toml"], fed=[])
@example(line=["export", "/proc/x"], fed=[])
@example(line=["today", "A" * 100_000, "\x1b[2J\udcff"], fed=[])
@example(line=["key", "A" * 100_000], fed=[])
@tried(80)
def test_a_command_line_is_done_or_refused(home: Path, line: list[str], fed: list[str]) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(home)
        for name in ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME"):
            patch.setenv(name, str(home))
        patch.setenv("FRETSURE_RECORD", str(home / "record.sqlite3"))
        fed_bytes = "\n".join(fed).encode("utf-8", "surrogatepass")
        said, complained = (io.TextIOWrapper(io.BytesIO(), "utf-8", errors, write_through=True) for errors in ERRORS)
        patch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(fed_bytes), encoding="utf-8"))
        patch.setattr(sys, "stdout", said)
        patch.setattr(sys, "stderr", complained)
        try:
            code: object = main.main(line)
        except SystemExit as leaving:
            code = leaving.code
    said.seek(0)
    complained.seek(0)
    told = complained.read()
    fault = home / NAME
    assert not fault.exists(), fault.read_text(encoding="utf-8")
    assert code in CODES, (line, told)
    assert "Traceback" not in told
    assert told or code == 0, "a refusal says why"
    assert len(told) < 10_000
    assert visible(told) == told
