"""`loop --play --wav --midi` and `round` in lines: files replace nothing, silence is explained in one sentence."""

from __future__ import annotations

import io
import json
import re
import subprocess
import sys
import wave
from pathlib import Path

import mido
import pytest

from drill.cli.main import run
from drill.cli.parser import parse
from drill.cli.round_lines import round_in_words
from drill.errors import CannotWrite, NoSound, UsageProblem
from drill.practice.round import Round
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.keys import parse_key
from tests.support.project import ROOT
from tests.support.speakers import SpeakerShop
from tests.support.worlds import HandClock

LOOP = ["loop", "Am", "F", "C", "G"]


def said(environment: Environment) -> tuple[str, str]:
    assert isinstance(environment.stdout, io.StringIO)
    assert isinstance(environment.stderr, io.StringIO)
    return environment.stdout.getvalue(), environment.stderr.getvalue()


def test_a_loop_is_written_to_new_files_at_the_tempo_that_was_asked_for(
    fake_environment: Environment, tmp_path: Path
) -> None:
    wav, midi = tmp_path / "loop.wav", tmp_path / "loop.mid"
    run(parse([*LOOP, "--wav", str(wav), "--midi", str(midi), "--tempo", "120"]), fake_environment)
    out, err = said(fake_environment)
    assert out.startswith("Am F C G: ")
    assert err == f"fretsure: Written: {midi}\nfretsure: Written: {wav}\n"
    with wave.open(str(wav)) as file:
        assert file.getnframes() == 8 * file.getframerate()
    found = mido.MidiFile(str(midi))
    assert found.length == pytest.approx(8.0)
    assert "key_signature" in {message.type for message in found.tracks[0]}


def test_without_a_tempo_it_is_the_learners(fake_environment: Environment, tmp_path: Path) -> None:
    fake_environment.config_path.parent.mkdir(parents=True)
    fake_environment.config_path.write_text("tempo_bpm = 60\n")
    midi = tmp_path / "loop.mid"
    run(parse([*LOOP, "--midi", str(midi), "--json"]), fake_environment)
    assert json.loads(said(fake_environment)[0])["loop"] == ["Am", "F", "C", "G"]
    assert mido.MidiFile(str(midi)).length == pytest.approx(16.0)


@pytest.mark.parametrize(
    ("written", "kind"), [("--wav loop.mp3", ".wav"), ("--midi loop.wav", ".mid"), ("--svg loop.png", ".svg")]
)
def test_a_file_under_the_name_of_another_kind_is_refused(
    written: str, kind: str, fake_environment: Environment, tmp_path: Path
) -> None:
    option, name = written.split()
    with pytest.raises(UsageProblem, match=f"but what is written is {kind}") as refused:
        run(parse([*LOOP, option, str(tmp_path / name)]), fake_environment)
    assert refused.value.fix == f"Give it the name {tmp_path / 'loop'}{kind}"
    assert not list(tmp_path.glob("loop.*"))


@pytest.mark.parametrize("option", ["--wav", "--midi"])
@pytest.mark.parametrize("kind", ["file", "link", "folder"])
def test_what_is_there_is_never_replaced(option: str, kind: str, fake_environment: Environment, tmp_path: Path) -> None:
    target, other = tmp_path / "mine", tmp_path / "other"
    {
        "file": lambda: target.write_bytes(b"mine"),
        "link": lambda: target.symlink_to(other),
        "folder": target.mkdir,
    }[kind]()
    with pytest.raises(CannotWrite, match="already exists and was left alone"):
        run(parse([*LOOP, option, str(target)]), fake_environment)
    assert CannotWrite.exit_code == 73
    assert not other.exists()
    if kind == "file":
        assert target.read_bytes() == b"mine"


def test_a_folder_that_is_not_there_is_said(fake_environment: Environment, tmp_path: Path) -> None:
    with pytest.raises(CannotWrite, match="cannot be written"):
        run(parse([*LOOP, "--midi", str(tmp_path / "none" / "loop.mid")]), fake_environment)


def test_without_numpy_the_midi_file_is_still_written(
    fake_environment: Environment, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in [name for name in sys.modules if name.split(".")[0] == "numpy" or name.startswith("drill.sound")]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "numpy", None)
    wav, midi = tmp_path / "loop.wav", tmp_path / "loop.mid"
    run(parse([*LOOP, "--midi", str(midi)]), fake_environment)
    assert mido.MidiFile(str(midi)).length == pytest.approx(12.0)
    for asked in (["--wav", str(wav)], ["--play"]):
        with pytest.raises(NoSound, match="Sound is not installed"):
            run(parse([*LOOP, *asked]), fake_environment)
    assert not wav.exists()


@pytest.mark.long
def test_playing_without_a_sound_card_is_one_sentence_and_no_traceback(tmp_path: Path) -> None:
    """In a process of its own, with a miniaudio that finds no device."""
    fake = tmp_path / "miniaudio.py"
    fake.write_text(
        "class MiniaudioError(Exception): pass\ndef PlaybackDevice(**options): raise MiniaudioError('failed')\n"
    )
    variables = {"PYTHONPATH": str(tmp_path), "XDG_CONFIG_HOME": str(tmp_path), "PATH": ""}
    done = subprocess.run(
        [sys.executable, "-m", "drill", *LOOP, "--play"],
        cwd=ROOT,
        env=variables | {"FRETSURE_RECORD": str(tmp_path / "r.sqlite3")},
        capture_output=True,
        text=True,
        stdin=subprocess.DEVNULL,
    )
    assert done.returncode == 2
    assert re.fullmatch(r"fretsure: No sound card was found\. [^\n]+\n", done.stderr)


def test_without_a_terminal_a_loop_is_played_once_after_its_count_in(
    fake_environment: Environment, clock: HandClock
) -> None:
    shop = SpeakerShop(clock)
    start_s = clock.monotonic_s
    run(parse([*LOOP, "--play"]), fake_environment._replace(open_speaker=shop))
    assert 15.0 <= clock.monotonic_s - start_s < 15.1
    assert shop.speaker is not None
    assert shop.speaker.stopped


def test_a_sound_card_that_goes_while_a_loop_plays_ends_it_with_a_sentence(
    fake_environment: Environment, clock: HandClock
) -> None:
    shop = SpeakerShop(clock)

    def sleep(seconds: float) -> None:
        clock.tick(seconds)
        if clock.monotonic_s > 1003.0 and shop.speaker is not None and not shop.speaker.lost:
            shop.speaker.unplug()

    with pytest.raises(NoSound, match=r"^The sound card is gone\.$"):
        run(parse([*LOOP, "--play"]), fake_environment._replace(open_speaker=shop, sleep=sleep))
    assert clock.monotonic_s < 1003.2


@pytest.mark.parametrize(
    "arguments",
    [
        [*LOOP, "--tempo", "39"],
        [*LOOP, "--tempo", "241"],
        ["round", "--tempo", "39"],
        ["round", "--bars", "0"],
        ["round", "--bars", "17"],
        ["round", "--minutes", "61"],
    ],
)
def test_limits_are_refused(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        parse(arguments)
    assert left.value.code == 2
    assert "does not fit" in capsys.readouterr().err


def test_a_loop_of_more_than_64_chords_is_refused(fake_environment: Environment, tmp_path: Path) -> None:
    with pytest.raises(UsageProblem, match="66 chords"):
        run(parse(["loop", *["Am", "F"] * 33, "--midi", str(tmp_path / "x.mid")]), fake_environment)
    assert not (tmp_path / "x.mid").exists()


# -- a round in lines --------------------------------------------------------------------------------------------------


class TimedOut(io.StringIO):
    """Standard output that notes when each piece was written."""

    def __init__(self, clock: HandClock) -> None:
        super().__init__()
        self.clock = clock
        self.pieces: list[tuple[float, str]] = []

    def write(self, text: str) -> int:
        self.pieces.append((self.clock.monotonic_s - 1000.0, text))
        return super().write(text)


def test_each_key_is_called_in_time_and_its_place_added_a_bar_later(
    fake_environment: Environment, clock: HandClock
) -> None:
    out = TimedOut(clock)
    called = Round((parse_key("F#m"), parse_key("Bb")), bpm=120, bars=2)
    round_in_words(called, Settings(), fake_environment._replace(stdout=out))
    _, *lines = out.getvalue().splitlines()
    assert lines == [
        "1. F♯ minor - string 6 (low E): fret 2 or 14; string 5 (A): fret 9",
        "2. B♭ major - string 6 (low E): fret 6; string 5 (A): fret 1 or 13",
    ]
    moments = {text.split(" -")[0].strip(): at for at, text in out.pieces if text.strip()}
    assert moments["1. F♯ minor"] == pytest.approx(2.0, abs=0.005)
    assert moments["2. B♭ major"] == pytest.approx(6.0, abs=0.005)
    assert clock.monotonic_s - 1000.0 == pytest.approx(10.0, abs=0.005)
    assert said(fake_environment)[1] == "fretsure: No sound card was found. The round goes on in silence.\n"


@pytest.mark.long
def test_ten_minutes_of_calls_keep_time_to_five_milliseconds(fake_environment: Environment, clock: HandClock) -> None:
    out = TimedOut(clock)
    shop = SpeakerShop(clock)
    called = Round((parse_key("Am"), parse_key("E")) * 61, bpm=97, bars=2)

    def sleep(seconds: float) -> None:
        clock.tick(seconds + 0.002)  # a machine wakes a little late

    world = fake_environment._replace(stdout=out, sleep=sleep, open_speaker=shop)
    round_in_words(called, Settings(), world)
    calls = [at for at, text in out.pieces if re.match(r"\d+\. ", text)]
    assert len(calls) == 122
    late = [at - called.call_s(number) for number, at in enumerate(calls)]
    assert min(late) > -0.001
    assert max(late) < 0.005


def test_a_sound_card_that_goes_during_a_round_is_said_once(fake_environment: Environment, clock: HandClock) -> None:
    shop = SpeakerShop(clock)
    called = Round((parse_key("Am"), parse_key("E")) * 3, bpm=120, bars=2)

    def sleep(seconds: float) -> None:
        clock.tick(seconds)
        if clock.monotonic_s > 1005.0 and shop.speaker is not None:
            shop.speaker.unplug()

    round_in_words(called, Settings(), fake_environment._replace(sleep=sleep, open_speaker=shop))
    assert said(fake_environment)[1] == "fretsure: The sound card is gone. The round goes on in silence.\n"
    assert len(said(fake_environment)[0].splitlines()) == 7


@pytest.mark.parametrize("typed", ["", "\n\n\n", "anything"])
def test_a_pipe_neither_ends_a_round_nor_holds_it_up(typed: str, fake_environment: Environment) -> None:
    world = fake_environment._replace(stdin=io.StringIO(typed))
    run(parse(["round", "--key", "Am", "--key", "E", "--minutes", "1", "--tempo", "120"]), world)
    out = said(world)[0].splitlines()
    assert len(out) == 1 + 15


def test_a_round_calls_the_keys_of_the_deck(fake_environment: Environment) -> None:
    run(parse(["round", "--deck", "keys", "--minutes", "2", "--tempo", "120"]), fake_environment)
    _, *lines = said(fake_environment)[0].splitlines()
    called = [line.split(". ")[1].split(" - ")[0] for line in lines]
    assert len(set(called[:24])) == 24
    assert not fake_environment.stdin.read()
