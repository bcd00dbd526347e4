"""A sound card that is not there: PulseAudio with null sinks, one as a guitar that the microphone hears.

    with null_sink() as card:
        with card.guitar(samples, rate):          # plays them in real time
            ...                                   # in a child of this environment: card.variables

The microphone hears the guitar alone; what the program plays goes to another sink. Started as a learner may start it,
and ended by the process id that it writes.
"""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

import numpy as np

from drill.sound.pluck import Samples

MISSING = "pulseaudio is not installed here"
LONGEST_START_S, LONGEST_END_S = 10.0, 3.0
MODULES = (
    "module-native-protocol-unix",
    "module-null-sink sink_name=guitar sink_properties=device.description=guitar",
    "module-remap-source master=guitar.monitor source_name=mic source_properties=device.description=mic",
    "module-null-sink sink_name=speakers sink_properties=device.description=speakers",
)


def can_run() -> bool:
    """Whether PulseAudio and its tools are installed."""
    return all(shutil.which(tool) for tool in ("pulseaudio", "pactl", "pacat"))


class Card(NamedTuple):
    """The running sound server."""

    variables: Mapping[str, str]
    """What a program needs in its environment to find the server."""

    def ask(self, *words: str) -> str:
        """What `pactl` says."""
        done = subprocess.run(["pactl", *words], env={**os.environ, **self.variables}, capture_output=True, text=True)
        return done.stdout

    @property
    def listeners(self) -> list[str]:
        """The streams that take in sound, one a line."""
        return self.ask("list", "short", "source-outputs").splitlines()

    def player(self, rate: int, latency_ms: int = 30) -> subprocess.Popen[bytes]:
        """A guitar: what is written to its standard input, 32-bit numbers of one channel, is heard."""
        command = ["pacat", "--playback", "-d", "guitar", "--raw", "--format=float32le", "--channels=1"]
        command += [f"--rate={rate}", f"--latency-msec={latency_ms}"]
        return subprocess.Popen(command, env={**os.environ, **self.variables}, stdin=subprocess.PIPE)

    def keeper(self) -> subprocess.Popen[bytes]:
        """Listens all the time, so that the server hands sound on at once: at first it keeps two seconds back."""
        command = ["parec", "-d", "mic", "--raw", "--latency-msec=20"]
        return subprocess.Popen(command, env={**os.environ, **self.variables}, stdout=subprocess.DEVNULL)

    @contextmanager
    def guitar(self, samples: Samples, rate: int) -> Iterator[None]:
        """Play samples from now on, in real time; they end with the block."""
        from threading import Thread

        player = self.player(rate)
        assert player.stdin is not None

        def feed() -> None:
            try:
                player.stdin.write(samples.astype(np.float32).tobytes())  # type: ignore[union-attr]
            except (BrokenPipeError, ValueError):
                return

        feeding = Thread(target=feed, daemon=True)
        feeding.start()
        try:
            yield
        finally:
            player.kill()
            player.wait()
            feeding.join()


@contextmanager
def null_sink() -> Iterator[Card]:
    """Run the sound server in a folder of its own until the block ends; a socket's path has room for 107 characters."""
    with (
        TemporaryDirectory(prefix="sound-", dir="/tmp", ignore_cleanup_errors=True) as folder,
        _server(Path(folder)) as card,
    ):
        yield card


@contextmanager
def _server(folder: Path) -> Iterator[Card]:
    variables = {"XDG_RUNTIME_DIR": str(folder), "HOME": str(folder), "PULSE_SERVER": f"unix:{folder}/pulse/native"}
    command = ["pulseaudio", "-n", "--daemonize=yes", "--exit-idle-time=-1", "--disallow-exit=yes"]
    for module in MODULES:
        command += ["-L", module]
    own = {name: value for name, value in variables.items() if name != "PULSE_SERVER"}
    subprocess.run(command, env={**os.environ, **own}, check=True, stderr=subprocess.DEVNULL)
    card = Card(variables)
    try:
        _wait_for(card)
        card.ask("set-default-sink", "speakers")
        card.ask("set-default-source", "mic")
        yield card
    finally:
        pid_file = folder / "pulse" / "pid"
        os.kill(int(pid_file.read_text()), signal.SIGTERM)
        until_s = time.monotonic() + LONGEST_END_S
        while pid_file.exists() and time.monotonic() < until_s:
            time.sleep(0.02)


def _wait_for(card: Card) -> None:
    until_s = time.monotonic() + LONGEST_START_S
    while "speakers" not in card.ask("list", "short", "sinks"):
        if time.monotonic() > until_s:
            raise TimeoutError("the sound server does not answer")
        time.sleep(0.05)
