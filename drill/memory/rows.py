"""A learner as rows: small JSON-able values by name, so that an answer rewrites a few of them.

The rows are named "learner", "card:<id>" and "fact:<id>". Loading them gives back the very same learner, bit for bit.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from typing import Any

from drill.errors import FretsureError
from drill.memory.belief import Belief, Spread, Weights
from drill.memory.clock import Clock
from drill.memory.constants import DEFAULT, Constants
from drill.memory.learner import LEARNER_ROW, CardState, FactState, FamilyState, Learner
from drill.memory.recent import Recent
from drill.memory.traces import Traces

VERSION = 12
"""Raise it whenever the rows, the model or the fact of a mix-up change: older rows are then derived again."""

FARTHEST = 100.0
"""Beyond every logarithm, variance and decay that answers can lead to, and small enough to calculate with."""


class UnreadableState(FretsureError):
    """The rows are damaged or of another version; observe the attempts again, in order, to derive the learner."""


def dump(learner: Learner, names: Iterable[str] | None = None) -> dict[str, Any]:
    """The rows `names` (all of them when None) of the learner, each a small JSON-able value."""
    if names is None:
        names = [LEARNER_ROW, *(f"card:{c}" for c in learner.cards), *(f"fact:{f}" for f in learner.facts)]
    return {name: _row(learner, name) for name in names}


def load(rows: Mapping[str, Any], constants: Constants = DEFAULT) -> Learner:
    """The learner that these rows describe; without rows, a new learner. Raises UnreadableState."""
    learner = Learner(constants)
    for name, value in rows.items():
        try:
            _load_row(learner, name, value)
        except (TypeError, ValueError, LookupError, AttributeError, OverflowError) as error:
            raise UnreadableState(
                f"The remembered state “{name}” cannot be read ({error}).",
                "It can be derived again from your answers; none of them is lost.",
            ) from error
    return learner


def _row(learner: Learner, name: str) -> Any:
    kind, _, key = name.partition(":")
    if kind == "card":
        card = learner.cards[key]
        history = [card.asked, card.right, card.first_s, card.last_s, card.proven_s, card.failed, card.shown_s]
        return [*_traces_out(card.traces), _belief_out(card.offset), _belief_out(card.speed), history]
    if kind == "fact":
        fact = learner.facts[key]
        return [*_traces_out(fact.traces), _belief_out(fact.offset), fact.asked]
    return {
        "version": VERSION,
        "clock": [learner.clock.last_s, learner.clock.ticks, learner.clock.began],
        "person": [list(row) for row in (learner.person.mean, *learner.person.covariance)],
        "first_sight": _belief_out(learner.first_sight),
        "tempo": _belief_out(learner.tempo),
        "speed_slope": _belief_out(learner.speed_slope),
        "cold": _belief_out(learner.cold),
        "spread": [learner.spread.variance, learner.spread.weight],
        "key_press_s": learner.key_press_s,
        "recent": learner.recent.dump(),
        "families": {f: [_belief_out(s.first_sight), _belief_out(s.kind)] for f, s in learner.families.items()},
    }


def _load_row(learner: Learner, name: str, value: Any) -> None:
    kind, _, key = name.partition(":")
    if kind == "card":
        at, decay, weight, offset, speed, history = value
        asked, right, *times, failed, shown = history
        first_s, last_s, proven_s = _numbers(*times)
        shown_s = None if shown is None else _numbers(shown)[0]
        counts = int(asked), int(right)
        beliefs = _belief(offset), _belief(speed)
        learner.cards[key] = CardState(
            _traces(at, decay, weight), *beliefs, *counts, first_s, last_s, proven_s, bool(failed), shown_s
        )
    elif kind == "fact":
        at, decay, weight, offset, answers = value
        learner.facts[key] = FactState(_traces(at, decay, weight), _belief(offset), int(answers))
    elif name == LEARNER_ROW:
        _load_learner(learner, value)
    else:
        raise KeyError("no such kind of row")


def _load_learner(learner: Learner, value: Any) -> None:
    if value["version"] != VERSION:
        raise ValueError(f"version {value['version']}, this program writes {VERSION}")
    last_s, *ticks = value["clock"]
    learner.clock = Clock(None if last_s is None else _numbers(last_s)[0], *_numbers(*ticks))
    learner.person = _person(value["person"])
    learner.first_sight = _belief(value["first_sight"])
    learner.tempo = _belief(value["tempo"])
    learner.speed_slope = _belief(value["speed_slope"])
    learner.cold = _belief(value["cold"])
    learner.spread = _spread(value["spread"])
    (learner.key_press_s,) = _numbers(value["key_press_s"])
    learner.recent = Recent.load(value["recent"])
    learner.families = {f: FamilyState(_belief(a), _belief(b)) for f, (a, b) in value["families"].items()}


def _traces(*columns: Any) -> Traces:
    at, decay, weight = (_numbers(*column) for column in columns)
    if not len(at) == len(decay) == len(weight):
        raise ValueError("columns of different lengths")
    if not all(0 < d <= FARTHEST and w > 0 for d, w in zip(decay, weight, strict=True)):
        raise ValueError("a trace that no answer can leave")
    return Traces(at, decay, weight)


def _belief(value: Any) -> Belief:
    mean, variance = _numbers(*value)
    if not (abs(mean) <= FARTHEST and 0 < variance <= FARTHEST):
        raise ValueError("a belief that no answer can lead to")
    return Belief(mean, variance)


def _person(value: Any) -> Weights:
    mean, *covariance = (_numbers(*row) for row in value)
    (a, d, e), (d2, b, f), (e2, f2, c) = covariance
    symmetric = (d, e, f) == (d2, e2, f2) and len(mean) == len(covariance)
    if not (symmetric and a > 0 and a * b > d * d and a * (b * c - f * f) > d * (d * c - e * f) - e * (d * f - b * e)):
        raise ValueError("a covariance that no answer can lead to")
    if not all(abs(number) <= FARTHEST for row in (mean, *covariance) for number in row):
        raise ValueError("weights that no answer can lead to")
    return Weights(mean, covariance)


def _spread(value: Any) -> Spread:
    variance, weight = _numbers(*value)
    if not (0 < variance <= FARTHEST and weight > 0):
        raise ValueError("a spread that no answer can lead to")
    return Spread(variance, weight)


def _numbers(*values: Any) -> list[float]:
    numbers = [float(value) for value in values]
    if not all(map(math.isfinite, numbers)):
        raise ValueError("not a finite number")
    return numbers


def _traces_out(traces: Traces) -> list[list[float]]:
    return [list(traces.at), list(traces.decay), list(traces.weight)]


def _belief_out(belief: Belief) -> list[float]:
    return [belief.mean, belief.variance]
