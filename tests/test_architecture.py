"""The fences between the rooms hold, and what must start quickly starts without the heavy libraries."""

from __future__ import annotations

import ast
import re
import shlex
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from functools import cache
from graphlib import TopologicalSorter
from itertools import chain
from pathlib import Path

import grimp
import pytest

from tests.support.project import ROOT

ALLOWED_AT_TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "drill", "decks", "tests", "data"}


def test_import_contracts_hold() -> None:
    check = "from importlinter.cli import lint_imports_command; lint_imports_command()"
    done = subprocess.run([sys.executable, "-c", check, "--no-cache"], cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.parametrize("room", ["tui"])
def test_no_module_of_a_room_imports_itself_by_way_of_others(room: str) -> None:
    """Imports for type checking alone count too: who names a class depends on it."""
    graph = grimp.build_graph("drill", cache_dir=None, exclude_type_checking_imports=False)
    inside = {module for module in graph.modules if module.startswith(f"drill.{room}.")}
    arrows = {module: graph.find_modules_directly_imported_by(module) & inside for module in inside}
    assert len(list(TopologicalSorter(arrows).static_order())) > 1


@pytest.mark.parametrize(
    ("library", "room"),
    [
        ("textual", "tui"),
        ("rich", "tui"),
        ("sqlite3", "record"),
        ("sqlite_utils", "record"),
        ("miniaudio", "system"),
        ("mido", "sound"),
        ("jinja2", "export"),
        ("zipfile", "system"),
    ],
)
def test_a_library_stays_in_its_room(library: str, room: str) -> None:
    importers = {path for path in (ROOT / "drill").rglob("*.py") if library in _imported(path)}
    outside = {path for path in importers if (ROOT / "drill" / room) not in path.parents}
    assert importers or library == "rich"
    assert not outside


def test_the_listener_can_only_calculate() -> None:
    """It is given what a microphone hears, so it must have no way to keep it or to pass it on."""
    allowed = {"__future__", "collections", "math", "typing", "numpy", "drill"}
    keeping = {"open", "print", "exec", "eval", "__import__", "save", "savez", "savetxt", "tofile", "dump", "memmap"}
    files = list((ROOT / "drill" / "listening").glob("*.py"))
    assert files
    for path in files:
        tree = ast.parse(path.read_text(encoding="utf-8"))
        names = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
        names |= {node.attr for node in ast.walk(tree) if isinstance(node, ast.Attribute)}
        assert _imported(path) <= allowed, path.name
        assert not names & keeping, path.name


def test_two_modules_alone_know_the_sound_card() -> None:
    importers = {path.name for path in (ROOT / "drill").rglob("*.py") if "miniaudio" in _imported(path)}
    assert importers == {"audio.py", "duplex.py"}


def test_a_screen_that_listens_shows_the_sign() -> None:
    """Whoever opens ears on a screen of its own also has a sign that stands while they are open."""
    screens = ROOT / "drill" / "tui" / "screens"
    texts = {path.name: path.read_text(encoding="utf-8") for path in screens.glob("*.py")}
    opens = {name for name, text in texts.items() if re.search(r"\bopen_ears\(|\bListeningScreen\)", text)}
    assert opens >= {"listening.py", "tuning_check.py", "sound_check.py"}
    assert {name for name in opens if "ListeningSign" not in texts[name]} == set()


def _statements(node: ast.AST) -> Iterator[ast.AST]:
    """Every statement within, without a look at the expressions, which are ten times as many."""
    for each in ast.iter_child_nodes(node):
        if isinstance(each, ast.stmt | ast.ExceptHandler | ast.match_case):
            yield each
            yield from _statements(each)


@cache
def _imported(path: Path) -> set[str]:
    """The libraries a file imports, wherever in it."""
    found = set()
    for node in _statements(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module.split(".")[0])
    return found


@pytest.mark.parametrize(
    ("arguments", "absent"),
    [
        (
            ["key", "Am"],
            ["textual", "sqlite3", "sqlite_utils", "pydantic", "dataclasses", "inspect", "threading", "jinja2"],
        ),
        (["cards", "--deck", "naturals"], ["textual", "sqlite3", "sqlite_utils", "pydantic"]),
        (["decks"], ["textual", "sqlite3", "sqlite_utils", "pydantic"]),
        (["loop", "Am", "F"], ["textual", "sqlite3", "numpy", "mido", "miniaudio"]),
    ],
)
def test_a_command_imports_only_what_it_needs(arguments: list[str], absent: list[str], tmp_path: Path) -> None:
    program = f"""
import sys
from drill.cli.main import main
code = main({arguments!r})
print("heavy:", *[name for name in {absent!r} if name in sys.modules])
raise SystemExit(code)
"""
    environment = {"XDG_CONFIG_HOME": str(tmp_path), "FRETSURE_RECORD": str(tmp_path / "r.sqlite3"), "PATH": ""}
    done = subprocess.run([sys.executable, "-c", program], cwd=ROOT, env=environment, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines()[-1] == "heavy:"


def test_a_start_straight_into_a_drill_imports_only_what_a_drill_needs() -> None:
    program = """
import sys
import drill.cli.main, drill.decks, drill.record, drill.practice.session, drill.settings, drill.tui.screens.drill
heavy = {"pydantic", "sqlite_utils", "drill.progress", "drill.practice.summary", "drill.lookup"}
heavy |= {"drill.tui.screens.home", "numpy", "mido", "miniaudio"}
print("heavy:", *heavy & sys.modules.keys())
"""
    done = subprocess.run([sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True)
    assert done.stdout == "heavy:\n", done.stderr


def test_a_start_compiles_no_annotation_of_a_named_tuple() -> None:
    """A postponed annotation is text, which a named tuple compiles anew at each import, field by field."""
    program = """
import sys
import drill.cli.main, drill.tui.app, drill.tui.screens.drill, drill.cli.commands.drilling
for name, module in sys.modules.items():
    if name.startswith("drill.") and hasattr(module, "annotations"):
        values = [value for value in vars(module).values() if isinstance(value, type) and value.__module__ == name]
        named = [f"{name}.{value.__name__}" for value in values if hasattr(value, "_field_defaults")]
        sys.stdout.writelines(f"{each}\\n" for each in named)
"""
    done = subprocess.run([sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True)
    assert (done.returncode, done.stdout) == (0, ""), done.stderr


def test_nothing_but_the_agreed_entries_is_visible_at_the_top() -> None:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True)
    if listed.returncode == 0:
        top = {line.split("/")[0] for line in listed.stdout.splitlines()}
    else:  # an unpacked source archive has no history
        top = {path.name for path in ROOT.iterdir()} - {"PKG-INFO"}
    assert {name for name in top if not name.startswith(".")} == ALLOWED_AT_TOP


def test_every_dependency_is_bounded_and_listed_with_its_licence() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    listed = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("## Dependencies")[2].partition("\n## ")[0]
    assert all("<" in each for each in project["dependencies"])
    for each in (*project["dependencies"], *chain(*project["optional-dependencies"].values())):
        name = re.split("[<>=]", each)[0]
        assert f"`{name}`" in listed, name


@pytest.mark.skipif(
    not (ROOT / ".ci").exists(), reason="a source archive does not bring along the command for all checks"
)
def test_the_checks_run_the_long_tests_and_the_others() -> None:
    """The README's command leaves out what is marked long; the checks run that too, and both in folders they name."""
    options = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["pytest"]["ini_options"]
    readme, checks = ((ROOT / name).read_text(encoding="utf-8") for name in ("README.md", ".ci/run"))
    assert shlex.split(options["addopts"]) == ["-q", "-m", "not long"]
    assert re.findall(r"^python3 -m venv .* -m pytest (.*)$", readme, re.M) == ["-n auto"]
    long, *of_folders = re.findall(r"bin/python\"? -m pytest (.*)$", checks, re.M)
    assert long == "-n auto -m long"
    assert [each.startswith('-n auto -m "" tests/') for each in of_folders[:-1]] == [True, True]
    assert of_folders[-1] == "tests/export/read_by_pandas.py"


def test_the_first_line_of_every_module_says_what_it_is() -> None:
    """DEVELOPERS.md sends a reader there instead of to lists that have to be kept."""
    silent = {
        str(path.relative_to(ROOT))
        for path in (ROOT / "drill").rglob("*.py")
        if not re.match(r'"""[`\w][^"]{15,}', path.read_text(encoding="utf-8").partition("\n")[0])
    }
    assert silent == set()


def test_no_file_and_no_function_of_the_program_has_outgrown_its_reader() -> None:
    for path in (ROOT / "drill").rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        assert text.count("\n") <= 400, f"{path.name} has more than 400 lines"
        for node in _statements(ast.parse(text)):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                length = (node.end_lineno or node.lineno) - node.lineno + 1
                assert length <= 45, f"{path.name}: {node.name} has {length} lines"
