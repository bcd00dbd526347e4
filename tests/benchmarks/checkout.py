"""Importing this lets a benchmark find the project it lies in, and lets what it starts keep its byte code.

A learner's Python keeps what it has compiled; one that is told not to would compile the program at every start.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
