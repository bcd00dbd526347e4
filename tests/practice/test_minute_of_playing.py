"""A minute in a room with a guitar, through the whole program: nothing is judged but what was played.

The hour of it is played by hand, over a sound card: tests/benchmarks/hour.py.
"""

from __future__ import annotations

import io
import re
import tracemalloc
from collections import deque

import pytest

from drill.cli.main import run
from drill.cli.parser import parse
from drill.practice.hearing import Ears
from drill.system.environment import Environment
from drill.theory.bars import bar_seconds
from drill.theory.keys import parse_key
from tests.support.busy_room import RATE, Doing, Hands, outcomes
from tests.support.microphone import FakeDuplex, MicrophoneShop
from tests.support.worlds import HandClock

BPM = 80
KINDS = ("landing", "landing", "phrase", "other", "late", "noise", "quiet")
"""Without talk: a voice has pitches too, and is at times taken for a guitar. The hour tells how often."""
ROUND = ["round", "--listen", "--tempo", str(BPM), "--minutes", "1"]
KEYS = ("Am", "C", "F#m", "Bb", "E", "Dm", "G", "Ebm")
CALL = re.compile(r"^\d+\. ([A-G][♯♭]? (?:minor|major))")


class PlayedAlong(io.StringIO):
    """Standard output that somebody reads who plays: at each call something is done."""

    def __init__(self, shop: MicrophoneShop, hands: Hands) -> None:
        super().__init__()
        self._shop, self._hands = shop, hands
        self.done: list[Doing] = []

    def write(self, text: str) -> int:
        if call := CALL.match(text):
            doing = self._hands.at(parse_key(call[1].replace("♯", "#").replace("♭", "b")))
            assert isinstance(self._shop.duplex, FakeDuplex)
            self._shop.duplex.play_in(doing.after_s, doing.samples)
            self.done.append(doing)
        return super().write(text)


def played(world: Environment, clock: HandClock, seed: int) -> PlayedAlong:
    """A round that listens, and somebody who plays along."""
    shop = MicrophoneShop(clock)
    out = PlayedAlong(shop, Hands(seed, bar_seconds(BPM), KINDS))
    arguments = [*ROUND, *(f"--key={key}" for key in KEYS)]
    run(parse(arguments), world._replace(open_duplex=shop, stdout=out))
    assert shop.duplex is not None
    assert not shop.duplex.is_open
    return out


@pytest.mark.long
@pytest.mark.parametrize("seed", [1, 2])
def test_every_verdict_is_right_or_not_heard(seed: int, fake_environment: Environment, clock: HandClock) -> None:
    out = played(fake_environment, clock, seed)
    told = outcomes(out.getvalue())
    assert len(out.done) == len(told) == 10
    judged = [(doing.name, outcome) for doing, outcome in zip(out.done, told, strict=True)]
    assert [pair for pair, doing in zip(judged, out.done, strict=True) if not doing.allows(pair[1])] == []
    assert sum(outcome.startswith("landed") for _, outcome in judged) >= 2


@pytest.mark.long
def test_what_is_heard_is_not_kept(clock: HandClock) -> None:
    """After five more seconds of playing, five times 180 kilobytes, hardly anything more is held."""

    def open_ears() -> Ears:
        ears = Ears(FakeDuplex(clock, RATE, [(0.5 * number, 45 + number % 12) for number in range(18)]), 40, 79)
        ears.start()
        return ears

    def held_after(seconds: int, ears: Ears) -> int:
        """The least within the last second: while a string sounds, what is found out of it is held as well."""
        held = deque[int](maxlen=30)
        for _ in range(30 * seconds):
            clock.tick(1 / 30)
            ears.poll()
            held.append(tracemalloc.get_traced_memory()[0])
        return min(held)

    tracemalloc.start()
    try:
        held_after(8, open_ears())  # tables that are made once and kept are no sound
        ears = open_ears()
        early = held_after(3, ears)
        late = held_after(5, ears)
    finally:
        tracemalloc.stop()
    assert late - early < 20_000
