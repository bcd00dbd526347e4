"""How honest the predictions were: of a right answer, and of one in time."""

import json

import pytest

from drill.memory import Attempt, Calibration, Item, Learner, dump, load

NOW = 1_700_000_000.0
NOTE = Item("note", "spots", 0, 2.0)


def compared(*answers):
    """A calibration of answers (right, thinking time), and the learner after them."""
    learner, calibration = Learner(), Calibration()
    for k, (right, thinking) in enumerate(answers):
        attempt = Attempt("note", NOW + 60 * k, right, thinking)
        calibration.compare(learner, NOTE, attempt)
        learner.observe(NOTE, attempt)
    return calibration


def test_right_and_in_time_are_counted_apart():
    """The key press of .3 s is taken off: 2.2 s are in time for a target of 2 s, 2.4 s are not."""
    calibration = compared((True, 2.2), (True, 2.4), (False, 1.0), (True, 1.0))
    assert calibration.recall.answers == calibration.in_time.answers == 4
    assert sum(b.answers * b.observed for b in calibration.recall.bins) == pytest.approx(3)
    assert sum(b.answers * b.observed for b in calibration.in_time.bins) == pytest.approx(2)


def test_an_answer_without_a_measured_time_says_nothing_of_being_in_time():
    calibration = compared((True, 2.0), (True, None), (False, None))
    assert (calibration.recall.answers, calibration.in_time.answers) == (3, 1)


def test_what_was_predicted_is_what_the_learner_said_before_the_answer():
    learner = Learner()
    for k in range(6):
        learner.observe(NOTE, Attempt("note", NOW + 600 * k, True, 2.0 + k % 2))
    now, calibration = NOW + 7200, Calibration()
    strength = learner.strength(NOTE, now)
    calibration.compare(load(dump(learner)), NOTE, Attempt("note", now, True, 2.0))
    assert calibration.recall.bins[0].predicted == strength
    assert calibration.in_time.bins[0].predicted == strength * learner.in_time(NOTE, strength, 2.0, coldness=1.0)


def test_a_calibration_survives_being_written():
    calibration = compared((True, 2.2), (True, 2.4), (False, None))
    assert Calibration.load(json.loads(json.dumps(calibration.dump()))) == calibration


@pytest.mark.parametrize(
    "value", [None, [], {}, {"recall": []}, {"recall": [], "in_time": [[1]]}, {"recall": 1, "in_time": []}]
)
def test_what_no_calibration_wrote_is_refused(value):
    with pytest.raises(ValueError, match=r"not (a|enough)"):
        Calibration.load(value)
