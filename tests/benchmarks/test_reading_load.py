"""The count of words, rows and keys runs on the real drill screen, and counts what is there."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.long

SCRIPT = Path(__file__).with_name("reading_load.py")


def test_a_family_is_counted_on_the_drill_screen() -> None:
    command = [sys.executable, str(SCRIPT), "--family", "tonic-finger", "--questions", "2"]
    said = subprocess.run(command, capture_output=True, text=True, check=True)
    row = next(line for line in said.stdout.splitlines() if line.startswith("tonic-finger"))
    words, most, rows, keys, _ = map(float, re.split(r" +", row)[1:])
    assert most >= words >= 8, "A minor, low-E-string shape: tonic finger, string 6?"
    assert 0 < rows < 2 * 24
    assert keys >= 1
