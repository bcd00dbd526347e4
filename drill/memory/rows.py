"""A learner as rows: small JSON-able values by name, so that an answer rewrites a few of them.

Row names: "learner", "card:<id>", "fact:<id>". Loading the rows gives back the very same learner, bit for bit.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from drill.errors import FretsureError
from drill.memory.belief import Belief
from drill.memory.clock import Clock
from drill.memory.constants import DEFAULT, Constants
from drill.memory.learner import LEARNER_ROW, CardState, FactState, FamilyState, Learner
from drill.memory.traces import Traces

VERSION = 3
"""Rises whenever the rows or the model's constants change: rows of another version are rebuilt from the attempts."""


class UnreadableState(FretsureError):
    """Rows that are not ours to read; the learner is to be rebuilt by observing the attempts again, in order."""


def dump(learner: Learner, names: Iterable[str] | None = None) -> dict[str, Any]:
    """The rows `names` (all of them when None) of the learner, each a small JSON-able value."""
    if names is None:
        names = [LEARNER_ROW, *(f"card:{c}" for c in learner.cards), *(f"fact:{f}" for f in learner.facts)]
    return {name: _row(learner, name) for name in names}


def load(rows: Mapping[str, Any], constants: Constants = DEFAULT) -> Learner:
    """The learner whose rows these are; with no rows, a new learner. Raises UnreadableState."""
    learner = Learner(constants)
    for name, value in rows.items():
        try:
            _take(learner, name, value)
        except (TypeError, ValueError, KeyError, IndexError) as error:
            raise UnreadableState(
                f"The remembered state “{name}” cannot be read ({error}).",
                "It can be rebuilt from the attempts: nothing you answered is lost.",
            ) from error
    return learner


def _row(learner: Learner, name: str) -> Any:
    sort, _, key = name.partition(":")
    if sort == "card":
        card = learner.cards[key]
        history = [card.asked, card.right, card.first_s, card.last_s]
        return [*_traces_out(card.traces), _belief_out(card.offset), _belief_out(card.speed), history]
    if sort == "fact":
        fact = learner.facts[key]
        return [*_traces_out(fact.traces), _belief_out(fact.offset)]
    return {
        "version": VERSION,
        "clock": [learner.clock.last_s, learner.clock.ticks],
        "offset": _belief_out(learner.offset),
        "first_sight": _belief_out(learner.first_sight),
        "tempo": _belief_out(learner.tempo),
        "key_press_s": learner.key_press_s,
        "families": {f: [_belief_out(s.first_sight), _belief_out(s.kind)] for f, s in learner.families.items()},
    }


def _take(learner: Learner, name: str, value: Any) -> None:
    sort, _, key = name.partition(":")
    if sort == "card":
        at, decay, weight, offset, speed, history = value
        asked, right, first_s, last_s = history
        learner.cards[key] = CardState(
            Traces(list(at), list(decay), list(weight)), Belief(*offset), Belief(*speed), asked, right, first_s, last_s
        )
    elif sort == "fact":
        at, decay, weight, offset = value
        learner.facts[key] = FactState(Traces(list(at), list(decay), list(weight)), Belief(*offset))
    elif name == LEARNER_ROW:
        if value["version"] != VERSION:
            raise ValueError(f"version {value['version']}, this program writes {VERSION}")
        learner.clock = Clock(*value["clock"])
        learner.offset = Belief(*value["offset"])
        learner.first_sight = Belief(*value["first_sight"])
        learner.tempo = Belief(*value["tempo"])
        learner.key_press_s = value["key_press_s"]
        learner.families = {f: FamilyState(Belief(*a), Belief(*b)) for f, (a, b) in value["families"].items()}
    else:
        raise KeyError("no such kind of row")


def _traces_out(traces: Traces) -> list[list[float]]:
    return [list(traces.at), list(traces.decay), list(traces.weight)]


def _belief_out(belief: Belief) -> list[float]:
    return [belief.mean, belief.variance]
