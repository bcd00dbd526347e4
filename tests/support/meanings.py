"""What the columns of an object promise: every key that it may have, with its meaning."""

from __future__ import annotations

from drill.present.tables import Columns, Kind


def meanings(columns: Columns, path: str = "") -> dict[str, str]:
    """The meaning of every key by its path: dots lead into objects, `[]` stands for the elements of a list."""
    found: dict[str, str] = {}
    for column in columns:
        own = f"{path}{column.key}"
        found[own] = column.meaning
        found |= meanings(column.columns, f"{own}[]." if column.kind is Kind.ROWS else f"{own}.")
    return found
