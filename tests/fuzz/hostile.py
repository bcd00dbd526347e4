"""Texts that no one types on purpose, and how hard they are tried.

FUZZ=50 in the environment tries fifty times as many examples, of new chance each time; the suite's are always the same.
"""

from __future__ import annotations

import json
import os
from typing import Any

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st

FACTOR = int(os.environ.get("FUZZ", "1"))

NASTY = (
    "[/",
    "[bold]x[/bold]",
    "[@click=app.quit]x[/]",
    "\x1b[2J\x1b]0;title\x07",
    "\x9b31m",
    "\x00",
    "\r\n",
    "\u202eBb\u202c",
    "\u200f\u200b\ufeff",
    "🎸👩‍👩‍👧",
    "e\u0301" * 20,
    "\udcff\ud800",
    "９",
    "²",
    "٣",
    "-0",
    "1e309",
    "nan",
    "9" * 5000,
    "A" * 100_000,
    "#" * 1000,
    "{0.__class__}",
    "%s%n",
    "'; DROP TABLE attempt; --",
    "../../etc/passwd",
    "=HYPERLINK(1)",
    "__import__('os')",
)

texts = st.one_of(
    st.sampled_from(NASTY),
    st.text(max_size=30),
    st.text(st.characters(), max_size=12),  # lone surrogates, too
    st.text("ABCDEFGHabcdefghimsux#b♯♭𝄪𝄫 -/°øΔ0123456789()[]", max_size=14),
)
"""Half of them nasty or of any characters at all, half nearly music."""


def tried(examples: int) -> settings:
    """So many examples; no clock decides."""
    return settings(
        max_examples=examples * FACTOR,
        derandomize=FACTOR == 1,
        database=None,
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )


def toml(value: Any) -> str:
    """A value as TOML."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return f"[{', '.join(map(toml, value))}]"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{toml(str(name))} = {toml(each)}" for name, each in value.items()) + "}"
    if isinstance(value, str):
        return json.dumps(value.encode("utf-8", "replace").decode(), ensure_ascii=False).replace("\x7f", "\\u007f")
    return "0" if value is None else repr(value)
