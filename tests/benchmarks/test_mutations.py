"""The faults that are put into a program: each where it is said to be, and none where no test should look."""

from __future__ import annotations

import ast
import os
import signal
import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from tests.benchmarks.mutations import mutations
from tests.benchmarks.reaching import Passing, marked
from tests.benchmarks.tree_copies import MARK, Copy, end

SOURCE = '''"""A docstring."""
from os import path
__all__ = ["f"]

def f(a: "int", b: int = 3) -> "str":
    """Another."""
    if a < b and not path.exists("♭"):
        return max(a, b)
    raise ValueError(f"{a} is no ♯ note")

class Box:
    CSS = "width: 1"
    width: int = 5
'''


@pytest.mark.parametrize(
    ("kind", "before", "after"),
    [
        ("comparison", "a < b and", "(a <= b) and"),
        ("comparison", "a < b and", "(a >= b) and"),
        ("and/or", 'a < b and not path.exists("♭")', "(a < b or not path.exists('♭'))"),
        ("not", 'not path.exists("♭")', "path.exists('♭')"),
        ("text", '"♭"', "''"),
        ("text", 'f"{a} is no ♯ note"', "(f'{a}~')"),
        ("number", "b: int = 3", "b: int = 4"),
        ("number", "width: int = 5", "width: int = 4"),
        ("twin", "max(a, b)", "min(a, b)"),
        ("argument", "max(a, b)", "max(b, a)"),
        ("return", "return max(a, b)", "return None"),
        ("statement", 'raise ValueError(f"{a} is no ♯ note")', "pass"),
    ],
)
def test_a_fault_changes_its_own_place_alone(kind: str, before: str, after: str) -> None:
    """Letters of several bytes before it do not move it."""
    assert SOURCE.replace(before, after, 1) in {
        mutation.applied(SOURCE) for mutation in mutations(SOURCE) if mutation.kind == kind
    }


def test_docstrings_hints_imports_exports_and_styles_stay_as_they_are() -> None:
    lines = SOURCE.splitlines()
    harmless = {number for number, line in enumerate(lines, 1) if '"""' in line or "import" in line or "CSS" in line}
    touched = {mutation.line for mutation in mutations(SOURCE)}
    assert touched == {5, 7, 8, 9, 13}
    assert not touched & harmless
    assert not any('"int"' in mutation.change or '"str"' in mutation.change for mutation in mutations(SOURCE))


def test_marks_tell_which_places_were_run_and_change_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    left: list[int] = []
    marks = ModuleType("drill._marks")
    marks.leave = left.append  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "drill._marks", marks)
    places = dict(enumerate(mutations(SOURCE)))
    world: dict[str, Any] = {}
    exec(marked(SOURCE, places), world)
    left.clear()  # what the import alone has run
    assert world["f"](1, 2) == 2
    assert {places[number].line for number in left} == {7, 8}
    with pytest.raises(ValueError, match=r"^5 is no ♯ note$"):
        world["f"](5)
    assert {places[number].line for number in left} == {7, 8, 9}


def test_a_rooms_own_tests_are_asked_first_and_of_these_the_quickest() -> None:
    marks = ["0 tests/tui/test_a.py::slow (call)", "0 tests/cli/test_b.py::b[x y] (setup)", "1 (null)", "0 "]
    marks += ["0 tests/tui/test_a.py::quick (call)", "0 tests/tui/test_a.py::quick (teardown)"]
    said = "0.50s setup    tests/tui/test_a.py::slow\n0.10s call     tests/tui/test_a.py::slow\n"
    passing = Passing(marks, said + "0.20s call     tests/tui/test_a.py::quick\n")
    assert passing.through(0, ["tests/tui"]) == [
        "tests/tui/test_a.py::quick", "tests/tui/test_a.py::slow", "tests/cli/test_b.py::b[x y]",
    ]  # fmt: skip
    assert passing.through(2, ["tests/tui"]) == []


def test_every_fault_leaves_another_program() -> None:
    faulty = [mutation.applied(SOURCE) for mutation in mutations(SOURCE)]
    assert len(set(faulty)) == len(faulty)
    assert all(ast.dump(ast.parse(each)) != ast.dump(ast.parse(SOURCE)) for each in faulty)


@pytest.mark.skipif(not Path("/proc/self/environ").exists(), reason="no other system tells what a process was given")
def test_what_hangs_is_ended_with_the_child_that_has_left_its_group() -> None:
    """A program on a terminal of its own leaves the group it was started in."""
    child_code = "import os, time; print(os.getpid(), flush=True); time.sleep(600)"  # told once it is well begun
    start = (
        "import subprocess, sys, time\n"
        f"subprocess.Popen([sys.executable, '-c', {child_code!r}], start_new_session=True)\n"
        "time.sleep(600)\n"
    )
    world = {**os.environ, MARK: "of-this-test"}
    hanging = subprocess.Popen([sys.executable, "-c", start], env=world, stdout=-1, start_new_session=True)
    assert hanging.stdout is not None
    child = int(hanging.stdout.readline())
    end(hanging, "of-this-test")
    hanging.stdout.close()
    assert hanging.returncode == -signal.SIGKILL
    assert not is_running(child)


def is_running(pid: int) -> bool:
    """Whether the process is still at work; what has ended may wait a moment to be noticed."""
    for _ in range(100):
        with suppress(OSError):
            if ") Z" not in Path(f"/proc/{pid}/stat").read_text():
                time.sleep(0.05)
                continue
        return False
    return True


@pytest.mark.long
def test_a_changed_module_is_run_as_it_stands_and_its_byte_code_goes(tmp_path: Path) -> None:
    copy = Copy(tmp_path / "copy")
    name, test = "drill/errors.py", "test_errors.py"  # beside no conftest, which would import most of the program
    (copy.folder / test).write_text("def test_it() -> None:\n    import drill.errors\n", encoding="utf-8")
    source = (copy.folder / name).read_text(encoding="utf-8")
    copy.write(name, source + "\nraise RuntimeError\n")
    assert copy.run([test], limit_s=300).how == "failed"
    copy.write(name, source)
    assert list((copy.folder / "drill" / "__pycache__").glob("errors.*")) == []
    assert copy.run([test], limit_s=300).how == "passed"
