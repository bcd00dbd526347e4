"""The project that is tested: where it lies, and which of its modules show examples."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).parents[2]


def modules_with_examples() -> list[str]:
    """The names of the program's modules whose docstrings show examples."""
    paths = (path for path in (ROOT / "drill").rglob("*.py") if _shows_examples(path.read_text(encoding="utf-8")))
    names = (".".join(path.relative_to(ROOT).with_suffix("").parts) for path in paths)
    return sorted(name.removesuffix(".__init__") for name in names)


def _shows_examples(source: str) -> bool:
    return "\n>>> " in source or "    >>> " in source
