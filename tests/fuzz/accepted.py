"""Files that have to be taken: decks and logs at random, within the limits that their formats state.

deck_files       what stands in a deck file, for an ordinary guitar
logs             the lines of an exported log, drills first
"""

from __future__ import annotations

from itertools import islice
from typing import Any

from hypothesis import strategies as st

from drill.decks import load_deck
from drill.decks.deck_file import LAST_STAGE
from drill.export.model import json_schema
from drill.questions.catalogue import FAMILIES
from drill.theory.keys import KEYS
from drill.theory.neck import MOST_FRETS, STANDARD, Neck

Line = dict[str, Any]

GUITARS = ("standard", "half-step-down", "whole-step-down", "baritone")
"""Six strings in fourths and a third: every family can be asked on them."""
LOOPS = ("Am F C G", "Dm7 G7 Cmaj7", "Em D", "G D Em C", "A7 D7 E7", "C#m A E B")

one_line = st.text(st.characters(exclude_categories=["Cc", "Cs"]), min_size=1, max_size=300)
targets = st.dictionaries(st.sampled_from([*FAMILIES]), st.floats(0.3, 60) | st.integers(1, 60), max_size=4)
scopes = st.fixed_dictionaries(
    {},
    optional={
        "strings": st.sampled_from(["anchors", "all"]) | st.lists(st.integers(1, 6), min_size=1, unique=True),
        "frets": st.tuples(st.integers(0, 5), st.integers(12, MOST_FRETS)).map(list),
        "notes": st.sampled_from(["naturals", "all"]),
        "keys": st.sampled_from(["everyday", "all"])
        | st.lists(st.sampled_from([key.name for key in KEYS]), min_size=1, max_size=5),
        "shapes": st.sampled_from(["anchors", "all"]) | st.lists(st.sampled_from("12345"), min_size=1, unique=True),
    },
)
"""Wide enough that each family finds something to ask."""


@st.composite
def deck_files(draw: st.DrawFn) -> dict[str, Any]:
    """Up to four parts, each of families of its own."""
    head = st.fixed_dictionaries(
        {"title": one_line, "about": one_line},
        optional={"stage": st.integers(1, LAST_STAGE), "tuning": st.sampled_from(GUITARS), "targets": targets},
    )
    names = iter(draw(st.lists(st.sampled_from([*FAMILIES]), min_size=1, max_size=8, unique=True)))
    parts = []
    while families := [*islice(names, draw(st.integers(1, 4)))]:
        loops = {"loops": draw(st.lists(st.sampled_from(LOOPS), min_size=1, unique=True))}
        parts.append({"families": families} | draw(scopes) | (loops if "loop-tonic" in families else {}))
    return {**draw(head), "part": parts[:4]}


CARDS = [*load_deck("two-shapes", Neck(STANDARD)).entries, "family-of-a-later-release:what=ever"]
DEFINITIONS: dict[str, dict[str, Any]] = json_schema()["$defs"]
ANSWERED = "correct"


def fitting(schema: dict[str, Any]) -> st.SearchStrategy[Any]:
    """Any value that one field's schema allows; texts of a few characters."""
    if "anyOf" in schema:
        return st.one_of(map(fitting, schema["anyOf"]))
    if "const" in schema or "enum" in schema:
        return st.sampled_from(schema.get("enum") or [schema["const"]])
    if schema["type"] == "integer":
        bounds = schema.get("maximum"), schema.get("exclusiveMaximum")
        return st.integers(schema["minimum"], bounds[0] if bounds[1] is None else bounds[1] - 1)
    if schema["type"] == "string":
        never = ["Cs", "Cc"] if "pattern" in schema else ["Cs"]
        return st.text(st.characters(exclude_categories=never), min_size=schema.get("minLength", 0), max_size=12)
    return {"boolean": st.booleans(), "null": st.none()}[schema["type"]]


def lines_of(name: str) -> st.SearchStrategy[Line]:
    """Lines of one sort, each field of them anything that the published schema allows."""
    fields = DEFINITIONS[name]["properties"]
    return st.fixed_dictionaries({field: fitting(schema) for field, schema in fields.items()})


@st.composite
def logs(draw: st.DrawFn) -> list[Line]:
    """Drills of names of their own, then attempts of theirs at cards there are, each under a name of its own."""
    drills = draw(st.lists(lines_of("DrillLine"), min_size=1, max_size=3, unique_by=lambda line: line["id"]))
    attempts = draw(st.lists(lines_of("AttemptLine"), max_size=12, unique_by=lambda line: line["uid"]))
    for line in attempts:
        card = draw(st.sampled_from(CARDS))
        judged = None if line["kind"] == "shown" else draw(st.booleans())
        of = draw(st.sampled_from(drills))["id"]
        line |= {"card": card, "family": card.partition(":")[0], "drill": of, ANSWERED: judged}
    return [*drills, *attempts]
