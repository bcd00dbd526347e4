"""One rule and one spelling for per cent, whoever shows it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from drill.present.figures import how_many, hundredths, per_cent, seconds

ROOMS = Path(__file__).parents[2] / "drill"


@pytest.mark.parametrize(
    ("share", "shown"),
    [
        (0.0, "0%"),
        (1e-9, "1%"),
        (0.004, "1%"),
        (0.57, "57%"),
        (2 / 3, "67%"),
        (0.994, "99%"),
        (0.997, "99%"),
        (1 - 1e-12, "99%"),
        (1.0, "100%"),
    ],
)
def test_only_what_is_certain_is_a_hundred_and_only_what_never_happens_nothing(share: float, shown: str) -> None:
    assert per_cent(share) == shown
    assert f"{hundredths(share)}%" == shown


def test_per_cent_is_written_in_one_place_alone() -> None:
    by_hand = re.compile(r":[<>0-9.]*%\}|\} %|\* 100\b.*99|\b100 \* \w+:\.0f")
    found = {
        f"{path.relative_to(ROOMS)}: {line.strip()}"
        for path in ROOMS.rglob("*.py")
        if path.name != "figures.py"
        for line in path.read_text(encoding="utf-8").splitlines()
        if by_hand.search(line)
    }
    assert found == set()


@pytest.mark.parametrize(("time_s", "text"), [(0.0, "0.0 s"), (0.96, "1.0 s"), (1.44, "1.4 s"), (62.0, "62.0 s")])
def test_seconds_are_shown_in_tenths(time_s: float, text: str) -> None:
    assert seconds(time_s) == text


def test_one_of_a_kind_is_singular() -> None:
    assert [how_many(count, "week") for count in (0, 1, 2)] == ["0 weeks", "1 week", "2 weeks"]
