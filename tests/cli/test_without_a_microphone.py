"""`--listen` where nothing can be heard: exit code 2 and one sentence, nothing written; a drill typed is as before."""

from __future__ import annotations

import io
import re
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from drill.cli.main import run
from drill.cli.parser import parse
from drill.errors import NoSound
from drill.practice.hearing import CLOSED, LOST, NOT_LET, OPENED
from drill.system import duplex
from drill.system.environment import Environment
from tests.support.microphone import FakeDuplex, MicrophoneShop
from tests.support.project import ROOT
from tests.support.worlds import HandClock

HEARD = {
    "round": ["round", "--listen", "--key", "Am", "--key", "E", "--minutes", "1", "--tempo", "120"],
    "today": ["today", "--listen", "--deck", "two-shapes"],
    "focus": ["focus", "--listen", "--key", "Am"],
}
NOTHING = SimpleNamespace(backend="PulseAudio", get_captures=list, get_playbacks=list)


@pytest.mark.parametrize("command", HEARD)
@pytest.mark.parametrize(("missing", "words"), [("miniaudio", "not installed"), ("numpy", "not installed")])
def test_without_the_extra(
    command: str, missing: str, words: str, fake_environment: Environment, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, missing, None)
    world = fake_environment._replace(open_duplex=duplex.open_duplex)
    with pytest.raises(NoSound, match=words) as refused:
        run(parse(HEARD[command]), world)
    assert refused.value.exit_code == 2
    assert not world.record_path.exists()


@pytest.mark.parametrize("command", HEARD)
def test_without_a_device(command: str, fake_environment: Environment, monkeypatch: pytest.MonkeyPatch) -> None:
    fake = SimpleNamespace(MiniaudioError=OSError, Devices=lambda: NOTHING)
    monkeypatch.setitem(sys.modules, "miniaudio", fake)
    world = fake_environment._replace(open_duplex=duplex.open_duplex)
    with pytest.raises(NoSound, match="No microphone was found"):
        run(parse(HEARD[command]), world)
    assert not world.record_path.exists()


@pytest.mark.long
def test_the_program_itself_says_one_sentence_and_no_traceback(tmp_path: Path) -> None:
    """In a process of its own, with a miniaudio that finds nothing, as over ssh."""
    (tmp_path / "miniaudio.py").write_text(
        "class MiniaudioError(Exception): pass\ndef Devices(): raise MiniaudioError('failed')\n"
    )
    variables = {"PYTHONPATH": str(tmp_path), "XDG_CONFIG_HOME": str(tmp_path), "PATH": ""}
    done = subprocess.run(
        [sys.executable, "-m", "drill", *HEARD["round"], "--record", str(tmp_path / "r.sqlite3")],
        cwd=ROOT,
        env=variables,
        capture_output=True,
        text=True,
        stdin=subprocess.DEVNULL,
    )
    assert done.returncode == 2
    assert re.fullmatch(r"fretsure: No sound card was found\. [^\n]+\n", done.stderr)
    assert not (tmp_path / "r.sqlite3").exists()


def played(world: Environment, command: str) -> tuple[str, str]:
    run(parse(HEARD[command]), world)
    assert isinstance(world.stdout, io.StringIO)
    assert isinstance(world.stderr, io.StringIO)
    return world.stdout.getvalue(), world.stderr.getvalue()


def test_a_round_goes_on_where_the_system_does_not_let_it_listen(
    fake_environment: Environment, clock: HandClock
) -> None:
    shop = MicrophoneShop(clock, hiss=0.0)
    out, err = played(fake_environment._replace(open_duplex=shop), "round")
    assert out.count(NOT_LET) + err.count(NOT_LET) == 1
    assert len(re.findall(r"^\d+\. ", out, re.MULTILINE)) == 15
    assert "not heard" not in out
    assert shop.duplex is not None
    assert not shop.duplex.is_open


def test_a_round_goes_on_where_the_microphone_is_unplugged(fake_environment: Environment, clock: HandClock) -> None:
    shop = MicrophoneShop(clock)

    def sleep(seconds: float) -> None:
        clock.tick(seconds)
        if clock.monotonic_s > 1008.0 and isinstance(shop.duplex, FakeDuplex):
            shop.duplex.unplug()

    out, err = played(fake_environment._replace(open_duplex=shop, sleep=sleep), "round")
    assert out.count("gone") + err.count("gone") == 1
    assert len(re.findall(r"^\d+\. ", out, re.MULTILINE)) == 15


@pytest.mark.parametrize("command", HEARD)
def test_it_says_when_the_microphone_opens_and_closes(
    command: str, fake_environment: Environment, clock: HandClock
) -> None:
    shop = MicrophoneShop(clock)
    out, err = played(fake_environment._replace(open_duplex=shop), command)
    assert out.count(OPENED) == 1
    assert (out + err).count(CLOSED) == 1
    assert LOST not in out + err
    assert shop.duplex is not None
    assert not shop.duplex.is_open
