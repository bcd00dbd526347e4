"""Counts the facts in which fretsure agrees with the world outside: `python -m tests.theory.facts`.

The tests go through the same tables (test_outside_facts.py); nothing here is counted by hand.
"""

from __future__ import annotations

import sys
from collections import defaultdict

from tests.theory.outside import SOURCES


def main() -> int:
    """Print each source with its subjects, the facts compared and those that differ; 1 when any differs."""
    by_name: dict[str, list[tuple[str, int, int]]] = defaultdict(list)
    for source in SOURCES:
        compared, wrong = source.differing()
        by_name[source.name].append((source.subject, compared, len(wrong)))
    for name, rows in by_name.items():
        print(f"{sum(compared for _, compared, _ in rows):7,}  {name}")
        for subject, compared, wrong_count in rows:
            print(f"{compared:15,}  {subject}" + (f": {wrong_count} DIFFER" if wrong_count else ""))
    counts = [row for rows in by_name.values() for row in rows]
    compared_in_all, wrong_in_all = sum(row[1] for row in counts), sum(row[2] for row in counts)
    print(f"{compared_in_all:7,}  facts compared, {wrong_in_all} differ")
    return 1 if wrong_in_all else 0


if __name__ == "__main__":
    sys.exit(main())
