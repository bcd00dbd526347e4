"""The manual page, from the parser: what a command and an option do is said there and nowhere else."""

from __future__ import annotations

import argparse
import re
import textwrap
from collections.abc import Iterable, Iterator
from pathlib import Path

from drill import __version__
from drill.cli import main, parser
from drill.system.environment import RECORD_VARIABLE

README = Path(__file__).parents[2] / "README.md"
EVERYWHERE = ("help", "record", "demo", "version")
"""Options told once, for all commands."""
LONGEST_LINE = 78


def manual() -> str:
    """The page in the man macros of roff."""
    return "\n".join(_page(parser.build_parser())) + "\n"


def _page(parser: argparse.ArgumentParser) -> Iterator[str]:
    commands = next(each for each in parser._actions if isinstance(each, argparse._SubParsersAction))
    about, without = (parser.description or "").split(". ", 1)
    yield f'.TH FRETSURE 1 {_released()} "fretsure {__version__}"'
    yield from (".SH NAME", rf"fretsure \- {_roff(about[0].lower() + about[1:])}")
    yield from (".SH SYNOPSIS", r".B fretsure", r"[\fIoptions\fR] [\fIcommand\fR [\fIarguments\fR]]")
    yield from (".SH DESCRIPTION", _roff(f"{about}. {without}"))
    yield ".SH OPTIONS"
    yield from _arguments(parser._actions, told=EVERYWHERE)
    yield ".SH COMMANDS"
    for name, command in commands.choices.items():
        yield from _command(name, command)
    yield from (".SH EXIT STATUS", _roff(_exit_codes()))
    yield ".SH ENVIRONMENT"
    yield from (".TP", rf"\fB{RECORD_VARIABLE}\fR", _roff("The record to use where no --record is given."))
    yield from (".TP", r"\fBNO_COLOR\fR", "Where it is set, the screens use no colours.")


def _command(name: str, command: argparse.ArgumentParser) -> Iterator[str]:
    own = [action for action in command._actions if action.dest not in EVERYWHERE]
    values = " ".join(_value(action) for action in own if not action.option_strings)
    yield f".SS fretsure {name} {values}".rstrip()
    yield _roff(command.description or "")
    yield from _arguments(own, told=[action.dest for action in own])
    yield from (".PP", _roff(command.epilog or ""))


def _arguments(actions: Iterable[argparse.Action], told: Iterable[str]) -> Iterator[str]:
    for action in actions:
        if action.dest in told:
            yield from (".TP", _heading(action), _roff(_sentence(action)))


def _heading(action: argparse.Action) -> str:
    """How an argument is written: its names in bold, its value in italics."""
    names = ", ".join(rf"\fB{_roff(name)}\fR" for name in action.option_strings)
    takes_none = action.nargs == 0
    return names if takes_none else f"{names} {_value(action)}".strip()


def _value(action: argparse.Action) -> str:
    name = action.metavar or "|".join(map(str, action.choices or [action.dest.upper()]))
    value = rf"\fI{_roff(str(name))}\fR" + ("..." if action.nargs == "+" else "")
    return f"[{value}]" if action.nargs == "*" else value


def _sentence(action: argparse.Action) -> str:
    text = (action.help or "").replace("%(prog)s", "fretsure").replace("program's version number", "the version")
    return text[:1].upper() + text[1:].rstrip(".") + "."


def _exit_codes() -> str:
    """As the command line's own text lists them."""
    found = re.search(r"Exit codes: (.*?)\.\n", main.__doc__ or "", re.DOTALL)
    assert found, "the docstring of drill/cli/main.py lists the exit codes"
    return " ".join(found[1].split()) + "."


def _released() -> str:
    """The day of the newest version in the README's list of changes."""
    found = re.search(r"^### \S+, (\d{4}-\d\d-\d\d)$", README.read_text(encoding="utf-8"), re.MULTILINE)
    assert found, "README.md has no heading such as: ### 1.2.3, 2026-01-31"
    return found[1]


def _roff(text: str) -> str:
    """The text as roff takes it: short lines, hyphens that can be copied, typographic quotes."""
    for plain, escaped in (("\\", r"\e"), ("-", r"\-"), ("“", r"\(lq"), ("”", r"\(rq"), ("'", r"\(aq")):
        text = text.replace(plain, escaped)
    return textwrap.fill(text, LONGEST_LINE, break_long_words=False, break_on_hyphens=False)
