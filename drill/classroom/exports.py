"""One export, read: whose it is, as of when, how strong each group of cards is by its own table, and its answers.

Whatever is not as an export of ours would be raises BadFile, with what is wrong; the caller passes it over and says so.
"""

from __future__ import annotations

import csv
import hashlib
import json
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from datetime import date, datetime
from types import MappingProxyType
from typing import Any, NamedTuple

from drill.classroom.answers import Answers, Group, groups_of
from drill.classroom.sources import ASK, FOREIGN, Source
from drill.errors import BadFile
from drill.export.staging import PACKAGE_FILE, PACKAGE_NAME
from drill.progress.homework import Assignment
from drill.settings import LONGEST_LEARNER

MOST_HOMEWORK = 200
"""More decks with homework than any student has."""


class Standing(NamedTuple):
    """How a student stood in a group of cards at the moment of an export. Means are over the cards seen."""

    cards: int
    seen: int
    fluent: int
    strength: float | None
    speed_s: float | None
    in_time: float | None
    """The mean chance of a right answer within the target."""


class Export(NamedTuple):
    """What an export says at its head, and its table of cards in short."""

    source: Source
    learner: str
    """The identity; empty in an export of an earlier release."""
    name: str
    created_s: float
    """As of when it tells how the learner stood; of a log alone, its last answer."""
    deck: str
    tuning: str
    standing: dict[Group, Standing]
    files: dict[str, tuple[str, str]]
    """Path and hash of each of its tables, by the table's name."""
    made_s: float = 0.0
    """Of a log alone, when its file was written: nothing else is known of when it was exported."""
    homework: tuple[Assignment, ...] = ()
    """What was set with decks, and how far it had come."""
    strengths: Mapping[str, float] = MappingProxyType({})
    """The strength of every card seen."""

    @property
    def exported_s(self) -> float:
        """When it was exported, as far as that is known."""
        return max(self.created_s, self.made_s)

    @property
    def whole(self) -> Standing:
        return self.standing.get(("whole", ""), Standing(0, 0, 0, None, None, None))


def read_export(source: Source) -> Export:
    """The head and the standing of an export. Raises BadFile."""
    try:
        package = json.loads(source.text(PACKAGE_FILE))
        if package["name"] != PACKAGE_NAME:
            raise BadFile(source.where, "", "is no export of fretsure.", FOREIGN)
        files = {str(each["name"]): (_bare(each["path"]), str(each["hash"])) for each in package["resources"]}
        learner = package.get("learner") or {}
        created_s = datetime.fromisoformat(package["created"]).timestamp()
        name = " ".join(str(learner.get("name") or "").split())[:LONGEST_LEARNER]
        identity = str(learner.get("id") or "")[:400]
        deck, tuning = str(package["deck"])[:400], str(package["tuning"])[:400]
        homework = _homework(package.get("homework"), deck)
        strengths: dict[str, float] = {}
        standing = _standing(_rows(source, *files["cards"]), strengths)
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError, OverflowError, csv.Error) as error:
        raise BadFile(source.where, "", "is a damaged export.", ASK) from error
    return Export(source, identity, name, created_s, deck, tuning, standing, files, 0.0, homework, strengths)


def read_answers(export: Export) -> Answers:
    """The answers of an export, counted as they are read. Raises BadFile."""
    try:
        answers = Answers(_last_day(export))
        answers.read(_rows(export.source, *export.files["attempts"]))
    except (ValueError, TypeError, KeyError, OverflowError, csv.Error) as error:
        raise BadFile(export.source.where, "", "is a damaged export.", ASK) from error
    return answers


def _homework(found: Any, deck: str) -> tuple[Assignment, ...]:
    """What was set; an export of an early release tells of its own deck alone."""
    rows = [found] if isinstance(found, dict) else found or []
    return tuple(Assignment.read(row, deck) for row in rows[:MOST_HOMEWORK])


def _last_day(export: Export) -> int:
    days = [date.fromisoformat(row["day"]) for row in _rows(export.source, *export.files["days"])]
    return max(days).toordinal() if days else 0


def _bare(path: Any) -> str:
    """The name of a file in the export's own folder. Raises ValueError for any other path."""
    if not isinstance(path, str) or not path or "/" in path or "\\" in path or path in (".", ".."):
        raise ValueError(path)
    return path


def _rows(source: Source, name: str, hash: str) -> Iterator[dict[str, str]]:
    """The rows of a table. Raises BadFile in the end if it is not what was exported."""
    digest = hashlib.sha256()

    def text() -> Iterator[str]:
        for line in source.lines(name):
            digest.update(line)
            yield line.decode("utf-8")

    yield from csv.DictReader(text(), restval="")
    if hash != f"sha256:{digest.hexdigest()}":
        raise BadFile(f"{source.where}/{name}", "", "was changed since it was exported, or is damaged.", ASK)


def _standing(rows: Iterable[dict[str, str]], strengths: dict[str, float]) -> dict[Group, Standing]:
    """How each group of cards stands: those of the deck, and any other card seen, whose `strengths` are filled in."""
    found: dict[Group, list[dict[str, str]]] = defaultdict(list)
    for row in rows:
        if row["state"] != "fresh":
            strengths[row["card"]] = float(row["strength"])
        for group in (("whole", ""), *groups_of(row["card"])):
            found[group].append(row)
    return {group: _stands(inside) for group, inside in found.items()}


def _stands(rows: list[dict[str, str]]) -> Standing:
    """How the cards in some rows stand together."""
    seen = [row for row in rows if row["state"] != "fresh"]
    sums = (sum(float(row[name]) for row in seen) for name in ("strength", "speed_s", "fluent_chance"))
    strength, speed_s, in_time = (total / len(seen) if seen else None for total in sums)
    fluent = sum(row["state"] == "fluent" for row in seen)
    return Standing(len(rows), len(seen), fluent, strength, speed_s, in_time)
