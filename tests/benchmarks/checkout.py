"""Importing this puts the checkout that the benchmark lies in on the path: on its own and on its programs'."""

import os
import sys
from pathlib import Path

ROOT = str(Path(__file__).resolve().parents[2])
sys.path.insert(0, ROOT)
os.environ["PYTHONPATH"] = ROOT
