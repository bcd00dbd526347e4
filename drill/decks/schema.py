"""The deck format as JSON Schema, so that an editor completes and checks a deck file while it is written.

`deck_file` reads decks without this: the library that makes schemas takes longer to import than a deck takes to read.
The schema knows the form and the names; `checks` also knows what an instrument can be asked.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

from drill.decks.deck_file import MOST_PARTS
from drill.decks.fields import LAST_STAGE, LONGEST_BY, description
from drill.decks.homework import DAY_PATTERN, GOAL_PATTERN
from drill.questions.catalogue import FAMILIES
from drill.system.tunings import tunings
from drill.system.validation import LONGEST_LINE, LONGEST_LIST
from drill.theory.keys import KEYS
from drill.theory.neck import MOST_FRETS

DIALECT = "https://json-schema.org/draft/2020-12/schema"
_STRICT = ConfigDict(extra="forbid", strict=True)


def _known(family_id: str) -> str:
    if family_id not in FAMILIES:
        raise ValueError(f"There is no family {family_id}.")
    return family_id


Line = Annotated[str, Field(min_length=1, max_length=LONGEST_LINE, pattern=r"\S")]
Text = Annotated[str, Field(max_length=LONGEST_LINE)]
By = Annotated[str, Field(min_length=1, max_length=LONGEST_BY, pattern=r"\S")]
Goal = Annotated[str, Field(pattern=GOAL_PATTERN)]
Day = date | Annotated[str, Field(pattern=DAY_PATTERN)]
Stage = Annotated[int, Field(ge=1, le=LAST_STAGE)]
Tuning = Annotated[Text, Field(examples=[*tunings()])]
Family = Annotated[str, AfterValidator(_known), Field(json_schema_extra={"enum": [*FAMILIES]})]
Families = Annotated[list[Family], Field(min_length=1, max_length=LONGEST_LIST)]
Seconds = Annotated[float, Field(ge=0.3, le=60)]
Targets = Annotated[dict[Family, Seconds], Field(max_length=LONGEST_LIST)]
Key = Annotated[Text, Field(examples=[key.short for key in KEYS])]
Strings = Annotated[list[int], Field(min_length=1, max_length=LONGEST_LIST)]
Fret = Annotated[int, Field(ge=0, le=MOST_FRETS)]
Frets = Annotated[list[Fret], Field(min_length=2, max_length=2)]
Names = Annotated[list[Text], Field(max_length=LONGEST_LIST)]
Keys = Annotated[list[Key], Field(min_length=1, max_length=LONGEST_LIST)]
Shapes = Annotated[list[Text], Field(min_length=1, max_length=LONGEST_LIST)]


def _field(name: str, default: Any = ...) -> Any:
    return Field(default, description=description(name))


class PartModel(BaseModel):
    """One stretch of a deck: families of questions over strings, frets, keys and shapes."""

    model_config = _STRICT
    families: Families = _field("families")
    strings: Strings | Literal["anchors", "all"] = _field("strings", "anchors")
    frets: Frets = _field("frets", [0, 12])
    notes: Literal["naturals", "all"] = _field("notes", "all")
    keys: Keys | Literal["everyday", "all"] = _field("keys", "everyday")
    shapes: Shapes | Literal["anchors", "all"] = _field("shapes", "anchors")
    loops: Names = _field("loops", [])
    order: Literal["family by family", "key by key"] = _field("order", "family by family")


class DeckModel(BaseModel):
    """A deck: which questions are asked, and what is set with them as homework."""

    model_config = _STRICT
    title: Line = _field("title")
    about: Line = _field("about")
    stage: Stage = _field("stage", LAST_STAGE)
    next: Text = _field("next", "")
    tuning: Tuning = _field("tuning", "")
    until: Day | None = _field("until", None)
    goal: Goal | None = _field("goal", None)
    note: Line | None = _field("note", None)
    by: By | None = _field("by", None)
    targets: Targets = _field("targets", {})
    part: Annotated[list[PartModel], Field(min_length=1, max_length=MOST_PARTS)] = Field(
        description="What the deck asks, stretch by stretch, in the order of teaching. Write [[part]] above each."
    )


def deck_schema() -> dict[str, Any]:
    """The JSON Schema of a deck file."""
    schema = DeckModel.model_json_schema()
    schema["properties"] |= {
        name: _without_null(schema["properties"][name]) for name in ("until", "goal", "note", "by")
    }
    return {"$schema": DIALECT} | schema | {"title": "A deck of fretsure"}


def _without_null(described: dict[str, Any]) -> dict[str, Any]:
    """A field that may be left out; TOML has no null to write instead."""
    ways = [way for way in described["anyOf"] if way != {"type": "null"}]
    rest = {name: value for name, value in described.items() if name not in ("anyOf", "default")}
    return rest | (ways[0] if len(ways) == 1 else {"anyOf": ways})
