"""Importing this puts the checkout that the benchmark lies in on the path, so that it measures the code beside it."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
