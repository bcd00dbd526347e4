"""The program reads and writes what it is given and its own files, runs nothing, and talks to no one."""

from __future__ import annotations

import ast
import json
import os
import re
import socket
import sys
import tomllib
from contextlib import suppress
from functools import cache
from pathlib import Path

import platformdirs
import pydantic
import pytest
import sqlite_utils
import textual

from drill.export.model import written
from drill.system import resources
from tests.faults.program import ROOT, run
from tests.support import watch
from tests.support.children import told_by_child
from tests.support.records import attempt, drill

SOURCES = sorted((ROOT / "drill").rglob("*.py"))
DEPENDENCIES = {
    name.replace("-", "_"): name for name in ("textual", "sqlite-utils", "pydantic", "platformdirs", "mido", "jinja2")
}
"""Modules, and the names their distributions have."""
OF_EXTRAS = {"numpy", "miniaudio"}
"""Modules that a learner installs for sound."""

FORBIDDEN_MODULES = {
    *(
        "socket",
        "ssl",
        "http",
        "urllib",
        "ftplib",
        "smtplib",
        "imaplib",
        "poplib",
        "telnetlib",
        "xmlrpc",
        "socketserver",
    ),
    *("pickle", "marshal", "shelve", "dbm", "subprocess", "multiprocessing", "ctypes", "webbrowser", "code", "codeop"),
    *("pty", "runpy", "zipimport", "xml", "tarfile"),
}
FORBIDDEN_CALLS = {"eval", "exec", "compile", "__import__", "breakpoint", "input"}
FORBIDDEN_OF_OS = re.compile(r"system|popen|exec.*|spawn.*|posix_spawn.*|fork.*|startfile|putenv|chmod|chown")


@cache
def nodes() -> list[tuple[str, ast.AST]]:
    """Every call and import of the program, with its place."""
    return [
        (f"{path.relative_to(ROOT)}:{node.lineno}", node)
        for path in SOURCES
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call | ast.Import | ast.ImportFrom)
    ]


def imported(node: ast.AST) -> list[str]:
    """The top-level modules an import statement names."""
    if isinstance(node, ast.Import):
        return [alias.name.partition(".")[0] for alias in node.names]
    if isinstance(node, ast.ImportFrom) and node.module and not node.level:
        return [node.module.partition(".")[0]]
    return []


def test_the_source_imports_the_standard_library_its_dependencies_and_nothing_that_talks_or_runs() -> None:
    allowed = (sys.stdlib_module_names - FORBIDDEN_MODULES) | DEPENDENCIES.keys() | OF_EXTRAS | {"drill"}
    found = {name: where for where, node in nodes() for name in imported(node)}
    assert len(found) > 20, "the search is put rightly"
    assert {name: where for name, where in found.items() if name not in allowed} == {}


def test_the_source_evaluates_no_text_and_starts_no_process() -> None:
    calls = [(where, node.func) for where, node in nodes() if isinstance(node, ast.Call)]
    assert len(calls) > 1000
    by_name = [(where, func.id) for where, func in calls if isinstance(func, ast.Name) and func.id in FORBIDDEN_CALLS]
    of_os = [
        (where, func.attr)
        for where, func in calls
        if isinstance(func, ast.Attribute)
        and isinstance(func.value, ast.Name)
        and func.value.id == "os"
        and FORBIDDEN_OF_OS.fullmatch(func.attr)
    ]
    assert (by_name, of_os) == ([], [])


def test_dependencies_are_few_and_bounded_on_both_sides() -> None:
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["dependencies"]
    bounded = [re.fullmatch(r"([a-z0-9-]+)>=[0-9.]+,<[0-9.]+", each) for each in declared]
    assert {match[1] for match in bounded if match} == set(DEPENDENCIES.values())
    assert all(bounded)


HOSTILE_DECK = """
title = "../../etc/passwd {0.__class__} $(touch owned) `touch owned`"
about = "=cmd|'/C calc'!A1 <script>alert(1)</script> [@click=app.quit]x[/]"
[[part]]
families = ["note-at-fret"]
"""


@pytest.fixture
def home(tmp_path: Path) -> Path:
    home = tmp_path / "home"
    home.mkdir(mode=0o700)
    (home / "hostile.toml").write_text(HOSTILE_DECK, encoding="utf-8")
    log = (written(drill(deck="../../owned")), written(attempt(1, deck="/etc/passwd", given="$(touch owned)")))
    (home / "hostile.jsonl").write_text("\n".join(log), encoding="utf-8")
    return home


def test_the_watch_sees_what_it_should(tmp_path: Path) -> None:
    log = tmp_path / "watched"

    def misbehave() -> str:
        watch.install(log)
        os.system("true")
        with socket.socket() as talk, suppress(OSError):
            talk.connect(("127.0.0.1", 9))
        with suppress(OSError):
            (tmp_path / "owned").write_text("owned")
        return "done"

    assert told_by_child(misbehave) == "done"
    assert [line.split()[0] for line in watch.noted(log, "forbidden")] == ["os.system", "socket.connect"]
    assert watch.written_outside(log, tmp_path / "home") == {str(tmp_path / "owned")}


@pytest.mark.long
def test_deck_and_log_files_make_the_program_touch_nothing_else(home: Path, tmp_path: Path) -> None:
    log = tmp_path / "watched"

    def watched() -> None:
        os.chdir(home)
        watch.install(log)

    deck, exported = str(home / "hostile.toml"), home / "out"
    for arguments, code in (
        (("decks", "check", deck), 0),
        (("cards", "--deck", deck), 0),
        (("today", "--plain", "--deck", deck), 0),
        (("restore", str(home / "hostile.jsonl"), "--mine"), 0),
        (("progress", "--deck", deck), 0),
        (("export", str(exported), "--deck", deck), 0),
        (("backup", str(home / "copy.sqlite3")), 0),
        (("restore", str(home / "copy.sqlite3")), 0),
    ):
        ended = run(*arguments, home=home, reads="E\n", before=watched)
        assert (arguments, ended.code) == (arguments, code), ended.complained
    assert watch.noted(log, "forbidden") == []
    assert watch.written_outside(log, home) == set()
    assert any(watch.inside(path, exported) for path in watch.noted(log, "write")), "the watch sees what is written"
    libraries = {Path(module.__file__).parents[1] for module in (textual, sqlite_utils, pydantic, platformdirs)}
    places = (home, ROOT, Path(sys.prefix), Path(sys.base_prefix), *libraries, *resources.deck_files().values())
    strange = [path for path in watch.noted(log, "read") if not any(watch.inside(path, place) for place in places)]
    assert strange == []
    assert not list(tmp_path.rglob("owned*"))
    assert json.loads((exported / "datapackage.json").read_text(encoding="utf-8"))
