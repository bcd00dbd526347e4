"""Lines that are waited for beside something else: nothing that is typed is lost, whole or in pieces."""

from __future__ import annotations

import io
import os

from drill.system.typed_lines import TypedLines


def piped() -> tuple[TypedLines, int]:
    """Lines that are read from a pipe, and where to write into it."""
    reading, writing = os.pipe()
    return TypedLines(os.fdopen(reading, encoding="utf-8")), writing


def test_nothing_is_ready_before_a_whole_line_is_there() -> None:
    lines, writing = piped()
    assert not lines.ready(0.05)
    os.write(writing, b"B fl")
    assert not lines.ready(0.05)
    os.write(writing, b"at\n")
    assert lines.ready(5.0)
    assert lines.readline() == "B flat\n"
    assert not lines.ready(0.0)
    os.close(writing)
    assert lines.ready(5.0)
    assert lines.readline() == ""


def test_a_burst_of_lines_comes_out_line_by_line() -> None:
    lines, writing = piped()
    os.write(writing, "E♭\nlast".encode())
    os.close(writing)
    assert lines.ready(5.0)
    assert [lines.readline() for _ in range(4)] == ["E♭\n", "last", "", ""]


def test_a_character_in_two_pieces_is_one() -> None:
    lines, writing = piped()
    first, second = "♯\n".encode()[:1], "♯\n".encode()[1:]
    os.write(writing, first)
    assert not lines.ready(0.05)
    os.write(writing, second)
    assert lines.ready(5.0)
    assert lines.readline() == "♯\n"
    os.close(writing)


def test_a_line_without_end_comes_in_pieces() -> None:
    lines, writing = piped()
    os.write(writing, b"x" * 50)
    assert lines.readline(20) == "x" * 20
    os.close(writing)
    assert [lines.readline(20), lines.readline(20), lines.readline(20)] == ["x" * 20, "x" * 10, ""]


def test_what_is_no_file_has_its_lines_at_once() -> None:
    lines = TypedLines(io.StringIO("a\nb\n"))
    assert lines.ready(0.0)
    assert [lines.readline(), lines.readline(), lines.readline()] == ["a\n", "b\n", ""]
