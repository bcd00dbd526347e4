"""What is wrong with a line of a log, by pydantic's finding, in the words of whoever has to mend or to ask for it."""

from __future__ import annotations

import re
from typing import Any

from drill.export.model import KINDS
from drill.system.text import visible
from drill.theory.names import quoted

_WORDS = {
    "missing": "is missing.",
    "extra_forbidden": "is a field that no line of a log has.",
    "bool_type": "must be true or false.",
    "int_type": "must be a whole number.",
    "int_from_float": "must be a whole number.",
    "int_parsing_size": "must be a smaller number.",
    "finite_number": "must be a whole number.",
    "string_type": "must be a text in quotation marks.",
    "string_unicode": "must be a text without broken characters.",
    "string_too_short": "must not be empty.",
    "string_too_long": "must have at most {max_length} characters.",
    "string_pattern_mismatch": "must not have a character that nobody can see.",
    "literal_error": "must be {expected}.",
    "greater_than_equal": "must be at least {ge}.",
    "less_than_equal": "must be at most {le}.",
    "less_than": "must be less than {lt}.",
    "dict_type": "must be an object, in braces: {{ }}.",
    "model_attributes_type": "must be an object, in braces: {{ }}.",
    "union_tag_not_found": "does not say of which type it is.",
    "union_tag_invalid": "is of the type “{tag}”; a log has {expected_tags}.",
}
"""What a line must be, by the type of pydantic's error, with the values of its context. They follow place and field.

https://docs.pydantic.dev/latest/errors/validation_errors/
"""
_COLUMN = re.compile(r" at line \d+ column (\d+)$")


def field_of(error: Any) -> str:
    """The field that an error is about; empty where it is about the whole line."""
    sort, *way = error["loc"] or ("",)
    return ".".join(quoted(str(part))[1:-1] for part in (way if sort in KINDS else error["loc"]))


def problem_of(error: Any) -> str:
    """What is wrong, to follow the name of the field or the number of the line."""
    context = error.get("ctx", {})
    if error["type"] == "json_invalid":
        return _not_json(str(context.get("error", "")))
    if words := _WORDS.get(error["type"]):
        return visible(words.format(**{name: _shown(value) for name, value in context.items()}))[:300]
    message = visible(" ".join(str(error["msg"]).split()))[:300]
    return f"{message[0].lower()}{message[1:]}."


def _not_json(error: str) -> str:
    """What is wrong with a line that is no JSON; the reader counts its columns from 1."""
    if error.startswith("EOF"):
        return "is cut off in the middle."
    column = _COLUMN.search(error)
    return f"is damaged{f' at character {column[1]}' if column else ''}: it is not JSON."


def _shown(value: object) -> str:
    """A value for a sentence: single quotes become those of other messages."""
    return re.sub(r"'([^']*)'", r"“\1”", str(value))
