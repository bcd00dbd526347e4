"""Notes, intervals, pitches, keys and necks are values: unchanging, always checked, equal to their own kind only."""

from __future__ import annotations

import copy
import pickle
from collections.abc import Callable

import pytest

from drill.errors import FretsureError, TheoreticalKey, UsageProblem
from drill.theory.keys import Key
from drill.theory.neck import STANDARD, Neck, Spot
from drill.theory.pitch import Interval, Note, Pitch
from drill.theory.value import Value

MAKERS: dict[str, Callable[[], Value]] = {
    "Note('Bb')": lambda: Note(-2),
    "Interval(1, 4)": lambda: Interval(1, 4),
    "Pitch('E2')": lambda: Pitch(Note(4), 0),
    "Key('C# minor')": lambda: Key(Note(7), "minor"),
    f"Neck({STANDARD!r}, 24, 2)": lambda: Neck(STANDARD, 24, 2),
}
"""One value of each kind, made anew at each call, under what it prints as."""


@pytest.mark.parametrize("make", MAKERS.values(), ids=MAKERS)
def test_values_with_the_same_fields_are_one(make: Callable[[], Value]) -> None:
    one, other = make(), make()
    assert one is not other
    assert one == other
    assert hash(one) == hash(other)
    assert {one: "found"}[other] == "found"


@pytest.mark.parametrize("make", MAKERS.values(), ids=MAKERS)
def test_copies_and_pickles_are_equal_values_of_the_same_kind(make: Callable[[], Value]) -> None:
    value = make()
    for made in (copy.copy(value), copy.deepcopy(value), pickle.loads(pickle.dumps(value))):
        assert type(made) is type(value)
        assert made == value


@pytest.mark.parametrize(("text", "make"), MAKERS.items(), ids=MAKERS)
def test_a_value_prints_as_it_would_be_written(text: str, make: Callable[[], Value]) -> None:
    assert repr(make()) == text


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (Note(1), Note(-6)),
        (Interval(1, 4), Interval(1, 3)),
        (Interval(1, 4), Interval(0, 4)),
        (Pitch(Note(4), 0), Pitch(Note(4), 1)),
        (Key(Note(3), "minor"), Key(Note(3), "major")),
        (Neck(STANDARD, 15), Neck(STANDARD, 15, 2)),
        (Neck(STANDARD, 15), Neck(STANDARD, 16)),
    ],
    ids=repr,
)
def test_every_field_tells_values_apart(one: Value, other: Value) -> None:
    assert one != other
    assert other not in {one}


@pytest.mark.parametrize(
    ("value", "stranger"),
    [
        (Interval(1, 4), Spot(1, 4)),
        (Interval(1, 4), (1, 4)),
        (Note(3), 3),
        (Note(3), (3,)),
        (Pitch(Note(0), 4), Interval(0, 4)),
        (Pitch(Note(0), 4), (Note(0), 4)),
        (Key(Note(3), "minor"), (Note(3), "minor")),
        (Neck(STANDARD, 15), (STANDARD, 15, 0)),
    ],
    ids=repr,
)
def test_a_value_never_equals_one_of_another_kind(value: Value, stranger: object) -> None:
    assert value != stranger
    assert stranger != value
    assert value not in {stranger: "found"}
    assert stranger not in {value: "found"}


@pytest.mark.parametrize("make", MAKERS.values(), ids=MAKERS)
def test_a_value_cannot_be_changed(make: Callable[[], Value]) -> None:
    value = make()
    for name in (*value.__slots__, "another"):
        with pytest.raises(AttributeError):
            setattr(value, name, 5)
        with pytest.raises(AttributeError):
            delattr(value, name)
    assert value == make()


def test_a_key_has_one_of_two_modes() -> None:
    with pytest.raises(ValueError, match="dorian"):
        Key(Note(2), "dorian")  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("value", "good", "bad", "error"),
    [
        (Key(Note(5), "major"), b"I5\n", b"I8\n", TheoreticalKey),
        (Neck(STANDARD, 15), b"I15\n", b"I99\n", UsageProblem),
        (Neck(STANDARD, 15, 11), b"I11\n", b"I12\n", UsageProblem),
    ],
    ids=repr,
)
def test_the_checks_run_on_pickled_values_too(
    value: Value, good: bytes, bad: bytes, error: type[FretsureError]
) -> None:
    pickled = pickle.dumps(value, protocol=0)  # plain text: a number can be exchanged
    assert good in pickled
    with pytest.raises(error):
        pickle.loads(pickled.replace(good, bad))
