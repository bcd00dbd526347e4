"""The completions and the manual page that ship are the parser's own, and the shells make of them what they should."""

from __future__ import annotations

import os
import shlex
import shutil
import subprocess
from pathlib import Path

import pytest

from tests.shell.__main__ import FOLDER, files
from tests.shell.completions import NAMES
from tests.support.terminal import Terminal

OFFERS = {
    "": ({"today", "focus", "restore"}, {"naturals"}),
    "focus --string 6 --we": ({"--weakest"}, {"--string"}),
    "focus --family relative-": ({"relative-minor", "relative-major"}, {"signature"}),
    "focus --shape string-": ({"string-6", "string-5"}, {"string-7"}),
    "focus --key F#": ({"F#", "F#m"}, {"F"}),
    "key A": ({"A", "Am", "Ab", "Abm", "A#m"}, {"B"}),
    "key Bb --scale mi": ({"minor-blues", "minor-pentatonic", "mixolydian"}, {"dorian"}),
    "key Bb --show ": ({"fingers", "degrees", "notes"}, {"Bb"}),
    "loop Am F#": ({"F#", "F#m"}, {"Am"}),
    "today --deck na": ({"naturals"}, {"two-shapes"}),
    "today --deck my-": ({"my-deck.toml"}, {"naturals"}),
    "decks ch": ({"check"}, {"my-deck.toml"}),
    "decks check my-": ({"my-deck.toml"}, {"check"}),
    "export my-": ({"my-folder"}, {"my-deck.toml"}),
    "restore my-": ({"my-deck.toml", "my-folder"}, {"naturals"}),
    "today --record my-": ({"my-deck.toml", "my-folder"}, {"naturals"}),
}
"""What must be offered after `fretsure` and these words, and what must not."""


@pytest.fixture
def here(tmp_path: Path) -> Path:
    (tmp_path / "my-deck.toml").touch()
    (tmp_path / "my-folder").mkdir()
    return tmp_path


def needs(program: str) -> pytest.MarkDecorator:
    return pytest.mark.skipif(shutil.which(program) is None, reason=f"{program} is not installed")


@pytest.mark.parametrize("name", files())
def test_what_ships_is_what_the_parser_says_now(name: str) -> None:
    shipped = (FOLDER / name).read_text(encoding="utf-8")
    assert shipped == files()[name], "write the files anew: python -m tests.shell"


@needs("bash")
@pytest.mark.parametrize("words", OFFERS)
def test_bash_offers(words: str, here: Path) -> None:
    typed = [*shlex.split(f"fretsure {words}", comments=False), *([""] if words[-1:] in ("", " ") else [])]
    program = f"""
source {shlex.quote(str(FOLDER / NAMES["bash"]))}
COMP_WORDS=({shlex.join(typed)}) COMP_CWORD={len(typed) - 1}
{{ read -r -a registered; }} < <(complete -p fretsure)
"${{registered[-2]}}"
printf '%s\\n' "${{COMPREPLY[@]}}"
"""
    assert_offered(words, spoken(["bash", "--norc", "-c", program], here).split())


@pytest.mark.long(but=5)
@needs("fish")
@pytest.mark.parametrize("words", OFFERS)
def test_fish_offers(words: str, here: Path) -> None:
    program = f"source {shlex.quote(str(FOLDER / NAMES['fish']))}; complete -C {shlex.quote(f'fretsure {words}')}"
    said = spoken(["fish", "--no-config", "-c", program], here)
    assert_offered(words, [line.split("\t")[0] for line in said.splitlines()])


@pytest.mark.long
@needs("zsh")
def test_zsh_offers(here: Path) -> None:
    """zsh completes in a terminal alone, so its screen is read."""
    begin = "setopt no_list_ambiguous no_auto_menu; PS1='%% '; autoload -Uz compinit; compinit -D -u; clear\r"
    with Terminal(["zsh", "-f", "-i"], bare(here), columns=100) as zsh:
        zsh.type(f"cd {shlex.quote(str(here))}; fpath=({shlex.quote(str(FOLDER))} $fpath); {begin}")
        zsh.wait(lambda screen: screen.strip() == "%")
        for words, (offered, _) in OFFERS.items():
            zsh.type(f"fretsure {words}\t")
            screen = zsh.wait(lambda screen, offered=offered: offered <= seen(screen))
            line, _, listed = screen.partition("\n")
            # a single offer is not listed: it stands in the line already
            assert_offered(words, seen(listed) or seen(line) - set(words.split()))
            zsh.type("\x15\x0c")  # empties the line, then the screen
            zsh.wait(lambda screen: screen.strip() == "%")


@needs("mandoc")
def test_mandoc_finds_no_fault_in_the_manual_page() -> None:
    command = ["mandoc", "-T", "lint", "-W", "warning", str(FOLDER / "fretsure.1")]
    checked = subprocess.run(command, capture_output=True, text=True)
    assert checked.stdout + checked.stderr == ""


@needs("groff")
def test_the_manual_page_is_typeset_without_a_warning() -> None:
    plain = ["-P-c", "-P-b", "-P-o", "-P-u"]
    command = ["groff", "-ww", "-man", "-Tutf8", *plain, str(FOLDER / "fretsure.1")]
    typeset = subprocess.run(command, capture_output=True, text=True)
    assert (typeset.returncode, typeset.stderr) == (0, "")
    for heading in ("NAME", "SYNOPSIS", "OPTIONS", "COMMANDS", "EXIT STATUS", "ENVIRONMENT"):
        assert f"\n{heading}\n" in typeset.stdout


def assert_offered(words: str, offered: list[str] | set[str]) -> None:
    wanted, unwanted = OFFERS[words]
    found = {word.rstrip("/") for word in offered}
    assert wanted <= found, f"fretsure {words}: {found}"
    assert not unwanted & found, f"fretsure {words}: {found}"


def seen(screen: str) -> set[str]:
    """The words on a screen; zsh writes F# as F\\# there, folders with a slash."""
    return {word.rstrip("/") for word in screen.replace("\\", "").split()}


def spoken(command: list[str], folder: Path) -> str:
    done = subprocess.run(command, cwd=folder, env=bare(folder), capture_output=True, text=True, timeout=60)
    assert (done.returncode, done.stderr) == (0, "")
    return done.stdout


def bare(home: Path) -> dict[str, str]:
    """Variables that bring no settings of this machine along."""
    return {"PATH": os.environ["PATH"], "HOME": str(home), "LC_ALL": "C.UTF-8", "TERM": "xterm"}
