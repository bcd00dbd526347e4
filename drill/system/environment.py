"""The outside world: clock, chance, paths, terminal. Nothing else reads them.

A function that needs the time or a random number takes an `Environment`, or the value itself, so a test can run three
months in a second.

    Environment          the world as the program sees it
    Environment.real     the real world; the only reader of clock, randomness, environment variables and terminal
    expand_user          a path as the learner wrote it, with ~ expanded
    resolved             the absolute path of the file that a path leads to
"""

import os
import random
import sys
import time
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import NamedTuple, TextIO

from drill.errors import UsageProblem
from drill.system import audio, duplex
from drill.system.resources import APPLICATION
from drill.system.streams import readable, take_line, writable

RECORD_VARIABLE = "FRETSURE_RECORD"
EMPTY: Mapping[str, str] = MappingProxyType({})
DEFAULT_COLUMNS = 80
"""The width of a terminal that reports 0 because it does not know its own."""


class Environment(NamedTuple):
    """The world as the program sees it.

    `now` gives seconds since the epoch and can jump, because people set clocks; `monotonic` gives seconds that only
    grow, and thinking time is measured with it. `utc_offset_minutes(epoch)` says how far local time is ahead of UTC at
    that moment. `new_uid` gives an id that no other attempt or drill has, on this machine or any other. `sleep` waits
    for so many seconds. `open_speaker` opens the sound card, `open_duplex` prepares a microphone beside it, and
    `find_devices` tells what is plugged in; each raises NoSound where there is nothing. `take_line` takes a line that
    was typed meanwhile, and does not wait for one.
    """

    now: Callable[[], float]
    monotonic: Callable[[], float]
    utc_offset_minutes: Callable[[float], int]
    rng: random.Random
    new_uid: Callable[[], str]
    record_path: Path
    config_path: Path
    stdin: TextIO
    stdout: TextIO
    stderr: TextIO
    is_terminal: bool = False
    variables: Mapping[str, str] = EMPTY
    sleep: Callable[[float], None] = time.sleep
    open_speaker: audio.OpenSpeaker = audio.open_speaker
    take_line: Callable[[TextIO], str | None] = take_line
    open_duplex: duplex.OpenDuplex = duplex.open_duplex
    find_devices: Callable[[], duplex.Devices] = duplex.find_devices
    is_record_typed: bool = False
    """Whether the record's path was typed with the command, by --record."""

    def __repr__(self) -> str:
        return f"Environment({self.record_path}, {self.config_path})"  # variables may hold secrets

    @classmethod
    def real(cls, record: str | Path | None = None) -> "Environment":
        """Read the real world.

        The record is at `record`, the path the learner gave; without one at FRETSURE_RECORD, or else in the platform's
        data directory.
        """
        variables = dict(os.environ)
        is_terminal = _is_terminal(sys.stdin, (sys.stdout, sys.stderr), variables)
        return cls(
            now=time.time,
            monotonic=time.monotonic,
            utc_offset_minutes=_utc_offset_minutes,
            rng=random.Random(),
            new_uid=_new_uid,
            record_path=_record_path(record, variables),
            config_path=_config_path(),
            stdin=readable(sys.stdin),
            stdout=writable(sys.stdout),
            stderr=writable(sys.stderr),
            is_terminal=is_terminal,
            variables=variables,
            is_record_typed=record is not None,
        )

    @property
    def columns(self) -> int | None:
        """The width of the terminal that results go to; None if they go to a file or a pipe."""
        return _columns(self.stdout)


def uid(now_s: float, chance: bytes) -> str:
    """Make an id for an attempt or a drill: milliseconds, then random bytes, both in hexadecimal; it sorts by time.

    >>> uid(1_700_000_000.5, b"\\x01\\x02")
    '018bcfe569f4-0102'
    """
    return f"{max(0, int(now_s * 1000)):012x}-{chance.hex()}"


def _new_uid() -> str:
    return uid(time.time(), os.urandom(6))


def _utc_offset_minutes(epoch_s: float) -> int:
    """How far local time was ahead of UTC; today's if the system cannot tell (Windows before 1970, after 3000)."""
    try:
        return time.localtime(epoch_s).tm_gmtoff // 60
    except (OSError, OverflowError, ValueError):
        return time.localtime().tm_gmtoff // 60


def _record_path(given: str | Path | None, variables: Mapping[str, str]) -> Path:
    chosen = variables.get(RECORD_VARIABLE) if given is None else given
    if chosen or given is not None:  # an empty --record must not fall back to the learner's own record
        return resolved(expand_user(chosen or ""))
    from platformdirs import user_data_path

    return resolved(user_data_path(APPLICATION, appauthor=False) / "record.sqlite3")


def _config_path() -> Path:
    from platformdirs import user_config_path

    return resolved(user_config_path(APPLICATION, appauthor=False) / "settings.toml")


def expand_user(text: str | Path) -> Path:
    """Expand a leading ~ to a home folder; a path without such a folder stays as it is."""
    path = Path(text)
    try:
        return path.expanduser()
    except RuntimeError:  # ~nobody, who has no home
        return path


def resolved(path: str | Path) -> Path:
    """Return the absolute path with links followed, so that replacing the file keeps the link. Raises UsageProblem."""
    try:
        return Path(os.path.realpath(path))
    except FileNotFoundError as error:
        raise UsageProblem("The current directory no longer exists.", "Change to another, for example: cd ~") from error


def _is_terminal(stdin: TextIO | None, outputs: Iterable[TextIO | None], variables: Mapping[str, str]) -> bool:
    """Whether a full-screen program can run here: every stream is a terminal, and not a dumb one.

    Standard error counts too, because Textual paints on it (on Windows on standard output).
    """
    if stdin is None or not stdin.isatty() or variables.get("TERM", "") == "dumb":
        return False
    return all(stream is not None and _columns(stream) is not None for stream in outputs)


def _columns(stream: TextIO) -> int | None:
    """The width of a terminal; None for anything else, even NUL on Windows, which calls itself a terminal."""
    try:
        return os.get_terminal_size(stream.fileno()).columns or DEFAULT_COLUMNS if stream.isatty() else None
    except (OSError, ValueError):
        return None
